"""The part of survey.toml that says what the land's elevations mean."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict


class ElevationSection(BaseModel):
    """What the rasters of files.elevation show and count from; nothing of it is assumed."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)

    shows: Literal["ground", "surface"] | None = None
    above: Literal["sea level", "ellipsoid", "datum"] | None = None
    unit: Literal["metres", "feet"] | None = None
