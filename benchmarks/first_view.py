"""How soon a large atlas can be used, and how it moves: `python benchmarks/first_view.py --photos 800`.

Draws the valley of `many_views.py`, writes small photos with its stations and soundings all over it, works the atlas
out and writes its offline pages (no book). Then opens them from the file in Chromium with the processor throttled four
times, as a phone, and prints what the browser's own performance interface says: when the map and the first words
stand, when the reader's finger is answered, the frames a second while the map is dragged, and what a filter costs.
Seconds do not travel, so the same run opens a bare page with the same map library and nothing on it: the ratio does.

Bars: first view under 1 s with 800 photos and under 2 s with 10,000; 50 frames a second.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import shutil
import tempfile
import time
from pathlib import Path

import numpy as np
import piexif
import shapely
from many_views import PROJECTION, lake, scene
from PIL import Image
from playwright.sync_api import sync_playwright

from atlasgen.config import read_settings
from atlasgen.pipeline import compute, silent
from atlasgen.workers import pool
from atlasgen.write.web import write_web

THROTTLE = 4
PHONE = {"width": 360, "height": 740}
RUNS = 5
_SETTINGS = """
[survey]
title = "Synthetic valley"
edition = "1"
[soundings]
depth_unit = "metres"
depth_positive = "down"
"""
_BARE = """<!doctype html><meta name="viewport" content="width=device-width"><link rel="stylesheet" href="leaflet.css">
<style>html,body,#map{height:100%;margin:0}</style><div id="map"></div><script src="leaflet.js"></script>
<script>var map = L.map("map", {zoomControl: false}).setView([-31.5, -96.4], 13);
performance.mark("atlas-ready");
requestAnimationFrame(() => setTimeout(() => performance.mark("atlas-shown"), 0));</script>"""
# Counts frames while a finger drags the map for two seconds; the slowest twentieth tells how it stutters.
_FRAMES = """() => { const times = window.__times = []; let last = performance.now();
  function frame(now) { times.push(now - last); last = now; requestAnimationFrame(frame); }
  requestAnimationFrame(frame); }"""


def main() -> None:
    """Make the atlas, open it, print the table."""
    options = _options()
    with tempfile.TemporaryDirectory(dir=options.dir) as top:
        folder = Path(options.atlas) if options.atlas else make_atlas(Path(top), options.photos, options.shore_km)
        sizes = {name: (folder / name).stat().st_size / 1e6 for name in ("index.html", "assets/data.js")}
        print(", ".join(f"{name} {size:.1f} MB" for name, size in sizes.items()))
        bare = Path(top) / "bare.html"
        bare.write_text(_BARE)
        for name in ("leaflet.js", "leaflet.css"):
            shutil.copy(folder / "assets" / "leaflet" / name, bare.parent / name)
        plain, own = measure(bare), measure(folder / "index.html")
    print(f"{'':28}{'bare map':>12}{'atlas':>12}{'ratio':>8}")
    for name, value in own.items():
        ratio = f"{value / plain[name]:8.2f}" if plain.get(name) else ""
        print(f"{name:28}{plain.get(name, float('nan')):12.0f}{value:12.0f}{ratio}")


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--photos", type=int, default=800)
    parser.add_argument("--shore-km", type=float, default=None, help="50 m a photo unless told")
    parser.add_argument("--dir", help="folder for the temporary survey and atlas")
    parser.add_argument("--atlas", help="an edition that is there already, to be opened only")
    return parser.parse_args()


def make_atlas(top: Path, photos: int, shore_km: float | None) -> Path:
    """Write the survey, work it out and write its offline pages; return their folder."""
    survey, out = top / "survey", top / "atlas"
    make_survey(survey, photos, shore_km or photos * 0.05)
    out.mkdir()
    with pool(os.cpu_count() or 1) as executor:
        atlas, _ = compute(survey, read_settings(survey), out, executor, silent)
    write_web(atlas, out, silent)
    return out


def make_survey(survey: Path, photos: int, shore_km: float) -> None:
    """Write shoreline, soundings and photos; the photos are small, since only their places matter here."""
    (survey / "photos").mkdir(parents=True)
    water = lake(1, shore_km * 1000)
    shape = shapely.geometry.mapping(PROJECTION.to_lonlat(water))
    (survey / "shoreline.geojson").write_text(json.dumps({"type": "Feature", "properties": {}, "geometry": shape}))
    (survey / "survey.toml").write_text(_SETTINGS)
    draw = np.random.default_rng(3)
    west, south, east, north = water.bounds
    xy = draw.uniform((west, south), (east, north), (int(1500 * shore_km), 2))
    shapely.prepare(water)
    xy = xy[shapely.contains_xy(water, *xy.T)]
    depth_m = 0.5 + 0.06 * shapely.distance(water.boundary, shapely.points(xy))
    rows = zip(*PROJECTION.lonlats(*xy.T), depth_m, strict=True)
    (survey / "soundings.csv").write_text(
        "lon,lat,depth_m\n" + "".join(f"{lon:.7f},{lat:.7f},{depth:.2f}\n" for lon, lat, depth in rows)
    )
    picture = Image.fromarray(draw.integers(0, 255, (12, 16, 3), dtype=np.uint8)).resize((640, 480))
    for number, photo in enumerate(scene(water, photos, 1).photos):
        picture.save(survey / "photos" / f"{number:05d}.jpg", quality=60, exif=_exif(photo, number))


def _exif(photo, number: int) -> bytes:
    tag = piexif.GPSIFD
    gps = {
        tag.GPSLongitudeRef: b"W", tag.GPSLongitude: _dms(-photo.lonlat.lon_deg), tag.GPSLatitudeRef: b"S",
        tag.GPSLatitude: _dms(-photo.lonlat.lat_deg), tag.GPSImgDirectionRef: b"T",
        tag.GPSImgDirection: (round(photo.heading_deg_true.value * 100) % 36_000, 100),
    }  # fmt: skip
    stamp = f"2026:03:{1 + number // 600 % 28:02d} {8 + number // 60 % 10:02d}:{number % 60:02d}:00".encode()
    lens = {piexif.ExifIFD.DateTimeOriginal: stamp, piexif.ExifIFD.FocalLengthIn35mmFilm: 24}
    return piexif.dump({"Exif": lens | {piexif.ExifIFD.ImageUniqueID: f"{number:032x}".encode()}, "GPS": gps})


def _dms(degrees: float) -> tuple[tuple[int, int], ...]:
    minutes = degrees % 1 * 60
    return (int(degrees), 1), (int(minutes), 1), (round(minutes % 1 * 60 * 10_000), 10_000)


def measure(index: Path) -> dict[str, float]:
    """Return the medians of several visits, milliseconds and frames a second."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("CHROMIUM") or shutil.which("chromium"), args=["--no-sandbox"]
        )
        visits = [_visit(browser, index) for _ in range(RUNS)]
        browser.close()
    return {key: float(np.median([visit[key] for visit in visits])) for key in visits[0]}


