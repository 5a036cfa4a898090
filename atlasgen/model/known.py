"""What `measure` works out: what is known, and how well."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from atlasgen.model.common import Problem
from atlasgen.model.depths import DepthBound, Hypsometry
from atlasgen.model.history import HistoricLayer
from atlasgen.model.quality import Cleaning, Crossings, LeftOut, ReductionStep
from atlasgen.model.relief import ReachProfile, ReliefFeature, ReliefNear
from atlasgen.model.repeats import FormerRepeat, RepeatPair
from atlasgen.model.sonar import ReachSonar, SonarCoverage, SourceRow
from atlasgen.model.states import Gap, ShoreAudit, ShoreState
from atlasgen.model.views import Views

if TYPE_CHECKING:
    import numpy as np
    from shapely import LineString, MultiPolygon

# Height of the land's outline above the shoreline, metres, at map places x, y; NaN where no elevation is known.
LandHeight = Callable[["np.ndarray", "np.ndarray"], "np.ndarray"]


@dataclass(frozen=True, slots=True)
class DepthGrid:
    """Depth below datum on square cells; `depth_m[row, col]`, row 0 at the south, NaN where not known.

    Cell (0, 0) is centred on (`x0_m`, `y0_m`). `near_sounding_m` is the farthest a value may be from a sounding.
    `bound_m`: the depth is within this of the truth in 95 of 100 cells like it; None where no bound was worked out.
    """

    depth_m: np.ndarray
    distance_m: np.ndarray
    x0_m: float
    y0_m: float
    cell_m: float
    near_sounding_m: float
    bound_m: np.ndarray | None = None


@dataclass(frozen=True, slots=True)
class Isobath:
    """One depth line, metric; `label` in the reader's unit. `doubtful` are its parts that are drawn broken."""

    depth_m: float
    label: str
    major: bool
    lines: tuple[LineString, ...]
    doubtful: tuple[LineString, ...] = ()


@dataclass(frozen=True, slots=True)
class DepthBand:
    """The water between two depths, metric, for tinting; `shade` 0 (shallow) to 1 (deepest of this lake)."""

    from_m: float
    to_m: float
    shade: float
    area: MultiPolygon


@dataclass(frozen=True, slots=True)
class ReachDepth:
    """What the soundings say of the water within `off_bank_m` of a reach, metres below datum."""

    off_bank_m: float
    soundings: int
    shallowest_m: float | None
    median_m: float | None
    deepest_m: float | None
    profile_m: tuple[tuple[float, float | None], ...]
    reduced: bool


@dataclass(frozen=True, slots=True)
class ReachCoverage:
    """How densely that water is sounded, and why not, where not. Shares are 0 to 1 of `water_m2`."""

    off_bank_m: float
    water_m2: float
    near_sounding_m: float
    share_near_sounding: float | None
    soundings_per_ha: float | None
    reasons: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """What is known, and how well; mappings are by reach id or photo id, geometry is metric.

    `not_surveyed` holds (reason, water), `gaps` the stretches of shore without a photo. Depths are those below the
    water at `shown_stage_m`, which leaves `dry` dry; `grid_at_datum` is the model before, None where nothing was moved.
    """

    stage_of_photo_m: Mapping[str, float | None]
    reach_depth: Mapping[str, ReachDepth | None]
    reach_coverage: Mapping[str, ReachCoverage]
    reach_state: Mapping[str, ShoreState]
    grid: DepthGrid | None
    isobaths: tuple[Isobath, ...]
    bands: tuple[DepthBand, ...]
    soundings_used: int
    methods: tuple[str, ...]
    audit: ShoreAudit
    gaps: tuple[Gap, ...]
    views: Views
    problems: tuple[Problem, ...] = ()
    sounding_lines: tuple[LineString, ...] = ()
    pass_lines: tuple[LineString, ...] = ()
    not_surveyed: tuple[tuple[str, MultiPolygon], ...] = ()
    layers: tuple[HistoricLayer, ...] = ()
    land_height: LandHeight | None = None
    reduction: tuple[ReductionStep, ...] = ()
    cleaning: Cleaning | None = None
    crossings: Crossings | None = None
    soundings_left_out: LeftOut | None = None
    sonar: SonarCoverage | None = None
    reach_sonar: Mapping[str, ReachSonar] = field(default_factory=dict)
    sources: tuple[SourceRow, ...] = ()
    tile_sources: Mapping[str, tuple[SourceRow, ...]] = field(default_factory=dict)
    profiles: Mapping[str, ReachProfile | None] = field(default_factory=dict)
    relief: tuple[ReliefFeature, ...] = ()
    relief_near: Mapping[str, tuple[ReliefNear, ...]] = field(default_factory=dict)
    depth_bound: DepthBound | None = None
    hypsometry: Hypsometry | None = None
    shown_stage_m: float = 0.0
    dry: MultiPolygon | None = None
    grid_at_datum: DepthGrid | None = None
    repeats: tuple[RepeatPair, ...] = ()
    former_repeats: tuple[FormerRepeat, ...] = ()
