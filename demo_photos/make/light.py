"""Sky, haze, water and the camera's rendering of light into eight bits."""

from __future__ import annotations

import numpy as np
from scipy import ndimage

from demo_photos.make.noise import speckle

_HORIZON, _ZENITH = np.array([0.62, 0.72, 0.80], np.float32), np.array([0.16, 0.32, 0.60], np.float32)
_HAZE = np.array([0.55, 0.65, 0.75], np.float32)
_DEEP = np.array([0.020, 0.050, 0.052], np.float32)
_FADE_PER_M = np.array([0.62, 0.36, 0.44], np.float32)  # how fast each colour is lost in the lake's water
_HAZE_LENGTH_M = 11000.0


def sky(d: np.ndarray, sun: np.ndarray, clouds: bool = True) -> np.ndarray:
    """Colour of the sky in unit directions (k, 3): blue, paler to the horizon, thin fair-weather cloud."""
    up = np.clip(d[:, 2], 0, 1)[:, None]
    colour = _HORIZON + (_ZENITH - _HORIZON) * (1 - np.exp(-3.2 * up))
    glow = np.clip(d @ sun.astype(np.float32), 0, 1)[:, None]
    colour = colour + np.array([0.9, 0.75, 0.5], np.float32) * (0.20 * glow**60 + 0.07 * glow**6)
    if clouds:
        colour = colour + _cloud(d)[:, None] * (np.array([0.98, 0.97, 0.95], np.float32) - colour)
    return colour.astype(np.float32)


def _cloud(d: np.ndarray) -> np.ndarray:
    """Share of cloud in each direction, from a sheet of soft patches 1600 m up."""
    up = np.maximum(d[:, 2], 0.02)
    x, y = d[:, 0] / up * 1600, d[:, 1] / up * 1600
    total, weight = np.zeros(len(d), np.float32), 1.0
    for k, wave in enumerate((2100, 900, 420, 190, 85)):
        total += weight * _smooth_speckle(x * (0.6 if k else 0.5), y, wave, 91 + k)
        weight *= 0.55
    share = np.clip((total - 0.35) / 1.5, 0, 1)
    return 0.75 * share * share * (3 - 2 * share) * np.clip((d[:, 2] - 0.03) / 0.16, 0, 1)


def _smooth_speckle(x: np.ndarray, y: np.ndarray, wave: float, seed: int) -> np.ndarray:
    """Bilinear noise looks cornered at cloud size; the mean of two shifted readings does not."""
    return 0.75 * (speckle(x, y, wave, seed) + speckle(0.71 * (x - y) + 37, 0.71 * (x + y) + 11, wave, seed + 20))


def haze(colour: np.ndarray, d: np.ndarray, length_m: np.ndarray, sun: np.ndarray) -> np.ndarray:
    """Air between camera and ground: pale blue, a little brighter toward the sun."""
    share = (1 - np.exp(-length_m / _HAZE_LENGTH_M))[:, None]
    glow = np.clip(d @ sun.astype(np.float32), 0, 1)[:, None] ** 4
    return colour * (1 - share) + (_HAZE * (1 + 0.18 * glow)) * share


def _ripples(points: np.ndarray, length_m: np.ndarray, pixel: float, slant: np.ndarray) -> np.ndarray:
    """Return unit normals of the water (k, 3): wavelets of several lengths, each fading where pixels outgrow it."""
    x, y = points[:, 0], points[:, 1]
    breeze = np.clip(0.75 + 0.45 * _smooth_speckle(x, y, 130, 95) + 0.2 * _smooth_speckle(x, y, 37, 96), 0.15, 1.6)
    foot = length_m * pixel / np.maximum(slant, 0.03)
    sx, sy = np.zeros(len(x), np.float32), np.zeros(len(x), np.float32)
    for k, (wave, steep) in enumerate(((7.0, 0.010), (2.7, 0.020), (1.1, 0.028), (0.45, 0.034))):
        amount = steep * breeze * np.clip(1.6 - foot / wave * 0.8, 0.12, 1)
        sx += amount * _smooth_speckle(x + 0.3 * y, 0.55 * y, wave, 101 + k)
        sy += amount * _smooth_speckle(0.55 * x, y - 0.3 * x, wave, 111 + k)
    normal = np.stack([sx, sy, np.ones_like(sx)], -1)
    return normal / np.linalg.norm(normal, axis=-1, keepdims=True)


