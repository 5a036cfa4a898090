"""An invented shore with photos, for tests of the strip chart: one long ring, islands, tiles, names, depths."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from types import SimpleNamespace

import numpy as np

from atlasgen.compose.strip import StripShore
from atlasgen.measure.shore_states import shore_states, sightings
from atlasgen.model import Reach
from atlasgen.model.states import AuditRules, PhotoColumns, Sightings
from atlasgen.model.views import SeenMetres

DAY = datetime(2026, 5, 20, 9, tzinfo=UTC)
PLACES = ("", "Heron Bay", "", "The Narrows", "East Arm", "Old Ferry Cove", "", "Mill Creek Inlet", "", "Lantern Point")
ISLANDS = (("Heron Island", 640.0), ("", 180.0), ("Little Cray", 90.0), ("Mast Rock", 60.0))


def strip_shore(length_m: float = 23_450.0, islands=ISLANDS, photos: int = 260, seed: int = 7, **more) -> StripShore:
    """Return a shore whose aerial runs leave gaps, with older and coarser photos from boats in between."""
    rings = {"S": length_m} | {f"A{n}": length for n, (_, length) in enumerate(islands, 1)}
    reaches = [reach for ring, length in rings.items() for reach in _reaches(ring, length)]
    pieces = _pieces(tuple(rings), reaches)
    columns, seen = _photos(pieces, photos, np.random.default_rng(seed))
    why = np.where((pieces.ring == 0) & (pieces.from_m > 1400) & (pieces.to_m < 2550), 0, -1)
    seen = Sightings(*(column[why[seen.piece] < 0] for column in seen))
    rules = AuditRules(reference=DAY)
    states = shore_states(pieces, columns, seen, rules, why, ("dam wall, no flying",))
    facts = {
        "ring_names": {"S": "Shore from the wall"} | {f"A{n}": name for n, (name, _) in enumerate(islands, 1)},
        "tile_labels": {reach.tile: reach.tile for reach in reaches},
        "depth_m": _depths(pieces),
        "coverage": np.clip(0.7 + 0.5 * np.sin(pieces.reach / 5.0), 0, 1),
    }
    return StripShore(pieces, tuple(reaches), states, **(facts | more))


def _reaches(ring: str, length_m: float) -> list[Reach]:
    count = max(1, round(length_m / 100))
    edges = np.linspace(0, length_m, count + 1).tolist()
    found = []
    for n, (a, b) in enumerate(pairwise(edges)):
        place = PLACES[n // 14 % len(PLACES)] if ring == "S" else ""
        tile = f"{'ABCDEF'[n // 23 % 6]} {1 + n // 9 % 4}" if ring == "S" else "C 3"
        found.append(Reach(f"{ring}-{n:04d}", ring, a, b, None, None, 0.0, tile, "", place))
    return found


def _pieces(rings: tuple[str, ...], reaches: list[Reach]) -> SimpleNamespace:
    counts = [max(1, int(np.ceil(reach.length_m / 2 - 1e-9))) for reach in reaches]
    edges = [np.linspace(reach.from_m, reach.to_m, count + 1) for reach, count in zip(reaches, counts, strict=True)]
    return SimpleNamespace(
        rings=rings,
        ring=np.repeat([rings.index(reach.ring) for reach in reaches], counts),
        reach=np.repeat(np.arange(len(reaches)), counts),
        from_m=np.concatenate([edge[:-1] for edge in edges]),
        to_m=np.concatenate([edge[1:] for edge in edges]),
    )


def _photos(pieces, count, rng):
    """Aerial photos along three runs, shore photos here and there; each shows up to some hundred metres."""
    total = len(pieces.ring)
    taken, aerial, reach, seen = [], [], [], []
    for n in range(count):
        high = bool(n % 5 < 3)
        middle = (rng.choice([0.12, 0.42, 0.83]) + rng.normal(0, 0.07 if high else 0.3)) % 1 * total
        half = int(rng.uniform(20, 110 if high else 45))
        piece = np.arange(max(0, int(middle) - half), min(total, int(middle) + half))
        away = np.full(len(piece), rng.uniform(60, 500))
        gsd = away * (0.03 if high else 0.05)
        angle = rng.uniform(25, 80) - np.abs(piece - middle) / 3
        taken.append((DAY - timedelta(days=float(rng.choice([3, 40, 370, 900])))).timestamp())
        aerial.append(high)
        reach.append(int(pieces.reach[int(middle) % total]))
        seen.append(SeenMetres(piece, away, angle, gsd) if n % 7 else None)
    return PhotoColumns(np.array(taken, float), np.array(aerial, bool), np.array(reach, int)), sightings(seen)


def _depths(pieces) -> np.ndarray:
    x = (pieces.from_m + 3000 * pieces.ring) / 900
    depth = 2.6 + 1.2 * np.sin(x) + 0.7 * np.sin(2.7 * x + 1) + 0.25 * np.sin(11 * x)
    return np.where(np.sin(x / 3.1) > 0.93, np.nan, np.maximum(depth, 0.2))
