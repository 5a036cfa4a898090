"""A small invented atlas, built by hand, for tests of what writes: six pages, eleven photos, one island."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
from PIL import Image
from pyproj import Transformer
from shapely import LineString, MultiPolygon, Point, Polygon, box, transform
from shapely.ops import substring

from atlasgen.compose.strip import strip_chart
from atlasgen.compose.strip_layout import StripShore
from atlasgen.measure.gaps import gaps
from atlasgen.measure.shore_audit import audit_shore
from atlasgen.model import (
    Atlas,
    AuditRules,
    DepthBand,
    Drawing,
    Figure,
    Isobath,
    Known,
    Layers,
    LonLat,
    Measured,
    NamedArea,
    Note,
    Page,
    Photo,
    PhotoFile,
    Picture,
    Placed,
    PointM,
    Problem,
    Reach,
    ReachCoverage,
    ReachDepth,
    Ring,
    Sentence,
    Shape,
    SurveyFacts,
    Tile,
    Views,
)
from atlasgen.place.shore_index import shore_index
from atlasgen.place.sight import Sight

CRS = "+proj=aeqd +lat_0=-31.5 +lon_0=-96.4 +datum=WGS84 +units=m"
_TO_LONLAT = Transformer.from_crs(CRS, "EPSG:4326", always_xy=True)
WATER = MultiPolygon(
    [
        Polygon(
            LineString([(-500, -250), (-200, -300), (150, -220), (480, -260)]).buffer(180).exterior.coords,
            [Point(120, -230).buffer(45).exterior.coords],
        )
    ]
)
HOSTILE = 'Bank <script>alert(1)</script> & "quotes" #set text(red) *b* _i_ $x$ \\ `code`'


def lonlat(geometry):
    """Turn a metric geometry into longitude and latitude."""
    return transform(geometry, lambda xy: np.column_stack(_TO_LONLAT.transform(xy[:, 0], xy[:, 1])))


def _place(x_m: float, y_m: float) -> LonLat:
    return LonLat(*_TO_LONLAT.transform(x_m, y_m))


def _rings() -> tuple[Ring, ...]:
    outer, hole = WATER.geoms[0].exterior, WATER.geoms[0].interiors[0]
    return (Ring("S", LineString(outer.coords), False), Ring("A", LineString(hole.coords[::-1]), True, "Sample Island"))


def _reaches(rings: tuple[Ring, ...]) -> tuple[Reach, ...]:
    reaches = []
    for ring in rings:
        count = round(ring.line.length / 100)
        step = ring.line.length / count
        for i in range(count):
            line = substring(ring.line, i * step, (i + 1) * step)
            mid = line.interpolate(0.5, normalized=True)
            (x0, y0), (x1, y1) = line.coords[0], line.coords[-1]
            faces = (math.degrees(math.atan2(x1 - x0, y1 - y0)) + 90) % 360
            tile = "16/1/1" if mid.x < 0 else "16/2/1"
            name = "west shore" if ring.island else "north bank"
            reaches.append(
                Reach(
                    f"{ring.id}-{i + 1:04d}",
                    ring.id,
                    i * step,
                    (i + 1) * step,
                    line,
                    _place(mid.x, mid.y),
                    faces,
                    tile,
                    name,
                    ring.name or ("East arm" if mid.x > 0 else ""),
                )
            )
    return tuple(reaches)


def _tiles() -> tuple[Tile, ...]:
    tiles = []
    for tile_id, label, area in (("16/1/1", "A 1", box(-800, -600, 0, 100)), ("16/2/1", "B 1", box(0, -600, 800, 100))):
        tiles.append(Tile(tile_id, label, lonlat(area), lonlat(area).bounds))
    return tuple(tiles)


def _photo(index: int, reach: Reach, kind: str, heading: float | None, portrait: bool) -> Photo:
    mid = reach.line.interpolate(0.5, normalized=True)
    angle = math.radians(reach.faces_deg)
    x, y = mid.x + 60 * math.sin(angle), mid.y + 60 * math.cos(angle)
    width, height = (1200, 1600) if portrait else (1600, 1200)
    taken = datetime(2026, 3, 4, 8, 30, tzinfo=UTC) + timedelta(minutes=7 * index)
    source = PhotoFile(f"drone/Frame {index:03d}.jpg", f"{index:064x}", 123456, "JPEG", width, height)
    return Photo(
        id=f"p-{index:010x}",
        source=source,
        lonlat=_place(x, y),
        point=PointM(x, y),
        position_from="exif",
        position_how="position from the photo's own GPS tags",
        position_sigma_m=5.0,
        taken=taken,
        taken_how="time from GPS",
        height_above_water_m=Measured(84.0 if kind == "aerial" else 1.7, "height above take-off"),
        heading_deg_true=None if heading is None else Measured(heading, "EXIF GPSImgDirection, true", 2.0),
        pitch_deg=Measured(-18, "XMP GimbalPitchDegree"),
        roll_deg=Measured(0, "XMP GimbalRollDegree"),
        hfov_deg=Measured(71.6, "35 mm equivalent 24 mm"),
        vfov_deg=Measured(56.8, "35 mm equivalent 24 mm"),
        kind=kind,
        reach=reach.id,
        distance_to_shore_m=60.0,
        nearest_chainage_m=(reach.from_m + reach.to_m) / 2,
        tile=reach.tile,
        over_water=True,
        caption=HOSTILE if index == 3 else None,
    )


def _parts(geometry, frame) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Put a metric polygon or line into a frame (x0, y1, mm per m)."""
    x0, y1, scale = frame
    geometries = getattr(geometry, "geoms", [geometry])
    lines = []
    for item in geometries:
        lines += [item.exterior, *item.interiors] if item.geom_type == "Polygon" else [item]
    return tuple(tuple(((x - x0) * scale, (y1 - y) * scale) for x, y in line.coords) for line in lines)


