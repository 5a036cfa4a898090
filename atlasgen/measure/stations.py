"""Where a camera could stand to show missing shore: candidate stations, what each is credited with, and the choice.

What a camera shows is asked of `place.seen`, the same as for the photos of the audit, so that what the plan claims and
what the next audit finds are one reckoning. A candidate is credited with less than it shows: with what is still in
the frame, fine enough and square enough when its pose is off by some sigmas.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from atlasgen.measure.cover import cover
from atlasgen.model import LonLat, Measured, Photo, PhotoFile, PointM
from atlasgen.model.fieldplan import Aim, PlanRules, ShoreSpan
from atlasgen.model.views import SeenMetres, ViewRules
from atlasgen.model.wording import say
from atlasgen.place.rays import Camera
from atlasgen.place.seen import see_photos
from atlasgen.place.shore_index import ShoreIndex

if TYPE_CHECKING:
    from shapely import MultiPolygon

See = Callable[[Camera], SeenMetres]

# Candidates stand for bank this share of their sight line apart: a frame is more than four times as wide. Ours.
_STEP_SHARE = 0.25
_LEAST_FRAME_DEG = 5.0


@dataclass(frozen=True, slots=True)
class Candidate:
    """A station that could be flown: the camera, and the pieces of shore it is credited with, ascending."""

    camera: Camera
    pieces: np.ndarray


@dataclass(frozen=True, slots=True)
class Tried:
    """All candidates that show anything missing, and by piece why it is credited to none ("" where it is)."""

    candidates: tuple[Candidate, ...]
    why_not: np.ndarray


def seer(shore: ShoreIndex, rules: ViewRules) -> See:
    """Make the function that says what a camera shows, as the audit would say of a photo with an exactly known pose."""
    # All draws of a pose without uncertainty are the same.
    rules = replace(rules, draws=2)

    def see(camera: Camera) -> SeenMetres:
        photo = planned_photo(camera, true_heading_deg(camera, shore), LonLat(0.0, 0.0))
        (seen,) = see_photos([photo], shore, rules)[1]
        return SeenMetres(np.empty(0, int), np.empty(0), np.empty(0), np.empty(0)) if seen is None else seen

    return see


def planned_photo(camera: Camera, heading_deg_true: float, lonlat: LonLat) -> Photo:
    """Return the photo that a camera would take, its pose exactly known; what is known only afterwards is empty."""

    def exact(value: float) -> Measured:
        return Measured(value, "plan", 0.0)

    source = PhotoFile("", "", 0, "JPEG", camera.width_px, camera.height_px)
    return Photo(
        id="", source=source, lonlat=lonlat, point=camera.at, position_from="corrections", position_how="plan",
        position_sigma_m=0.0, taken=None, taken_how="", height_above_water_m=exact(camera.height_m),
        heading_deg_true=exact(heading_deg_true), pitch_deg=exact(camera.pitch_deg), roll_deg=exact(camera.roll_deg),
        hfov_deg=exact(camera.hfov_deg), vfov_deg=exact(camera.vfov_deg), kind="aerial", reach="",
        distance_to_shore_m=0.0, nearest_chainage_m=0.0, tile="", over_water=True,
    )  # fmt: skip


def true_heading_deg(camera: Camera, shore: ShoreIndex) -> float:
    """Heading from true north, 0 to 360."""
    return (camera.heading_deg + float(shore.north_deg([camera.at])[0])) % 360


def missing_pieces(spans: Sequence[ShoreSpan], shore: ShoreIndex) -> np.ndarray:
    """Tell the pieces of the shore whose middle lies in a span, bool (n,)."""
    missing = np.zeros(len(shore.ring), bool)
    middle = (shore.from_m + shore.to_m) / 2
    for span in spans:
        on_ring = shore.ring == shore.rings.index(span.ring)
        missing |= on_ring & (middle >= span.from_m) & (middle < span.to_m)
    return missing


def spans_of(pieces: np.ndarray, shore: ShoreIndex) -> tuple[ShoreSpan, ...]:
    """Join pieces (ascending) that follow one another into spans."""
    if not len(pieces):
        return ()
    ring = shore.ring[pieces]
    first = np.flatnonzero(np.concatenate([[True], (np.diff(pieces) != 1) | (np.diff(ring) != 0)]))
    last = np.append(first[1:], len(pieces)) - 1
    return tuple(
        ShoreSpan(shore.rings[ring[a]], float(shore.from_m[pieces[a]]), float(shore.to_m[pieces[b]]))
        for a, b in zip(first, last, strict=True)
    )


def try_stations(
    missing: np.ndarray, shore: ShoreIndex, water: MultiPolygon, rules: PlanRules, see: See | None = None
) -> Tried:
    """Try stations off every missing piece, aim by aim, until all is shown or no aim is left.

    Parameters
    ----------
    missing
        Pieces of the shore index to be shown, bool (n,).
    water
        Metric.
    """
    look = see or seer(shore, ViewRules())
    standing = water.buffer(rules.ashore_m) if rules.ashore_m else water
    shapely.prepare(standing)
    found: list[Candidate] = []
    credited, seen, fine = (np.zeros(len(missing), bool) for _ in range(3))
    for aim in rules.aims:
        for camera in _stations(np.flatnonzero(missing & ~credited), shore, standing, aim, rules):
            shown = look(with_margin(camera, rules))
            is_fine, is_square = within_limits(shown, rules, margin_sigmas=rules.margin_sigmas)
            pieces = shown.piece[is_fine & is_square & missing[shown.piece]]
            seen[shown.piece], fine[shown.piece[is_fine]] = True, True
            if len(pieces):
                credited[pieces] = True
                found.append(Candidate(camera, pieces))
    near_water = _near_standing(shore, standing, rules)
    reasons = [say("plan-why-slanting"), say("plan-why-coarse"), say("plan-why-hidden")]
    why = np.select([fine, seen, near_water], reasons, say("plan-why-no-station"))
    return Tried(tuple(found), np.where(missing & ~credited, why, ""))


def within_limits(seen: SeenMetres, rules: PlanRules, margin_sigmas: float = 0.0) -> tuple[np.ndarray, np.ndarray]:
    """Tell which pieces are seen finely enough, and which squarely enough, with room for a position that is off."""
    off_m = margin_sigmas * rules.position_sigma_m
    away = np.maximum(np.hypot(seen.distance_m, 1.0), off_m)
    fine = seen.gsd_cm * (1 + off_m / away) <= rules.gsd_limit_cm
    return fine, seen.angle_deg - np.degrees(np.arctan(off_m / away)) >= rules.angle_limit_deg


def with_margin(camera: Camera, rules: PlanRules) -> Camera:
    """Return the camera with a lens narrowed by what its pose may be off; a pixel keeps its angle.

    Errors of heading and position turn what is seen across the frame, errors of pitch and height up and down it, and
    a roll moves the ends of the frame's sides by its share of their length.
    """
    # The foot of the frame is nearest, and moves most.
    steepest_deg = float(np.clip(camera.vfov_deg / 2 - camera.pitch_deg, 5.0, 90.0))
    slant_m = camera.height_m / np.sin(np.radians(steepest_deg))
    moved_deg = np.degrees(np.arctan([rules.position_sigma_m / slant_m, rules.height_sigma_m / slant_m]))
    rolled_deg = rules.roll_sigma_deg * np.radians([camera.vfov_deg / 2, camera.hfov_deg / 2])
    turned_deg = np.array([rules.heading_sigma_deg, rules.pitch_sigma_deg])
    margin = rules.margin_sigmas * np.sqrt(turned_deg**2 + moved_deg**2 + rolled_deg**2)
    hfov, vfov = np.maximum(np.array([camera.hfov_deg, camera.vfov_deg]) - 2 * margin, _LEAST_FRAME_DEG).tolist()
    share = np.tan(np.radians([hfov / 2, vfov / 2])) / np.array(camera.half_tangents)
    width, height = np.rint(share * np.array([camera.width_px, camera.height_px])).astype(int).tolist()
    return replace(camera, hfov_deg=hfov, vfov_deg=vfov, width_px=width, height_px=height)


def _stations(anchors: np.ndarray, shore: ShoreIndex, standing: Any, aim: Aim, rules: PlanRules) -> Iterator[Camera]:
    """Cameras that have one of the anchors in the middle of the frame's width, standing over water."""
    for standoff in rules.standoffs_m:
        if not _in_height(standoff, aim, rules):
            continue
        some = _apart(anchors, shore, max(_STEP_SHARE * float(np.hypot(standoff, aim.height_m)), 1.0))
        for skew in rules.skews_deg:
            places, out_deg = _off_bank(some, standoff, skew, shore)
            stands = shapely.contains_xy(standing, places[:, 0], places[:, 1])
            for (x, y), turn in zip(places[stands].tolist(), out_deg[stands].tolist(), strict=True):
                yield plan_camera(PointM(x, y), aim, (turn + 180) % 360, rules)


