"""One pass as a track: where the boat was, how far each side saw, how close the pings lay; thinned, gaps left open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from atlasgen.measure.pings import blind_half_width_m, ground_range_m, ping_spacing_m
from atlasgen.model import SonarPass
from atlasgen.model.sonar import SonarRules

# Quality of an interval between two positions. NO_SWATH: range or height is not known, so neither is the swath.
FINE, COARSE, UNKNOWN, NO_SWATH = range(4)
# Ours: the log pauses where it is silent for two and a half of its usual intervals, so that one lost row is none.
_USUAL, _LEAST_GAP_S = 2.5, 3.0
# No survey boat is faster; a step that would need it is a wild position.
_FASTEST_MPS = 30.0
# A speed is the median of so many positions: one odd value does not make a picture coarse.
_SMOOTH = 5


@dataclass(frozen=True, slots=True)
class Fixes:
    """Positions of a pass, metric, ascending in time; arrays of one length.

    `near_m` and `far_m`: ground from and to which each side sees. Where the swath is not known, `far_m` is how far it
    could be, and `pings` (on one metre along the track) is NaN where that is not known.
    """

    time_s: np.ndarray
    x_m: np.ndarray
    y_m: np.ndarray
    near_m: np.ndarray
    far_m: np.ndarray
    pings: np.ndarray
    swath: np.ndarray

    def __len__(self) -> int:
        return len(self.time_s)

    def at(self, index: np.ndarray | slice) -> Fixes:
        """Return some of the positions."""
        return Fixes(*(getattr(self, name)[index] for name in self.__slots__))


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch of a pass without a pause: positions, and for each interval between two its quality and channels lost.

    `lost` maps a channel to the number of its outage in the pass, -1 where it ran; one entry for each interval.
    """

    fixes: Fixes
    quality: np.ndarray
    lost: dict[str, np.ndarray]


def fixes_of(run: SonarPass, x_m: np.ndarray, y_m: np.ndarray, height_m: np.ndarray, rules: SonarRules) -> Fixes:
    """Work out what each side sees at every position of a pass; `height_m` above the bed, NaN where unknown.

    Times that do not go on, and positions that are no numbers, are left out.
    """
    height_m, range_m = np.asarray(height_m, float), np.asarray(run.range_m, float)
    known = np.isfinite(height_m) & np.isfinite(range_m)
    near = np.where(known, blind_half_width_m(height_m, rules.steepest_deg), 0.0)
    could_be = np.where(np.isfinite(range_m), range_m, _usual(range_m))
    far = np.where(known, np.maximum(ground_range_m(range_m, height_m), near), could_be)
    spacing_m = ping_spacing_m(_smooth(run.speed_mps), range_m, rules.sound_speed_mps, rules.ping_rate_hz)
    with np.errstate(divide="ignore"):
        pings = 1.0 / spacing_m
    good = np.isfinite(x_m) & np.isfinite(y_m) & np.isfinite(run.time_s)
    # To a thousandth of a millimetre: finer figures are noise, on which cutting polygons can stumble.
    x_m, y_m, near, far = (np.round(values, 6) for values in (x_m, y_m, near, far))
    fixes = Fixes(run.time_s, x_m, y_m, near, far, pings, known).at(good)
    return fixes.at(np.r_[True, np.diff(fixes.time_s) > 0]) if len(fixes) else fixes


def _usual(values: np.ndarray) -> float:
    known = values[np.isfinite(values)]
    return float(np.median(known)) if known.size else 0.0


def _smooth(speed_mps: np.ndarray) -> np.ndarray:
    """Return the running median over the known speeds."""
    from scipy.ndimage import median_filter

    smooth = np.array(speed_mps, dtype=float)
    known = np.isfinite(smooth)
    if known.any():
        smooth[known] = median_filter(smooth[known], size=_SMOOTH, mode="nearest")
    return smooth


def log_gaps(fixes: Fixes, rules: SonarRules) -> np.ndarray:
    """Find the positions after which the log pauses, or the next position cannot be true."""
    if len(fixes) < 2:
        return np.empty(0, dtype=int)
    step_s = np.diff(fixes.time_s)
    longest_s = rules.log_gap_s or max(_USUAL * float(np.median(step_s)), _LEAST_GAP_S)
    way_m = np.hypot(np.diff(fixes.x_m), np.diff(fixes.y_m))
    return np.flatnonzero((step_s > longest_s) | (way_m > _FASTEST_MPS * step_s))


