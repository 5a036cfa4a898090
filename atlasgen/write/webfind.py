"""What a reader may ask of a bank, reach by reach, for data.js: the same numbers as in atlas.json, to the last digit.

So an answer of the page can be reckoned again by anyone from atlas.json alone. Columns are in the order of the reaches.
"""

from __future__ import annotations

from typing import Any, get_args

import numpy as np

from atlasgen.model import Atlas, Reach
from atlasgen.model.relief import SLOPE_LIMITS, ReachProfile, ReliefKind, ReliefNear, SlopeWord
from atlasgen.write.measured import depths_each_metre, plain
from atlasgen.write.webgrid import packed_depths, packed_runs

KINDS: tuple[ReliefKind, ...] = get_args(ReliefKind)
SLOPES: tuple[SlopeWord, ...] = get_args(SlopeWord)
# The share of a reach that photographs of a kind show counts from a centimetre on, as atlas.json tells lengths.
_SHOWN_M = 0.005


def find_data(atlas: Atlas) -> dict[str, Any]:
    """Return the facts of all reaches as columns; None or -1 where one is not known.

    `depths` packs a row a reach, whole centimetres below the level the edition is told for at 0, 1, 2, ... metres from
    the bank; `stations` says how many of a row the profile has, and `closed` whether the far bank ends it. `faces` is
    in tenths of a degree, `slope` and the third of a break are places in `slopes`, the first of a relief in `kinds`,
    `tile` in the tiles.
    """
    reaches, known = atlas.placed.reaches, atlas.known
    profiles = [known.profiles.get(reach.id) for reach in reaches]
    tiles = {tile.id: number for number, tile in enumerate(atlas.placed.tiles)}
    relief = {feature.id: (KINDS.index(feature.kind), feature.greatest_depth_m) for feature in known.relief}
    return {
        "kinds": list(KINDS),
        "slopes": list(SLOPES),
        "slopeLimits": [limit for _, limit in SLOPE_LIMITS],
        "slopeOver": next((profile.slope_over_m for profile in profiles if profile), None),
        "faces": [faces_tenths(reach) for reach in reaches],
        "tile": [tiles.get(reach.tile, -1) for reach in reaches],
        "shown": [_shown(atlas, reach) for reach in reaches],
        "slope": [SLOPES.index(p.slope_word) if p and p.slope_word else -1 for p in profiles],
        "breaks": [_break(profile) for profile in profiles],
        "relief": [
            [item for near in known.relief_near.get(reach.id, ()) for item in _near(near, relief)] for reach in reaches
        ],
        **_depths(profiles),
    }


def faces_tenths(reach: Reach) -> int:
    """Return which way a bank looks over the water, tenths of a degree from true north: the north bank faces south."""
    return round(round(reach.faces_deg, 1) * 10) % 3600


def _shown(atlas: Atlas, reach: Reach) -> int:
    """Return 1 if photographs from the air show some of a reach, 2 if those from bank or boat do, 3 if both."""
    states = atlas.known.audit.reaches[reach.id]
    lengths = (states.aerial_m, states.shore_m)
    air, shore = (row["well"] + row["poorly"] > _SHOWN_M for row in lengths)
    return int(air) + 2 * int(shore)


def _break(profile: ReachProfile | None) -> list[float | int] | None:
    if profile is None or profile.steepest is None:
        return None
    steepest = profile.steepest
    return [plain(steepest.from_m), plain(steepest.to_m), SLOPES.index(steepest.word)]


def _near(near: ReliefNear, relief: dict[str, tuple[int, float]]) -> list[float | int | str]:
    kind, greatest_m = relief[near.feature]
    return [kind, plain(near.edge_m), plain(greatest_m), near.feature]


def _depths(profiles: list[ReachProfile | None]) -> dict[str, Any]:
    rows = [depths_each_metre(profile) if profile else [] for profile in profiles]
    longest = max(map(len, rows), default=0)
    table = np.array([[np.nan if d is None else d for d in row] + [np.nan] * (longest - len(row)) for row in rows])
    table = table.reshape(len(rows), longest)
    return {
        "columns": longest,
        "known": packed_runs(np.isfinite(table)) if table.size else "",
        "depths": packed_depths(table) if table.size else "",
        "stations": [len(row) for row in rows],
        "closed": [int(bool(profile and profile.far_bank_m is not None)) for profile in profiles],
    }
