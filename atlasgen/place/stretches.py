"""From pieces to stretches and reaches: how well each piece is seen, and which of them follow each other.

All photos of a batch are added up at once, their pieces laid end to end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from atlasgen.model.views import ReachSeen, SeenMetres, Stretch
from atlasgen.place.rays import Camera
from atlasgen.place.shore_index import ShoreIndex

Parts = tuple[SeenMetres, tuple[Stretch, ...], tuple[ReachSeen, ...]]


class Shown(NamedTuple):
    """The pieces of shore that a camera shows, ascending, each with its share of the draws."""

    camera: Camera
    shore_up_m: float
    pieces: np.ndarray
    probability: np.ndarray


def put_together(shown: Sequence[Shown], shore: ShoreIndex) -> Iterator[Parts]:
    """Yield for each photo its pieces with distance, angle and GSD, and the stretches and reaches that they make."""
    seen = how_seen(shown, shore)
    count = np.array([len(one.pieces) for one in shown])
    owner = np.repeat(np.arange(len(shown)), count)
    probability = np.concatenate([one.probability for one in shown])
    stretches = _by_owner(_stretches(shore, seen, probability, owner), len(shown))
    reaches = _by_owner(_reaches(shore, seen, probability, owner), len(shown))
    ends = np.cumsum(count).tolist()
    for number, end in enumerate(ends):
        begin = end - len(shown[number].pieces)
        yield _compact(seen, begin, end), tuple(stretches[number]), tuple(reaches[number])


def _compact(seen: SeenMetres, begin: int, end: int) -> SeenMetres:
    """Cut out one photo's pieces, to seven digits: thousands of photos are kept until all are added up."""
    piece, *values = seen
    return SeenMetres(piece[begin:end].astype(np.int32), *(value[begin:end].astype(np.float32) for value in values))


def how_seen(shown: Sequence[Shown], shore: ShoreIndex) -> SeenMetres:
    """Distance on the map, angle to the bank and GSD of every piece that the photos show, photo after photo."""
    count = [len(one.pieces) for one in shown]
    pieces = np.concatenate([one.pieces for one in shown])
    east, north, fall, *ahead = np.repeat(np.array([_reckoned(one) for one in shown]), count, axis=0).T
    east, north = shore.xy_m[pieces, 0] - east, shore.xy_m[pieces, 1] - north
    away = np.maximum(np.hypot(east, north), 1e-9)
    # The axis was stretched by the width of a pixel at unit distance.
    gsd = east * ahead[0] + north * ahead[1] - fall * ahead[2]
    return SeenMetres(pieces, away, angle_to_bank_deg(east, north, fall, *shore.toward[pieces].T), gsd)


def _reckoned(one: Shown) -> tuple[float, ...]:
    """Place of the camera, its height above the shore, and its axis times the width of a pixel in cm."""
    camera = one.camera
    pixel_cm = 100 * camera.pixel_tangent
    return (
        camera.at.x_m,
        camera.at.y_m,
        camera.height_m - one.shore_up_m,
        *(pixel_cm * camera.axes[2]).tolist(),
    )


def angle_to_bank_deg(
    east_m: np.ndarray, north_m: np.ndarray, fall_m: np.ndarray, toward_east: np.ndarray, toward_north: np.ndarray
) -> np.ndarray:
    """Angle in space between lines of sight and the run of the bank, -90 to 90°; arrays of one shape.

    A line of sight goes `east_m`, `north_m` and `fall_m` downward; the bank runs (`toward_east`, `toward_north`), a
    unit vector with the water on the right hand. Looked at over the water: 90 square on or straight down, 0 along the
    bank. Over the land, from behind, the part of the line that is level and square to the bank is taken off the part
    that falls: negative where the line falls by less than 45° across the bank, and again 90 straight down. So the
    angle has no jump. A line that rises counts as level.
    """
    fall = np.maximum(fall_m, 0.0)
    whole = np.maximum(np.sqrt(east_m**2 + north_m**2 + fall**2), 1e-9)
    # With the water on the right hand, a sight line that comes over the water runs to the left of the bank's run.
    over = toward_east * north_m - toward_north * east_m
    square = np.where(over >= 0, np.hypot(over, fall), fall + over)
    return np.degrees(np.arcsin(np.clip(square / whole, -1, 1)))


def _by_owner(rows: Iterator[tuple[int, Stretch | ReachSeen]], count: int) -> list[list]:
    found: list[list] = [[] for _ in range(count)]
    for owner, row in rows:
        found[owner].append(row)
    return found


def _stretches(
    shore: ShoreIndex, seen: SeenMetres, probability: np.ndarray, owner: np.ndarray
) -> Iterator[tuple[int, Stretch]]:
    """Join pieces that follow each other on one ring in one photo."""
    ring = shore.ring[seen.piece]
    first, count = _runs((np.diff(seen.piece) != 1) | (np.diff(ring) != 0) | (np.diff(owner) != 0), len(seen.piece))
    if not len(first):
        return
    columns = (
        shore.from_m[seen.piece[first]],
        shore.to_m[seen.piece[first + count - 1]],
        np.minimum.reduceat(seen.distance_m, first),
        np.add.reduceat(seen.angle_deg, first) / count,
        np.minimum.reduceat(seen.gsd_cm, first),
        seen.gsd_cm[first + (count - 1) // 2],
        np.add.reduceat(probability, first) / count,
    )
    rows = zip(*(column.tolist() for column in (owner[first], ring[first], *columns)), strict=True)
    yield from ((photo, Stretch(shore.rings[number], *row)) for photo, number, *row in rows)


def _reaches(
    shore: ShoreIndex, seen: SeenMetres, probability: np.ndarray, owner: np.ndarray
) -> Iterator[tuple[int, ReachSeen]]:
    """Add up the pieces of every reach in one photo."""
    reach = shore.reach[seen.piece]
    first, count = _runs((np.diff(reach) != 0) | (np.diff(owner) != 0), len(reach))
    if not len(first):
        return
    columns = (
        count / np.diff(shore.reach_first)[reach[first]],
        np.minimum.reduceat(seen.distance_m, first),
        np.add.reduceat(seen.angle_deg, first) / count,
        np.minimum.reduceat(seen.gsd_cm, first),
        np.add.reduceat(probability, first) / count,
    )
    rows = zip(*(column.tolist() for column in (owner[first], reach[first], *columns)), strict=True)
    yield from ((photo, ReachSeen(shore.reaches[number].id, *row)) for photo, number, *row in rows)


def _runs(breaks: np.ndarray, size: int) -> tuple[np.ndarray, np.ndarray]:
    """First index and length of the runs between breaks."""
    first = np.append(0, np.flatnonzero(breaks) + 1) if size else np.empty(0, int)
    return first, np.diff(np.append(first, size))
