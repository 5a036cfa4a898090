"""What `compose` makes: one page model for book and web."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Literal

from atlasgen.model.chart import ChartEdition
from atlasgen.model.common import LonLat, Problem, pickled_plainly
from atlasgen.model.known import DepthBand, Isobath, Known
from atlasgen.model.layer_tiles import LayerTiles
from atlasgen.model.placed import Placed
from atlasgen.model.survey import NamedArea
from atlasgen.model.turnarounds import TurnAround

if TYPE_CHECKING:
    from shapely import LineString, MultiPolygon

    from atlasgen.model.chapters import Chapter


@pickled_plainly
@dataclass(frozen=True, slots=True)
class Shape:
    """One drawn thing. `points` are parts of (x, y) in mm from the frame's top left, y down.

    `kind`: `area` (parts are rings, even-odd), `line`, `dot` (`size_mm` is the diameter), `text` (`text`, at the
    first point, `turn_deg` clockwise), `wedge` (a direction mark at the first point, pointing `turn_deg` from up).
    `style` is a name that the map's style sheet knows.
    """

    kind: Literal["area", "line", "dot", "text", "wedge"]
    style: str
    points: tuple[tuple[tuple[float, float], ...], ...]
    text: str = ""
    size_mm: float = 0.0
    turn_deg: float = 0.0
    shade: float | None = None


@dataclass(frozen=True, slots=True)
class Drawing:
    """A map or a diagram, drawn the same way in book and web. `corners`: lon/lat of NW, NE, SE, SW, for maps."""

    id: str
    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...]
    alt: str
    corners: tuple[LonLat, LonLat, LonLat, LonLat] | None = None


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence of a note; `strong` marks the one thing to remember."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Note:
    """Sentences under one heading: `depth`, `coverage`, `level`, `position`, `method`."""

    topic: str
    heading: str
    sentences: tuple[Sentence, ...]


@pickled_plainly
@dataclass(frozen=True, slots=True)
class Figure:
    """A photo on a page: its number there, the caption line in words, and the text for those who cannot see it."""

    number: int
    photo: str
    caption: str
    alt: str
    how: str


@dataclass(frozen=True, slots=True)
class Thumbnail:
    """Where a photo stands on a compass, mm from the drawing's top left, and in a few words what it looks at."""

    photo: str
    number: int
    words: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Compass:
    """A turn-around set as one picture: thumbnails round a compass rose, north up; `drawing` goes over them."""

    set: str
    caption: str
    drawing: Drawing
    thumbnails: tuple[Thumbnail, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """One page, the same in book and web. `number` is printed in both; `photos` refer to `Figure.photo`."""

    number: int
    id: str
    title: str
    subtitle: str
    reaches: tuple[str, ...]
    tile: str
    figures: tuple[Figure, ...]
    locator: Drawing
    profile: Drawing | None
    notes: tuple[Note, ...]
    previous: int | None
    next: int | None
    compass: Compass | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """What was written of one photo: pixels of the large and the small derivative, upright, and their SHA-256."""

    photo: str
    width_px: int
    height_px: int
    thumb_width_px: int
    thumb_height_px: int
    sha256: str = field(default="", compare=False)
    thumb_sha256: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class SurveyFacts:
    """The survey's own words, for covers and feet."""

    title: str
    edition: str
    season: str
    crew: str
    copyright: str
    datum: str
    depth_unit: Literal["feet", "metres"]
    distance_unit: Literal["metric", "imperial"]
    time_zone: str
    crs_metric: str
    bounds_deg: tuple[float, float, float, float]
    start_name: str
    tile_scheme: str
    paper: Literal["a4", "letter", "handheld"]
    dated: date | None
    water_m2: float
    shore_m: float
    depths_below: str = ""
    chart: ChartEdition | None = None
    budget_mb: float | None = None
    volume_mb: float | None = None
    photo_names: Literal["paths", "names", "none"] = "paths"
    language: str = "en"
    sides: Literal["both", "one"] = "both"
    viewer: Literal["current", "old"] = "current"


@dataclass(frozen=True, slots=True)
class Layers:
    """Geometry for the web map and for a GIS, all WGS 84 (longitude, latitude)."""

    water: MultiPolygon
    reaches: Mapping[str, LineString]
    isobaths: tuple[Isobath, ...]
    bands: tuple[DepthBand, ...]
    sounding_lines: tuple[LineString, ...]
    pass_lines: tuple[LineString, ...]
    not_surveyed: tuple[NamedArea, ...]
    places: tuple[NamedArea, ...]
    no_photo: tuple[NamedArea, ...] = ()
    dry: MultiPolygon | None = None


@dataclass(frozen=True, slots=True)
class Atlas:
    """The whole edition, computed; both outputs and every table are written from this and nothing else."""

    survey: SurveyFacts
    placed: Placed
    known: Known
    layers: Layers
    pages: tuple[Page, ...]
    overview: Drawing
    source_diagram: Drawing
    tile_drawings: Mapping[str, Drawing]
    strips: tuple[Drawing, ...]
    pictures: Mapping[str, Picture]
    left_out: tuple[Problem, ...]
    problems: tuple[Problem, ...]
    how_to_read: tuple[str, ...]
    cautions: tuple[str, ...]
    methods: tuple[str, ...]
    chapters: tuple[Chapter, ...] = ()
    state_map: Drawing | None = None
    state_words: tuple[str, ...] = ()
    turnarounds: tuple[TurnAround, ...] = ()
    bed_pictures: tuple[LayerTiles, ...] = ()
    # Drawings that the book alone prints, or prints in the place of another, by its name for them.
    book_maps: Mapping[str, Drawing] = field(default_factory=dict)

    def chapter_drawings(self) -> dict[str, Drawing]:
        """Return the drawings of all chapters by the names that book and web give them."""
        return {name: drawing for chapter in self.chapters for name, drawing in chapter.drawings.items()}

    def page_of_photo(self) -> dict[str, int]:
        """Photo id to the number of the page it is on."""
        return {figure.photo: page.number for page in self.pages for figure in page.figures}
