"""Feed the readers of outside files with damaged samples; anything but an answer or a message of ours is a defect.

By hand, longer than in the tests, each crash kept as a file:

    python tests/fuzzing.py --cases 20000 --seed 7 --keep crashes [--reader gpx]
"""

from __future__ import annotations

import argparse
import random
import signal
import sys
import tempfile
import traceback
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from photo_factory import exif_block, gps_tags, heic, jpeg, png, xmp

from atlasgen.config import read_settings
from atlasgen.errors import AtlasgenError
from atlasgen.model import Problem
from atlasgen.read.corrections import read_corrections
from atlasgen.read.passes import read_passes
from atlasgen.read.photos import read_photo
from atlasgen.read.soundings import read_soundings
from atlasgen.read.stage import read_stage
from atlasgen.read.tracks import read_tracks
from atlasgen.read.vectors import read_areas, read_water

CHECKOUT = Path(__file__).resolve().parent.parent
DEMO = CHECKOUT / "demo_photos"
# A sample is some kilobytes; a reader that takes longer than this is caught in a loop.
PATIENCE_S = 10
_SOUNDING_RULES: dict[str, Any] = {
    "columns": {"lon": None, "lat": None, "depth": None, "time": None},
    "crs": "EPSG:4326",
    "depth_unit": None,
    "depth_positive": None,
    "zone": "UTC",
    "no_data": (-9999.0,),
}
# What has broken readers of text before: numbers at the edge, emptiness, the other kind of line, quotes left open.
_TOKENS = [
    b"", b"0", b"-0", b"-1", b"1e308", b"1e999", b"nan", b"inf", b"-9999", b"9" * 400, b"0x10", b"1_0", b"1,5", b"''",
    b'"', b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"\r", b"\n\n", b"\t", b";", b"{", b"]", b"<", b"&lt;", b"<!--", b"/>",
    b"\xc3\x28", "\u202e".encode(), "\u0661".encode(), b"2026-02-30", b"24:00:00", b"9999999999", b"-180.0000001",
    b"1969-12-31T23:59:59Z", b"0000-00-00", b"null", b"true", b"[[[[", b"*00", b"$", b"\x00\x00\x00\x00",
    b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff", b"\x80\x00\x00\x00", b"\x00\x01", b"\xff\xe1\x00\x02", b"Exif\x00\x00",
]  # fmt: skip


class Reader(NamedTuple):
    """One reader: the name its file gets, how it is called, and sound samples of its files."""

    file: str
    read: Callable[[Path], object]
    samples: list[bytes]


class Crash(NamedTuple):
    """One case that ended in something else than an answer or a message of ours."""

    reader: str
    case: int
    data: bytes
    trace: str


def readers() -> dict[str, Reader]:
    """Return every reader of files from outside, by name."""
    return {
        "photo": Reader("a.jpg", _read_photo, _photos()),
        "gpx": Reader("a.gpx", lambda path: read_tracks([(path, "a.gpx")]), [_demo("tracks/boat_day1.gpx")]),
        "nmea": Reader("a.nmea", _read_soundings, [_demo("soundings_cask_arm.nmea")]),
        "nmea track": Reader(
            "t.nmea", lambda path: read_tracks([(path, "t.nmea")]), [_demo("soundings_cask_arm.nmea")]
        ),
        "soundings": Reader("a.csv", _read_soundings, [_demo("soundings_basin.csv")]),
        "stage": Reader("s.csv", lambda path: read_stage(path, "s.csv", "UTC", 212.4), [_demo("stage.csv")]),
        "passes": Reader("p.csv", lambda path: read_passes([(path, "p.csv")], None, "UTC"), [_demo("passes.csv")]),
        "outages": Reader("o.csv", _read_outages, [_demo("outages.csv")]),
        "corrections": Reader("c.csv", lambda path: read_corrections(path, "c.csv", "UTC"), [_demo("corrections.csv")]),
        "settings": Reader("survey.toml", lambda path: read_settings(path.parent), _settings()),
        "shoreline": Reader("w.geojson", lambda path: read_water(path, "w.geojson"), [_water()]),
        "areas": Reader(
            "n.geojson", lambda path: read_areas(path, "n.geojson", ("reason",)), [_demo("not_surveyed.geojson")]
        ),
    }


def _read_photo(path: Path) -> object:
    """Read a photo; its reader hands every defect of its own out as a problem, which must not pass for an answer."""
    result = read_photo(path, path.name, 50.0)
    if isinstance(result, Problem) and "the file cannot be read (" in result.message:
        raise AssertionError(result.message)
    return result


def _read_soundings(path: Path) -> object:
    return read_soundings([(path, path.name)], **_SOUNDING_RULES)


def _read_outages(path: Path) -> object:
    return read_passes([(DEMO / "passes.csv", "passes.csv")], (path, path.name), "UTC")


