"""The keys of [soundings] in survey.toml that say how depths are cleaned and reduced."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from atlasgen.model.quality import STEPS, TESTS, SoundingRules, Step, Test


class ReductionKeys(BaseModel):
    """How recorded depths are cleaned and brought to the datum; a step left out of its list is not taken."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)

    draught_m: float = Field(default=0.0, ge=0, le=10)
    depths_from: Literal["transducer", "surface"] = "transducer"
    water_temperature_c: float | None = Field(default=None, ge=0, le=40)
    sounder_speed_mps: float = Field(default=1500.0, ge=1300, le=1600)
    reduce: tuple[Step, ...] = STEPS
    clean: tuple[Test, ...] = TESTS
    land_tolerance_m: float = Field(default=5.0, ge=0, le=200)
    fastest_mps: float = Field(default=30.0, gt=0, le=200)

    def rules(self, told_in: Literal["feet", "metres"]) -> SoundingRules:
        """Return the same as a plain value; `told_in` is the unit of its words."""
        return SoundingRules(told_in=told_in, **self.model_dump(include=set(ReductionKeys.model_fields)))
