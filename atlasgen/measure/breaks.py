"""The steepest break of a profile, if it is more than slope and doubt explain, and slopes in words."""

from __future__ import annotations

import numpy as np

from atlasgen.model.relief import SLOPE_LIMITS, STEEPEST, Break, SlopeWord

# Ours: slopes are taken over 6 m, about a boat's length and no less than the cells of most models. A break is where the
# fall is at least half of its steepest; it is half as steep again as the bed on either side of it, so a bank that falls
# from the water's edge and flattens out has no break. What is wider than 30 m is a slope.
_HALF_WINDOW_M, _SHARE, _TIMES_BESIDE, _WIDEST_M = 3, 0.5, 1.5, 30.0


def slope_word(slope: float) -> SlopeWord:
    """Name a fall per metre out; a bed that rises outward is named by its steepness alike."""
    return next((word for word, below in SLOPE_LIMITS if abs(slope) < below), STEEPEST)


def steepest_break(
    distance_m: np.ndarray, depth_m: np.ndarray, doubt_m: np.ndarray, sounded_from_m: float
) -> Break | None:
    """Find the steepest break of one profile, or None: no marked break.

    Its fall beyond that of an even slope must exceed the doubt of the two depths that it joins, and it must lie where
    depths come from soundings, not on the straight line to the bank.

    Parameters
    ----------
    distance_m, depth_m, doubt_m
        Along the profile, ascending, 1 m apart or nearer; depth NaN where not known.
    sounded_from_m
        Where depths from the model begin; NaN if there are none.
    """
    kept = np.isfinite(depth_m) & (distance_m >= sounded_from_m) & (distance_m == np.round(distance_m))
    best = None
    for run in np.split(np.arange(len(kept)), np.flatnonzero(np.diff(kept.astype(int))) + 1):
        whole = run[kept[run]]
        # Stations between whole metres have been dropped; a run needs room for a window and for what lies beside it.
        if len(whole) > 4 * _HALF_WINDOW_M:
            found = _break_of(distance_m[whole], depth_m[whole], doubt_m[whole])
            if found is not None and (best is None or found.slope > best.slope):
                best = found
    return best


def _break_of(out: np.ndarray, depth: np.ndarray, doubt: np.ndarray) -> Break | None:
    half = _HALF_WINDOW_M
    slope = np.full(len(out), -np.inf)
    slope[half:-half] = (depth[2 * half :] - depth[: -2 * half]) / (out[2 * half :] - out[: -2 * half])
    top, foot = _about(slope, int(np.argmax(slope)))
    drop, wide = float(depth[foot] - depth[top]), float(out[foot] - out[top])
    if drop <= 0 or not 0 < wide <= _WIDEST_M:
        return None
    # The bank above, at zero, belongs to what lies beside it.
    beside = max(float(depth[top] / max(out[top], 1.0)), _mean_fall(out[foot:], depth[foot:]), 0.0)
    explained = float(np.hypot(doubt[top], doubt[foot]))
    if drop / wide < _TIMES_BESIDE * beside or not drop - beside * wide > explained:
        return None
    middle = float(out[top] + out[foot]) / 2
    return Break(
        distance_m=middle,
        depth_m=float(np.interp(middle, out, depth)),
        slope=drop / wide,
        from_m=float(out[top]),
        to_m=float(out[foot]),
        top_m=float(depth[top]),
        foot_m=float(depth[foot]),
        word=slope_word(drop / wide),
    )


def _mean_fall(out: np.ndarray, depth: np.ndarray) -> float:
    return float((depth[-1] - depth[0]) / (out[-1] - out[0])) if len(out) > 1 else 0.0


def _about(slope: np.ndarray, steepest: int) -> tuple[int, int]:
    """First and last place of the stretch about the steepest that is at least half as steep."""
    steep = slope >= _SHARE * slope[steepest]
    gentle = np.flatnonzero(~steep)
    before, after = gentle[gentle < steepest], gentle[gentle > steepest]
    return int(before[-1] + 1) if before.size else 0, int(after[0] - 1) if after.size else len(slope) - 1
