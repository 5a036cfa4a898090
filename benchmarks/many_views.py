"""What 10,000 photos show of 500 km of shoreline: `python benchmarks/many_views.py`.

A dammed valley with arms, side arms and islands is drawn by chance (seeded), stretched until its shore is as long as
asked, and photographed: drone photos off its banks at all tilts, boat photos over the water, and photos from the bank.
Printed are CPU seconds of this one process (time.process_time, so other work on the machine does not count) for the
shore index, the views, the links and the audit, and the peak of its memory. The bar for views, links and audit
together is 60 s.

Seconds do not travel, so the same run also times what a user of shapely alone would do with the same data, and the
ratios are printed (views without the index): which pieces of the shore lie in each footprint (`STRtree.query`, the
footprints being made beforehand; it knows no land that hides and no doubt about the pose), and which reach is nearest
to each station (`STRtree.query_nearest` over the reaches' whole lines).
"""

from __future__ import annotations

import argparse
import math
import resource
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import NamedTuple, TypeVar

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon

from atlasgen.measure.shore_audit import audit_shore
from atlasgen.model import AuditRules, LonLat, Measured, Photo, PhotoFile, Placed, PointM, ViewRules
from atlasgen.pipeline import silent
from atlasgen.place.geo import Projection
from atlasgen.place.linking import nearest_reaches, over_water
from atlasgen.place.shore import build_rings, cut_reaches
from atlasgen.place.shore_index import shore_index
from atlasgen.place.sight import Sight, see_survey

PROJECTION = Projection("+proj=aeqd +lat_0=-31.5 +lon_0=-96.4 +datum=WGS84 +units=m +no_defs")
BAR_S = 60.0
_BEGIN = datetime(2026, 3, 1, 8, tzinfo=UTC)
Result = TypeVar("Result")


class Kind(NamedTuple):
    """How one kind of photo is taken: share of all, distance over the water, height, tilt and lens, and how sure."""

    share: float
    off_bank_m: tuple[float, float]
    height_m: tuple[float, float]
    pitch_deg: tuple[float, float]
    astray_deg: float
    fov_deg: tuple[float, float]
    heading_sigma_deg: float
    tilt_sigma_deg: float
    height_sigma_m: float


# Ours: about what a crew brings home. The drone looks at the bank, and one of twelve photos straight down; from the
# boat and from the bank people look where they like over the water.
KINDS = {
    "aerial": Kind(0.52, (15, 250), (20, 120), (-60, -8), 25, (71.6, 56.8), 4, 1, 2),
    "nadir": Kind(0.08, (0, 40), (60, 120), (-90, -90), 180, (71.6, 56.8), 4, 1, 2),
    "boat": Kind(0.25, (20, 150), (1.5, 3), (-5, 2), 60, (66, 52), 10, 8, 0.5),
    "bank": Kind(0.15, (-4, 1), (1.5, 4), (-10, 2), 180, (66, 52), 10, 8, 0.5),
}


def main() -> None:
    """Measure and print the table."""
    options = _options()
    water = lake(options.seed, options.shore_km * 1000)
    placed = scene(water, options.photos, options.seed)
    lengths_km = sum(reach.length_m for reach in placed.reaches) / 1000
    print(
        f"{lengths_km:.0f} km of shore on {len(placed.rings)} rings in {len(placed.reaches)} reaches, "
        f"{len(placed.photos)} photos"
    )
    total_s = measure(placed)
    print(f"views, links and audit{total_s:25.1f} s  (bar {BAR_S:.0f} s)")
    raise SystemExit(total_s > BAR_S)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--photos", type=int, default=10_000)
    parser.add_argument("--shore-km", type=float, default=500.0)
    parser.add_argument("--seed", type=int, default=1)
    return parser.parse_args()


