"""The keys of [depth] in survey.toml."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field


class DepthSection(BaseModel):
    """The water that a page speaks of, the depth lines, and what supplied depths mean."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)

    off_bank_m: float = Field(default=40.0, ge=5, le=500)
    near_sounding_m: float = Field(default=25.0, gt=0, le=500)
    cell_m: float | None = Field(default=None, gt=0.1, le=100)
    raster_shows: Literal["depth", "elevation"] | None = None
    raster_unit: Literal["metres", "feet"] | None = None
    contours_show: Literal["depth", "elevation"] | None = None
    contours_unit: Literal["metres", "feet"] | None = None
    contours_field: str | None = None
    fine_interval: float | None = Field(default=None, gt=0, le=100)
    fine_to: float | None = Field(default=None, gt=0, le=1000)
    coarse_interval: float | None = Field(default=None, gt=0, le=500)
    major_every: float | None = Field(default=None, gt=0, le=500)
    profile_depths: tuple[Annotated[float, Field(gt=0, le=1000)], ...] | None = Field(default=None, max_length=6)
