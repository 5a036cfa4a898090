"""write/labelling: the only metadata of published pictures."""

from __future__ import annotations

import io

import exifread
import pytest
from PIL import Image

from atlasgen.model import LonLat
from atlasgen.write.labelling import labelled


def _jpeg() -> bytes:
    stream = io.BytesIO()
    Image.new("RGB", (8, 8)).save(stream, "JPEG")
    return stream.getvalue()


def _tags(jpeg: bytes) -> dict[str, str]:
    return {name: str(value) for name, value in exifread.process_file(io.BytesIO(jpeg)).items() if "Offset" not in name}


def test_nothing_chosen_is_nothing_written():
    """Without words and place the picture's bytes stay as they are."""
    assert labelled(_jpeg(), "", "", None) == _jpeg()


def test_an_independent_reader_finds_the_words_and_nothing_else():
    """ExifRead, another library than the one that writes, finds caption and copyright alone."""
    tags = _tags(labelled(_jpeg(), "A bank", "(c) crew", None))
    assert {n: v for n, v in tags.items() if n.startswith("Image")} == {
        "Image ImageDescription": "A bank", "Image Copyright": "(c) crew"
    }  # fmt: skip
    assert not [name for name in tags if name.startswith("GPS")]


@pytest.mark.parametrize(
    ("at", "refs", "lat", "lon"),
    [
        (LonLat(-96.4, -31.6), "SW", "[31, 36, 0]", "[96, 24, 0]"),
        (LonLat(10.5000014, 0.25), "NE", "[0, 15, 0]", "[10, 30, 1/100]"),
    ],
)
def test_a_position_is_written_to_a_hundredth_of_a_second(at, refs, lat, lon):
    """Exif 2.3 GPS tags: hand-worked degrees, minutes and seconds."""
    tags = _tags(labelled(_jpeg(), "", "", at))
    assert tags["GPS GPSLatitudeRef"] + tags["GPS GPSLongitudeRef"] == refs
    assert (tags["GPS GPSLatitude"], tags["GPS GPSLongitude"]) == (lat, lon)
    assert tags["GPS GPSMapDatum"] == "WGS-84"