def legs_of(fixes: Fixes, run: SonarPass, rules: SonarRules) -> list[Leg]:
    """Cut a pass at the gaps of its log, and each leg where a channel goes or comes back; thin what is left.

    A position alone makes no leg.
    """
    pieces = np.split(np.arange(len(fixes)), log_gaps(fixes, rules) + 1)
    return [_thinned(_leg(fixes.at(piece), run, rules), rules.tolerance_m) for piece in pieces if len(piece) > 1]


def _leg(fixes: Fixes, run: SonarPass, rules: SonarRules) -> Leg:
    ends = [time_s for outage in run.outages for time_s in (outage.from_s, outage.to_s)]
    fixes = _with_times(fixes, ends)
    middle_s = (fixes.time_s[1:] + fixes.time_s[:-1]) / 2
    lost = {channel: np.full(len(middle_s), -1) for channel in ("port", "starboard")}
    for number, outage in enumerate(run.outages):
        lost[outage.channel][(middle_s >= outage.from_s) & (middle_s <= outage.to_s)] = number
    return Leg(fixes, _qualities(fixes, rules.pings_on_metre), lost)


def _with_times(fixes: Fixes, times_s: Sequence[float]) -> Fixes:
    """Put positions in between at some times, so that an outage begins and ends where it did."""
    times = np.unique([time_s for time_s in times_s if fixes.time_s[0] < time_s < fixes.time_s[-1]])
    times = times[~np.isin(times, fixes.time_s)]
    after = np.searchsorted(fixes.time_s, times)
    share = (times - fixes.time_s[after - 1]) / (fixes.time_s[after] - fixes.time_s[after - 1])
    values = {}
    for name in ("x_m", "y_m", "near_m", "far_m", "pings"):
        column = getattr(fixes, name)
        with np.errstate(invalid="ignore"):
            between = column[after - 1] * (1 - share) + column[after] * share
        # A boat at rest has endless pings, and endless times nothing is no number.
        between = np.where(column[after - 1] == column[after], column[after], between)
        values[name] = np.insert(column, after, between)
    swath = np.insert(fixes.swath, after, fixes.swath[after - 1] & fixes.swath[after])
    return Fixes(time_s=np.insert(fixes.time_s, after, times), swath=swath, **values)


def _qualities(fixes: Fixes, least_pings: float) -> np.ndarray:
    """Quality of each interval, by the worse of its two ends."""
    pings = np.minimum(fixes.pings[1:], fixes.pings[:-1])
    quality = np.where(np.isnan(pings), UNKNOWN, np.where(pings >= least_pings, FINE, COARSE))
    return np.where(fixes.swath[1:] & fixes.swath[:-1], quality, NO_SWATH)


def _thinned(leg: Leg, tolerance_m: float) -> Leg:
    """Leave out positions that lie on the line between others, as do the edges of their swath, within a tolerance."""
    changes = leg.quality[1:] != leg.quality[:-1]
    for numbers in leg.lost.values():
        changes = changes | (numbers[1:] != numbers[:-1])
    fixed = np.r_[0, np.flatnonzero(changes) + 1, len(leg.fixes) - 1]
    track = np.c_[leg.fixes.x_m, leg.fixes.y_m, leg.fixes.near_m, leg.fixes.far_m]
    kept = kept_of(track, fixed, tolerance_m)
    intervals = kept[:-1]
    lost = {channel: numbers[intervals] for channel, numbers in leg.lost.items()}
    return replace(leg, fixes=leg.fixes.at(kept), quality=leg.quality[intervals], lost=lost)


def kept_of(track: np.ndarray, fixed: np.ndarray, tolerance_m: float) -> np.ndarray:
    """Find the points of a track (n, k) that keep all others within `tolerance_m` of the lines between them.

    The rule of Ramer (1972) and of Douglas and Peucker (1973), in k dimensions; `fixed` (ascending, with both ends)
    are always kept.
    """
    keep = np.zeros(len(track), dtype=bool)
    keep[fixed] = True
    open_ends = list(zip(fixed[:-1].tolist(), fixed[1:].tolist(), strict=True))
    while open_ends:
        start, end = open_ends.pop()
        if end - start < 2:
            continue
        away_m = _off_chord(track[start + 1 : end], track[start], track[end])
        farthest = int(np.argmax(away_m))
        if away_m[farthest] > tolerance_m:
            middle = start + 1 + farthest
            keep[middle] = True
            open_ends += [(start, middle), (middle, end)]
    return np.flatnonzero(keep)


def _off_chord(points: np.ndarray, start: np.ndarray, end: np.ndarray) -> np.ndarray:
    chord = end - start
    length2 = float(chord @ chord)
    share = np.clip((points - start) @ chord / length2, 0.0, 1.0) if length2 else np.zeros(len(points))
    return np.linalg.norm(points - start - share[:, None] * chord, axis=1)
