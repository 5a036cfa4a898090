"""The view of a photo: the water in its frame, and the shoreline seen in it.

A piece of shoreline is seen when it is within range, in the frame in most draws of the pose (`place.draws`), and not
hidden by land (`place.hidden`, once, from the pose as it is). Whether a bank faces the camera is not asked apart: one
that does not has land right before it, which hides it unless the camera is high enough to look over.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from atlasgen.model import Photo
from atlasgen.model.views import ReachSeen, SeenMetres, Stretch, View, ViewRules, Views
from atlasgen.place.draws import pose_sigmas, share_in_frame
from atlasgen.place.footprint import Footprint, footprint, nadir_circle, sure_radius_m
from atlasgen.place.hidden import open_to
from atlasgen.place.rays import Camera
from atlasgen.place.shore_index import ShoreIndex

# Ours: within this of straight down a frame shows much the same ground whichever way it was turned.
STRAIGHT_DOWN_WITHIN_DEG = 15.0
# A piece counts as seen when it is in the frame in more than this share of the draws.
MOST_DRAWS = 0.5
# How far outside the frame a piece may lie and still be in it in half of the draws: its spread is lopsided at most by
# a part of one sigma.
_MARGIN_SIGMAS, _MOST_MARGIN_DEG = 0.5, 10.0


def why_no_view(photo: Photo) -> str | None:
    """Say in words why what a photo shows cannot be worked out; None if it can."""
    if photo.height_above_water_m is None:
        return "its height above the water is not known"
    if not photo.height_above_water_m.value > 0:
        return f"its height above the water is given as {photo.height_above_water_m.value:g} m"
    if photo.pitch_deg is None:
        return "it is not known how far it looked down"
    if photo.heading_deg_true is None and not _straight_down(photo):
        return "its direction is not known"
    if photo.heading_deg_true is None and not sure_radius_m(_camera(photo, 0.0)) > 0:
        return "its direction is not known, and it leaned too far from straight down to do without"
    return None


def view_of(photo: Photo, shore: ShoreIndex, rules: ViewRules, stage_m: float | None = None) -> View | None:
    """Work out what a photo covers and shows; None if it cannot be (`why_no_view` says why).

    `stage_m` is the water level of that day: the shoreline, drawn at full supply level, stands that much above the
    water, from which camera heights count. Not known, the water is taken to stand at the shoreline. A photo that
    looks straight down with no known heading has the view that it has whichever way it was turned.
    """
    if why_no_view(photo):
        return None
    return _view(photo, shore, rules, stage_m, float(shore.north_deg([photo.point])[0]))


def views_of(
    photos: Sequence[Photo],
    shore: ShoreIndex,
    rules: ViewRules,
    stage_of_photo_m: Mapping[str, float | None] | None = None,
) -> Views:
    """Work out the views of all photos; `stage_of_photo_m` by photo id."""
    stages = stage_of_photo_m or {}
    north_deg = shore.north_deg([photo.point for photo in photos])
    views, without = {}, {}
    for photo, north in zip(photos, north_deg.tolist(), strict=True):
        why = why_no_view(photo)
        if why:
            without[photo.id] = why
        else:
            views[photo.id] = _view(photo, shore, rules, stages.get(photo.id), north)
    return Views(views, without)


def seen_metres(photo: Photo, view: View, shore: ShoreIndex, stage_m: float | None = None) -> SeenMetres:
    """Return every piece of shoreline that a view shows, with distance, angle and GSD, for adding up over photos."""
    camera = _camera(photo, float(shore.north_deg([photo.point])[0]))
    runs = [shore.pieces_between(stretch.ring, stretch.from_m, stretch.to_m) for stretch in view.stretches]
    pieces = np.concatenate(runs) if runs else np.empty(0, int)
    return _quality(camera, shore, pieces, _shore_up_m(stage_m))


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


def _view(photo: Photo, shore: ShoreIndex, rules: ViewRules, stage_m: float | None, north_deg: float) -> View:
    camera, any_heading = _camera(photo, north_deg), photo.heading_deg_true is None
    print_ = footprint(camera, rules.range_m)
    if any_heading:
        print_ = Footprint(nadir_circle(camera, print_.range_m), False, print_.range_m, print_.centre_gsd_cm)
    shore_up_m = _shore_up_m(stage_m)
    pieces, probability = _seen(photo, camera, shore, rules, print_.range_m, shore_up_m)
    seen = _quality(camera, shore, pieces, shore_up_m)
    return View(
        photo=photo.id,
        footprint=print_.area,
        includes_horizon=print_.includes_horizon,
        range_m=print_.range_m,
        centre_gsd_cm=print_.centre_gsd_cm,
        stretches=_stretches(shore, seen, probability),
        reaches=_reaches(shore, seen, probability),
        any_heading=any_heading,
    )


def _seen(
    photo: Photo, camera: Camera, shore: ShoreIndex, rules: ViewRules, range_m: float, shore_up_m: float
) -> tuple[np.ndarray, np.ndarray]:
    """Numbers of the pieces seen, in order, and in which share of the draws."""
    sigmas, any_heading = pose_sigmas(photo), photo.heading_deg_true is None
    margin_deg = min(_MARGIN_SIGMAS * max(sigmas.heading_deg, sigmas.pitch_deg, sigmas.roll_deg), _MOST_MARGIN_DEG)
    pieces = _in_cone(camera, shore, range_m, shore_up_m, margin_deg, any_heading)
    if len(pieces):
        pieces = pieces[open_to(camera, shore, pieces, shore_up_m, rules)]
    xyz = np.column_stack([shore.xy_m[pieces], np.full(len(pieces), shore_up_m)])
    share = share_in_frame(camera, sigmas, xyz, photo.id, rules.draws, any_heading=any_heading)
    return pieces[share > MOST_DRAWS], share[share > MOST_DRAWS]


def _in_cone(
    camera: Camera, shore: ShoreIndex, range_m: float, shore_up_m: float, margin_deg: float, any_heading: bool
) -> np.ndarray:
    """Pieces within range and within the cone about the axis that holds the frame, widened by a margin."""
    axis = np.array([0.0, 0.0, -1.0]) if any_heading else camera.axes[2]
    half = math.atan(math.hypot(*camera.half_tangents)) + math.radians(margin_deg)
    chunks = shore.near(camera.at, range_m)
    d = _from_camera(camera, shore.chunk_xy_m[chunks], shore_up_m)
    away = np.maximum(np.linalg.norm(d, axis=1), 1e-9)
    # A chunk's disc about its middle may reach into the cone where its middle is not in it.
    wider = half + np.arcsin(np.minimum(shore.chunk_radius_m[chunks] / away, 1.0))
    pieces = shore.pieces_of(chunks[d @ axis >= np.cos(np.minimum(wider, math.pi)) * away])
    d = _from_camera(camera, shore.xy_m[pieces], shore_up_m)
    near = d[:, 0] ** 2 + d[:, 1] ** 2 <= range_m**2
    return pieces[near & (d @ axis >= math.cos(min(half, math.pi)) * np.linalg.norm(d, axis=1))]


def _from_camera(camera: Camera, xy: np.ndarray, shore_up_m: float) -> np.ndarray:
    """Vectors from the camera to places at the shoreline's height, (n, 3)."""
    d = np.empty((len(xy), 3))
    d[:, :2] = xy
    d[:, 2] = shore_up_m
    d -= camera.place
    return d


