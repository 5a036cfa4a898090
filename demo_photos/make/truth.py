"""The answer sheet: true poses, what each photo really shows of the shoreline, and the bed's features."""

from __future__ import annotations

import numpy as np
from scipy import ndimage

from demo_photos.make import devices, elevation, troubles
from demo_photos.make.cameras import BOAT, COMPACT, DRONE, Shot, shots
from demo_photos.make.frame import LAT0_DEG, LON0_DEG, STAGES, to_lonlat
from demo_photos.make.logs import DRAUGHT_M
from demo_photos.make.render import Camera, Scene
from demo_photos.make.shoreline import rings
from demo_photos.make.terrain import HUMPS, LEDGE, TRACK, height_at, round_line

STEP_M = 2.0
_GAP_M = 4.5
ABOUT = (
    "Answer sheet of the invented demo survey. Chainage: metres along a ring of shoreline.geojson in the order of its "
    "vertices from its first vertex (ring 0: outer, counter-clockwise, from the ramp; rings 1 and 2: islands in file "
    "order), plane lengths in a transverse Mercator about the lake (see `frame`). A point of the shoreline, every 2 m, "
    "counts as visible when the ray from the camera to it, at ground level there, falls within the frame and meets "
    "nothing (ground, trees, shrubs, boulders) more than 2 m + 0.5 % of the distance before it. Angles: degrees, from "
    "true north, pitch up positive, roll clockwise positive. Heights: metres above the water of the day. Depths: "
    "metres below full supply level. Recorded values in the photos are these with normal noise of the sigmas stated "
    "for each device."
)


def visible(scene: Scene, camera: Camera) -> list[dict]:
    """Stretches of shoreline that the picture shows: ring, from_m, to_m, and distances from the camera."""
    found = []
    for number, ring in enumerate(rings()):
        chainage = np.arange(0, ring.length_m, STEP_M)
        xy = ring.at(chainage)
        points = np.column_stack([xy, height_at(*xy.T)])
        _, _, inside = camera.pixels(points)
        away = np.linalg.norm(points - camera.place, axis=1)
        seen = inside.copy()
        seen[inside] = _open_to(scene, camera, points[inside], away[inside])
        found += [{"ring": number, **stretch} for stretch in _stretches(chainage, seen, away)]
    return found


def _open_to(scene: Scene, camera: Camera, points: np.ndarray, away_m: np.ndarray) -> np.ndarray:
    """Tell which points no ground or cover hides."""
    d = ((points - camera.place) / away_m[:, None]).astype(np.float32)
    start = np.full(len(d), 0.5, np.float32)
    length, _ = scene.cast(camera.place, d, start, float(away_m.max(initial=1)) + 50, water=False)
    return length > away_m - (2 + 0.005 * away_m)


def _stretches(chainage_m: np.ndarray, seen: np.ndarray, away_m: np.ndarray) -> list[dict]:
    at = np.flatnonzero(seen)
    groups = np.split(at, np.flatnonzero(np.diff(chainage_m[at]) > _GAP_M) + 1) if len(at) else []
    return [
        {
            "from_m": float(chainage_m[group[0]]),
            "to_m": float(chainage_m[group[-1]] + STEP_M),
            "nearest_m": round(float(away_m[group].min()), 1),
            "farthest_m": round(float(away_m[group].max()), 1),
        }
        for group in groups
    ]


def photo_answer(shot: Shot, shore: list[dict]) -> dict:
    """Everything true about one photo, and what atlasgen should make of it."""
    lon, lat = devices.true_lonlat(shot)
    hfov, vfov = shot.camera.fov_deg
    return {
        "file": shot.file,
        "device": shot.device,
        "lon": round(lon, 7),
        "lat": round(lat, 7),
        "taken_utc": f"{shot.when:%Y-%m-%dT%H:%M:%SZ}",
        "heading_deg_true": round(devices.true_heading_deg(shot), 3),
        "pitch_deg": shot.pitch_deg,
        "roll_deg": shot.roll_deg,
        "height_above_water_m": round(shot.height_m, 3),
        "stage_m": round(shot.stage_m, 3),
        "hfov_deg": round(hfov, 3),
        "vfov_deg": round(vfov, 3),
        "width_px": shot.width_px,
        "height_px": shot.height_px,
        "kind": "aerial" if shot.device == DRONE else "shore",
        "caption": shot.caption,
        "troubles": _troubles(shot),
        "expected": _expected(shot),
        "heading_recorded": _heading_recorded(shot),
        "declination_deg": round(devices.declination_deg(shot), 3) if "magnetic" in shot.traits else None,
        "visible": [] if "far" in shot.traits else shore,
    }


def _troubles(shot: Shot) -> list[str]:
    words = [troubles.TRAIT_WORDS[trait] for trait in sorted(shot.traits)]
    if shot.device == BOAT:
        words.append(f"camera clock {devices.BOAT_CLOCK_FAST_S} s fast; GPS time right")
    if shot.device == COMPACT:
        words.append(f"camera clock {devices.COMPACT_CLOCK_FAST_S} s fast, as survey.toml says; no GPS, no heading")
    return words


