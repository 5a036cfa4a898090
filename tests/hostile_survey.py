"""Makes a survey of which every word from outside is an attack: on the browser, the book, a spreadsheet, the reader.

Whatever runs sets `window.__ran`; whatever a template or the typesetter evaluates becomes EVALUATED. Each word begins
with a mark of its field, so that a test can tell where it went.
"""

from __future__ import annotations

import csv
import json
import math
import os
import time
from collections.abc import Iterable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import piexif
from photo_factory import exif_block, jpeg, picture, put, xmp
from pond import _dms as dms
from pond import make_pond
from raster_files import raster_file

from atlasgen.model import LonLat

# 777 times 1000003: too long to stand in a rounded coordinate by chance.
EVALUATED = "777002331"
USER, HOST, HOME = "ottoline-quill", "hush-host-7", "home-of-quill"
RUN = "window.__ran=1"
LONG_WORD = "w" * 20_000
FORMULA = "=HYPERLINK(1)"
# One after the other, so that what closes the first context opens the next.
MARKUP = (
    f"\"'><script>{RUN}</script><img src=x onerror={RUN}><svg/onload={RUN}>",
    f"</script></style></title></textarea><!--]]>--><iframe srcdoc='<script>parent.{RUN}</script>'>",
    '`*_#import "/etc/passwd": *;#(777*1000003) $777*1000003$ @label ] #{777*1000003} #panic()',
    f"{{{{777*1000003}}}}{{% include '/etc/passwd' %}}{{# x #}}${{{RUN}}}",
    f"javascript:{RUN}//\u2028\u2029\\u003cscript\\u003e\\';{RUN}//",
    f"}}*{{background:url(javascript:{RUN})}}@import 'http://evil.example/x.css';",
    "\u202egnp.exe\u202c\u2066\u0000\u0007\u001b[31m\ufeff \U0001f6a4\U0001f3f4 \ufdd0",
    f'<a href="http://evil.example/" ping="http://evil.example/" onmouseover={RUN} style=x:expression({RUN})>',
)
COCKTAIL = "".join(MARKUP[number] for number in (0, 2, 3, 6))
SHORT = f"\"'><script>{RUN}</script>{{{{777*1000003}}}}#(777*1000003)"


def words(mark: str, longest: int = 480) -> str:
    """Return all of the attack that a field of `longest` characters holds, behind its mark."""
    kind = sum(map(ord, mark)) % len(MARKUP)
    return f"{mark} {COCKTAIL}{MARKUP[kind]}"[:longest]


def file_words(mark: str) -> str:
    """Return a name that a file system takes: no slash, no NUL, at most 255 bytes."""
    return words(mark, 130).replace("/", "\u2215").replace("\0", "")


SETTINGS = {
    "survey": {
        "title": f"Ti1 {SHORT}", "edition": "1", "season": words("Se2"), "crew": words("Cr3"),
        "copyright": words("Co4"), "time_zone": "UTC-06:00",
    },
    "files": {"soundings": ["=snd*"], "tracks": ["*.gpx"]},
    "level": {"datum": words("Da5", 200), "elevation_m": 214.0, "elevation_above": "sea level"},
    "shore": {"start": [-96.4, -31.5989], "start_name": words("St6")},
    "tiles": {"scheme": "sheets", "sheet_name": "name"},
    "photos": {"metadata": ["caption", "copyright", "position"]},
    "plan": {"launch_name": words("La7"), "launch": [-96.4, -31.5998]},
    "chart": {"edition": "1", "date": "2026-05-30", "datum": words("Da5", 200)},
    "camera": [{"match": "Tarnwing", "takeoff_above_water_m": 4.0}],
    "layer": [
        {"file": "low.tif", "kind": "air photo", "title": f"Ly8 {SHORT}", "date": "2025-11-03", "stage_m": -2.0},
        {"file": "none.tif", "kind": "historic chart", "title": f"Ly9 {SHORT}"},
    ],
}  # fmt: skip
# Where each field's mark must be found, letter by letter, in atlas.json.
PRINTED = (
    "Ti1",
    "Se2",
    "Cr3",
    "Da5",
    "St6",
    "Ly8",
    "Pl1",
    "Ns2",
    "Sh4",
    "Wy5",
    "Pa6",
    "Ca7",
    "EIm",
    "description",
    "Lo8",
)


def built_once(tmp_path_factory) -> Path:
    """Return a folder with `survey`, `atlas` and `card` in it, made by whichever test process comes first.

    `card` is the atlas with a chart beside it, a read-me and the pocket edition.
    """
    base = tmp_path_factory.getbasetemp()
    top = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "hostile-quillwort"
    try:
        top.mkdir()
    except FileExistsError:
        for _ in range(6000):
            if (top / "done").exists():
                return top
            time.sleep(0.1)
        raise AssertionError("the process that builds the hostile survey never ended") from None
    _build(top)
    (top / "done").touch()
    return top