def _in_height(standoff_m: float, aim: Aim, rules: PlanRules) -> bool:
    """Tell whether a bank this far off is within the frame's height, with room for a pitch that is off."""
    below_deg = float(np.degrees(np.arctan2(aim.height_m, standoff_m)))
    return abs(below_deg + aim.pitch_deg) < rules.vfov_deg / 2 - rules.margin_sigmas * rules.pitch_sigma_deg


def _off_bank(
    pieces: np.ndarray, standoff_m: float, skew_deg: float, shore: ShoreIndex
) -> tuple[np.ndarray, np.ndarray]:
    """Places (n, 2) off pieces of bank, and the directions from there, degrees, in which they lie."""
    # With the water on the right hand, square to the bank and over it is to the right of the bank's run.
    along = shore.toward[pieces]
    out = np.arctan2(along[:, 0], along[:, 1]) + np.radians(90 + skew_deg)
    return shore.xy_m[pieces] + standoff_m * np.column_stack([np.sin(out), np.cos(out)]), np.degrees(out)


def _near_standing(shore: ShoreIndex, standing: Any, rules: PlanRules) -> np.ndarray:
    """Tell the pieces that have any place to stand off them, bool (n,)."""
    pieces = np.arange(len(shore.ring))
    near = np.zeros(len(pieces), bool)
    for standoff in rules.standoffs_m:
        if any(_in_height(standoff, aim, rules) for aim in rules.aims):
            for skew in rules.skews_deg:
                near |= shapely.contains_xy(standing, *_off_bank(pieces, standoff, skew, shore)[0].T)
    return near


def plan_camera(at: PointM, aim: Aim, heading_deg: float, rules: PlanRules) -> Camera:
    """Return the crew's camera at a station; the heading is the map's."""
    lens = (rules.hfov_deg, rules.vfov_deg, rules.width_px, rules.height_px)
    return Camera(at, aim.height_m, heading_deg, aim.pitch_deg, 0.0, *lens)


def _apart(pieces: np.ndarray, shore: ShoreIndex, step_m: float) -> np.ndarray:
    """Of pieces in order, the first in each step along the shore, and the last of every run."""
    if not len(pieces):
        return pieces
    cell = np.floor(shore.from_m[pieces] / step_m).astype(int)
    new = np.concatenate([[True], (np.diff(cell) != 0) | (np.diff(pieces) != 1)])
    ends = np.append(np.diff(pieces) != 1, True)
    return pieces[new | ends]


def choose(candidates: Sequence[Candidate], weight_m: np.ndarray) -> list[int]:
    """Choose few candidates that show all that any of them shows of the pieces that weigh anything."""
    return cover([candidate.pieces for candidate in candidates], weight_m)
