"""The level scene with banks of every kind: steep and flat, with breaks, blanks, relief near by, shown or not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from level_scene import make_level_atlas
from shapely import box

from atlasgen.measure.breaks import slope_word, steepest_break
from atlasgen.model import Atlas, PointM, Reach, ShoreState
from atlasgen.model.relief import ProfilePoint, ReachProfile, ReliefFeature, ReliefNear
from atlasgen.place.geo import Projection

OUT_M = 100
KINDS = ("hump", "ridge", "hole", "channel", "ledge")


def make_find_atlas(seed: int = 5) -> Atlas:
    """Build it; the same for the same seed."""
    atlas, draw = make_level_atlas(), np.random.default_rng(seed)
    reaches = atlas.placed.reaches
    features, near = _relief(reaches, draw, Projection(atlas.survey.crs_metric))
    states = {reach.id: _state(draw) for reach in reaches}
    coverage = {
        reach.id: replace(atlas.known.reach_coverage[reach.id], share_near_sounding=_share(draw)) for reach in reaches
    }
    known = replace(
        atlas.known,
        profiles={reach.id: _profile(reach, draw) for reach in reaches},
        relief=features,
        relief_near=near,
        reach_state=states,
        reach_coverage=coverage,
        audit=replace(
            atlas.known.audit,
            reaches={
                reach.id: replace(
                    atlas.known.audit.reaches[reach.id],
                    state=states[reach.id],
                    aerial_m=_shown(draw),
                    shore_m=_shown(draw),
                )
                for reach in reaches
            },
        ),
    )
    return replace(atlas, known=known)


def depths_of(draw: np.random.Generator) -> np.ndarray:
    """Return depths at each metre: a slope, perhaps with a drop in it, with waves, with stretches nobody sounded."""
    out = np.arange(OUT_M + 1.0)
    depth = out * draw.choice([0.02, 0.06, 0.12, 0.25, 0.7]) + 0.2 * np.sin(out / draw.uniform(3, 9))
    if draw.random() < 0.5:
        depth += draw.uniform(2, 6) / (1 + np.exp(-(out - draw.uniform(8, 45)) / 1.5))
    depth[0] = 0.0
    if draw.random() < 0.3:
        first = draw.integers(0, 50)
        depth[first + 1 : first + draw.integers(4, 60)] = np.nan
    return depth


def profile_of(reach: str, depth: np.ndarray, far_bank_m: float | None = None) -> ReachProfile:
    """Return a profile with these depths at each metre, ended by a far bank if that is asked for."""
    out = np.arange(float(len(depth)))
    if far_bank_m is not None:
        depth, out = depth[out < far_bank_m], out[out < far_bank_m]
    points = tuple(ProfilePoint(float(x), None if np.isnan(d) else float(d)) for x, d in zip(out, depth, strict=True))
    slope = points[20].depth_m / 20 if len(points) > 20 and points[20].depth_m is not None else None
    return ReachProfile(
        reach=reach,
        rays=3,
        start=PointM(0.0, 0.0),
        bearing_deg=180.0,
        points=points if far_bank_m is None else (*points, ProfilePoint(far_bank_m, 0.0)),
        stations=points[5:41:5],
        reached=(),
        steepest=steepest_break(out, depth, np.zeros(len(depth)), 1.0),
        slope=slope,
        slope_over_m=20.0,
        slope_word=None if slope is None else slope_word(slope),
        sounded_from_m=1.0,
        far_bank_m=far_bank_m,
    )


def _profile(reach: Reach, draw: np.random.Generator) -> ReachProfile | None:
    if draw.random() < 0.1:
        return None
    return profile_of(reach.id, depths_of(draw), float(draw.uniform(15, 80)) if draw.random() < 0.2 else None)


def _relief(
    reaches: tuple[Reach, ...], draw: np.random.Generator, projection: Projection
) -> tuple[tuple[ReliefFeature, ...], dict[str, tuple[ReliefNear, ...]]]:
    features, near = [], {}
    for number in range(12):
        place = PointM(float(draw.uniform(-500, 500)), -250.0)
        least = float(draw.uniform(0.2, 5))
        features.append(
            ReliefFeature(
                f"{KINDS[number % 5]} {number // 5 + 1}", KINDS[number % 5], place, projection.lonlat(place), least,
                least + float(draw.uniform(0.3, 4)), 2.0, 300.0, 30.0, 12.0, None, 12, 0.3, 0.4, "good",
                box(place.x_m - 9, place.y_m - 6, place.x_m + 9, place.y_m + 6),
            )
        )  # fmt: skip
    for reach in reaches:
        which = draw.choice(len(features), draw.integers(0, 4), replace=False)
        far = sorted(draw.uniform(5, 100, len(which)))
        near[reach.id] = tuple(
            ReliefNear(features[i].id, edge_m, edge_m + 9, 10.0) for i, edge_m in zip(which, far, strict=True)
        )
    return tuple(features), near


def _state(draw: np.random.Generator) -> ShoreState:
    return str(draw.choice(["well", "poorly", "near", "none"]))


def _share(draw: np.random.Generator) -> float | None:
    return None if draw.random() < 0.1 else float(draw.choice([0.0, 0.2, 0.5, 0.7, 0.9, 0.90004, 1.0]))


def _shown(draw: np.random.Generator) -> dict[ShoreState, float]:
    shown = draw.random() < 0.4
    return {"well": 20.0 * shown, "poorly": 0.0, "near": 0.0, "none": 100.0 - 20 * shown, "cannot": 0.0}
