"""How sure it is that a place is in the frame: the pose is drawn many times within its uncertainties."""

from __future__ import annotations

import zlib
from collections.abc import Sequence
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


class Frames(NamedTuple):
    """The frames of all draws of a pose: sides as normals (draws, 4, 3) that point inward, and distances (draws, 4).

    A vector from `place`, the camera's own, so that no digits are lost to large coordinates, is in a frame where its
    product with each normal is no less than the distance; what is behind the camera never is. The first draw is the
    pose itself. How far the planes of the others stray from its own, by the metre and at least, tells which places
    are in all frames or in none; only the rest, near an edge, are looked at draw by draw.
    """

    place: np.ndarray
    planes: np.ndarray
    offsets: np.ndarray
    stray: np.ndarray
    stray_m: np.ndarray

    def share(self, xyz: np.ndarray) -> np.ndarray:
        """Share of the draws in which each point (n, 3) is in the frame, 0 to 1."""
        vectors = xyz - self.place
        first = vectors @ self.planes[0].T - self.offsets[0]
        slack = np.sqrt(np.einsum("ij,ij->i", vectors, vectors))[:, None] * self.stray + self.stray_m
        share = (first >= slack).all(axis=1).astype(float)
        doubtful = np.flatnonzero((first >= -slack).all(axis=1) & (share == 0))
        for begin in range(0, len(doubtful), _AT_ONCE):
            some = doubtful[begin : begin + _AT_ONCE]
            inside = self.planes.reshape(-1, 3) @ vectors[some].T >= self.offsets.reshape(-1, 1)
            share[some] = inside.reshape(len(self.planes), 4, -1).all(axis=1).mean(axis=0)
        return share


class Circles(NamedTuple):
    """What is in the frame however a camera that looks down is turned: middles and radii on the water of all draws."""

    east: np.ndarray
    north: np.ndarray
    up: np.ndarray
    radius: np.ndarray

    def share(self, xyz: np.ndarray) -> np.ndarray:
        """Share of the draws in which each point (n, 3) is in the frame, 0 to 1."""
        away = np.hypot(xyz[:, 0] - self.east, xyz[:, 1] - self.north)
        return (away <= self.radius * (self.up - xyz[:, 2]) / self.up).mean(axis=0)


class Pose(NamedTuple):
    """A camera, how sure it is, and the name that its draws are told by."""

    camera: Camera
    sigmas: PoseSigmas
    name: str


def drawn_frames(poses: Sequence[Pose], draws: int) -> list[Frames]:
    """Draw poses within their uncertainties, many at once.

    One draw is the pose itself; the others are the photo's own, told by its name, and come in pairs that depart from it
    by as much to either side: at a single edge of the frame the pose itself decides. The position moves along and
    across the heading, so that a turned world has turned answers.
    """
    z = np.moveaxis(np.array([_departures(pose.name, draws // 2) for pose in poses]), -1, 0)
    sigma = np.array([pose.sigmas for pose in poses]).T[:, :, None]
    held = np.array([_held(pose.camera) for pose in poses]).T[:, :, None]
    axes = camera_axes(*(held[:3] + sigma[2:] * z[3:]))
    right, high, depth = axes[..., 0, :], axes[..., 1, :], axes[..., 2, :]
    across, top = held[4:, ..., None]
    planes = np.stack([across * depth - right, across * depth + right, top * depth - high, top * depth + high], -2)
    offsets = (planes @ _moved(held, sigma, z)[..., None])[..., 0]
    stray = np.linalg.norm(planes - planes[:, :1], axis=-1).max(axis=1)
    stray_m = np.abs(offsets - offsets[:, :1]).max(axis=1)
    rows = zip(poses, planes, offsets, stray, stray_m, strict=True)
    return [Frames(pose.camera.place, *row) for pose, *row in rows]


def _held(camera: Camera) -> tuple[float, ...]:
    return camera.heading_deg, camera.pitch_deg, camera.roll_deg, camera.height_m, *camera.half_tangents


def _moved(held: np.ndarray, sigma: np.ndarray, z: np.ndarray) -> np.ndarray:
    """How far each draw's place is from the camera's own, shape (poses, draws, 3)."""
    turn, height = np.radians(held[0]), held[3]
    along, across = sigma[0] * z[0], sigma[0] * z[1]
    up = np.maximum(height + sigma[1] * z[2], _LEAST_HEIGHT_M) - height
    return np.stack(
        [along * np.sin(turn) + across * np.cos(turn), along * np.cos(turn) - across * np.sin(turn), up], -1
    )


def drawn_circles(pose: Pose, draws: int) -> Circles:
    """Draw a pose, as `drawn_frames` does, whose heading is not known: what counts is in the frame whichever it is."""
    camera, sigmas, z = pose.camera, pose.sigmas, _departures(pose.name, draws // 2)
    moved = _moved(np.array([_held(camera)]).T[:, :, None], np.array([sigmas]).T[:, :, None], z.T[:, None])[0]
    east, north, up = (camera.place + moved).T
    return Circles(east[:, None], north[:, None], up[:, None], _sure_radii(camera, sigmas, z, up))


def _departures(name: str, pairs: int) -> np.ndarray:
    """Departures from the pose in sigmas, shape (1 + 2 pairs, 6): none, then pairs of opposites.

    Each of the six is drawn once from every part of equal probability of the half normal distribution (a Latin
    hypercube, McKay, Beckman and Conover 1979), so that few draws already stand for the whole of it.
    """
    rng = np.random.default_rng(zlib.crc32(name.encode()))
    order = rng.permuted(np.broadcast_to(np.arange(pairs), (6, pairs)), axis=1)
    half = _half_normal(pairs)[order].T * (2 * rng.integers(0, 2, (pairs, 6)) - 1)
    return np.concatenate([np.zeros((1, 6)), half, -half])


@lru_cache(maxsize=4)
def _half_normal(parts: int) -> np.ndarray:
    """Return the middle of each of the parts of equal probability."""
    normal = NormalDist()
    return np.array([normal.inv_cdf(0.5 + (part + 0.5) / (2 * parts)) for part in range(parts)])


def _sure_radii(camera: Camera, sigmas: PoseSigmas, z: np.ndarray, up: np.ndarray) -> np.ndarray:
    """Return what `sure_radius_m` says of every draw, shape (draws, 1)."""
    lean_deg = np.abs(camera.pitch_deg + 90 + sigmas.pitch_deg * z[:, 4])
    sure_deg = np.maximum(min(camera.hfov_deg, camera.vfov_deg) / 2 - lean_deg, 0)
    return (up * np.tan(np.radians(sure_deg)))[:, None]
