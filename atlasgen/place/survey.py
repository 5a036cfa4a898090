"""The room's way in: works out where everything of a survey is."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import NamedTuple

from atlasgen.model import (
    CameraRule,
    Correction,
    LonLat,
    NamedArea,
    Photo,
    PhotoFile,
    Placed,
    PlaceRules,
    Problem,
    Progress,
    Reach,
    Survey,
    Tile,
)
from atlasgen.model.wording import say
from atlasgen.place.camera import HeightSettings, attitude_of, field_of_view, heading_of, height_above_water, kind_of
from atlasgen.place.course import Mount
from atlasgen.place.former import with_former_ids
from atlasgen.place.geo import Projection
from atlasgen.place.landmarks import place_landmarks
from atlasgen.place.linking import Link, nearest_reaches, over_water
from atlasgen.place.position import (
    CLOCK_SIGMA_S,
    ClockSetting,
    PositionFix,
    TimeFix,
    clock_report,
    place_in_time,
    position_of,
)
from atlasgen.place.private import ROUNDED_SIGMA_M, rounded, treatment
from atlasgen.place.shore import build_rings, cut_reaches, place_finder
from atlasgen.place.tiles import TileIndex, lay_tiles, sheet_tiles
from atlasgen.units import number_words

# The level against the datum at a time, None where it is not known.
StageOf = Callable[[datetime | None], float | None]

_ID_LENGTH = 10


class _Fixed(NamedTuple):
    """A photo whose time was sought and whose position was found."""

    source: PhotoFile
    correction: Correction | None
    time: TimeFix
    position: PositionFix
    at: LonLat
    mount: Mount | None = None
    is_private: bool = False


@dataclass(frozen=True, slots=True)
class _Shore:
    """What photos are tied to."""

    projection: Projection
    reaches: tuple[Reach, ...]
    tiles: TileIndex


def place_survey(survey: Survey, rules: PlaceRules, stage_of: StageOf, progress: Progress) -> Placed:
    """Lay the shoreline and its tiles, and place every photo; what cannot be placed is told in `left_out`."""
    progress("placing photos", 0, len(survey.photos))
    projection = Projection.for_lake(survey.shoreline)
    water = projection.to_metric(survey.shoreline)
    tiles, tile_problems = _tiles(survey, rules)
    index = TileIndex(tiles)
    rings = build_rings(water, projection.point(rules.start) if rules.start else None)
    reaches = cut_reaches(
        rings, rules.reach_length_m, projection, lambda at: _tile_id(index.at(at)), place_finder(survey.places)
    )
    reaches, renumbered = with_former_ids(reaches, survey.previous, projection)
    fixed, left_out = _fix_all(survey, rules)
    fixed = _kept_private(fixed, survey.private, reaches, projection)
    links, wet, far = _link_all(fixed, reaches, water, projection, rules)
    ids = photo_ids([item.source for item in fixed])
    shore = _Shore(projection, reaches, index)
    photos, problems = _photos(fixed, links, wet, shore, rules, stage_of)
    kept = [replace(p, id=ids[p.source.sha256]) for p in photos if p.source.file not in far]
    landmarks, told = place_landmarks(
        survey.landmarks, survey.private, reaches, water, projection, lambda at: _tile_id(index.at(at))
    )
    progress("placing photos", len(survey.photos), len(survey.photos))
    return Placed(
        water=water,
        rings=rings,
        reaches=reaches,
        tiles=tiles,
        photos=_in_reading_order(kept, reaches),
        left_out=(*left_out, *far.values()),
        problems=(*tile_problems, *_clocks(survey, rules), *renumbered, *problems, *told),
        crs_metric=projection.crs_text,
        landmarks=landmarks,
    )


def without_photos(placed: Placed, damaged: Mapping[str, Problem]) -> Placed:
    """Take out photos (by id) whose picture turned out to be damaged; the reason goes to `left_out`."""
    photos = tuple(photo for photo in placed.photos if photo.id not in damaged)
    gone = {photo.source.file for photo in placed.photos if photo.id in damaged}
    problems = tuple(problem for problem in placed.problems if problem.subject not in gone)
    return replace(placed, photos=photos, left_out=(*placed.left_out, *damaged.values()), problems=problems)


def photo_ids(sources: Sequence[PhotoFile]) -> dict[str, str]:
    """Name photos by their own bytes, so that a photo keeps its id when others come and go: SHA-256 to id."""
    length = _ID_LENGTH
    hashes = {source.sha256 for source in sources}
    while len({sha256[:length] for sha256 in hashes}) < len(hashes):
        length += 1
    return {source.sha256: f"p-{source.sha256[:length]}" for source in sources}


def camera_rule(photo: PhotoFile, cameras: Sequence[CameraRule]) -> CameraRule:
    """Return the first rule whose `match` is in the photo's make and model, else one that says nothing."""
    name = (photo.camera or "").casefold()
    return next((rule for rule in cameras if name and rule.match.casefold() in name), CameraRule())