def _quality(camera: Camera, shore: ShoreIndex, pieces: np.ndarray, shore_up_m: float) -> SeenMetres:
    """Distance on the map, angle to the bank and GSD of pieces."""
    d = _from_camera(camera, shore.xy_m[pieces], shore_up_m)
    away = np.maximum(np.hypot(d[:, 0], d[:, 1]), 1e-9)
    along = shore.toward[pieces]
    # With the water on the right hand, a sight line that comes over the water runs to the left of the bank's run.
    over = (along[:, 0] * d[:, 1] - along[:, 1] * d[:, 0]) / away
    angle = np.degrees(np.arcsin(np.clip(over, -1, 1)))
    return SeenMetres(pieces, away, angle, 100 * (d @ camera.axes[2]) * camera.pixel_tangent)


def _stretches(shore: ShoreIndex, seen: SeenMetres, probability: np.ndarray) -> tuple[Stretch, ...]:
    """Join pieces that follow each other on one ring."""
    first, count = _runs((np.diff(seen.piece) != 1) | (np.diff(shore.ring[seen.piece]) != 0), len(seen.piece))
    if not len(first):
        return ()
    columns = (
        shore.from_m[seen.piece[first]],
        shore.to_m[seen.piece[first + count - 1]],
        np.minimum.reduceat(seen.distance_m, first),
        np.add.reduceat(seen.angle_deg, first) / count,
        np.minimum.reduceat(seen.gsd_cm, first),
        seen.gsd_cm[first + (count - 1) // 2],
        np.add.reduceat(probability, first) / count,
    )
    rings = shore.ring[seen.piece[first]].tolist()
    rows = zip(*(column.tolist() for column in columns), strict=True)
    return tuple(Stretch(shore.rings[ring], *row) for ring, row in zip(rings, rows, strict=True))


def _reaches(shore: ShoreIndex, seen: SeenMetres, probability: np.ndarray) -> tuple[ReachSeen, ...]:
    """Add up the pieces of every reach."""
    reach = shore.reach[seen.piece]
    first, count = _runs(np.diff(reach) != 0, len(reach))
    if not len(first):
        return ()
    columns = (
        count / np.diff(shore.reach_first)[reach[first]],
        np.minimum.reduceat(seen.distance_m, first),
        np.add.reduceat(seen.angle_deg, first) / count,
        np.minimum.reduceat(seen.gsd_cm, first),
        np.add.reduceat(probability, first) / count,
    )
    rows = zip(*(column.tolist() for column in columns), strict=True)
    return tuple(ReachSeen(shore.reaches[r].id, *row) for r, row in zip(reach[first].tolist(), rows, strict=True))


def _runs(breaks: np.ndarray, size: int) -> tuple[np.ndarray, np.ndarray]:
    """First index and length of the runs between breaks."""
    first = np.append(0, np.flatnonzero(breaks) + 1) if size else np.empty(0, int)
    return first, np.diff(np.append(first, size))
