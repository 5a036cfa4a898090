"""The view of a photo: the water in its frame, and the shoreline seen in it.

A piece of shoreline is seen when it is within range, in the frame in most draws of the pose (`place.draws`), and not
hidden by land (`place.hidden`, once, from the pose as it is). Whether a bank faces the camera is not asked apart: one
that does not has land right before it, which hides it unless the camera is high enough to look over.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from atlasgen.model import Photo
from atlasgen.model.views import SeenMetres, View, ViewRules, Views
from atlasgen.model.wording import say
from atlasgen.place.draws import Frames, Pose, drawn_circles, drawn_frames, pose_sigmas
from atlasgen.place.footprint import Footprint, footprint, nadir_circle, sure_radius_m
from atlasgen.place.hidden import is_far, joined, sight_lines, spots
from atlasgen.place.rays import Camera
from atlasgen.place.shore_index import ShoreIndex
from atlasgen.place.stretches import Shown, put_together

# Ours: within this of straight down a frame shows much the same ground whichever way it was turned.
STRAIGHT_DOWN_WITHIN_DEG = 15.0
# A piece counts as seen when it is in the frame in more than this share of the draws.
MOST_DRAWS = 0.5
# How far outside the frame a piece may lie and still be in it in half of the draws: its spread is lopsided at most by
# a part of one sigma.
_MARGIN_SIGMAS, _MOST_MARGIN_DEG = 0.5, 10.0
# So many photos are added up at a time: enough to make numpy's calls worth their while, and a few megabytes.
_TOGETHER = 256


def why_no_view(photo: Photo) -> str | None:
    """Say in words why what a photo shows cannot be worked out; None if it can."""
    if photo.height_above_water_m is None:
        return say("place-unseen-no-height")
    if not photo.height_above_water_m.value > 0:
        return say("place-unseen-under-water", metres=photo.height_above_water_m.value)
    if photo.pitch_deg is None:
        return say("place-unseen-no-tilt")
    if photo.heading_deg_true is None and not _straight_down(photo):
        return say("place-unseen-no-heading")
    if photo.heading_deg_true is None and not sure_radius_m(_camera(photo, 0.0)) > 0:
        return say("place-unseen-leaning")
    return None


def see_photos(
    photos: Sequence[Photo],
    shore: ShoreIndex,
    rules: ViewRules,
    stage_of_photo_m: Mapping[str, float | None] | None = None,
) -> tuple[Views, tuple[SeenMetres | None, ...]]:
    """Work out the views of all photos, and every piece of shoreline that each shows, None where it has no view.

    `stage_of_photo_m` is by photo id the water level of that day: the shoreline, drawn at full supply level, stands
    that much above the water, from which camera heights count. Not known, the water is taken to stand at the
    shoreline. A photo that looks straight down with no known heading has the view that it has whichever way it was
    turned.
    """
    stages = stage_of_photo_m or {}
    north_deg = shore.north_deg([photo.point for photo in photos]).tolist()
    without = {photo.id: why for photo in photos if (why := why_no_view(photo))}
    known = [(photo, north) for photo, north in zip(photos, north_deg, strict=True) if photo.id not in without]
    views, seen = {}, {}
    for begin in range(0, len(known), _TOGETHER):
        batch = known[begin : begin + _TOGETHER]
        framed = _framed(batch, shore, rules, stages)
        parts = put_together([shown for _, shown in framed], shore)
        for (photo, _), (print_, _), (metres, stretches, reaches) in zip(batch, framed, parts, strict=True):
            views[photo.id] = View(photo.id, *print_, stretches, reaches, photo.heading_deg_true is None)
            seen[photo.id] = metres
    return Views(views, without), tuple(seen.get(photo.id) for photo in photos)


def _stand(photo: Photo) -> str:
    """Name a pose by when and where it was taken: a photo retouched or renamed has the same draws."""
    return f"{photo.taken} {photo.lonlat.lon_deg:.7f} {photo.lonlat.lat_deg:.7f}"


def _straight_down(photo: Photo) -> bool:
    return photo.pitch_deg is not None and abs(photo.pitch_deg.value + 90) <= STRAIGHT_DOWN_WITHIN_DEG


def _shore_up_m(stage_m: float | None) -> float:
    return 0.0 if stage_m is None else -stage_m


def _camera(photo: Photo, north_deg: float) -> Camera:
    """Put together the camera of a photo; one of unknown heading looks north."""
    above_m, pitch = photo.height_above_water_m, photo.pitch_deg
    if above_m is None or pitch is None:
        raise ValueError(f"{photo.id}: {why_no_view(photo)}. Expected a photo that has a view.")
    width, height = photo.source.width_px, photo.source.height_px
    if photo.source.orientation in (5, 6, 7, 8):
        width, height = height, width
    return Camera(
        at=photo.point,
        height_m=above_m.value,
        heading_deg=photo.heading_deg_true.value - north_deg if photo.heading_deg_true else 0.0,
        pitch_deg=pitch.value,
        roll_deg=photo.roll_deg.value if photo.roll_deg else 0.0,
        hfov_deg=photo.hfov_deg.value,
        vfov_deg=photo.vfov_deg.value,
        width_px=width,
        height_px=height,
    )


def _framed(
    photos: Sequence[tuple[Photo, float]], shore: ShoreIndex, rules: ViewRules, stages: Mapping[str, float | None]
) -> list[tuple[Footprint, Shown]]:
    """Find the water in each photo's frame, and the pieces of shore that it shows; photos with the map's north."""
    poses = [Pose(_camera(photo, north), pose_sigmas(photo), _stand(photo)) for photo, north in photos]
    frames = drawn_frames(poses, rules.draws)
    return [
        _frame(pose, drawn if photo.heading_deg_true else None, shore, rules, _shore_up_m(stages.get(photo.id)))
        for (photo, _), pose, drawn in zip(photos, poses, frames, strict=True)
    ]


def _frame(
    pose: Pose, frames: Frames | None, shore: ShoreIndex, rules: ViewRules, shore_up_m: float
) -> tuple[Footprint, Shown]:
    """Look through one frame; without `frames` its heading is not known."""
    print_ = footprint(pose.camera, rules.range_m)
    if frames is None:
        print_ = print_._replace(area=nadir_circle(pose.camera, print_.range_m), includes_horizon=False)
    pieces = _open_in_cone(_cone(pose, print_.range_m, shore_up_m, frames is None), pose.camera, shore, rules)
    xyz = np.column_stack([shore.xy_m[pieces], np.full(len(pieces), shore_up_m)])
    share = (frames or drawn_circles(pose, rules.draws)).share(xyz)
    most = share > MOST_DRAWS
    return print_, Shown(pose.camera, shore_up_m, pieces[most], share[most])


class _Cone(NamedTuple):
    """The cone about the axis that holds the frame, cut at the range: its tip, axis, half angle and the cut."""

    tip: np.ndarray
    axis: np.ndarray
    half: float
    range_m: float
    shore_up_m: float

    @property
    def farthest_m(self) -> float:
        """Distance on the map of the farthest place that can be in it."""
        lowest = math.asin(-self.axis[2]) - self.half
        fall = self.tip[2] - self.shore_up_m
        return self.range_m if lowest <= 0 or fall <= 0 else min(self.range_m, fall / math.tan(lowest))

    def holds(self, xy: np.ndarray, radius_m: np.ndarray | float = 0.0) -> np.ndarray:
        """Tell which places (n, 2) at the shoreline's height are in it; of discs, those that may reach into it."""
        dx, dy, up = xy[:, 0] - self.tip[0], xy[:, 1] - self.tip[1], self.shore_up_m - self.tip[2]
        level = dx * dx + dy * dy
        away = np.sqrt(level + up * up)
        ahead = dx * self.axis[0] + dy * self.axis[1] + up * self.axis[2]
        half: np.ndarray | float = self.half
        if not np.isscalar(radius_m):
            # A disc about the tip reaches in all directions.
            share = radius_m / np.maximum(away, 1e-9)
            half = half + np.where(share < 1, np.arcsin(np.minimum(share, 1.0)), math.pi)
        return (level <= (self.range_m + radius_m) ** 2) & (ahead >= np.cos(np.minimum(half, math.pi)) * away)