def measure(placed: Placed) -> float:
    """Time every step, print a line each, and return the seconds of views, links and audit."""
    points = [photo.point for photo in placed.photos]
    index_s, _ = timed(lambda: shore_index(placed.water, placed.rings, placed.reaches, PROJECTION))
    seen_s, sight = timed(lambda: see_survey(placed, ViewRules(), lambda _: 0.0, silent))
    links_s, _ = timed(lambda: (nearest_reaches(points, placed.reaches), over_water(points, placed.water)))
    audit_s, audit = timed(lambda: audit_shore(placed, sight, AuditRules(), ()))
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    inside_s, inside = timed(lambda: in_footprints(sight))
    nearest_s, _ = timed(lambda: plain_nearest(placed))
    pairs = sum(len(metres.piece) for metres in sight.seen if metres is not None)
    well_m = audit.totals.total.lengths_m["well"]
    ratio = (seen_s - index_s) / inside_s
    rows = (
        ("views, with the shore index", seen_s, f"{1000 * (seen_s - index_s) / len(points):.2f} ms a photo without it"),
        ("  of which the shore index", index_s, f"{len(sight.shore.from_m)} pieces"),
        ("links", links_s, ""),
        ("audit", audit_s, f"{pairs} sightings, {well_m / 1000:.0f} km seen well"),
        (
            "shapely: pieces in footprints",
            inside_s,
            f"{inside} pairs; views / this {ratio:.2f}",
        ),
        ("shapely: nearest reach", nearest_s, f"links / this {links_s / nearest_s:.2f}"),
    )
    for name, seconds, words in rows:
        print(f"{name:32}{seconds:15.2f} s  {words}")
    print(f"peak memory up to the audit{peak_mb:20.0f} MB")
    return seen_s + links_s + audit_s


def timed(work: Callable[[], Result]) -> tuple[float, Result]:
    """CPU seconds of this process, and the result."""
    begin = time.process_time()
    result = work()
    return time.process_time() - begin, result


def in_footprints(sight: Sight) -> int:
    """Count the pairs of piece and photo that lie in each other, with shapely alone."""
    tree = shapely.STRtree(shapely.points(sight.shore.xy_m))
    return tree.query([view.footprint for view in sight.views.views.values()], predicate="contains").shape[1]


def plain_nearest(placed: Placed) -> int:
    """Find the reach nearest to each station, with shapely alone."""
    tree = shapely.STRtree([reach.line for reach in placed.reaches])
    return tree.query_nearest(shapely.points([photo.point for photo in placed.photos]), all_matches=False).shape[1]


def lake(seed: int, shore_m: float) -> MultiPolygon:
    """Draw a dammed valley: a trunk, arms with side arms, wavy banks and islands, with `shore_m` of shore in all."""
    draw = np.random.default_rng(seed)
    # Banks are drawn at their true size, so the valley grows with the shore asked for; a tenth too long, then cut.
    arms = max(3, round(shore_m / 9_000))
    trunk = _wander(draw, np.zeros(2), 0.7, arms * 650.0, 0.25)
    parts = [_banks(trunk, draw.uniform(350, 600))]
    for number in range(arms):
        arm = _branch(draw, trunk, 3_200)
        parts += [_banks(arm, draw.uniform(70, 220))]
        parts += [_banks(_branch(draw, arm, 900), draw.uniform(35, 80)) for _ in range(3 + number % 3)]
    water = max(shapely.get_parts(shapely.union_all(parts)), key=lambda part: part.area)
    water = Polygon(_wavy(draw, water.exterior), [_wavy(draw, ring) for ring in water.interiors]).buffer(0)
    water = water.difference(shapely.union_all(_islands(draw, trunk, arms)))
    water = max(shapely.get_parts(water), key=lambda part: part.area)
    size = shore_m / water.length
    return MultiPolygon([shapely.affinity.scale(water, size, size, origin=(0, 0))])


def _wander(draw: np.random.Generator, at: np.ndarray, heading: float, length_m: float, turn: float) -> np.ndarray:
    """Walk in steps of about 150 m, the heading pulled back to where it began."""
    steps = max(4, int(length_m / 150))
    bend = np.zeros(steps)
    for step in range(1, steps):
        bend[step] = 0.9 * bend[step - 1] + draw.normal(0, turn)
    angles = heading + bend
    return np.vstack([at, at + 150 * np.cumsum(np.column_stack([np.cos(angles), np.sin(angles)]), axis=0)])


def _branch(draw: np.random.Generator, line: np.ndarray, length_m: float) -> np.ndarray:
    at = int(draw.integers(1, len(line) - 1))
    along = line[at + 1] - line[at - 1]
    side = draw.choice([-1.0, 1.0]) * draw.uniform(0.9, 1.9)
    heading = math.atan2(along[1], along[0]) + side
    return _wander(draw, line[at], heading, length_m * draw.uniform(0.6, 1.4), 0.2)


def _banks(line: np.ndarray, half_m: float) -> Polygon:
    return LineString(line).buffer(half_m, quad_segs=6)


