"""The only metadata that a published picture carries: what survey.toml chooses of caption, copyright and position."""

from __future__ import annotations

import io

from atlasgen.model import LonLat


def labelled(jpeg: bytes, caption: str, copyright_line: str, position: LonLat | None) -> bytes:
    """Write the words and the place into a JPEG, and nothing else; without any of them, no Exif at all.

    The position is written as Exif 2.3 has it: degrees, minutes, seconds to a hundredth, datum WGS-84.
    """
    import piexif

    words = {piexif.ImageIFD.ImageDescription: caption, piexif.ImageIFD.Copyright: copyright_line}
    main = {tag: text.replace("\x00", " ").encode() for tag, text in words.items() if text}
    blocks = {name: block for name, block in (("0th", main), ("GPS", _gps(position))) if block}
    if not blocks:
        return jpeg
    stream = io.BytesIO()
    piexif.insert(piexif.dump(blocks), jpeg, stream)
    return stream.getvalue()


def _gps(position: LonLat | None) -> dict[int, object]:
    import piexif

    if position is None:
        return {}
    lon, lat = position
    return {
        piexif.GPSIFD.GPSVersionID: (2, 3, 0, 0),
        piexif.GPSIFD.GPSLatitudeRef: b"N" if lat >= 0 else b"S",
        piexif.GPSIFD.GPSLatitude: _dms(lat),
        piexif.GPSIFD.GPSLongitudeRef: b"E" if lon >= 0 else b"W",
        piexif.GPSIFD.GPSLongitude: _dms(lon),
        piexif.GPSIFD.GPSMapDatum: b"WGS-84",
    }


def _dms(degrees: float) -> tuple[tuple[int, int], ...]:
    hundredths = round(abs(degrees) * 360_000)
    return (hundredths // 360_000, 1), (hundredths // 6_000 % 60, 1), (hundredths % 6_000, 100)