def water_colour(scene, points: np.ndarray, d: np.ndarray, length_m: np.ndarray, pixel: float) -> np.ndarray:
    """Colour of water: mirrored sky and shore by Fresnel's law (Schlick's form), the bed where it is shallow."""
    slant = -d[:, 2]
    normal = _ripples(points, length_m, pixel, slant)
    facing = np.clip(-(d * normal).sum(-1), 0.02, 1)
    mirrored = d + 2 * facing[:, None] * normal
    mirrored[:, 2] = np.abs(mirrored[:, 2]) + 2e-3
    mirrored = (mirrored / np.linalg.norm(mirrored, axis=-1, keepdims=True)).astype(np.float32)
    share = (0.02 + 0.98 * (1 - facing) ** 5)[:, None]
    light = _mirror(scene, points, mirrored, share[:, 0], length_m)
    glint = np.clip((mirrored * scene.world.sun).sum(-1), 0, 1)[:, None] ** 260
    body = _bed_through(scene, points, slant, length_m * pixel)
    return body * (1 - share) + light * share + glint * np.array([1.2, 1.1, 0.9]) * (0.12 + share)


def _mirror(scene, points: np.ndarray, mirrored: np.ndarray, share: np.ndarray, length_m: np.ndarray) -> np.ndarray:
    """Colour that the water mirrors: sky, and the shore where enough of it shows to matter."""
    sun = scene.world.sun
    light = sky(mirrored, sun)
    cast = np.flatnonzero((share > 0.06) & (length_m < 2500))
    if len(cast):
        start = points[cast].astype(np.float32)
        start[:, 2] += 0.05
        t, _ = scene.cast(start, mirrored[cast], np.full(len(cast), 0.6), 700.0, water=False, coarse=2.0)
        hit = np.isfinite(t)
        at = start[hit] + mirrored[cast][hit] * t[hit, None]
        light[cast[hit]] = 0.92 * scene.seen_colour(*at.T, np.full(hit.sum(), 1.0, np.float32))
    return light


def _bed_through(scene, points: np.ndarray, slant: np.ndarray, footprint_m: np.ndarray) -> np.ndarray:
    """Light that comes back out of the water: the bed dimmed by the way down and up, and the water's own colour."""
    depth = np.clip(scene.stage - scene.read("ground", points[:, 0], points[:, 1]), 0, 30)
    # Refraction steepens the way up: sine of the angle in water is that in air over 1.333.
    upward = np.sqrt(1 - (1 - slant**2) / 1.333**2)
    way = (depth * (1 + 1 / upward))[:, None]
    bed = scene.colour(points[:, 0], points[:, 1], footprint_m) * np.array([0.80, 0.86, 0.74], np.float32)
    left = np.exp(-_FADE_PER_M * way * 0.5)
    return bed * left + _DEEP * (1 - left)


def developed(light: np.ndarray, seed: int) -> np.ndarray:
    """Camera's rendering: lens softness and falloff, shoulder curve, gamma, grain; uint8 RGB."""
    height, width = light.shape[:2]
    light = ndimage.gaussian_filter(light, (0.45, 0.45, 0))
    y, x = np.mgrid[-1 : 1 : height * 1j, -1 : 1 : width * 1j]
    light = light * (1 - 0.10 * (x * x + y * y) / 2)[..., None] * 1.28
    light = light * (1 + light / 6.0) / (1 + light * 0.72)
    level = np.clip(light, 0, 1) ** (1 / 2.2)
    level = 0.7 * level + 0.3 * level * level * (3 - 2 * level)
    grain = ndimage.gaussian_filter(np.random.default_rng(seed).standard_normal(light.shape[:2]), 0.5)
    level = level + 0.005 * grain[..., None]
    return (np.clip(level, 0, 1) * 255 + 0.5).astype(np.uint8)
