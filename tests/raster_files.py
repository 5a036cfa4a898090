"""Small raster files for the tests."""

from __future__ import annotations

from pathlib import Path

import numpy as np

UTM = "EPSG:32714"
WEST_M, NORTH_M = 746000.0, 6502000.0


def raster_file(path: Path, values, *, cell_m: float = 10.0, crs: str | None = UTM, transform=None, **more) -> Path:
    """Write `values` (rows, columns) or (bands, rows, columns), the first row in the north, as GeoTIFF."""
    import rasterio

    values = np.asarray(values)
    bands = values if values.ndim == 3 else values[None]
    tags = {name: more.pop(name) for name in ("scales", "offsets", "units", "colorinterp", "gcps") if name in more}
    profile = {
        "driver": "GTiff",
        "count": len(bands),
        "height": bands.shape[1],
        "width": bands.shape[2],
        "dtype": bands.dtype,
        "crs": crs,
        "transform": transform or rasterio.Affine(cell_m, 0, WEST_M, 0, -cell_m, NORTH_M),
        **more,
    }
    with rasterio.open(path, "w", **profile) as file:
        file.write(bands)
        for name, value in tags.items():
            setattr(file, name, value)
    return path
