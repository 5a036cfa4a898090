"""Side-scan: the ground each channel took a picture of, what that adds up to, and where it is missing and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Literal, get_args

from atlasgen.model.common import LonLat

if TYPE_CHECKING:
    from shapely import MultiLineString, MultiPolygon

Channel = Literal["port", "starboard"]
SourceKind = Literal["soundings", "side-scan", "side-scan coverage"]
OUTLINE: SourceKind = "side-scan coverage"
# Where a height above the bed came from that was not recorded.
MODELLED = "depth model"
Quality = Literal["fine", "coarse", "unknown"]
SonarClass = Literal["twice", "fine", "unknown", "coarse", "not_surveyable", "depth_only", "none"]
# Best first; the first four have a picture.
SONAR_CLASSES: tuple[SonarClass, ...] = get_args(SonarClass)
PICTURED: tuple[SonarClass, ...] = SONAR_CLASSES[:4]
Cause = Literal[
    "reason",
    "lost_channel",
    "unknown_swath",
    "log_gap",
    "under_boat",
    "behind_land",
    "fast_run",
    "pass_not_run",
    "beyond_limit",
    "not_surveyed",
    "not_recorded",
]


@dataclass(frozen=True, slots=True)
class SonarRules:
    """How swaths are worked out, and what counts as a gap; the keys of `[sonar]` in survey.toml.

    `pings_on_metre` 3: fewer pings than these on an object one metre long make a picture coarse (common practice,
    instrument manuals). `sound_speed_mps`: fresh water at 20 °C (Bilaniuk and Wong 1993). `steepest_deg` 70 below the
    horizontal: straighter down, a side-scan shows no bed. `ping_rate_hz`: the fastest the instrument pings, None where
    only the two-way travel limits it. A pause in the log longer than `log_gap_s` is a gap; None takes two and a half
    of the pass's usual intervals. `holiday_m2`: smaller gaps are not listed. Unsurveyed water that is less than
    `limits_m` wide between surveyed parts lies inside the limits of the survey. `tolerance_m`: how far thinning may
    move a track, which is less than a boat's position is good for. Only the first three have a source; the rest is
    ours.
    """

    pings_on_metre: float = 3.0
    sound_speed_mps: float = 1482.4
    steepest_deg: float = 70.0
    ping_rate_hz: float | None = None
    log_gap_s: float | None = None
    holiday_m2: float = 400.0
    limits_m: float = 100.0
    tolerance_m: float = 1.0


@dataclass(frozen=True, slots=True)
class NoPicture:
    """Ground beside or under a pass that it took no picture of, with what the records say; metric.

    `channel` None: both, or under the boat. Times are seconds since 1970 UTC.
    """

    run: str
    cause: Cause
    area: MultiPolygon
    channel: Channel | None = None
    from_s: float | None = None
    to_s: float | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Swath:
    """The ground one channel of one pass took a picture of, metric, by how close its pings lie."""

    run: str
    channel: Channel
    fine: MultiPolygon
    coarse: MultiPolygon
    unknown: MultiPolygon


@dataclass(frozen=True, slots=True)
class SonarRun:
    """One pass as the ground knows it; None where its records do not tell.

    `line` is its thinned track. `pings_on_metre` and `spacing_m` (ping to ping along the track) and `reach_m`
    (the ground range of a side) are medians by position. `height_from` counts positions by where the height above
    the bed came from: recorded, depth model, unknown. `speed_computed`: the speed is from the positions.
    """

    name: str
    line: MultiLineString
    from_s: float
    to_s: float
    length_m: float
    range_m: tuple[float, float] | None
    speed_mps: float | None
    spacing_m: float | None
    pings_on_metre: float | None
    reach_m: float | None
    height_from: Mapping[str, int]
    swaths: tuple[Swath, Swath]
    no_picture: tuple[NoPicture, ...]
    speed_computed: bool = False
    file: str = ""
    instrument: str = ""


@dataclass(frozen=True, slots=True)
class GivenCoverage:
    """Coverage that was given as an outline instead of passes, metric; two outlines of one name are one pass."""

    name: str
    area: MultiPolygon
    quality: Quality = "unknown"


@dataclass(frozen=True, slots=True)
class Holiday:
    """A connected piece of water without a side-scan picture, or with a coarse one (`fast_run`), of one cause.

    `share_depth` of it has a depth, 0 to 1. `passes` lie beside it. `reaches` are those whose water within 100 m it
    touches, in reading order; there are none in mid-lake, but `nearest` is always named. `spacing_m` and `covers_m`:
    how far apart the two passes beside it lie, and how far they reach toward each other together.
    """

    id: str
    cause: Cause
    area: MultiPolygon
    area_m2: float
    at: LonLat
    place: str
    nearest: str
    share_depth: float
    passes: tuple[str, ...] = ()
    reaches: tuple[str, ...] = ()
    why: str = ""
    channel: Channel | None = None
    from_s: float | None = None
    to_s: float | None = None
    spacing_m: float | None = None
    covers_m: float | None = None
    pings_on_metre: float | None = None


@dataclass(frozen=True, slots=True)
class SonarCoverage:
    """The whole water by class, metric. The areas of `area_m2` add up to the water's.

    `limits` is the surveyed water (see SonarRules.limits_m). `methods` say in sentences how it was worked out.
    """

    runs: tuple[SonarRun, ...]
    given: tuple[GivenCoverage, ...]
    area_m2: Mapping[SonarClass, float]
    area: Mapping[SonarClass, MultiPolygon]
    depth_known: MultiPolygon
    limits: MultiPolygon
    holidays: tuple[Holiday, ...]
    rules: SonarRules
    methods: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WaterShares:
    """Some water by class: `share` adds up to 1; `depth` is the share that has a depth; `missing` shares by cause.

    `missing` holds (cause, its words or "", share) for what has no picture or a coarse one, the largest first.
    """

    within_m: float
    water_m2: float
    share: Mapping[SonarClass, float]
    depth: float
    missing: tuple[tuple[Cause, str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class ReachSonar:
    """Side-scan in the water off one reach: near the bank, and out to where a page looks. `holidays` are ids."""

    near: WaterShares
    out: WaterShares
    holidays: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One source of the source diagram, as far as it lies in one area: who, what, when, how well; None if unknown.

    `dates` are the first and last day in the survey's own zone. `along_m` is the median way from sounding to sounding
    or from ping to ping, `line_spacing_m` the median distance from a run to the nearest other. `area_m2`: water with a
    picture, or within the stated distance of a sounding. `words` say what else bears on its quality.
    """

    what: SourceKind
    name: str
    instrument: str
    dates: tuple[date, date] | None
    runs: int
    length_m: float | None
    area_m2: float
    along_m: float | None
    line_spacing_m: float | None
    words: tuple[str, ...] = ()
