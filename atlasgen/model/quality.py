"""How the soundings were prepared and how well they agree: what was left out, how they were reduced, crossings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import numpy as np

Step = Literal["draught", "sound speed", "stage"]
Test = Literal["duplicates", "land", "jumps", "spikes"]

SOUND_SPEED: Step = "sound speed"
STEPS: tuple[Step, ...] = ("draught", SOUND_SPEED, "stage")
TESTS: tuple[Test, ...] = ("duplicates", "land", "jumps", "spikes")


@dataclass(frozen=True, slots=True)
class SoundingRules:
    """How soundings are cleaned and reduced.

    `reduce` and `clean` name the steps that are wanted. `depths_from` tells what the recorded depths count from:
    the transducer, or the water's surface when the sounder has added the draught already.
    """

    draught_m: float = 0.0
    depths_from: Literal["transducer", "surface"] = "transducer"
    water_temperature_c: float | None = None
    sounder_speed_mps: float = 1500.0
    reduce: tuple[Step, ...] = STEPS
    clean: tuple[Test, ...] = TESTS
    land_tolerance_m: float = 5.0
    fastest_mps: float = 30.0
    told_in: Literal["feet", "metres"] = "metres"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Soundings that are not used: arrays of one length, in the order in which they stand in the files.

    `file` and `reason` are places in `files` and `reasons`; `row` is the line of the file, 0 where it is not known;
    depth in metres as recorded, NaN where none was; unknown places and times are NaN. `unlisted` holds
    (file, reason, count) of those that are counted but not listed.
    """

    file: np.ndarray
    row: np.ndarray
    lon_deg: np.ndarray
    lat_deg: np.ndarray
    depth_m: np.ndarray
    time_s: np.ndarray
    reason: np.ndarray
    files: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    unlisted: tuple[tuple[str, str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class ReductionStep:
    """One step from the recorded depth to the depth below datum; `words` is a sentence with its values."""

    name: Step
    applied: bool
    words: str


@dataclass(frozen=True, slots=True)
class Cleaning:
    """What became of the soundings that were read: `read` = `kept` + all of `counts`.

    `counts` is by reason, those of reading included; `examples` (file, line, depth in metres) by reason, at most
    three each; `skipped` says in sentences which tests were not made, and why.
    """

    read: int
    kept: int
    counts: Mapping[str, int]
    examples: Mapping[str, tuple[tuple[str, int, float], ...]]
    skipped: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CrossingBand:
    """Crossings of one range of depth, metres; `p95_m` None where they are too few for it."""

    from_m: float
    to_m: float
    count: int
    rms_m: float
    p95_m: float | None


@dataclass(frozen=True, slots=True)
class OrderShare:
    """Share (0 to 1) of crossings within the allowance of one order of IHO S-44: sqrt(2) times its TVU."""

    order: str
    a_m: float
    b: float
    share: float


@dataclass(frozen=True, slots=True)
class Crossings:
    """Where lines of soundings cross, and by how much they differ there; arrays of one length, metric.

    `difference_m` is the earlier line's depth less the later one's, `depth_m` the mean of the two. Of the absolute
    differences `median_m` and `p95_m` (None where they are too few) hold a half and 95 in 100; `rms_m` is of the
    differences, `mean_m` their mean. The histogram has counts[i] differences from edges_m[i] to edges_m[i + 1]; the
    first and last bin hold all that lies beyond as well.
    """

    x_m: np.ndarray
    y_m: np.ndarray
    difference_m: np.ndarray
    depth_m: np.ndarray
    mean_m: float | None = None
    median_m: float | None = None
    rms_m: float | None = None
    p95_m: float | None = None
    bands: tuple[CrossingBand, ...] = ()
    orders: tuple[OrderShare, ...] = ()
    edges_m: tuple[float, ...] = ()
    counts: tuple[int, ...] = ()
    words: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """How many crossings there are."""
        return len(self.difference_m)