def _visit(browser, index: Path) -> dict[str, float]:
    context = browser.new_context(viewport=PHONE, device_scale_factor=2, is_mobile=True, has_touch=True)
    page = context.new_page()
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": THROTTLE})
    page.goto(index.as_uri())
    # Asked from outside: the atlas forbids its pages to evaluate text.
    while not page.evaluate("performance.getEntriesByName('atlas-ready').length"):
        page.wait_for_timeout(100)
    told = page.evaluate(
        "() => new Promise(done => requestAnimationFrame(() => setTimeout(() => done({"
        "'first paint, ms': (performance.getEntriesByName('first-contentful-paint')[0] || {}).startTime || NaN,"
        "'ready, ms': performance.getEntriesByName('atlas-ready')[0].startTime,"
        "'first frame of the map, ms': (performance.getEntriesByName('atlas-shown')[0] || {}).startTime || NaN}), 0)))"
    )
    page.wait_for_timeout(1500)
    told["frames a second"], told["slow frame, ms"] = _dragged(page)
    context.close()
    return told


def _dragged(page) -> tuple[float, float]:
    """Drag the map with one finger, to and fro; return frames a second and the slow frame in milliseconds."""
    finger = page.context.new_cdp_session(page)

    def touch(kind: str, step: int) -> None:
        at = {"x": 180 + 60 * math.sin(step / 12), "y": 130 + 25 * math.sin(step / 7)}
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [at] if kind != "touchEnd" else []})

    page.evaluate(_FRAMES)
    touch("touchStart", 0)
    end, step = time.monotonic() + 2, 0
    while time.monotonic() < end:
        step += 1
        touch("touchMove", step)
    times = np.array(page.evaluate("window.__times")[1:])
    touch("touchEnd", step)
    return 1000 * len(times) / times.sum(), float(np.quantile(times, 0.95))


if __name__ == "__main__":
    main()
