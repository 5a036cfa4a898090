"""The parts of atlas.json and manifest.json that a comparison reads, and what each may hold; others are passed over."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any, Literal, NotRequired

from pydantic import Field, TypeAdapter, ValidationError
from typing_extensions import TypedDict  # that of `typing` cannot be checked on Python 3.11

# An edition of 5,000 photos and as many reaches comes to some 80 MB; what says it is larger than this is not one.
MOST_BYTES = 2**29

Lon = Annotated[float, Field(ge=-180, le=180, allow_inf_nan=False)]
Lat = Annotated[float, Field(ge=-90, le=90, allow_inf_nan=False)]
LonLat = tuple[Lon, Lat]
# Metres, degrees and shares: nothing on a globe is larger, and what is would only break the sums.
Figure = Annotated[float, Field(ge=-1e8, le=1e8, allow_inf_nan=False)]
Number = Figure | None
Text = str | None


class _Units(TypedDict):
    depth: Literal["feet", "metres"]
    distance: Literal["metric", "imperial"]


class _Chart(TypedDict):
    edition: str
    date: str
    datum: str


class _Survey(TypedDict):
    title: str
    edition: str
    season: Text
    crew: Text
    datum: str
    depths_below: NotRequired[str]
    language: NotRequired[str]
    shown_stage_m: NotRequired[Figure]
    units: _Units
    time_zone: str
    tile_scheme: str
    bounds: tuple[Lon, Lat, Lon, Lat]
    chart: NotRequired[_Chart | None]


class _Photo(TypedDict):
    id: str
    file: str
    taken: Text
    lon: Lon
    lat: Lat
    heading_deg_true: Number
    reach: str
    tile: Text
    page: int
    caption: str


class _Depth(TypedDict):
    off_bank_m: Figure
    median_m: Number
    shallowest_m: Number
    profile_m: list[tuple[Figure, Number]]
    reduced: bool


class _Coverage(TypedDict):
    off_bank_m: Figure
    near_sounding_m: Figure
    share_near_sounding: Number


class _Reach(TypedDict):
    id: str
    name: str
    place: Text
    tile: Text
    length_m: Annotated[float, Field(ge=0, le=1e8, allow_inf_nan=False)]
    midpoint: LonLat
    faces_deg: Figure
    line: NotRequired[Annotated[list[LonLat], Field(min_length=2)]]
    photographed: Literal["well", "poorly", "near", "none", "cannot"]
    lengths_m: dict[str, Figure]
    depth: _Depth | None
    coverage: _Coverage | None


class _Tile(TypedDict):
    id: str
    label: str


class _Page(TypedDict):
    number: int
    title: str
    reaches: Annotated[list[str], Field(min_length=1)]
    notes: list[str]


class _LeftOut(TypedDict):
    file: str
    code: str
    why: str


class _Station(TypedDict):
    distance_m: Figure
    bound_m: Number


class _Profile(TypedDict):
    reach: str
    stations: list[_Station]


class _Near(TypedDict):
    reach: str
    distance_m: Figure


class _At(TypedDict):
    lon: Lon
    lat: Lat


class _Feature(TypedDict):
    id: str
    kind: str
    at: _At
    least_depth_m: Figure
    greatest_depth_m: Figure
    length_m: Figure
    bound_m: Number
    reaches: list[_Near]


class _Source(TypedDict):
    what: str
    name: str
    instrument: NotRequired[Text]
    dates: list[str] | None


class _Layer(TypedDict):
    file: str
    kind: str
    title: str
    date: NotRequired[Text]
    stage_m: NotRequired[Number]


class _Atlas(TypedDict):
    format: Literal["atlas.json 1"]
    survey: _Survey
    photos: list[_Photo]
    reaches: list[_Reach]
    tiles: list[_Tile]
    pages: list[_Page]
    profiles: list[_Profile]
    relief: list[_Feature]
    sources: list[_Source]
    layers: list[_Layer]
    left_out: list[_LeftOut]


class _File(TypedDict):
    file: str
    sha256: str


class _Manifest(TypedDict):
    files: list[_File]
    inputs: NotRequired[dict[str, str]]
    made_with: NotRequired[str]


ATLAS: TypeAdapter[Any] = TypeAdapter(_Atlas)
MANIFEST_ROWS: TypeAdapter[Any] = TypeAdapter(_Manifest)


def lie_apart(one: Sequence[float], other: Sequence[float]) -> bool:
    """Whether two bounds (west, south, east, north) have nothing in common."""
    west, south, east, north = one
    other_west, other_south, other_east, other_north = other
    return west > other_east or other_west > east or south > other_north or other_south > north


def first_fault(error: ValidationError) -> tuple[str, str]:
    """Return what is found at the first place that does not fit, and what is expected there."""
    row = error.errors(include_url=False)[0]
    where = ".".join(str(part) for part in row["loc"])
    if not where:
        return f"is damaged ({row['msg']})", "JSON as atlasgen writes it"
    if row["type"] == "missing":
        return f"does not say {where}", "an edition that this atlasgen can read"
    return f"{where} is {str(row['input'])[:60]!r}", row["msg"].removeprefix("Input should be ")
