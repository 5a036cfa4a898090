"""How sure it is that a place is in the frame: the pose is drawn many times within its uncertainties."""

from __future__ import annotations

import zlib
from functools import lru_cache
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from atlasgen.model import Photo
from atlasgen.place.camera import COMPASS_SIGMA_DEG, EYE_SIGMA_M, HAND_LEVEL_SIGMA_DEG
from atlasgen.place.rays import Camera, camera_axes

# Where a value does not say how good it is: a hand-held receiver's position in the open (ours, common practice, no
# source), and for angles and height the poorest of their kind in `place.camera`.
POSITION_SIGMA_M = 5.0
_LEAST_HEIGHT_M = 0.1
# Points looked at together, draw by draw: their arrays then fit a core's cache.
_AT_ONCE = 256


class PoseSigmas(NamedTuple):
    """Standard uncertainties of a pose: position on each axis, height (metres), heading, pitch and roll (degrees)."""

    position_m: float
    height_m: float
    heading_deg: float
    pitch_deg: float
    roll_deg: float


def pose_sigmas(photo: Photo) -> PoseSigmas:
    """Return the uncertainties of a photo's pose, with defaults where they are not known."""

    def known(value, default: float) -> float:
        return default if value is None or value.sigma is None else value.sigma

    return PoseSigmas(
        POSITION_SIGMA_M if photo.position_sigma_m is None else photo.position_sigma_m,
        known(photo.height_above_water_m, EYE_SIGMA_M),
        known(photo.heading_deg_true, COMPASS_SIGMA_DEG),
        known(photo.pitch_deg, HAND_LEVEL_SIGMA_DEG),
        known(photo.roll_deg, HAND_LEVEL_SIGMA_DEG) if photo.roll_deg is not None else 0.0,
    )


def share_in_frame(
    camera: Camera, sigmas: PoseSigmas, xyz: np.ndarray, photo_id: str, draws: int, *, any_heading: bool = False
) -> np.ndarray:
    """Share of the draws in which each point (n, 3) is in the frame, 0 to 1.

    One draw is the pose itself; the others are the photo's own, told by its id, and come in pairs that depart from it
    by as much to either side: at a single edge of the frame the pose itself decides. The position moves along and
    across the heading, so that a turned world has turned answers. With `any_heading` a point counts when it is in the
    frame however the camera was turned.
    """
    z = _departures(photo_id, draws // 2)
    east, north, up = _places(camera, sigmas, z)
    if any_heading:
        radius = _sure_radii(camera, sigmas, z, up)
        away = np.hypot(xyz[:, 0] - east[:, None], xyz[:, 1] - north[:, None])
        return (away <= radius * (up[:, None] - xyz[:, 2]) / up[:, None]).mean(axis=0)
    planes, offsets = _planes(camera, sigmas, z, np.stack([east, north, up], -1) - camera.place)
    return _share_inside(xyz - camera.place, planes, offsets)


def _planes(camera: Camera, sigmas: PoseSigmas, z: np.ndarray, moved: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return the sides of every draw's frame: normals (draws, 4, 3) that point inward, and their distances (draws, 4).

    A vector from the camera's own place, so that no digits are lost to large coordinates, is in the frame where its
    product with each normal is no less than the distance; what is behind the camera never is.
    """
    axes = camera_axes(
        camera.heading_deg + sigmas.heading_deg * z[:, 3],
        camera.pitch_deg + sigmas.pitch_deg * z[:, 4],
        camera.roll_deg + sigmas.roll_deg * z[:, 5],
    )
    right, high, depth = axes[:, 0], axes[:, 1], axes[:, 2]
    across, top = camera.half_tangents
    planes = np.stack([across * depth - right, across * depth + right, top * depth - high, top * depth + high], 1)
    return planes, (planes @ moved[:, :, None])[:, :, 0]


def _share_inside(vectors: np.ndarray, planes: np.ndarray, offsets: np.ndarray) -> np.ndarray:
    """Share of the draws in which each vector (n, 3) is inside all four planes.

    How far a plane departs from the first draw's tells which vectors are inside, or outside, in every draw; only the
    others, near an edge of the frame, are looked at draw by draw.
    """
    first = vectors @ planes[0].T - offsets[0]
    stray = np.linalg.norm(planes - planes[0], axis=2).max(axis=0)
    slack = np.sqrt(np.einsum("ij,ij->i", vectors, vectors))[:, None] * stray + np.abs(offsets - offsets[0]).max(axis=0)
    share = (first >= slack).all(axis=1).astype(float)
    doubtful = np.flatnonzero((first >= -slack).all(axis=1) & (share == 0))
    for begin in range(0, len(doubtful), _AT_ONCE):
        some = doubtful[begin : begin + _AT_ONCE]
        inside = planes.reshape(-1, 3) @ vectors[some].T >= offsets.reshape(-1, 1)
        share[some] = inside.reshape(len(planes), 4, -1).all(axis=1).mean(axis=0)
    return share


def _departures(photo_id: str, pairs: int) -> np.ndarray:
    """Departures from the pose in sigmas, shape (1 + 2 pairs, 6): none, then pairs of opposites.

    Each of the six is drawn once from every part of equal probability of the half normal distribution (a Latin
    hypercube, McKay, Beckman and Conover 1979), so that few draws already stand for the whole of it.
    """
    rng = np.random.default_rng(zlib.crc32(photo_id.encode()))
    order = rng.permuted(np.broadcast_to(np.arange(pairs), (6, pairs)), axis=1)
    half = _half_normal(pairs)[order].T * (2 * rng.integers(0, 2, (pairs, 6)) - 1)
    return np.concatenate([np.zeros((1, 6)), half, -half])


@lru_cache(maxsize=4)
def _half_normal(parts: int) -> np.ndarray:
    """Return the middle of each of the parts of equal probability."""
    normal = NormalDist()
    return np.array([normal.inv_cdf(0.5 + (part + 0.5) / (2 * parts)) for part in range(parts)])


def _places(camera: Camera, sigmas: PoseSigmas, z: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    turn = np.radians(camera.heading_deg)
    along, across = sigmas.position_m * z[:, 0], sigmas.position_m * z[:, 1]
    east = camera.at.x_m + along * np.sin(turn) + across * np.cos(turn)
    north = camera.at.y_m + along * np.cos(turn) - across * np.sin(turn)
    return east, north, np.maximum(camera.height_m + sigmas.height_m * z[:, 2], _LEAST_HEIGHT_M)


def _sure_radii(camera: Camera, sigmas: PoseSigmas, z: np.ndarray, up: np.ndarray) -> np.ndarray:
    """Return what `sure_radius_m` says of every draw, shape (draws, 1)."""
    lean_deg = np.abs(camera.pitch_deg + 90 + sigmas.pitch_deg * z[:, 4])
    sure_deg = np.maximum(min(camera.hfov_deg, camera.vfov_deg) / 2 - lean_deg, 0)
    return (up * np.tan(np.radians(sure_deg)))[:, None]
