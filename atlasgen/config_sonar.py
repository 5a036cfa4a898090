"""The keys of [sonar] in survey.toml: how swaths are worked out, and what counts as a gap in them."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

from atlasgen.model.sonar import SonarRules


class SonarSection(BaseModel):
    """Side-scan: see SonarRules for what the defaults rest on."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)

    pings_on_metre: float = Field(default=3.0, gt=0, le=100)
    sound_speed_mps: float = Field(default=1482.4, ge=1300, le=1600)
    steepest_deg: float = Field(default=70.0, ge=30, lt=90)
    ping_rate_hz: float | None = Field(default=None, gt=0, le=1000)
    log_gap_s: float | None = Field(default=None, gt=0, le=3600)
    holiday_m2: float = Field(default=400.0, ge=1, le=1_000_000)
    limits_m: float = Field(default=100.0, ge=1, le=5000)
    tolerance_m: float = Field(default=1.0, ge=0, le=20)

    def rules(self) -> SonarRules:
        """Return the same as a plain value."""
        return SonarRules(**self.model_dump())
