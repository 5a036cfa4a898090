"""The keys of survey.toml that say how an edition is published: [photos], [book], [chart], [bundle]."""

from __future__ import annotations

from datetime import date as Date
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from atlasgen.model import ChartEdition, WriteRules
from atlasgen.model.rules import PROFILES
from atlasgen.model.text import plain_text

# A book for old viewers is parted at this size unless survey.toml says otherwise; ours.
OLD_VIEWER_MB = 25.0


class _Section(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)


class PhotosSection(_Section):
    """Limits and defaults for photos, and how they are published."""

    farthest_from_lake_m: float = Field(default=1000.0, gt=0, le=50000)
    track_gap_s: float = Field(default=120.0, gt=0, le=3600)
    clock_tolerance_s: float = Field(default=30.0, gt=0, le=3600)
    eye_height_m: float = Field(default=1.7, gt=0, le=30)
    aerial_above_m: float = Field(default=12.0, gt=0, le=120)
    largest_megapixels: float = Field(default=250.0, gt=1, le=1000)
    profile: Literal["full", "standard", "pocket"] = "standard"
    large_px: int | None = Field(default=None, ge=640, le=6000)
    small_px: int | None = Field(default=None, ge=160, le=800)
    quality: int | None = Field(default=None, ge=30, le=95)
    metadata: tuple[Literal["caption", "copyright", "position"], ...] = ("caption", "copyright")
    names: Literal["paths", "names", "none"] = "paths"

    def write_rules(self, copyright_line: str) -> WriteRules:
        """Return sizes, quality and metadata: those of the profile, unless a key says otherwise."""
        large_px, small_px, quality = PROFILES[self.profile]
        return WriteRules(
            self.large_px or large_px,
            self.small_px or small_px,
            copyright_line,
            quality=self.quality or quality,
            metadata=self.metadata,
        )


class BookSection(_Section):
    """The printed book."""

    paper: Literal["a4", "letter", "handheld"] = "a4"
    sides: Literal["both", "one"] = "both"
    viewer: Literal["current", "old"] = "current"
    volume_mb: float | None = Field(default=None, ge=1, le=4000)

    @property
    def limit_mb(self) -> float | None:
        """The largest that a volume may be; a book for old viewers always has a limit."""
        return self.volume_mb or (OLD_VIEWER_MB if self.viewer == "old" else None)


class ChartSection(_Section):
    """The chart edition that the atlas ships with; all three or none."""

    edition: Annotated[str, Field(min_length=1, max_length=80)] | None = None
    date: Date | None = None
    datum: Annotated[str, AfterValidator(plain_text), Field(min_length=1, max_length=200)] | None = None

    @model_validator(mode="after")
    def _all_or_none(self) -> ChartSection:
        lacking = [name for name, value in self if value is None]
        if 0 < len(lacking) < 3:
            raise ValueError(f"expected edition, date and datum together; not given: {', '.join(lacking)}")
        return self

    def rule(self) -> ChartEdition | None:
        """Return the same as a plain value; None where no chart is stated."""
        if self.edition is None or self.date is None or self.datum is None:
            return None
        return ChartEdition(self.edition, self.date, self.datum)


class BundleSection(_Section):
    """What `atlasgen bundle` holds the atlas against."""

    budget_mb: float | None = Field(default=None, gt=0, le=4_000_000)