def _expected(shot: Shot) -> str:
    """`page`, or the code of PROBLEM_CODES under which the photo is left out."""
    for trait, code in (("lost", "no_position"), ("zero", "no_position"), ("far", "too_far"), ("leaveout", "excluded")):
        if trait in shot.traits:
            return code
    return "page"


def position_from(shot: Shot) -> str | None:
    """Where a page's position should come from."""
    if _expected(shot) != "page":
        return None
    named = {"track": "track", "xmponly": "xmp", "wrongplace": "corrections"}
    return next((source for trait, source in named.items() if trait in shot.traits), "exif")


def _heading_recorded(shot: Shot) -> str | None:
    if shot.device == DRONE:
        return "gimbal"
    if shot.device == COMPACT or shot.traits & {"noheading", "track"}:
        return None
    return "magnetic" if "magnetic" in shot.traits else "true"


def _extra_files() -> list[dict]:
    """Return the files that are no shots of their own."""
    return [
        {"file": troubles.DUPLICATE[1], "same_as": troubles.DUPLICATE[0], "expected": "duplicate"},
        {"file": troubles.CUT_SHORT[1], "expected": "damaged"},
        {"file": troubles.NO_IMAGE, "expected": "not_an_image"},
    ]


def _place(x_m: float, y_m: float) -> dict:
    lon, lat = to_lonlat(x_m, y_m)
    return {"lon": round(lon, 7), "lat": round(lat, 7)}


def _hump(hump) -> dict:
    """Crest as the terrain has it: highest point within 15 m, and its rise above the bed 60 m around."""
    dx, dy = np.meshgrid(np.arange(-15, 16), np.arange(-15, 16))
    top = height_at(hump.x_m + dx.ravel(), hump.y_m + dy.ravel())
    at = int(np.argmax(top))
    x, y = hump.x_m + dx.ravel()[at], hump.y_m + dy.ravel()[at]
    turn = np.radians(np.arange(0, 360, 5))
    around = height_at(x + 60 * np.cos(turn), y + 60 * np.sin(turn))
    rise = round(float(top[at] - np.median(around)), 2)
    return {"name": hump.name, **_place(x, y), "least_depth_m": round(float(-top[at]), 2), "rise_m": rise}


def _bed() -> dict:
    line = round_line(TRACK, 10)
    under = line[height_at(*line.T) < -0.3]
    depth = -height_at(*under.T)
    middle = (LEDGE["from_y_m"] + LEDGE["to_y_m"]) / 2
    across = height_at(np.arange(LEDGE["x_m"] - 25, LEDGE["x_m"] + 30.0), np.full(55, middle))
    brink = int(np.argmin(ndimage.gaussian_filter1d(np.gradient(across), 1)))
    return {
        "humps": [_hump(hump) for hump in HUMPS],
        "ledge": {
            **_place(LEDGE["x_m"] - 25 + brink, middle),
            "runs": "north-south",
            "top_depth_m": round(float(-across[max(brink - 6, 0)]), 2),
            "foot_depth_m": round(float(-across[min(brink + 8, 54)]), 2),
        },
        "track": [
            {**_place(x, y), "depth_m": round(float(d), 2)} for (x, y), d in zip(under[::2], depth[::2], strict=True)
        ],
    }


def answer_sheet(answers: list[dict]) -> dict:
    """Put together the whole sheet; `answers` are those of the photos."""
    sources = {shot.file: position_from(shot) for shot in shots()}
    photos = [answer | {"position_from": sources[answer["file"]]} for answer in answers]
    return {
        "about": ABOUT,
        "frame": f"+proj=tmerc +lat_0={LAT0_DEG} +lon_0={LON0_DEG} +k=1 +ellps=WGS84 +units=m",
        "sigma": {
            "position_m_each_axis": {device: noise.position_m for device, noise in devices.NOISE.items()},
            "heading_deg": {device: noise.heading_deg for device, noise in devices.NOISE.items()},
            "pitch_deg": {device: noise.tilt_deg for device, noise in devices.NOISE.items()},
            "height_m": {device: noise.height_m for device, noise in devices.NOISE.items()},
            "sounding_m": 0.05,
            "sounding_share_of_depth": 0.005,
            "elevation_m": elevation.SIGMA_M,
        },
        "clock_fast_s": {"boat": devices.BOAT_CLOCK_FAST_S, "compact": devices.COMPACT_CLOCK_FAST_S},
        "draught_m": DRAUGHT_M,
        "stages": dict(STAGES),
        "rings": [{"length_m": round(ring.length_m, 2), "start": _place(*ring.xy_m[0])} for ring in rings()],
        "photos": sorted(photos, key=lambda photo: photo["file"]),
        "other_files": _extra_files(),
        "bed": _bed(),
    }