def draw_sample_map(name: str, bands, isobaths, photos=(), reach: Reach | None = None) -> Drawing:
    """Draw a simple map of the whole sample lake, 84 by 44 mm."""
    frame = (-760.0, 40.0, 84 / 1520)
    shapes = [
        Shape("area", "land", (((0, 0), (84, 0), (84, 44), (0, 44)),)),
        Shape("area", "water", _parts(WATER, frame)),
    ]
    shapes += [Shape("area", "depth", _parts(band.area, frame), shade=band.shade) for band in bands]
    for isobath in isobaths:
        style = "isobath-major" if isobath.major else "isobath"
        shapes += [Shape("line", style, _parts(line, frame)) for line in isobath.lines]
    shapes.append(Shape("line", "shore", _parts(WATER, frame)))
    if reach:
        shapes.append(Shape("line", "reach", _parts(reach.line, frame)))
    for number, photo in enumerate(photos, 1):
        at = ((photo.point.x_m + 760) * frame[2], (40 - photo.point.y_m) * frame[2])
        if photo.heading_deg_true:
            shapes.append(Shape("wedge", "camera", ((at,),), size_mm=6, turn_deg=photo.heading_deg_true.value))
        shapes.append(Shape("dot", "camera", ((at,),), size_mm=2))
        shapes.append(Shape("text", "camera-number", (((at[0] + 2, at[1]),),), text=str(number), size_mm=2.4))
    corners = tuple(_place(x, y) for x, y in ((-760, 40), (760, 40), (760, -756), (-760, -756)))
    return Drawing(name, 84, 44, tuple(shapes), f"Map {name} of the sample lake with depth lines.", corners)


def _profile() -> Drawing:
    curve = tuple((8 + i * 7.5, 6 + 30 * (1 - math.exp(-i / 3))) for i in range(11))
    shapes = (
        Shape("line", "stage", (((8, 6), (84, 6)),)),
        Shape("line", "bed", (curve,)),
        Shape("text", "tick", (((2, 7),),), text="0", size_mm=2.4),
    )
    return Drawing("profile", 84, 40, shapes, "Profile: the bed falls from the bank to 18 ft at 40 m.")


