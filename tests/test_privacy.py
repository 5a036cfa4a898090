"""Nothing of a person in what is published: a survey full of names, numbers and homes, built and searched through."""

from __future__ import annotations

import hashlib
import io
import json
import re
import shutil
import subprocess
import zlib

import exifread
import numpy as np
import piexif
import pytest
from photo_factory import exif_block, gps_tags, jpeg, picture, put, xmp
from PIL import Image
from pond import make_pond

from atlasgen.model import LonLat
from atlasgen.pipeline import build, check
from atlasgen.report import check_report

# The first is a folder's name too.
NAMES = ["Ottoline Quill", "SN-77120934", "LX-5550001", "hush-host", "brassica"]
CREW, JETTY = "(c) the crew", "the old jetty"
# Two stations on the water of the pond, the second in front of a home.
OPEN, HOME = LonLat(-96.4, -31.6008), LonLat(-96.4012, -31.6003)


def personal_photo(at: LonLat, colour: int) -> bytes:
    thumb = jpeg(image=picture(160, 120))
    exif = piexif.load(
        b"Exif\0\0"
        + exif_block(
            {"Make": "Tarnwing", "Model": "TW-2", "Artist": NAMES[0], "HostComputer": NAMES[3], "Copyright": CREW},
            {
                "DateTimeOriginal": f"2026:04:20 10:{colour:02d}:00", "BodySerialNumber": NAMES[1],
                "LensSerialNumber": NAMES[2], "CameraOwnerName": NAMES[0], "MakerNote": NAMES[4].encode() * 40,
                "UserComment": b"ASCII\0\0\0" + JETTY.encode(), "FocalLengthIn35mmFilm": 24,
            },
            gps_tags(_dms(at.lat_deg), "S", _dms(at.lon_deg), "W"),
        )
    )  # fmt: skip
    exif["thumbnail"], exif["1st"] = thumb, {piexif.ImageIFD.Make: b"x"}
    packet = xmp(
        f'xmlns:aux="http://ns.adobe.com/exif/1.0/aux/" aux:SerialNumber="{NAMES[1]}" drone:GimbalYawDegree="0.00" '
        f'drone:RelativeAltitude="+36.00" drone:GimbalPitchDegree="-30.00"',
        f"<dc:creator xmlns:dc='http://purl.org/dc/elements/1.1/'>{NAMES[0]}</dc:creator>",
    )
    return jpeg(piexif.dump(exif)[6:], packet, picture(800 + colour, 600))


