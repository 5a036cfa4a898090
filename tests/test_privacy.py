"""Nothing of a person in what is published: a survey full of names, numbers and homes, built and searched through."""

from __future__ import annotations

import io
import json
import re
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

NAMES = ["Ottoline Quill", "SN-77120934", "LX-5550001", "hush-host", "brassica"]
# Two stations on the water of the pond, the second in front of a home.
OPEN, HOME = LonLat(-96.4, -31.6008), LonLat(-96.4012, -31.6003)


def personal_photo(at: LonLat, colour: int) -> bytes:
    thumb = jpeg(image=picture(160, 120))
    exif = piexif.load(
        b"Exif\0\0"
        + exif_block(
            {"Make": "Tarnwing", "Model": "TW-2", "Artist": NAMES[0], "HostComputer": NAMES[3]},
            {
                "DateTimeOriginal": f"2026:04:20 10:{colour:02d}:00", "BodySerialNumber": NAMES[1],
                "LensSerialNumber": NAMES[2], "CameraOwnerName": NAMES[0], "MakerNote": NAMES[4].encode() * 40,
                "UserComment": b"ASCII\0\0\0" + b"the old jetty", "FocalLengthIn35mmFilm": 24,
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
    put(folder / "photos", "open.jpg", personal_photo(OPEN, 1))
    put(folder / "photos", "home.jpg", personal_photo(HOME, 2))
    home = [[-96.4017, -31.6006], [-96.4007, -31.6006], [-96.4007, -31.6], [-96.4017, -31.6], [-96.4017, -31.6006]]
    area = {"type": "Feature", "properties": {"treat": "hide"}, "geometry": {"type": "Polygon", "coordinates": [home]}}
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


def test_an_independent_reader_finds_no_personal_field(published):
    """ExifRead on every published picture and on every JPEG within the book: caption and copyright at most."""
    jpegs = [data for _, data in every_byte(published[0]) if data.startswith(b"\xff\xd8")]
    assert len(jpegs) > 4
    for data in jpegs:
        tags = exifread.process_file(io.BytesIO(data), details=True)
        assert {key for key in tags if not key.startswith("Image Exif")} <= {
            "Image ImageDescription",
            "Image Copyright",
        }
        assert b"http://ns.adobe.com" not in data


def test_the_home_is_nowhere_the_open_station_is(published):
    """The true place is in no file to a tenth of its distance; the photo is on a page and says why it has no place."""
    out, atlas = published
    document = json.loads((out / "atlas.json").read_text())
    by_file = {photo["file"]: photo for photo in document["photos"]}
    shown, hidden = by_file["photos/open.jpg"], by_file["photos/home.jpg"]
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
    assert [name for name in NAMES if name in words] == []


def test_a_blurred_rectangle_goes_through_the_whole_job(survey, published, tmp_path):
    """From corrections.csv to the published picture; a bad rectangle is told with its line."""
    (survey / "corrections.csv").write_text("file,blur\nopen.jpg,100 50 200 120; 400 300 50 50\nhome.jpg,1 2 3\n")
    try:
        atlas = build(survey, tmp_path / "blurred", workers=1)
    finally:
        (survey / "corrections.csv").unlink()
    photo = next(photo.id for photo in atlas.placed.photos if photo.source.file.endswith("open.jpg"))
    pixels = np.asarray(Image.open(tmp_path / "blurred" / "photos" / f"{photo}.jpg"), dtype=float)
    assert pixels[60:160, 110:290].std(axis=(0, 1)).max() < 3
    told = "\n".join(problem.message for problem in atlas.problems)
    assert "line 3, blur: '1 2 3'. Expected left top width height in pixels" in told
