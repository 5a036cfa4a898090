"""A new survey folder to fill in."""

from __future__ import annotations

import shutil
from pathlib import Path

from atlasgen.errors import OutputRefused
from atlasgen.resources import resource

_TABLES = {
    "corrections.csv": "file,lon,lat,heading_deg,pitch_deg,height_m,taken,caption,leave_out\n",
    "stage.csv": "date,stage_m\n",
}


def write_starter(folder: Path) -> list[str]:
    """Make a survey folder with a commented survey.toml; return what was made, a line each.

    Raises
    ------
    OutputRefused
        The folder exists and is not empty.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise OutputRefused(str(folder), "exists and is not empty", "Choose a new name.")
    for name in ("photos", "tracks"):
        (folder / name).mkdir(parents=True, exist_ok=True)
    shutil.copyfile(resource("templates", "new", "survey.toml"), folder / "survey.toml")
    for name, heading in _TABLES.items():
        (folder / name).write_text(heading, encoding="utf-8")
    return [
        f"Made {folder}. Now:",
        f"  1. put the photos into {folder / 'photos'}, in any sub-folders",
        f"  2. put the outline of the water at full supply level there as {folder / 'shoreline.geojson'}",
        "     (any vector format that GDAL reads will do)",
        "  3. add what you have: soundings, stage record, tracks, places (survey.toml says how each is called)",
        f"  4. fill in {folder / 'survey.toml'}",
        f"  5. run: atlasgen check {folder}",
    ]
