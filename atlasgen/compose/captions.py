"""The line under a photo, the text for those who cannot see it, and how each of its facts was obtained."""

from __future__ import annotations

from datetime import datetime

from atlasgen.compose.compass import gaps_words
from atlasgen.compose.map_words import view_words
from atlasgen.model import ComposeRules, Figure, Photo, ReachSeen, TurnAround, View, Zone
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
    line = f"{from_where_words(photo, rules)}, {_what(photo, reach_words, seen, view, across, rules)}."
    when = when_words(photo, stage_m, rules)
    caption = " ".join(part for part in (_sentence(photo.caption), line, when) if part)
    shows = view_words(view, rules.distance_unit)
    alt = f"{'Aerial' if photo.kind == 'aerial' else 'Shore'} photograph. {line} {shows} {when}"
    return Figure(number, photo.id, caption, alt, how_known(photo))


def _what(
    photo: Photo, reach_words: str, seen: ReachSeen | None, view: View | None, across: str, rules: ComposeRules
) -> str:
    """Say which way the photo looks, at what, and how far off that is."""
    if seen:
        return f"{_looking(photo)}{at_words(photo, seen, reach_words, across, rules)}"
    nothing = "" if view is None or view.reaches else ", no bank known to be in view"
    return f"{_looking(photo)}{nothing}, {_distance(photo, reach_words, rules)}"


def at_words(photo: Photo, seen: ReachSeen, reach_words: str, across: str, rules: ComposeRules) -> str:
    """Say at what bank a photo looks, over what, and how far off: ` across Cask Arm at reach S-0142, 210 m off`."""
    at = "on" if _looks_down(photo) else "at"
    if seen.distance_m < 5:
        return f" {at} {reach_words}, close by"
    over = f" {across}" if across and at == "at" else ""
    return f"{over} {at} {reach_words}, {distance_words(seen.distance_m, rules.distance_unit)} off"


def from_where_words(photo: Photo, rules: ComposeRules) -> str:
    """Say where a photo was taken from: `From 84 m up`, `From the bank`."""
    if photo.is_private:
        return "From a place that the crew keeps private"
    height = photo.height_above_water_m
    if photo.kind == "shore":
        where = "the water" if photo.over_water else "the bank"
        # An altitude that nothing can be held against may be a flight: then eye height is a guess, and is called one.
        guessed = height is not None and height.assumed and photo.source.altitude_m is not None
        return f"Taken to be from {where}, at eye height" if guessed and not rules.elevation_known else f"From {where}"
    if height is None:
        return "From the air, height not known"
    about = "about " if height.assumed else ""
    return f"From {about}{height_words(height.value, rules.distance_unit)} up"


def _looks_down(photo: Photo) -> bool:
    """Tell whether a photo looks within 15 degrees of the vertical: a compass point then says little. Ours."""
    return photo.pitch_deg is not None and not photo.pitch_deg.assumed and photo.pitch_deg.value <= -75


def _looking(photo: Photo) -> str:
    heading = photo.heading_deg_true
    if photo.pitch_deg is not None and _looks_down(photo):
        return "looking straight down" if photo.pitch_deg.value <= -85 else "looking steeply down"
    unknown = "direction not told" if photo.is_private else "direction not known"
    return f"looking {compass_words(heading.value)}" if heading else unknown


def _distance(photo: Photo, reach_words: str, rules: ComposeRules) -> str:
    if photo.is_private:
        return f"nearest to {reach_words}"
    if photo.distance_to_shore_m < 3:
        return f"at the water's edge, nearest to {reach_words}"
    off = "off" if photo.over_water else "behind"
    return f"{distance_words(photo.distance_to_shore_m, rules.distance_unit)} {off} the nearest bank, {reach_words}"


def when_words(photo: Photo, stage_m: float | None, rules: ComposeRules) -> str:
    """Say when a photo was taken, and the water level then."""
    if photo.taken is None:
        return "Date not known."
    local = local_time(photo.taken, rules.zone)
    when = f"{date_words(local, '%b')}, {local:%H:%M}."
    water = "Water level not known." if stage_m is None else f"Water {level_words(stage_m, rules.depth_unit)}."
    return f"{when} {water}"


def _sentence(text: str | None) -> str:
    """Close the crew's own caption like a sentence."""
    text = " ".join((text or "").split())
    return text if not text or text[-1] in ".!?…" else f"{text}."


def turn_caption(turn: TurnAround, photo: Photo, stage_m: float | None, rules: ComposeRules) -> str:
    """Say of a turn-around set what its photos share; `photo` is its first."""
    turned = f"{len(turn.photos)} photographs taken turning on one spot"
    place = _distance(photo, f"reach {photo.reach}", rules)
    first = f"{from_where_words(photo, rules)}, {turned}, {place}."
    return f"{first} {when_words(photo, stage_m, rules)} North is up. {gaps_words(turn)}"


def turn_words(photo: Photo, seen: ReachSeen | None, across: str, rules: ComposeRules) -> str:
    """Say which way one photo of a set looks, and at what: `north across Cask Arm at reach S-0142, 210 m off`."""
    way = compass_words(photo.heading_deg_true.value) if photo.heading_deg_true else "direction not known"
    what = at_words(photo, seen, f"reach {seen.reach}", across, rules) if seen else ", no bank known to be in view"
    return f"{way}{what}. {_sentence(photo.caption)}" if photo.caption else f"{way}{what}"


def how_known(photo: Photo) -> str:
    """Say where each value came from, one sentence each."""
    rows = (
        f"Position: {photo.position_how}{_within(photo.position_sigma_m)}",
        f"Time: {photo.taken_how}",
        _measured("Direction", photo.heading_deg_true, "° true"),
        _measured("Tilt", photo.pitch_deg, "° from level"),
        _measured("Height above the water", photo.height_above_water_m, " m"),
        _measured("Width of view", photo.hfov_deg, "°"),
    )
    return " ".join(f"{row}." for row in rows)


def _within(sigma_m: float | None) -> str:
    return f", give or take {2 * sigma_m:.0f} m" if sigma_m is not None else ", accuracy not known"


def _measured(what: str, value, unit: str) -> str:
    if value is None:
        return f"{what}: not known"
    # A bearing of 359.6 is printed as 0, never as 360.
    number = f"{round(value.value) % 360}" if "true" in unit else f"{value.value:.1f}".removesuffix(".0")
    return f"{what}: {'assumed ' if value.assumed else ''}{number}{unit}, {value.source}"
