"""The `[[layer]]` blocks of survey.toml, images of the drawn-down lake and historic charts; and `[relief]`."""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from atlasgen.model.history import LayerRule
from atlasgen.model.layer_tiles import DEFAULT_TILES_MB, ReliefRules
from atlasgen.model.text import plain_text

_File = Annotated[str, Field(min_length=1, max_length=300)]


class LayerSection(BaseModel):
    """One georeferenced image, or a scan with control points; files are relative to the survey folder."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)

    file: _File
    kind: Literal["air photo", "satellite image", "historic chart", "sonar mosaic"]
    title: Annotated[str, AfterValidator(plain_text), Field(min_length=1, max_length=120)]
    date: datetime.date | None = None
    stage_m: float | None = Field(default=None, ge=-200, le=50)
    control: _File | None = None
    fit: Literal["similarity", "affine"] = "similarity"
    waterline: _File | None = None
    tiles_mb: float = Field(default=DEFAULT_TILES_MB, ge=1, le=100_000)

    def rule(self) -> LayerRule:
        """Return the same as a plain value."""
        return LayerRule(**self.model_dump())


class ReliefSection(BaseModel):
    """How the shaded relief of the bed is lit; see `ReliefRules`."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    sun_azimuth_deg: float = Field(default=ReliefRules().sun_azimuth_deg, ge=0, le=360)
    sun_altitude_deg: float = Field(default=ReliefRules().sun_altitude_deg, gt=0, le=90)
    exaggeration: float | None = Field(default=None, gt=0, le=100)
    tiles_mb: float = Field(default=DEFAULT_TILES_MB, ge=1, le=100_000)

    def rules(self) -> ReliefRules:
        """Return the same as plain values."""
        return ReliefRules(**self.model_dump())
