"""A small edition as atlas.json tells it: three reaches in a row, two photos, one tile; made anew for each test."""

from __future__ import annotations

from typing import Any

# One degree of latitude at the equator, m (WGS 84, 110.574 km); reaches run along it, so that metres are easy.
STEP_DEG = 0.001


def photo(number: int, **other: Any) -> dict[str, Any]:
    """Return a photo of the reach of its number, on the page of that number."""
    return {
        "id": f"p-{number:010d}",
        "sha256": f"{number:064d}",
        "file": f"photos/{number}.jpg",
        "taken": f"2026-03-10T10:00:{number:02d}Z",
        "lon": -0.0005,
        "lat": number * STEP_DEG,
        "heading_deg_true": 90.0,
        "reach": f"S-{number:04d}",
        "tile": "t1",
        "page": number,
        "caption": f"Looking east at reach S-{number:04d}.",
    } | other


def reach(number: int, **other: Any) -> dict[str, Any]:
    """Return a reach 100 m long or so that faces west, its bank on the meridian."""
    south, north = number * STEP_DEG, (number + 1) * STEP_DEG
    return {
        "id": f"S-{number:04d}",
        "name": "east bank",
        "place": None,
        "tile": "t1",
        "length_m": 110.57,
        "midpoint": [0.0, round((south + north) / 2, 7)],
        "faces_deg": 270.0,
        "line": [[0.0, south], [0.0, north]],
        "photographed": "well",
        "lengths_m": {"well": 110.57, "poorly": 0.0, "near": 0.0, "none": 0.0, "cannot": 0.0},
        "depth": depth(2.0, 4.0, [[5.0, 1.0], [10.0, 3.0]]),
        "coverage": {"off_bank_m": 40.0, "near_sounding_m": 25.0, "share_near_sounding": 0.9},
    } | other


def depth(shallowest_m: float | None, median_m: float | None, profile_m: list[list[float | None]]) -> dict[str, Any]:
    """Return what a reach tells of the depth off it."""
    return {
        "off_bank_m": 40.0,
        "shallowest_m": shallowest_m,
        "median_m": median_m,
        "profile_m": profile_m,
        "reduced": True,
    }


def page(number: int, *notes: str) -> dict[str, Any]:
    """Return the page of the reach of its number."""
    return {"number": number, "title": "East bank", "reaches": [f"S-{number:04d}"], "notes": list(notes)}


def feature(name: str, north_deg: float, **other: Any) -> dict[str, Any]:
    """Return a hump off the second reach."""
    return {
        "id": name,
        "kind": "hump",
        "at": {"lon": -0.001, "lat": north_deg},
        "least_depth_m": 3.0,
        "greatest_depth_m": 6.0,
        "length_m": 40.0,
        "bound_m": 0.3,
        "reaches": [{"reach": "S-0002", "distance_m": 110.0}],
    } | other


def edition() -> dict[str, Any]:
    """Return the whole of it."""
    return {
        "format": "atlas.json 1",
        "survey": {
            "title": "Reedmere",
            "edition": "1",
            "season": None,
            "crew": None,
            "datum": "full supply level",
            "depths_below": "full supply level",
            "shown_stage_m": 0.0,
            "units": {"depth": "metres", "distance": "metric"},
            "time_zone": "UTC",
            "tile_scheme": "sheets",
            "bounds": [-0.01, 0.0, 0.0, 0.005],
            "chart": None,
        },
        "photos": [photo(1), photo(2)],
        "reaches": [reach(1), reach(2), reach(3, photographed="none", lengths_m={"none": 110.57})],
        "tiles": [{"id": "t1", "label": "A 1"}],
        "pages": [page(1, "Depth: Shallowest 2.0 m. See page 2."), page(2, "Depth: Shallowest 2.0 m.")],
        "profiles": [
            {
                "reach": f"S-{number:04d}",
                "stations": [{"distance_m": 5.0, "bound_m": 0.3}, {"distance_m": 10.0, "bound_m": 0.4}],
            }
            for number in (1, 2, 3)
        ],
        "relief": [feature("hump 1", 0.0025)],
        "sources": [
            {"what": "soundings", "name": "basin.csv", "instrument": "", "dates": ["2026-03-10", "2026-03-11"]}
        ],
        "layers": [{"file": "layers/old.tif", "kind": "air photo", "title": "Old", "date": None, "stage_m": None}],
        "left_out": [{"file": "photos/9.jpg", "code": "damaged", "why": "cut short"}],
    }
