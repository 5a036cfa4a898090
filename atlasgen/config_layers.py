"""The `[[layer]]` blocks of survey.toml: images of the drawn-down lake and historic charts."""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from atlasgen.model.history import LayerRule
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

    def rule(self) -> LayerRule:
        """Return the same as a plain value."""
        return LayerRule(**self.model_dump())
