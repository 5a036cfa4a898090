"""The committed demo survey is whole, readable and agrees with its answer sheet; nothing is rendered here."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import math
import re
from dataclasses import replace
from datetime import UTC, datetime
from functools import reduce
from operator import xor
from pathlib import Path

import gpxpy
import numpy as np
import piexif
import pytest
import shapely
from geographiclib.geodesic import Geodesic
from PIL import Image, ImageOps, UnidentifiedImageError
from pillow_heif import open_heif
from pyproj import Transformer
from shapely.geometry import shape

from atlasgen.config import read_settings
from atlasgen.model import PROBLEM_CODES

CHECKOUT = Path(__file__).resolve().parents[1]
SURVEY = CHECKOUT / "demo_photos"
TRUTH = json.loads((CHECKOUT / "tests" / "data" / "demo_truth.json").read_text(encoding="utf-8"))
PHOTOS = {photo["file"]: photo for photo in TRUTH["photos"]}
OTHERS = {other["file"]: other for other in TRUTH["other_files"]}
JPEGS = sorted(file for file in PHOTOS if file.lower().endswith(".jpg"))


def photos_with(words: str) -> list[dict]:
    return [photo for photo in TRUTH["photos"] if any(words in trouble for trouble in photo["troubles"])]


def exif_of(file: str) -> dict:
    if file.endswith(".heic"):
        return piexif.load(open_heif(SURVEY / file).info["exif"])
    if file.endswith(".png"):
        with Image.open(SURVEY / file) as image:
            return piexif.load(image.info["exif"])
    return piexif.load(str(SURVEY / file))


def degrees(values: tuple, ref: bytes) -> float:
    whole = sum(n / d / 60**i for i, (n, d) in enumerate(values))
    return -whole if ref in (b"S", b"W") else whole


def position_of(exif: dict) -> tuple[float, float] | None:
    gps = exif["GPS"]
    if piexif.GPSIFD.GPSLatitude not in gps:
        return None
    lon = degrees(gps[piexif.GPSIFD.GPSLongitude], gps[piexif.GPSIFD.GPSLongitudeRef])
    return lon, degrees(gps[piexif.GPSIFD.GPSLatitude], gps[piexif.GPSIFD.GPSLatitudeRef])


def away_m(lon1: float, lat1: float, lon2: float, lat2: float) -> float:
    return Geodesic.WGS84.Inverse(lat1, lon1, lat2, lon2)["s12"]


def turn_deg(a: float, b: float) -> float:
    return abs((a - b + 180) % 360 - 180)


def shoreline() -> shapely.Polygon:
    return shape(json.loads((SURVEY / "shoreline.geojson").read_text(encoding="utf-8"))["features"][0]["geometry"])


def metric_rings() -> list[np.ndarray]:
    to_metric = Transformer.from_crs("EPSG:4326", TRUTH["frame"], always_xy=True)
    water = shoreline()
    return [np.column_stack(to_metric.transform(*np.array(r.coords).T)) for r in (water.exterior, *water.interiors)]


def table(name: str) -> list[dict]:
    return list(csv.DictReader(io.StringIO((SURVEY / name).read_text(encoding="utf-8"))))


def test_every_file_has_an_answer_and_every_answer_a_file():
    """The folder and the answer sheet name the same photos, neither more nor fewer."""
    found = {p.relative_to(SURVEY).as_posix() for p in (SURVEY / "photos").rglob("*") if p.is_file()}
    assert set(PHOTOS) | set(OTHERS) == found


def test_the_survey_stays_small_enough_to_commit():
    """The whole survey folder is under 14 MB, the soundings table under 900 kB."""
    assert sum(p.stat().st_size for p in SURVEY.rglob("*") if "__pycache__" not in p.parts and p.is_file()) < 14e6
    assert (SURVEY / "soundings_basin.csv").stat().st_size <= 900e3


def test_no_answer_lies_in_the_survey():
    """The answer sheet is not in the folder a reader is given."""
    assert not list(SURVEY.rglob("*truth*.json"))


def test_settings_are_valid_and_start_at_the_ramp():
    """survey.toml is accepted, and its start is the first vertex of the shoreline."""
    settings = read_settings(SURVEY)
    assert math.isclose(0, away_m(*settings.shore.start, *shoreline().exterior.coords[0]), abs_tol=1.0)
    assert settings.soundings.draught_m == TRUTH["draught_m"]
    fast = {camera.match: camera.clock_fast_s for camera in settings.camera}
    assert fast["Grelvane DC-70"] == TRUTH["clock_fast_s"]["compact"]


def test_shoreline_is_one_valid_lake_with_two_islands_of_the_stated_lengths():
    """RFC 7946, 3.1.6: exterior counter-clockwise, holes clockwise; lengths as the answer sheet says."""
    water = shoreline()
    assert water.is_valid
    assert water.exterior.is_ccw
    assert not any(hole.is_ccw for hole in water.interiors)
    assert len(water.interiors) == 2
    lengths = [float(np.hypot(*np.diff(ring, axis=0).T).sum()) for ring in metric_rings()]
    assert [ring["length_m"] for ring in TRUTH["rings"]] == pytest.approx(lengths, abs=0.1)
    assert 15_000 < lengths[0] < 20_000


def test_the_lake_lies_far_out_at_sea():
    """Nobody can take it for a real lake: 27 to 35 degrees south, 92 to 100 west is open South Pacific (an atlas)."""
    west, south, east, north = shoreline().bounds
    assert -100 < west < east < -92
    assert -35 < south < north < -27


@pytest.mark.parametrize("file", JPEGS)
def test_photo_opens_upright_with_the_stated_size_and_field_of_view(file):
    """Turned upright by its orientation tag, each photo has the true frame, and the lens the true field of view."""
    photo = PHOTOS[file]
    with Image.open(SURVEY / file) as image:
        upright = ImageOps.exif_transpose(image)
    ratio = photo["width_px"] / photo["height_px"]
    assert ratio == pytest.approx(upright.width / upright.height, rel=0.01)
    focal_35mm = exif_of(file)["Exif"][piexif.ExifIFD.FocalLengthIn35mmFilm]
    # The frame's diagonal is that of 36 x 24 mm (43.27 mm): the convention the demo states.
    across = math.hypot(36, 24) * photo["width_px"] / math.hypot(photo["width_px"], photo["height_px"])
    assert photo["hfov_deg"] == pytest.approx(2 * math.degrees(math.atan(across / 2 / focal_35mm)), abs=0.01)


def test_recorded_positions_differ_from_true_ones_by_the_stated_noise():
    """In the sigma of each device: root mean square per axis is near one, and nothing lies beyond five."""
    sigma, errors = TRUTH["sigma"]["position_m_each_axis"], []
    for photo in TRUTH["photos"]:
        told = position_of(exif_of(photo["file"]))
        if photo["position_from"] == "exif":
            errors.append(away_m(*told, photo["lon"], photo["lat"]) / sigma[photo["device"]])
    assert math.sqrt(2) == pytest.approx(math.sqrt(np.mean(np.square(errors))), rel=0.25)
    assert max(errors) < 5
    assert len(errors) > 40


def test_recorded_headings_differ_from_true_ones_by_the_stated_noise():
    """Gimbal yaw, true and magnetic directions all come back to the true heading within five sigma."""
    for photo in TRUTH["photos"]:
        told = recorded_heading_deg(photo)
        if told is not None:
            sigma = TRUTH["sigma"]["heading_deg"][photo["device"]]
            assert turn_deg(told, photo["heading_deg_true"]) < 5 * sigma, photo["file"]


def recorded_heading_deg(photo: dict) -> float | None:
    if photo["heading_recorded"] == "gimbal":
        found = re.search(rb'GimbalYawDegree="([-+.\d]+)"', (SURVEY / photo["file"]).read_bytes())
        return float(found.group(1))
    gps = exif_of(photo["file"])["GPS"]
    if piexif.GPSIFD.GPSImgDirection not in gps:
        assert photo["heading_recorded"] is None
        return None
    n, d = gps[piexif.GPSIFD.GPSImgDirection]
    magnetic = gps[piexif.GPSIFD.GPSImgDirectionRef] == b"M"
    assert photo["heading_recorded"] == ("magnetic" if magnetic else "true")
    return n / d + (photo["declination_deg"] if magnetic else 0)


def test_clocks_are_wrong_by_what_the_answer_sheet_says():
    """Boat: EXIF time 7 min ahead of the GPS time. Compact: 3750 s ahead of true time, local zone UTC-06:00."""
    for photo in TRUTH["photos"]:
        if photo["device"] not in TRUTH["clock_fast_s"]:
            continue
        exif = exif_of(photo["file"])
        clock = datetime.strptime(exif["Exif"][piexif.ExifIFD.DateTimeOriginal].decode(), "%Y:%m:%d %H:%M:%S")
        true = datetime.fromisoformat(photo["taken_utc"])
        fast_s = clock.replace(tzinfo=UTC).timestamp() + 6 * 3600 - true.timestamp()
        assert TRUTH["clock_fast_s"][photo["device"]] == fast_s


def test_every_trouble_is_there():
    """The survey holds each trouble at least once."""
    wanted = (
        "track was running", "no track was running", "0, 0", "magnetic", "no heading", "420 s fast", "3750 s fast",
        "orientation 3", "orientation 6", "orientation 8", "HEIC", "PNG", "markup", "tens of kilometres",
        "only in XMP", "wrong by over 400 m", "left out in corrections.csv",
    )  # fmt: skip
    assert [words for words in wanted if not photos_with(words)] == []
    assert {"duplicate", "damaged", "not_an_image"} == {other["expected"] for other in OTHERS.values()}


def test_expected_outcomes_are_words_of_the_model():
    """Each outcome is a page or one of the codes for photos left out; each page has a source of its position."""
    for answer in (*PHOTOS.values(), *OTHERS.values()):
        assert answer["expected"] == "page" or answer["expected"] in PROBLEM_CODES
    assert {"exif", "xmp", "track", "corrections"} == {p["position_from"] for p in PHOTOS.values()} - {None}
    assert all((p["expected"] == "page") == (p["position_from"] is not None) for p in PHOTOS.values())


def test_odd_files_are_what_they_are_said_to_be():
    """The duplicate has the same bytes; the cut one does not decode; the false one is no image."""
    by_code = {other["expected"]: other for other in OTHERS.values()}
    copy = by_code["duplicate"]
    digests = {hashlib.sha256((SURVEY / copy[key]).read_bytes()).hexdigest() for key in ("file", "same_as")}
    assert len(digests) == 1
    with Image.open(SURVEY / by_code["damaged"]["file"]) as image, pytest.raises(OSError, match="truncated"):
        image.load()
    with pytest.raises(UnidentifiedImageError):
        Image.open(SURVEY / by_code["not_an_image"]["file"])


def test_a_receiver_says_how_good_it_is():
    """GPSHPositioningError is at least the standard error in the plane, and at most half a metre more."""
    for photo in TRUTH["photos"]:
        gps = exif_of(photo["file"])["GPS"]
        if piexif.GPSIFD.GPSHPositioningError in gps:
            tenths, ten = gps[piexif.GPSIFD.GPSHPositioningError]
            plane_m = math.sqrt(2) * TRUTH["sigma"]["position_m_each_axis"][photo["device"]]
            assert plane_m <= tenths / ten < plane_m + 0.5, photo["file"]


def test_the_elevations_are_those_of_a_crew():
    """Metres above sea level in cells of 3 m on UTM 14 south, small; at the shoreline the datum; holes in the water."""
    import rasterio

    with rasterio.open(SURVEY / "elevation.tif") as raster:
        assert raster.crs.to_epsg() == 32714
        assert (raster.res, raster.units, raster.scales) == ((3.0, 3.0), ("metre",), (0.1,))
        to_raster = Transformer.from_crs("EPSG:4326", raster.crs, always_xy=True)
        shore = np.column_stack(to_raster.transform(*np.array(shoreline().exterior.coords).T))
        found = np.ma.concatenate(list(raster.sample(shore, masked=True))).compressed() * 0.1
        middle = next(raster.sample([to_raster.transform(-96.4, -31.602)], masked=True))
    assert float(np.median(found)) == pytest.approx(214.0, abs=0.5)
    assert middle.mask.all()
    assert (SURVEY / "elevation.tif").stat().st_size < 1e6


def test_a_retagged_photo_is_the_photo_rendered_with_those_tags(tmp_path, monkeypatch):
    """Saved with one caption and retagged with another, a picture is byte for byte what saving it so gives."""
    monkeypatch.syspath_prepend(CHECKOUT)
    from demo_photos.make import troubles
    from demo_photos.make.cameras import DRONE, Shot

    when = datetime(2026, 3, 10, 15, tzinfo=UTC)
    shot = Shot("photos/drone/made.JPG", DRONE, when, 120.0, -340.0, 60.0, 45.0, -20.0)
    picture = np.random.default_rng(1).integers(0, 255, (48, 64, 3), np.uint8)
    folders = [tmp_path / name for name in ("before", "rendered", "retagged")]
    troubles.save(replace(shot, caption="another", pitch_deg=-3.0), picture, folders[0])
    troubles.save(shot, picture, folders[1])
    troubles.retag(shot, folders[0], folders[2])
    before, rendered, retagged = ((folder / shot.file).read_bytes() for folder in folders)
    assert rendered == retagged
    assert before != rendered


def test_names_hold_spaces_and_letters_beyond_ascii():
    """Readers must cope with both."""
    assert [name for name in PHOTOS if " " in name]
    assert [name for name in PHOTOS if not name.isascii()]


def test_visible_stretches_lie_on_their_rings_and_in_the_frame():
    """Each stretch is within its ring, and its middle lies within the photo's field of view by plain bearings."""
    rings = metric_rings()
    to_metric = Transformer.from_crs("EPSG:4326", TRUTH["frame"], always_xy=True)
    for photo in TRUTH["photos"]:
        x, y = to_metric.transform(photo["lon"], photo["lat"])
        for stretch in photo["visible"]:
            line = shapely.LineString(rings[stretch["ring"]])
            assert 0 <= stretch["from_m"] < stretch["to_m"] <= line.length + 2
            point = line.interpolate((stretch["from_m"] + stretch["to_m"]) / 2)
            away = math.hypot(point.x - x, point.y - y)
            assert away < stretch["farthest_m"] + 0.6 * (stretch["to_m"] - stretch["from_m"])
            if photo["pitch_deg"] > -45 and stretch["to_m"] - stretch["from_m"] < 8:
                bearing = math.degrees(math.atan2(point.x - x, point.y - y))
                # A level frame's corner is seen wider than half the horizontal field when the camera looks down.
                limit = photo["hfov_deg"] / 2 + 12 + math.degrees(4 / max(away, 4))
                assert turn_deg(bearing, photo["heading_deg_true"]) < limit, photo["file"]