def _tiles(survey: Survey, rules: PlaceRules) -> tuple[tuple[Tile, ...], list[Problem]]:
    if rules.tile_scheme != "sheets":
        return lay_tiles(survey.shoreline, rules.tile_zoom), []
    if survey.sheets:
        return sheet_tiles(survey.sheets)
    words = say("place-fault-no-sheets")
    return lay_tiles(survey.shoreline, rules.tile_zoom), [Problem("sheets", "missing", words, "fault")]


def _tile_id(tile: Tile | None) -> str:
    return tile.id if tile else ""


def _fix_all(survey: Survey, rules: PlaceRules) -> tuple[list[_Fixed], list[Problem]]:
    """Seek time and position of every photo that the crew did not leave out."""
    fixed, left_out = [], []
    for photo in survey.photos:
        correction = survey.corrections.get(photo.file)
        if correction and correction.leave_out:
            words = say("place-fault-left-out", reason=correction.leave_out)
            left_out.append(Problem(photo.file, "excluded", words, "left_out"))
            continue
        time, position = _fix(photo, correction, survey, rules)
        if position.lonlat:
            fixed.append(_Fixed(photo, correction, time, position, position.lonlat, _mount(photo, time, survey, rules)))
        else:
            left_out += [p for p in position.problems if p.level == "left_out"]
    return fixed, left_out


def _fix(
    photo: PhotoFile, correction: Correction | None, survey: Survey, rules: PlaceRules
) -> tuple[TimeFix, PositionFix]:
    camera = camera_rule(photo, rules.cameras)
    time = place_in_time(
        photo,
        clock_fast_s=camera.clock_fast_s,
        zone=camera.zone,
        survey_zone=rules.zone,
        tolerance_s=rules.clock_tolerance_s,
        correction=correction,
    )
    position = position_of(photo, time.taken, survey.track, correction, rules.track_gap_s, time.sigma_s)
    return time, position


def _mount(photo: PhotoFile, time: TimeFix, survey: Survey, rules: PlaceRules) -> Mount | None:
    """Return how its camera is fixed to the boat, None if nobody said that it is."""
    looks_deg = camera_rule(photo, rules.cameras).looks_deg_right_of_bow
    if looks_deg is None:
        return None
    return Mount(looks_deg, survey.track, rules.track_gap_s, time.sigma_s or CLOCK_SIGMA_S)


def _kept_private(
    fixed: Sequence[_Fixed], areas: Sequence[NamedArea], reaches: Sequence[Reach], projection: Projection
) -> list[_Fixed]:
    """Put photos from private areas somewhere near, and forget where they look: that would lead back."""
    wishes = [treatment(item.at, areas) for item in fixed]
    return [
        _put_away(item, wish, reaches, projection) if wish else item for item, wish in zip(fixed, wishes, strict=True)
    ]


def _put_away(item: _Fixed, wish: str, reaches: Sequence[Reach], projection: Projection) -> _Fixed:
    if wish == "round":
        at, how, sigma_m = (
            rounded(item.at),
            say("place-private-rounded"),
            ROUNDED_SIGMA_M,
        )
    else:
        (link,) = nearest_reaches([projection.point(item.at)], reaches)
        reach = next(reach for reach in reaches if reach.id == link.reach_id)
        at, how, sigma_m = reach.midpoint, say("place-private-hidden"), None
    correction = item.correction and replace(item.correction, lonlat=None, heading_deg_true=None)
    source = replace(item.source, lonlat=None, direction_deg=None, direction_ref=None, yaw_deg=None, problems=())
    position = replace(item.position, how=how, sigma_m=sigma_m, problems=())
    return _Fixed(source, correction, item.time, position, at, None, True)