def _demo(name: str) -> bytes:
    """Return the first lines of a file of the demo, enough for every branch of its reader; GPX is closed again."""
    data = (DEMO / name).read_bytes()
    if not name.endswith(".gpx"):
        return data if name.endswith("json") else b"".join(data.splitlines(keepends=True)[:40])
    return data[: data.index(b"<trkpt", 3000)] + b"</trkseg></trk></gpx>"


def _water() -> bytes:
    return (
        b'{"type":"Feature","properties":{"name":"a"},"geometry":{"type":"Polygon","coordinates":[[[-96.41,-31.61],'
        b"[-96.4,-31.61],[-96.4,-31.6],[-96.41,-31.6],[-96.41,-31.61]],[[-96.406,-31.606],[-96.404,-31.606],"
        b"[-96.404,-31.604],[-96.406,-31.606]]]}}"
    )


def _photos() -> list[bytes]:
    exif = exif_block({"Make": "Tarnwing", "Model": "TW-2", "Orientation": 6}, {"FocalLength": (48, 10)}, gps_tags())
    packet = xmp('drone:RelativeAltitude="+36.00" drone:GimbalYawDegree="12.5" drone:GimbalPitchDegree="-30"')
    return [jpeg(exif, packet), png(exif, packet), heic(exif, packet)]


def _settings() -> list[bytes]:
    starter = (CHECKOUT / "templates" / "new" / "survey.toml").read_text(encoding="utf-8")
    opened = "\n".join(line[2:] if line.startswith("# ") and " = " in line else line for line in starter.splitlines())
    return [(DEMO / "survey.toml").read_bytes(), starter.encode(), opened.encode()]


def damaged(sample: bytes, draw: random.Random) -> bytes:
    """Return the sample with one to eight damages of bytes, tokens, pieces or lines."""
    data = bytearray(sample)
    for _ in range(draw.choice((1, 1, 2, 3, 8))):
        at = draw.randrange(len(data) + 1)
        to = min(len(data), at + draw.choice((1, 2, 4, 16, 200)))
        act = draw.randrange(7)
        if act == 0 and at < len(data):
            data[at] ^= 1 << draw.randrange(8)
        elif act == 1 and at < len(data):
            data[at] = draw.randrange(256)
        elif act == 2:
            data[at : draw.choice((at, to))] = draw.choice(_TOKENS)
        elif act == 3:
            del data[at:to]
        elif act == 4:
            data[at:at] = data[at:to] * draw.choice((1, 1, 2, 300))
        elif act == 5:
            del data[at:]
        else:
            _swap_lines(data, draw)
    return bytes(data)


def _swap_lines(data: bytearray, draw: random.Random) -> None:
    lines = bytes(data).splitlines(keepends=True)
    if len(lines) > 1:
        one, other = draw.randrange(len(lines)), draw.randrange(len(lines))
        lines[one], lines[other] = lines[other], lines[one]
        data[:] = b"".join(lines)


@contextmanager
def _patience() -> Iterator[None]:
    def give_up(number: int, frame: object) -> None:
        raise TimeoutError(f"no answer within {PATIENCE_S} s")

    before = signal.signal(signal.SIGALRM, give_up)
    signal.alarm(PATIENCE_S)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def fuzz(name: str, cases: int, seed: int, folder: Path) -> list[Crash]:
    """Run `cases` damaged samples through one reader; the same seed makes the same cases."""
    reader, crashes = readers()[name], []
    path = folder / reader.file
    for case in range(cases):
        draw = random.Random(f"{seed} {name} {case}")
        data = damaged(draw.choice(reader.samples), draw)
        path.write_bytes(data)
        try:
            with _patience(), warnings.catch_warnings():
                warnings.simplefilter("error")
                reader.read(path)
        except AtlasgenError:
            continue
        except Exception:
            crashes.append(Crash(name, case, data, traceback.format_exc()))
    return crashes


def main() -> int:
    """Fuzz from the command line; the exit code is 1 if anything crashed."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--cases", type=int, default=2000, help="for each reader")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--reader", choices=sorted(readers()))
    parser.add_argument("--keep", type=Path, help="folder for the files that crashed a reader")
    asked = parser.parse_args()
    found = 0
    with tempfile.TemporaryDirectory() as folder:
        for name in [asked.reader] if asked.reader else sorted(readers()):
            crashes = fuzz(name, asked.cases, asked.seed, Path(folder))
            found += len(crashes)
            sys.stdout.write(f"{name}: {asked.cases} cases, {len(crashes)} crashes\n")
            _told(crashes, asked.keep)
    return bool(found)


def _told(crashes: list[Crash], keep: Path | None) -> None:
    kinds = {crash.trace.strip().splitlines()[-1]: crash for crash in crashes}
    for crash in kinds.values():
        sys.stdout.write(crash.trace)
        if keep:
            keep.mkdir(parents=True, exist_ok=True)
            (keep / f"{crash.reader.replace(' ', '_')}_{crash.case}").write_bytes(crash.data)


if __name__ == "__main__":
    sys.exit(main())
