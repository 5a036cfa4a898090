"""The line under a photo, the text for those who cannot see it, and how each of its facts was obtained."""

from __future__ import annotations

from datetime import datetime

from atlasgen.compose.compass import gaps_words
from atlasgen.compose.map_words import view_words
from atlasgen.model import ComposeRules, Figure, Measured, Photo, ReachSeen, TurnAround, View, Zone
from atlasgen.model.wording import number_text, say
from atlasgen.units import compass_words, date_words, distance_words, height_words, level_words, local_time


def day_words(taken: datetime | None, zone: Zone) -> str:
    """Return `4 March 2026`, or "" where the time is unknown."""
    return date_words(local_time(taken, zone)) if taken else ""


def describe(
    number: int,
    photo: Photo,
    reach_words: str,
    seen: ReachSeen | None,
    stage_m: float | None,
    rules: ComposeRules,
    *,
    view: View | None = None,
    across: str = "",
) -> Figure:
    """Return the figure of one photo on its page.

    `seen` is how it shows the reach named, None where that is not known; `across` says over what it looks at it;
    `view` is all that it shows.
    """
    what = _what(photo, reach_words, seen, view, across, rules)
    line = say("captions-line", where=from_where_words(photo, rules), what=what)
    when = when_words(photo, stage_m, rules)
    caption = " ".join(part for part in (_sentence(photo.caption), line, when) if part)
    shows = view_words(view, rules.distance_unit)
    alt = " ".join((say("captions-kind", kind=photo.kind), line, shows, when))
    return Figure(number, photo.id, caption, alt, how_known(photo))


def _what(
    photo: Photo, reach_words: str, seen: ReachSeen | None, view: View | None, across: str, rules: ComposeRules
) -> str:
    """Say which way the photo looks, at what, and how far off that is."""
    if seen:
        return f"{_looking(photo)} {at_words(photo, seen, reach_words, across, rules)}"
    nothing = [] if view is None or view.reaches else [say("captions-no-bank")]
    return ", ".join([_looking(photo), *nothing, _distance(photo, reach_words, rules)])


def at_words(photo: Photo, seen: ReachSeen, reach_words: str, across: str, rules: ComposeRules) -> str:
    """Say at what bank a photo looks, over what, and how far off: `across Cask Arm at reach S-0142, 210 m off`."""
    down = _looks_down(photo)
    if seen.distance_m < 5:
        return say("captions-on-close" if down else "captions-at-close", reach=reach_words)
    facts = {"reach": reach_words, "distance": distance_words(seen.distance_m, rules.distance_unit)}
    if across and not down:
        return say("captions-across", across=across, **facts)
    return say("captions-on" if down else "captions-at", **facts)


def from_where_words(photo: Photo, rules: ComposeRules) -> str:
    """Say where a photo was taken from: `From 84 m up`, `From the bank`."""
    if photo.is_private:
        return say("captions-from-private")
    height = photo.height_above_water_m
    if photo.kind == "shore":
        # An altitude that nothing can be held against may be a flight: then eye height is a guess, and is called one.
        guessed = height is not None and height.assumed and photo.source.altitude_m is not None
        where = "water" if photo.over_water else "bank"
        return say("captions-taken-from" if guessed and not rules.elevation_known else "captions-from", where=where)
    if height is None:
        return say("captions-from-air")
    words = height_words(height.value, rules.distance_unit)
    return say("captions-from-about" if height.assumed else "captions-from-height", height=words)


def _looks_down(photo: Photo) -> bool:
    """Tell whether a photo looks within 15 degrees of the vertical: a compass point then says little. Ours."""
    return photo.pitch_deg is not None and not photo.pitch_deg.assumed and photo.pitch_deg.value <= -75


def _looking(photo: Photo) -> str:
    heading = photo.heading_deg_true
    if photo.pitch_deg is not None and _looks_down(photo):
        return say("captions-looking-down", how="straight" if photo.pitch_deg.value <= -85 else "steeply")
    if heading:
        return say("captions-looking", way=compass_words(heading.value))
    return say("captions-direction-not-told" if photo.is_private else "captions-direction-not-known")


def _distance(photo: Photo, reach_words: str, rules: ComposeRules) -> str:
    if photo.is_private:
        return say("captions-nearest", reach=reach_words)
    if photo.distance_to_shore_m < 3:
        return say("captions-at-waters-edge", reach=reach_words)
    distance = distance_words(photo.distance_to_shore_m, rules.distance_unit)
    return say("captions-off" if photo.over_water else "captions-behind", distance=distance, reach=reach_words)


def when_words(photo: Photo, stage_m: float | None, rules: ComposeRules) -> str:
    """Say when a photo was taken, and the water level then."""
    if photo.taken is None:
        return say("captions-no-date")
    local = local_time(photo.taken, rules.zone)
    when = say("captions-when", day=date_words(local, "%b"), time=f"{local:%H:%M}")
    if stage_m is None:
        return f"{when} {say('captions-no-level')}"
    return f"{when} {say('captions-level', level=level_words(stage_m, rules.depth_unit))}"


def _sentence(text: str | None) -> str:
    """Close the crew's own caption like a sentence."""
    text = " ".join((text or "").split())
    return text if not text or text[-1] in ".!?…" else f"{text}."


def turn_caption(turn: TurnAround, photo: Photo, stage_m: float | None, rules: ComposeRules) -> str:
    """Say of a turn-around set what its photos share; `photo` is its first."""
    place = _distance(photo, reach_name(photo.reach), rules)
    first = say("captions-turn", where=from_where_words(photo, rules), count=len(turn.photos), place=place)
    return " ".join((first, when_words(photo, stage_m, rules), say("captions-north-is-up"), gaps_words(turn)))


def reach_name(reach: str) -> str:
    """Return what a reach is called in a sentence: `reach S-0142`."""
    return say("captions-reach", reach=reach)


def turn_words(photo: Photo, seen: ReachSeen | None, across: str, rules: ComposeRules) -> str:
    """Say which way one photo of a set looks, and at what: `north across Cask Arm at reach S-0142, 210 m off`."""
    heading = photo.heading_deg_true
    way = say("captions-turn-way", way=compass_words(heading.value)) if heading else say("captions-direction-not-known")
    if seen:
        line = f"{way} {at_words(photo, seen, reach_name(seen.reach), across, rules)}"
    else:
        line = f"{way}, {say('captions-no-bank')}"
    return f"{line}. {_sentence(photo.caption)}" if photo.caption else line


def how_known(photo: Photo) -> str:
    """Say where each value came from, one sentence each."""
    rows = (
        _position(photo),
        say("captions-time", how=photo.taken_how),
        _measured("heading", photo.heading_deg_true),
        _measured("pitch", photo.pitch_deg),
        _measured("height", photo.height_above_water_m),
        _measured("hfov", photo.hfov_deg),
    )
    return " ".join(f"{row}." for row in rows)


def _position(photo: Photo) -> str:
    sigma_m = photo.position_sigma_m
    if sigma_m is None:
        return say("captions-position", how=photo.position_how)
    return say("captions-position-within", how=photo.position_how, within=f"{2 * sigma_m:.0f}")


def _measured(what: str, value: Measured | None) -> str:
    if value is None:
        return say("captions-unmeasured", what=what)
    # A bearing of 359.6 is printed as 0, never as 360.
    number = f"{round(value.value) % 360}" if what == "heading" else number_text(round(value.value, 1))
    read = "assumed" if value.assumed else "read"
    return say("captions-measured", what=what, read=read, number=number, source=value.source)