def _build(top: Path) -> None:
    from atlasgen.pipeline import build, silent
    from atlasgen.ship.bundle import bundle
    from atlasgen.ship.pocket import write_pocket

    put(top / "chart", "start.bin", b"chart")
    make_hostile(top / "survey")
    # The machine's own names may be as short as `root`, which is a word; these are in no file by chance.
    before = dict(os.environ)
    os.environ.update(dict.fromkeys(("USER", "LOGNAME", "USERNAME"), USER) | {"HOSTNAME": HOST})
    os.environ["HOME"] = str(put(top / HOME, ".keep", b"").parent)
    try:
        build(top / "survey", top / "atlas", workers=1)
    finally:
        os.environ.clear()
        os.environ.update(before)
    bundle(top / "atlas", top / "chart", top / "card", progress=silent)
    write_pocket(top / "atlas", top / "card" / "pocket.html", 25_000_000, silent, workers=1)


def make_hostile(folder: Path) -> Path:
    """Make the survey; return its folder."""
    make_pond(folder)
    for path in (folder / "photos").iterdir():
        path.unlink()
    (folder / "survey.toml").write_text(_toml(SETTINGS), encoding="utf-8")
    _areas(folder)
    _tables(folder)
    _photos(folder)
    gpx = f'<?xml version="1.0"?><gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1"><trk><name>{_xml("Gx1")}'
    points = "".join(f'<trkpt lat="-31.600{n}" lon="-96.4"><time>2026-04-20T16:0{n}:00Z</time></trkpt>' for n in (1, 2))
    put(folder, f"{file_words('Gp2')}.gpx", f"{gpx}</name><trkseg>{points}</trkseg></trk></gpx>".encode())
    raster_file(folder / "low.tif", [[1, 2], [3, 4]], crs="EPSG:4326", transform=_north_up(-96.405, -31.598, 0.005))
    return folder


def _north_up(west: float, north: float, cell_deg: float) -> Any:
    from rasterio import Affine

    return Affine(cell_deg, 0, west, 0, -cell_deg, north)


def _toml(table: dict[str, Any]) -> str:
    """Write settings; a JSON string is a TOML one, but for the dates, which stand bare."""
    lines = []
    for section, values in table.items():
        blocks = values if isinstance(values, list) else [values]
        for block in blocks:
            lines.append(f"[[{section}]]" if isinstance(values, list) else f"[{section}]")
            written = {k: v if k == "date" else json.dumps(v, ensure_ascii=False) for k, v in block.items()}
            lines += [f"{key} = {value}" for key, value in written.items()]
    return "\n".join(lines) + "\n"


def _areas(folder: Path) -> None:
    """Write every kind of polygons, each property an attack; one sheet is called like a formula."""
    south, north, middle, quarter = -31.602, -31.598, -96.4, -96.4025
    west, east = (-96.405, south, middle, north), (middle, south, -96.395, north)
    kinds = {
        "places": [("name", words("Pl1", 200), west), ("name", FORMULA, east)],
        "not_surveyed": [("reason", words("Ns2"), (quarter, -31.6002, middle, -31.5996))],
        "no_photo": [("reason", words("Np3"), (-96.405, south, quarter, north))],
        "sheets": [("name", words("Sh4", 200), west), ("name", f"{FORMULA}2", east)],
        "private": [("treat", words("Pr8"), (-96.4014, -31.6004, -96.4008, -31.6))],
    }  # fmt: skip
    for kind, areas in kinds.items():
        features = [
            {
                "type": "Feature",
                "properties": {key: text, words("Pk"): words("Pv"), "kind": words("Ki")},
                "geometry": {"type": "Polygon", "coordinates": [_box(*bounds)]},
            }
            for key, text, bounds in areas
        ]
        text = json.dumps({"type": "FeatureCollection", "name": words("Fc"), "features": features})
        (folder / f"{kind}.geojson").write_text(text, encoding="utf-8")


def _box(west: float, south: float, east: float, north: float) -> list[list[float]]:
    return [[west, south], [east, south], [east, north], [west, north], [west, south]]