def _dms(degrees: float):
    whole = round(abs(degrees) * 36_000_000)
    return ((whole // 36_000_000, 1), (whole // 600_000 % 60, 1), (whole % 600_000, 10_000))


@pytest.fixture(scope="module")
def survey(tmp_path_factory):
    folder = make_pond(tmp_path_factory.mktemp("private") / "survey")
    for path in (folder / "photos").iterdir():
        path.unlink()
    put(folder / "photos" / NAMES[0], "open.jpg", personal_photo(OPEN, 1))
    put(folder / "photos" / NAMES[0], "home.jpg", personal_photo(HOME, 2))
    put(folder / "photos" / NAMES[0], "notes.txt", b"no photo")
    with (folder / "survey.toml").open("a") as settings:
        settings.write('\n[photos]\nmetadata = ["caption", "copyright", "position"]\nnames = "none"\n')
    (folder / "corrections.csv").write_text(f"file,caption\n{NAMES[0]}/gone.jpg,Nothing\n")
    home = [[-96.4017, -31.6006], [-96.4007, -31.6006], [-96.4007, -31.6], [-96.4017, -31.6], [-96.4017, -31.6006]]
    area = {"type": "Feature", "properties": {"treat": "hide"}, "geometry": {"type": "Polygon", "coordinates": [home]}}
    (folder / "landmarks.csv").write_text(
        f'lon,lat,name,kind,words\n-96.4012,-31.6003,"{NAMES[0]}","{NAMES[0]}","{NAMES[0]}"\n', encoding="utf-8"
    )
    (folder / "private.geojson").write_text(json.dumps(area))
    return folder


@pytest.fixture(scope="module")
def published(survey, tmp_path_factory):
    out = tmp_path_factory.mktemp("published") / "atlas"
    return out, build(survey, out, workers=1)


def every_byte(folder):
    """Give each file as it is, and the book also with its streams inflated."""
    for path in sorted(p for p in folder.rglob("*") if p.is_file()):
        data = path.read_bytes()
        yield path.name, data
        if path.suffix == ".pdf":
            for stream in re.findall(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
                try:
                    yield path.name, zlib.decompress(stream.rstrip(b"\r\n"))
                except zlib.error:
                    yield path.name, stream


def test_no_name_or_number_is_in_any_file(published):
    """Neither plain nor as UTF-16; of the book also what its streams hold."""
    words = [form for name in NAMES for form in (name.encode(), name.encode("utf-16-le"), name.encode("utf-16-be"))]
    assert [(name, word) for name, data in every_byte(published[0]) for word in words if word in data] == []


def photo_id(survey, name: str) -> str:
    """Return how a photo is called in what is published: by its bytes."""
    data = (survey / "photos" / NAMES[0] / name).read_bytes()
    return f"p-{hashlib.sha256(data).hexdigest()[:10]}"


WORDS = {"Image ImageDescription", "Image Copyright"}
_COORDINATES = ("Latitude", "LatitudeRef", "Longitude", "LongitudeRef")
PLACE = {f"GPS GPS{name}" for name in ("VersionID", "MapDatum", *_COORDINATES)}


def test_an_independent_reader_finds_the_chosen_fields_and_no_other(survey, published):
    """ExifRead on every published picture: caption and copyright, and the position of the photo that is not private."""
    for name, place in (("open.jpg", PLACE), ("home.jpg", set())):
        for size in ("photos", "thumbs"):
            data = (published[0] / size / f"{photo_id(survey, name)}.jpg").read_bytes()
            tags = exifread.process_file(io.BytesIO(data), details=True)
            assert {key for key in tags if not key.startswith("Image Exif") and key != "Image GPSInfo"} == WORDS | place
            assert (str(tags["Image ImageDescription"]), str(tags["Image Copyright"])) == (JETTY, CREW)
            assert b"http://ns.adobe.com" not in data
            if place:
                lat_deg, lon_deg = exifread.utils.get_gps_coords(tags)
                assert (lon_deg, lat_deg) == (
                    pytest.approx(OPEN.lon_deg, abs=1e-6),
                    pytest.approx(OPEN.lat_deg, abs=1e-6),
                )


def test_the_pictures_within_the_book_carry_no_position(published):
    """Each JPEG there: caption and copyright at most."""
    jpegs = [data for name, data in every_byte(published[0]) if name.endswith(".pdf") and data.startswith(b"\xff\xd8")]
    assert len(jpegs) >= 2
    for data in jpegs:
        tags = {
            key for key in exifread.process_file(io.BytesIO(data), details=True) if not key.startswith("Image Exif")
        }
        assert tags <= WORDS
        assert b"http://ns.adobe.com" not in data


def test_exiftool_finds_the_same(survey, published):
    """Where it is installed: no group but the file's own, the picture's and what was chosen."""
    if not shutil.which("exiftool"):
        pytest.skip("exiftool is not installed")
    for name, place in (("open.jpg", True), ("home.jpg", False)):
        path = published[0] / "photos" / f"{photo_id(survey, name)}.jpg"
        shown = subprocess.run(["exiftool", "-j", "-G0", "-a", "-u", path], capture_output=True, check=True).stdout
        (found,) = json.loads(shown)
        groups = {key.partition(":")[0] for key in found if ":" in key}
        assert groups <= {"ExifTool", "File", "EXIF", "JFIF", "Composite", "ICC_Profile"}
        told = {key for key in found if key.startswith("EXIF:GPS")}
        assert bool(told) == place
        assert [key for key in found if re.search("Serial|Owner|Artist|Maker|Host|Software|Thumbnail|Date", key)] == [
            key for key in found if key.startswith("File:File") and "Date" in key
        ]


def test_the_home_is_nowhere_the_open_station_is(survey, published):
    """The true place is in no file to a tenth of its distance; the photo is on a page and says why it has no place."""
    out, atlas = published
    document = json.loads((out / "atlas.json").read_text())
    by_id = {photo["id"]: photo for photo in document["photos"]}
    shown, hidden = (by_id[photo_id(survey, name)] for name in ("open.jpg", "home.jpg"))
    assert (shown["lon"], shown["lat"]) == (
        pytest.approx(OPEN.lon_deg, abs=1e-6),
        pytest.approx(OPEN.lat_deg, abs=1e-6),
    )
    assert abs(hidden["lon"] - HOME.lon_deg) + abs(hidden["lat"] - HOME.lat_deg) > 2e-4
    assert hidden["heading_deg_true"] is None
    assert hidden["reaches_seen"] is None
    figure = next(f for page in atlas.pages for f in page.figures if f.photo == hidden["id"])
    assert "From a place that the crew keeps private, direction not told, nearest to" in figure.caption
    true = [f"{HOME.lon_deg:.4f}"[:8].encode(), f"{HOME.lat_deg:.4f}"[:8].encode()]
    assert [name for name, data in every_byte(out) if all(word in data for word in true)] == []


def test_check_lists_the_kinds_and_never_what_they_hold(survey):
    """By kind, with counts."""
    words = check_report(check(survey, workers=1))
    assert "Personal metadata in the photos; none of it goes into the published pictures" in words
    for kind in ("serial number", "name of a person", "maker's own notes", "embedded preview", "position"):
        assert re.search(rf"  {kind} +in 2 photos", words), kind
    # The crew must find its own files: their folder is told to them, and to nobody else.
    assert [name for name in NAMES if name in words] == [NAMES[0]]
    assert f"photos/{NAMES[0]}/notes.txt" in words


def test_files_are_called_by_id_or_number_everywhere(survey, published):
    """In the data, in the manifest, in what is said of files left out and of the crew's own lines."""
    document = json.loads((published[0] / "atlas.json").read_text())
    assert {photo["file"] for photo in document["photos"]} == {f"photo {photo['id']}" for photo in document["photos"]}
    assert [item["file"] for item in document["left_out"]] == ["file left out 1"]
    assert any("corrections for a file: no such photo" in item["message"] for item in document["problems"])
    inputs = json.loads((published[0] / "manifest.json").read_text())["inputs"]
    assert {f"photo {photo_id(survey, name)}" for name in ("open.jpg", "home.jpg")} <= set(inputs)


def test_a_blurred_rectangle_goes_through_the_whole_job(survey, published, tmp_path):
    """From corrections.csv to the published picture; a bad rectangle is told with its line."""
    former = (survey / "corrections.csv").read_text()
    (survey / "corrections.csv").write_text("file,blur\nopen.jpg,100 50 200 120; 400 300 50 50\nhome.jpg,1 2 3\n")
    try:
        atlas = build(survey, tmp_path / "blurred", workers=1)
    finally:
        (survey / "corrections.csv").write_text(former)
    photo = next(photo.id for photo in atlas.placed.photos if photo.source.file.endswith("open.jpg"))
    pixels = np.asarray(Image.open(tmp_path / "blurred" / "photos" / f"{photo}.jpg"), dtype=float)
    assert pixels[60:160, 110:290].std(axis=(0, 1)).max() < 3
    told = "\n".join(problem.message for problem in atlas.problems)
    assert "line 3, blur: '1 2 3'. Expected left top width height in pixels" in told
