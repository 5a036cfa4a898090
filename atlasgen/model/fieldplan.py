"""The plan for the next field day: camera stations that show what is missing, ordered into runs of a battery each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from atlasgen.model.common import LonLat, PointM


class Aim(NamedTuple):
    """How a camera is held: height above the water, and pitch (0 level, -90 straight down)."""

    height_m: float
    pitch_deg: float


class ShoreSpan(NamedTuple):
    """A piece of one ring between two chainages; `from_m` is below `to_m`."""

    ring: str
    from_m: float
    to_m: float

    @property
    def length_m(self) -> float:
        """Length along the shore."""
        return self.to_m - self.from_m


@dataclass(frozen=True, slots=True)
class PlanRules:
    """What the crew flies, and what counts as shown.

    Camera: `aims` in the order of preference; the next is tried only where those before show too little. The default
    lens is one of 24 mm (35 mm equivalent, by the diagonal) with a 4:3 frame. Stations stand `standoffs_m` off the
    bank, square to it and `skews_deg` to either side, over water or at most `ashore_m` from it, and every metre must
    be shown no coarser than `gsd_limit_cm` and at no less than `angle_limit_deg` to the bank.

    Margins: a station is credited only with what it still shows when its pose is off by `margin_sigmas` times the
    standard uncertainties given (position on each axis).

    Flight: a run takes `climb_s` (take-off, climb, descent and landing), its way at `speed_mps`, and
    `seconds_per_station` (stop, turn, photograph); it must fit the battery less `reserve_share` of it, and hold at
    most `most_stations`, so that its table stays on one page. All times are the crew's own figures; the defaults are
    ours, after small camera drones in light wind, no source.

    `water_above_sea_m` is the height of the water above mean sea level, None if not known.
    """

    launch: PointM
    launch_name: str = "the launch point"
    aims: tuple[Aim, ...] = (Aim(40.0, -20.0), Aim(40.0, -45.0), Aim(40.0, -70.0))
    hfov_deg: float = 71.6
    vfov_deg: float = 56.8
    width_px: int = 4000
    height_px: int = 3000
    gsd_limit_cm: float = 10.0
    angle_limit_deg: float = 20.0
    standoffs_m: tuple[float, ...] = (10.0, 25.0, 50.0, 90.0, 140.0, 200.0)
    skews_deg: tuple[float, ...] = (0.0, -35.0, 35.0)
    ashore_m: float = 0.0
    margin_sigmas: float = 2.0
    position_sigma_m: float = 2.0
    height_sigma_m: float = 1.5
    heading_sigma_deg: float = 3.0
    pitch_sigma_deg: float = 1.0
    roll_sigma_deg: float = 1.0
    speed_mps: float = 8.0
    seconds_per_station: float = 15.0
    climb_s: float = 60.0
    battery_s: float = 1500.0
    reserve_share: float = 0.3
    most_stations: int = 24
    max_height_m: float = 120.0
    water_above_sea_m: float | None = None

    @property
    def usable_s(self) -> float:
        """Time of a run at most: the battery's less the reserve."""
        return self.battery_s * (1 - self.reserve_share)


@dataclass(frozen=True, slots=True)
class Station:
    """One photograph to take. `number` counts along its run, from 1; `run` is 0 for stations that are in no run.

    `shows` are the missing spans that it is credited with, `new_m` the metres of them that no station before it in
    the plan shows; `distance_m` is the least distance from the shore shown, `gsd_cm` the coarsest there.
    """

    run: int
    number: int
    at: PointM
    lonlat: LonLat
    height_m: float
    heading_deg_true: float
    pitch_deg: float
    shows: tuple[ShoreSpan, ...]
    new_m: float
    distance_m: float
    gsd_cm: float
    reaches: tuple[str, ...]

    @property
    def name(self) -> str:
        """Its name in files and on the radio: `R2-07`, or `B-01` beyond a battery's reach."""
        return f"R{self.run}-{self.number:02d}" if self.run else f"B-{self.number:02d}"

    @property
    def shows_m(self) -> float:
        """Metres of missing shore that it shows."""
        return sum(span.length_m for span in self.shows)


@dataclass(frozen=True, slots=True)
class Run:
    """One flight, from the launch point and back to it, with its time as the rules reckon it.

    `over_land_m`: length of its straight legs that lies over land; `farthest_m`: of a station from the launch point.
    """

    number: int
    stations: tuple[Station, ...]
    length_m: float
    time_s: float
    over_land_m: float
    farthest_m: float

    @property
    def shows_m(self) -> float:
        """Metres of missing shore that it is the first to show."""
        return sum(station.new_m for station in self.stations)


@dataclass(frozen=True, slots=True)
class Left:
    """A missing span that the plan does not close, and why, in words."""

    span: ShoreSpan
    why: str


@dataclass(frozen=True, slots=True)
class FieldPlan:
    """The whole plan.

    `beyond` are stations that one battery cannot reach from the launch point and back: told, in no run, and what only
    they show stands in `left`. `claimed_m` is what the runs show of `missing_m`. `lower_bound` is a number of stations
    that no choice among the `candidates` that were tried can be below, for the same shore.
    """

    rules: PlanRules
    launch: LonLat
    runs: tuple[Run, ...]
    beyond: tuple[Station, ...]
    left: tuple[Left, ...]
    missing_m: float
    claimed_m: float
    lower_bound: int
    candidates: int

    @property
    def stations(self) -> tuple[Station, ...]:
        """All stations of the runs, in the order of flight."""
        return tuple(station for run in self.runs for station in run.stations)
