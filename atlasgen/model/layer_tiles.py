"""Pictures of the bed as the offline atlas shows them: a layer of the crew's, or the shaded relief, cut into tiles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from shapely import MultiPolygon

# What the tiles of one picture may weigh unless survey.toml says otherwise, million bytes. Ours.
DEFAULT_TILES_MB = 30.0
PictureKind = Literal["air photo", "satellite image", "historic chart", "sonar mosaic", "shaded relief"]


@dataclass(frozen=True, slots=True)
class ReliefRules:
    """How the bed is lit; azimuth clockwise from north, altitude above the horizon.

    Light from the north-west at 45 degrees is the habit of relief maps (common practice; also the preset of GDAL's
    `gdaldem hillshade`). `exaggeration` None: chosen from the steepness of the bed, and said. `tiles_mb`: what its
    tiles may weigh, million bytes.
    """

    sun_azimuth_deg: float = 315.0
    sun_altitude_deg: float = 45.0
    exaggeration: float | None = None
    tiles_mb: float = DEFAULT_TILES_MB


@dataclass(frozen=True, slots=True)
class TileFile:
    """One tile that was written: zoom, column from the west, row from the north."""

    zoom: int
    x: int
    y: int
    size_bytes: int
    sha256: str


@dataclass(frozen=True, slots=True)
class LayerTiles:
    """One picture of the bed, cut: files `layers/ID/ZOOM/X/Y.webp` of 256 px in the web's Mercator projection.

    `file` is the crew's, "" for the shaded relief. `pixel_m` is the size of the data's own pixel or cell on the
    ground. `area` is where the picture shows something, `absent` the water where it does not, both WGS 84.
    `out_by_m`: by how much a fitted scan is out, root mean square in the middle of its control points, None where
    unknown or not fitted. `finest` is the zoom that the data would bear. `made` says in keywords how the shaded
    relief was made.
    """

    id: str
    kind: PictureKind
    title: str
    date: date | None
    file: str
    pixel_m: float
    finest: int
    tiles: tuple[TileFile, ...]
    area: MultiPolygon
    absent: MultiPolygon
    fitted: bool = False
    out_by_m: float | None = None
    made: Mapping[str, float] = field(default_factory=dict)

    @property
    def folder(self) -> str:
        """The folder of its tiles in the edition."""
        return f"layers/{self.id}"

    @property
    def zooms(self) -> tuple[int, int]:
        """The coarsest and the finest zoom there are tiles of."""
        zooms = [tile.zoom for tile in self.tiles]
        return min(zooms), max(zooms)

    @property
    def size_bytes(self) -> int:
        """What its tiles weigh together."""
        return sum(tile.size_bytes for tile in self.tiles)
