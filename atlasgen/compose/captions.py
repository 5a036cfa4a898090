"""The line under a photo, the text for those who cannot see it, and how each of its facts was obtained."""

from __future__ import annotations

from datetime import datetime

from atlasgen.model import ComposeRules, Figure, Photo, ReachSeen, Zone
from atlasgen.units import compass_words, date_words, distance_words, height_words, level_words, local_time


def day_words(taken: datetime | None, zone: Zone) -> str:
    """Return `4 March 2026`, or "" where the time is unknown."""
    return date_words(local_time(taken, zone)) if taken else ""


def describe(
    number: int, photo: Photo, reach_words: str, seen: ReachSeen | None, stage_m: float | None, rules: ComposeRules
) -> Figure:
    """Return the figure of one photo on its page; `seen` is how it shows the page's reach, None where not known."""
    where = _at_the_bank(seen, reach_words, rules) if seen else f", {_distance(photo, reach_words, rules)}"
    line = f"{_from_where(photo, rules)}, {_looking(photo)}{where}."
    when = _when(photo, stage_m, rules)
    caption = " ".join(part for part in (_sentence(photo.caption), line, when) if part)
    alt = f"{'Aerial' if photo.kind == 'aerial' else 'Shore'} photograph. {line} {when}"
    return Figure(number, photo.id, caption, alt, how_known(photo))


def _at_the_bank(seen: ReachSeen, reach_words: str, rules: ComposeRules) -> str:
    if seen.distance_m < 5:
        return f" at {reach_words}, close by"
    return f" at {reach_words}, {distance_words(seen.distance_m, rules.distance_unit)} away"


def _from_where(photo: Photo, rules: ComposeRules) -> str:
    height = photo.height_above_water_m
    if photo.kind == "shore":
        where = "on the water" if photo.over_water else "the bank"
        # An altitude that nothing can be held against may be a flight: then eye height is a guess, and is called one.
        guessed = height is not None and height.assumed and photo.source.altitude_m is not None
        return f"Taken to be from {where}, at eye height" if guessed and not rules.elevation_known else f"From {where}"
    if height is None:
        return "From the air, height not known"
    about = "about " if height.assumed else ""
    return f"From {about}{height_words(height.value, rules.distance_unit)} up"


def _looking(photo: Photo) -> str:
    pitch, heading = photo.pitch_deg, photo.heading_deg_true
    # Within 15 degrees of the vertical a compass direction says little about what is seen; ours.
    if pitch is not None and not pitch.assumed and pitch.value <= -75:
        return "looking straight down" if pitch.value <= -85 else "looking steeply down"
    return f"looking {compass_words(heading.value)}" if heading else "direction not known"


def _distance(photo: Photo, reach_words: str, rules: ComposeRules) -> str:
    if photo.distance_to_shore_m < 3:
        return f"at the water's edge, nearest to {reach_words}"
    off = "off" if photo.over_water else "behind"
    return f"{distance_words(photo.distance_to_shore_m, rules.distance_unit)} {off} the nearest bank, {reach_words}"


def _when(photo: Photo, stage_m: float | None, rules: ComposeRules) -> str:
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