def _notes(reach: Reach) -> tuple[Note, ...]:
    return (
        Note(
            "depth",
            "Depth",
            (
                Sentence("Within 40 m of this bank 212 soundings were taken."),
                Sentence("The shallowest is 3 ft, the deepest 18 ft below full supply level.", True),
            ),
        ),
        Note(
            "coverage",
            "How well surveyed",
            (
                Sentence("82 % of this water is within 25 m of a sounding."),
                Sentence("The rest was not surveyed: weed."),
            ),
        ),
        Note("level", "Water level", (Sentence("On 4 March 2026 the water stood 1.4 ft below full."),)),
        Note("position", "Where these were taken", (Sentence("Photo 1: position from the photo's own GPS tags."),)),
    )


def _audit(rings, reaches, photos):
    """No photo of the sample has a view, so every reach is near a photo or has none."""
    placed = Placed(WATER, rings, reaches, (), tuple(photos), ())
    without = Views({}, {photo.id: "it is a sample" for photo in photos})
    sight = Sight(shore_index(WATER, rings, reaches), without, (None,) * len(photos))
    audit = audit_shore(placed, sight, AuditRules(), ())
    states = {name: summary.state for name, summary in audit.reaches.items()}
    return audit, gaps(reaches, states), without


def make_sample_atlas() -> Atlas:
    """Build the atlas; deterministic, no files needed."""
    rings = _rings()
    reaches, tiles = _reaches(rings), _tiles()
    plan = [(2, 1), (5, 2), (9, 3), (14, 4), (20, 1), (len(reaches) - 1, 1)]
    bands = tuple(
        DepthBand(i * 2.0, i * 2.0 + 2, i / 5, MultiPolygon(list(getattr(a, "geoms", [a]))))
        for i in range(5)
        if not (a := WATER.buffer(-15.0 * i).difference(WATER.buffer(-15.0 * (i + 1)))).is_empty
    )
    isobaths = tuple(
        Isobath(
            i * 0.6096,
            f"{2 * i}",
            i == 5,
            tuple(
                LineString(g.exterior.coords)
                for g in getattr(WATER.buffer(-12.0 * i), "geoms", [WATER.buffer(-12.0 * i)])
            ),
        )
        for i in range(1, 9)
    )
    photos, pages = [], []
    for page_index, (reach_index, count) in enumerate(plan):
        reach = reaches[reach_index]
        here = [
            _photo(
                len(photos) + i + 1,
                reach,
                "aerial" if i % 2 == 0 else "shore",
                None if i == 2 else (reach.faces_deg + 180 + 20 * i) % 360,
                i == 3,
            )
            for i in range(count)
        ]
        photos += here
        figures = tuple(
            Figure(
                i + 1,
                p.id,
                p.caption
                or f"From 84 m up, looking north-east at reach {reach.id}, 60 m off. "
                "4 March 2026, 08:42. Water 1.4 ft below full.",
                f"View of reach {reach.id} from the water.",
                "Position from the photo's own GPS tags. Direction from EXIF, true.",
            )
            for i, p in enumerate(here)
        )
        pages.append(
            Page(
                page_index + 1,
                f"page-{page_index + 1:03d}",
                "East arm, north bank",
                f"reach {reach.id}, 1.2 km from the wall",
                (reach.id,),
                reach.tile,
                figures,
                draw_sample_map(f"locator-{page_index + 1:03d}", bands, isobaths, here, reach),
                _profile() if page_index != 1 else None,
                _notes(reach),
                page_index or None,
                page_index + 2 if page_index + 1 < len(plan) else None,
            )
        )
    left_out = (
        Problem(
            "photos/broken <b>file</b>.jpg",
            "damaged",
            "photos/broken <b>file</b>.jpg: the picture ends early. Copy it again from the camera's card.",
            "left_out",
        ),
        Problem(
            "photos/notes.jpg",
            "not_an_image",
            "photos/notes.jpg: plain text, not a photo. Expected JPEG, HEIC, PNG or TIFF.",
            "left_out",
        ),
    )
    linked = {p.reach for p in photos}
    known = Known(
        {p.id: -0.43 for p in photos},
        {r.id: ReachDepth(40, 212, 1.0, 3.2, 5.6, ((5, 1.0), (10, 2.1), (20, None), (40, 5.2)), True) for r in reaches},
        {r.id: ReachCoverage(40, 4000, 25, 0.82, 530.0, (("weed", 0.18),)) for r in reaches},
        {r.id: "near" if r.id in linked else "none" for r in reaches},
        None,
        isobaths,
        bands,
        4321,
        ("Depths reduced to datum by the stage record.",),
        *_audit(rings, reaches, photos),
    )
    layers = Layers(
        lonlat(WATER),
        {r.id: lonlat(r.line) for r in reaches},
        tuple(Isobath(i.depth_m, i.label, i.major, tuple(lonlat(line) for line in i.lines)) for i in isobaths),
        tuple(DepthBand(b.from_m, b.to_m, b.shade, lonlat(b.area)) for b in bands),
        (lonlat(LineString([(-400, -280), (400, -230)])),),
        (),
        (NamedArea("weed", lonlat(box(-600, -300, -450, -200))),),
        (NamedArea("East arm", lonlat(box(0, -400, 700, 0))),),
    )
    facts = SurveyFacts(
        "Sample <Lake> & Reservoir",
        "2026.1",
        "March 2026",
        "Sample crew",
        "© Sample crew",
        "full supply level",
        "feet",
        "metric",
        "UTC",
        CRS,
        lonlat(WATER).bounds,
        "the wall",
        "WebMercatorQuad, zoom 16",
        "a4",
        date(2026, 3, 4),
        WATER.area,
        sum(r.line.length for r in rings),
        "full supply level",
    )
    return Atlas(
        survey=facts,
        placed=Placed(WATER, rings, reaches, tiles, tuple(photos), left_out),
        known=known,
        layers=layers,
        pages=tuple(pages),
        overview=draw_sample_map("overview", bands, isobaths, photos),
        source_diagram=draw_sample_map("sources", (), ()),
        tile_drawings={t.id: draw_sample_map(f"tile-{t.label}", bands, isobaths) for t in tiles},
        strips=strip_chart("strip", StripShore(known.audit.shore, reaches, known.audit.pieces)),
        pictures={
            p.id: Picture(
                p.id, p.source.width_px, p.source.height_px, *((480, 360) if p.source.width_px == 1600 else (360, 480))
            )
            for p in photos
        },
        left_out=left_out,
        problems=(*left_out, Problem("survey.toml", "missing", "passes: not supplied.")),
        how_to_read=(
            "Each page shows one stretch of bank.",
            "Vermilion is about the camera, blue-green about the water.",
        ),
        cautions=(
            "Not for navigation. Levels change: look before you run.",
            "Local rules and licensed practice decide.",
        ),
        methods=("Depths are reduced to full supply level by the stage record.",),
    )


def write_sample_pictures(atlas: Atlas, out: Path) -> None:
    """Write photos/ID.jpg and thumbs/ID.jpg for the sample: a horizon, sky above water."""
    for name, scale in (("photos", 1), ("thumbs", 0.3)):
        (out / name).mkdir(parents=True, exist_ok=True)
        for i, (photo, picture) in enumerate(sorted(atlas.pictures.items())):
            width, height = round(picture.width_px * scale), round(picture.height_px * scale)
            ramp = np.linspace(0, 1, height)[:, None, None]
            sky, water = np.array([150 + 8 * i, 190, 225]), np.array([60, 90 + 6 * i, 100])
            rows = np.where(ramp < 0.45, sky + 40 * ramp, water + 60 * (1 - ramp))
            image = np.broadcast_to(rows, (height, width, 3)).astype("uint8")
            Image.fromarray(image).save(out / name / f"{photo}.jpg", quality=82)