def test_photos_leave_honest_gaps_and_overlaps():
    """Between a third and nine tenths of the shoreline shows, nearer than 600 m, in at least one photo."""
    length = TRUTH["rings"][0]["length_m"]
    seen = np.zeros(int(length // 2) + 2, bool)
    for photo in TRUTH["photos"]:
        for stretch in photo["visible"]:
            if stretch["ring"] == 0 and stretch["farthest_m"] < 600:
                seen[int(stretch["from_m"] // 2) : int(stretch["to_m"] // 2)] = True
    assert 0.33 < seen.mean() < 0.9


def test_track_holds_the_photos_without_position():
    """GPX: the track at the true time is at the true place (10 s between points, boat at about 2 m/s)."""
    gpx = gpxpy.parse((SURVEY / "tracks" / "boat_day1.gpx").read_text(encoding="utf-8"))
    points = [point for point, *_ in gpx.walk()]
    taken = [photo for photo in TRUTH["photos"] if photo["position_from"] == "track"]
    for photo in taken:
        when = datetime.fromisoformat(photo["taken_utc"])
        nearest = min(points, key=lambda p: abs((p.time - when).total_seconds()))
        assert abs((nearest.time - when).total_seconds()) <= 6
        assert away_m(nearest.longitude, nearest.latitude, photo["lon"], photo["lat"]) < 25
    assert len(taken) == 4


def test_soundings_are_plausible_and_hold_faults():
    """Enough rows, all on the water, mostly between 0 and 30 m, with a few zeros."""
    rows = table("soundings_basin.csv")
    depth = np.array([float(row["depth_m"]) for row in rows])
    places = np.array([(float(row["lon"]), float(row["lat"])) for row in rows])
    assert 15_000 <= len(rows) <= 25_000
    assert shapely.contains_xy(shoreline(), *places.T).all()
    assert 3 <= int((depth == 0).sum()) <= 20
    assert (np.abs(depth) < 60).all()


def test_soundings_find_the_humps():
    """The shallowest sounding within 25 m of each crest in sounded water, brought to datum, is near its least depth."""
    rows = [row for row in table("soundings_basin.csv") if float(row["depth_m"]) > 0.3]
    lon, lat, depth = (np.array([float(row[key]) for row in rows]) for key in ("lon", "lat", "depth_m"))
    stage = TRUTH["stages"]["2026-03-10"]
    for hump in TRUTH["bed"]["humps"]:
        east = (lon - hump["lon"]) * 111_320 * math.cos(math.radians(hump["lat"]))
        near = np.hypot(east, (lat - hump["lat"]) * 110_900) < 25
        if hump["name"] == "west arm hump":  # logged in the NMEA file
            assert not near.any()
            continue
        below_datum = np.median(np.sort(depth[near])[:5]) + TRUTH["draught_m"] - stage
        assert hump["least_depth_m"] == pytest.approx(below_datum, abs=1.2), hump["name"]
        assert hump["rise_m"] > 0.8


def test_nmea_log_has_right_checksums():
    """NMEA 0183: the two hex digits are the exclusive or of the bytes between $ and *."""
    lines = (SURVEY / "soundings_cask_arm.nmea").read_text(encoding="ascii").split()
    for line in lines:
        body, told = line[1:].split("*")
        assert f"{reduce(xor, body.encode()):02X}" == told
    assert {"GPRMC", "GPGGA", "SDDPT"} == {line[1:6] for line in lines}


def test_passes_hold_a_fast_run_and_a_lost_channel():
    """One pass is run well above the others' speed; one loses its starboard channel while it runs."""
    rows, (outage,) = table("passes.csv"), table("outages.csv")
    speeds = {name: np.mean([float(r["speed_mps"]) for r in rows if r["pass"] == name]) for name in
              {row["pass"] for row in rows}}  # fmt: skip
    assert sum(speed > 4 for speed in speeds.values()) == 1
    times = [row["time"] for row in rows if row["pass"] == outage["pass"]]
    assert outage["channel"] == "starboard"
    assert min(times) < outage["from"] < outage["to"] < max(times)


def test_corner_left_out_has_neither_soundings_nor_passes_nor_reason():
    """The head of Pennywort Inlet is missing from every log and from not_surveyed.geojson."""
    gone = shapely.box(-96.3938, -31.6100, -96.3890, -31.6086)
    areas = json.loads((SURVEY / "not_surveyed.geojson").read_text(encoding="utf-8"))["features"]
    assert not any(shape(area["geometry"]).intersects(gone) for area in areas)
    for name in ("soundings_basin.csv", "passes.csv"):
        places = np.array([(float(row["lon"]), float(row["lat"])) for row in table(name)])
        assert not shapely.contains_xy(gone, *places.T).any()
    assert shoreline().intersects(gone)


def test_places_are_named_and_lie_on_the_lake():
    """Arms, bays and islands each touch the lake."""
    features = json.loads((SURVEY / "places.geojson").read_text(encoding="utf-8"))["features"]
    assert {"arm", "island", "dam", "bay", "delta"} == {feature["properties"]["kind"] for feature in features}
    assert all(shape(feature["geometry"]).intersects(shoreline()) for feature in features)


def test_corrections_name_photos_of_the_survey():
    """Each correction belongs to a file that is there."""
    assert {row["file"] for row in table("corrections.csv")} <= set(PHOTOS)