def _link_all(
    fixed: Sequence[_Fixed], reaches: Sequence[Reach], water, projection: Projection, rules: PlaceRules
) -> tuple[list[Link], list[bool], dict[str, Problem]]:
    """Tie every placed photo to its nearest reach; tell, by file, those that are too far from the lake."""
    points = [projection.point(item.at) for item in fixed]
    links, wet = nearest_reaches(points, reaches), over_water(points, water)
    far = {}
    for item, link, over in zip(fixed, links, wet, strict=True):
        if not over and link.distance_m > rules.farthest_from_lake_m:
            distance = number_words(link.distance_m / 1000, 1)
            words = say("place-fault-far", distance=distance, most=rules.farthest_from_lake_m)
            far[item.source.file] = Problem(item.source.file, "too_far", words, "left_out")
    return links, wet, far


def _photos(
    fixed: Sequence[_Fixed],
    links: Sequence[Link],
    wet: Sequence[bool],
    shore: _Shore,
    rules: PlaceRules,
    stage_of: StageOf,
) -> tuple[list[Photo], list[Problem]]:
    photos: list[Photo] = []
    problems: list[Problem] = []
    for item, link, over in zip(fixed, links, wet, strict=True):
        photo, told = _photo(item, link, over, shore, rules, stage_of)
        photos.append(photo)
        problems += told
    return photos, problems


def _photo(
    item: _Fixed, link: Link, over: bool, shore: _Shore, rules: PlaceRules, stage_of: StageOf
) -> tuple[Photo, list[Problem]]:
    """Put together all that is known of one placed photo."""
    source, correction, at = item.source, item.correction, item.at
    camera, stage_m = camera_rule(source, rules.cameras), stage_of(item.time.taken)
    heights = _height_settings(camera, rules)
    height, height_told = height_above_water(source, correction, stage_m, heights)
    kind = kind_of(height, source, stage_m, heights)
    height_m = height.value if height else 0.0
    heading, heading_told = heading_of(source, correction, at, height_m, item.time.taken, item.mount)
    pitch, roll, attitude_told = attitude_of(source, correction, kind)
    across, up = field_of_view(source, camera.sensor_width_mm)
    photo = Photo(
        id="",
        source=source,
        lonlat=at,
        point=shore.projection.point(at),
        position_from=item.position.source or "exif",
        position_how=item.position.how,
        position_sigma_m=item.position.sigma_m,
        taken=item.time.taken,
        taken_how=item.time.how,
        height_above_water_m=height,
        heading_deg_true=heading,
        pitch_deg=pitch,
        roll_deg=roll,
        hfov_deg=across,
        vfov_deg=up,
        kind=kind,
        reach=link.reach_id,
        distance_to_shore_m=link.distance_m,
        nearest_chainage_m=link.chainage_m,
        tile=_tile_id(shore.tiles.at(at)),
        over_water=over,
        caption=(correction.caption if correction else None) or source.caption,
        is_private=item.is_private,
    )
    told = (*source.problems, *item.time.problems, *item.position.problems)
    direction_told = heading_told or _direction_told(photo)
    return photo, [*told, *height_told, *direction_told, *attitude_told]


def _height_settings(camera: CameraRule, rules: PlaceRules) -> HeightSettings:
    return HeightSettings(
        eye_height_m=rules.eye_height_m,
        aerial_above_m=rules.aerial_above_m,
        takeoff_above_water_m=camera.takeoff_above_water_m,
        altitude_above=camera.altitude_above,
        elevation_m=rules.full_supply_elevation_m,
        elevation_above=rules.elevation_above,
        fixed_m=camera.height_above_water_m,
    )


def _direction_told(photo: Photo) -> list[Problem]:
    if photo.heading_deg_true is not None or photo.is_private:
        return []
    return [Problem(photo.source.file, "no_heading", say("place-fault-no-heading"))]


def _clocks(survey: Survey, rules: PlaceRules) -> list[Problem]:
    def setting_of(photo: PhotoFile) -> ClockSetting:
        camera = camera_rule(photo, rules.cameras)
        return ClockSetting(camera.clock_fast_s, camera.zone)

    return clock_report(
        survey.photos, setting_of=setting_of, survey_zone=rules.zone, tolerance_s=rules.clock_tolerance_s
    )


def _in_reading_order(photos: Sequence[Photo], reaches: Sequence[Reach]) -> tuple[Photo, ...]:
    order = {reach.id: number for number, reach in enumerate(reaches)}
    return tuple(sorted(photos, key=lambda p: (order[p.reach], p.nearest_chainage_m, p.source.file)))
