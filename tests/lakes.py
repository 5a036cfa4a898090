"""Tiny lakes that can be checked by hand: metric, x east and y north, around (0, 0), and the same in degrees.

square_lake        1000 m by 1000 m
cove_lake          the square, with a cove 200 m wide and 300 m deep in its north and in its south bank
island_lake        the square, with an island of 200 m by 200 m in the middle
two_part_lake      the square, and a pond of 300 m by 300 m whose west bank is 500 m east of the square's
"""

from __future__ import annotations

from shapely import MultiPolygon, Polygon, box

from atlasgen.place.geo import Projection

# In the open ocean: no lake is there.
CENTRE_LON_DEG, CENTRE_LAT_DEG = -30.0, 45.0


def square_lake() -> MultiPolygon:
    return MultiPolygon([box(-500, -500, 500, 500)])


def cove_lake() -> MultiPolygon:
    outline = [(-500, 500), (-100, 500), (-100, 800), (100, 800), (100, 500), (500, 500)]
    return MultiPolygon([Polygon(outline + [(-x, -y) for x, y in outline])])


def island_lake() -> MultiPolygon:
    island = [(-100, -100), (100, -100), (100, 100), (-100, 100)]
    return MultiPolygon([Polygon(square_lake().geoms[0].exterior, [island])])


def two_part_lake() -> MultiPolygon:
    return MultiPolygon([box(1000, -150, 1300, 150), square_lake().geoms[0]])


def projection() -> Projection:
    return Projection(f"+proj=aeqd +lat_0={CENTRE_LAT_DEG} +lon_0={CENTRE_LON_DEG} +datum=WGS84 +units=m +no_defs")


def in_degrees(water: MultiPolygon) -> MultiPolygon:
    return projection().to_lonlat(water)