def _cone(pose: Pose, range_m: float, shore_up_m: float, any_heading: bool) -> _Cone:
    """Return the cone of a frame, widened by a margin."""
    sigmas, camera = pose.sigmas, pose.camera
    margin_deg = min(_MARGIN_SIGMAS * max(sigmas.heading_deg, sigmas.pitch_deg, sigmas.roll_deg), _MOST_MARGIN_DEG)
    axis = np.array([0.0, 0.0, -1.0]) if any_heading else camera.axes[2]
    half = math.atan(math.hypot(*camera.half_tangents)) + math.radians(margin_deg)
    return _Cone(camera.place, axis, half, range_m, shore_up_m)


def _open_in_cone(cone: _Cone, camera: Camera, shore: ShoreIndex, rules: ViewRules) -> np.ndarray:
    """Numbers of the pieces in the cone that no land hides, in order; far shores are first looked at by the chunk."""
    chunks = shore.near(camera.at, cone.range_m)
    chunks = chunks[cone.holds(shore.chunk_xy_m[chunks], shore.chunk_radius_m[chunks])]
    discs = spots(camera, shore.chunk_xy_m[chunks], shore.chunk_radius_m[chunks])
    far = is_far(discs)
    near = shore.pieces_of(chunks[~far])
    near = near[cone.holds(shore.xy_m[near])]
    goals = joined(discs.of(far), spots(camera, shore.xy_m[near]))
    lines = sight_lines(camera, shore, goals, cone.farthest_m, cone.shore_up_m, rules)
    pieces = shore.pieces_of(chunks[far][lines.show(discs.of(far))])
    pieces = np.sort(np.concatenate([near, pieces[cone.holds(shore.xy_m[pieces])]]))
    return pieces[lines.show(spots(camera, shore.xy_m[pieces]))]