def _wavy(draw: np.random.Generator, ring: shapely.LinearRing) -> np.ndarray:
    """Put small coves and points on a ring, a vertex each 12 m."""
    count = max(8, int(ring.length / 12))
    along = np.arange(count) * ring.length / count
    xy = shapely.get_coordinates(shapely.line_interpolate_point(ring, along))
    after = np.roll(xy, -1, axis=0) - np.roll(xy, 1, axis=0)
    square = np.column_stack([after[:, 1], -after[:, 0]]) / np.maximum(np.hypot(*after.T), 1e-9)[:, None]
    wave = sum(
        size * np.sin(2 * np.pi * along / length + draw.uniform(0, 6.3)) * np.sin(2 * np.pi * along / (5.7 * length))
        for size, length in ((16, 310), (7, 120), (3, 47))
    )
    return xy + wave[:, None] * square


def _islands(draw: np.random.Generator, trunk: np.ndarray, arms: int) -> list[Polygon]:
    made = []
    for _ in range(arms):
        at = trunk[draw.integers(len(trunk))] + draw.normal(0, 120, 2)
        turn = np.linspace(0, 2 * np.pi, 40, endpoint=False)
        radius = draw.uniform(25, 110) * (1 + 0.2 * np.sin(2 * turn) + 0.1 * np.sin(5 * turn))
        made.append(Polygon(at + np.column_stack([radius * np.cos(turn), radius * np.sin(turn)])))
    return made


def scene(water: MultiPolygon, count: int, seed: int) -> Placed:
    """Cut the shore and photograph it."""
    rings = build_rings(water, None)
    reaches = cut_reaches(rings, 100.0, PROJECTION, lambda _: "", lambda _: "")
    shore = shore_index(water, rings, reaches, PROJECTION)
    draw = np.random.default_rng(seed + 1)
    poses = [
        pose for name, kind in KINDS.items() for pose in _poses(draw, name, kind, round(kind.share * count), shore)
    ]
    links = nearest_reaches([at for _, _, at, _ in poses], reaches)
    lonlats = np.column_stack(PROJECTION.lonlats(*np.array([at for _, _, at, _ in poses]).T)).tolist()
    photos = tuple(
        _photo(number, *pose, link, LonLat(*lonlat))
        for number, (pose, link, lonlat) in enumerate(zip(poses, links, lonlats, strict=True))
    )
    return Placed(water, rings, reaches, (), photos, (), (), PROJECTION.crs_text)


def _poses(draw: np.random.Generator, name: str, kind: Kind, count: int, shore) -> list:
    """Stations off random pieces of the shore, looking at the bank (from the bank: over the water), more or less."""
    piece = draw.integers(0, len(shore.from_m), count)
    along = shore.toward[piece]
    over = np.column_stack([along[:, 1], -along[:, 0]])
    xy = shore.xy_m[piece] + draw.uniform(*kind.off_bank_m, count)[:, None] * over
    at_bank = np.degrees(np.arctan2(-over[:, 0], -over[:, 1])) + (180 if name == "bank" else 0)
    heading = (at_bank + draw.uniform(-kind.astray_deg, kind.astray_deg, count)) % 360
    rows = zip(draw.uniform(*kind.height_m, count), heading, draw.uniform(*kind.pitch_deg, count), strict=True)
    return [(name, kind, PointM(*at), row) for at, row in zip(xy.tolist(), rows, strict=True)]


def _photo(number: int, name: str, kind: Kind, at: PointM, pose, link, lonlat: LonLat) -> Photo:
    def known(value: float, sigma: float) -> Measured:
        return Measured(float(value), "drawn", sigma)

    height_m, heading_deg, pitch_deg = pose
    return Photo(
        id=f"p-{number:06d}", source=PhotoFile(f"{number}.jpg", "", 0, "JPEG", 4000, 3000), lonlat=lonlat, point=at,
        position_from="exif", position_how="drawn", position_sigma_m=5.0, taken=_BEGIN + timedelta(minutes=number),
        taken_how="drawn", height_above_water_m=known(height_m, kind.height_sigma_m),
        heading_deg_true=known(heading_deg, kind.heading_sigma_deg), pitch_deg=known(pitch_deg, kind.tilt_sigma_deg),
        roll_deg=known(0.0, kind.tilt_sigma_deg), hfov_deg=known(kind.fov_deg[0], 1.0),
        vfov_deg=known(kind.fov_deg[1], 1.0), kind="aerial" if name in ("aerial", "nadir") else "shore",
        reach=link.reach_id, distance_to_shore_m=link.distance_m, nearest_chainage_m=link.chainage_m, tile="",
        over_water=True,
    )  # fmt: skip


if __name__ == "__main__":
    main()