def _tables(folder: Path) -> None:
    """Write soundings over the pond and some on land, passes with gaps, a level, and the crew's word on photos."""
    places = [(-96.4036 + 0.0004 * i, -31.6007 + 0.0002 * j) for i in range(19) for j in range(8)]
    rows = [
        (lon, lat, 1 + 3 * math.exp(-(((lat + 31.6) * 2000) ** 2)), f"2026-04-20 10:{n // 60:02d}:{n % 60:02d}")
        for n, (lon, lat) in enumerate(places)
    ]
    head = ("lon", "lat", "depth_m", "time")
    _csv(folder / f"{file_words('=snd')}.csv", [head, *rows, (-96.39, -31.59, 2.0, "2026-04-20 11:00:00")])
    passes = [
        (words("Pa6"), f"2026-04-20 09:00:{n:02d}", -96.4030 + 0.0001 * n, -31.6001, 2.0, 30, 3, words("In"))
        for n in range(60)
    ]
    _csv(folder / "passes.csv", [("pass", "time", "lon", "lat", "speed_mps", "range_m", "height_m", "sonar"), *passes])
    outage = (words("Pa6"), "port", "2026-04-20 09:00:10", "2026-04-20 09:00:30", words("Wy5"))
    _csv(folder / "outages.csv", [("pass", "channel", "from", "to", "why"), outage])
    _csv(folder / "stage.csv", [("date", "stage_m"), ("2026-04-01", -0.4), ("2026-06-01", -0.6)])
    marks = [
        (-96.4 + 0.001 * n, -31.6001, words("La9"), kind, words("Lw9"))
        for n, kind in enumerate(("hazard", words("Lk9")))
    ]
    _csv(folder / "landmarks.csv", [("lon", "lat", "name", "kind", "words"), *marks])
    word = [("one.jpg", words("Ca7"), ""), ("two.jpg", LONG_WORD, ""), ("out.jpg", "", words("Lo8"))]
    _csv(folder / "corrections.csv", [("file", "caption", "leave_out"), *word, (words("No9"), words("Ca"), "")])


def _csv(path: Path, rows: Iterable[Iterable[Any]]) -> None:
    with path.open("w", newline="", encoding="utf-8") as file:
        # A NUL in a table is told as damage of the whole table; that is tried elsewhere.
        csv.writer(file).writerows([str(cell).replace("\0", "") for cell in row] for row in rows)


def _xml(mark: str) -> str:
    """Return the attack as XML text; what XML cannot hold at all is taken out."""
    text = "".join(letter for letter in words(mark) if letter.isprintable() or letter in "\u2028\u202e")
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def _photos(folder: Path) -> None:
    """Write photos whose every word attacks, in a folder and under names that do too; one lies in a private area."""
    stations = [
        ("one.jpg", LonLat(-96.4, -31.6008)),
        ("two.jpg", LonLat(-96.3975, -31.6005)),
        ("home.jpg", LonLat(-96.4011, -31.6002)),
        ("out.jpg", LonLat(-96.402, -31.6003)),
        (f"{file_words('Fo9')}/{file_words('Fi0')}.jpg", LonLat(-96.3985, -31.5996)),
    ]
    for number, (name, at) in enumerate(stations):
        # The last one says nothing in Exif, so that its XMP is heard.
        put(folder / "photos", name, hostile_photo(number, at, speaks=number < 4))
    put(folder / "photos", f"{file_words('Tx1')}.jpg", words("Tx").encode())
    put(folder / "photos", f"{FORMULA}.jpg", hostile_photo(9, stations[0][1])[:900])


def hostile_photo(number: int, at: LonLat, *, speaks: bool = True) -> bytes:
    """Make a drone's photo; the surrogates are half a character, which UTF-16 lets in."""
    title = words("Xp").encode("utf-16-le", "surrogatepass") + b"\x00\xd8\x00\x00"
    names = ("ImageDescription", "Artist", "Copyright", "Software", "HostComputer")
    exif = exif_block(
        {name: words(f"E{name[:2]}").encode() for name in names if speaks}
        | {"Make": "Tarnwing", "Model": words("Mo").encode(), **({"XPTitle": title} if speaks else {})},
        {
            "DateTimeOriginal": f"2026:04:20 10:{number:02d}:00", "FocalLengthIn35mmFilm": 24,
            "UserComment": b"UNICODE\0" + title if speaks else b"", "LensModel": words("Le").encode(),
        },
        _gps(at),
    )  # fmt: skip
    packet = xmp(
        f'drone:RelativeAltitude="+36.00" drone:GimbalRollDegree="+0.00" drone:GimbalYawDegree="{number * 40}.00" '
        f'drone:GimbalPitchDegree="-30.00" photoshop:Headline="{_xml("He")}"',
        "".join(
            f"<dc:{name}><rdf:Alt><rdf:li>{_xml(name)}</rdf:li></rdf:Alt></dc:{name}>"
            for name in ("title", "description", "creator", "rights")
        ),
    )
    return jpeg(exif, packet, picture(400 + number, 300))


def _gps(at: LonLat) -> dict[int, Any]:
    (lat, _), (lon, _) = dms(at.lat_deg), dms(at.lon_deg)
    gps = SimpleNamespace(**{name: getattr(piexif.GPSIFD, name) for name in ("GPSLatitude", "GPSLongitude")})
    return {
        gps.GPSLatitude: lat,
        piexif.GPSIFD.GPSLatitudeRef: "S",
        gps.GPSLongitude: lon,
        piexif.GPSIFD.GPSLongitudeRef: "W",
        piexif.GPSIFD.GPSProcessingMethod: b"ASCII\0\0\0" + words("Gm").encode(),
    }
