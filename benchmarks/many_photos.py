"""How long a large survey takes and how much memory: `python benchmarks/many_photos.py --photos 800`.

Builds a synthetic survey of 12-megapixel photos round an invented lake, builds its atlas in a process of its own,
and prints the time of each stage, the peak memory of the largest process, and the ratio of the photo stage to
libvips' own command-line thumbnailer (`vipsthumbnail`, Debian package libvips-tools) making both sizes of the same
files one after the other on the same number of cores. Ratios travel between machines; seconds do not.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import piexif
from PIL import Image, ImageFilter

LON, LAT = -96.4, -31.6
METRES_A_DEGREE = 111_320.0
BASES = 6
SETTINGS = """
[survey]
title = "Synthetic lake"
edition = "1"
[soundings]
depth_unit = "metres"
depth_positive = "down"
"""


def main() -> None:
    """Make the survey, build it, compare."""
    options = _options()
    with tempfile.TemporaryDirectory(dir=options.dir) as folder:
        survey = Path(folder) / "survey"
        make_survey(survey, options.photos)
        stages, peak_mb = build(survey, Path(folder) / "atlas", options.workers)
        for name, seconds in stages.items():
            print(f"{name:<32}{seconds:8.1f} s")
        print(f"{'all':<32}{sum(stages.values()):8.1f} s")
        print(f"largest process {peak_mb:.0f} MB at its peak")
        compare(survey, stages["preparing photos"], options)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--photos", type=int, default=800)
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 2)
    parser.add_argument("--dir", help="folder for the temporary survey (about 4 MB a photo)")
    return parser.parse_args()


def make_survey(survey: Path, photos: int) -> None:
    """Write a round lake of 5 km of shore, its photos, soundings and settings."""
    (survey / "photos").mkdir(parents=True)
    shore = [_at(800 * math.cos(a), 800 * math.sin(a)) for a in np.linspace(0, 2 * math.pi, 721)]
    geometry = {"type": "Polygon", "coordinates": [shore]}
    collection = {
        "type": "FeatureCollection",
        "features": [{"type": "Feature", "properties": {}, "geometry": geometry}],
    }
    (survey / "shoreline.geojson").write_text(json.dumps(collection))
    (survey / "survey.toml").write_text(SETTINGS)
    _write_soundings(survey / "soundings.csv")
    bases = [_scene(seed) for seed in range(BASES)]
    for index in range(photos):
        _write_photo(survey / "photos" / f"{index:05d}.jpg", bases[index % BASES], index, photos)


def _at(x_m: float, y_m: float) -> tuple[float, float]:
    return LON + x_m / (METRES_A_DEGREE * math.cos(math.radians(LAT))), LAT + y_m / METRES_A_DEGREE


def _write_soundings(path: Path) -> None:
    rng = np.random.default_rng(1)
    x, y = rng.uniform(-560, 560, (2, 20_000))
    depth_m = 20 * (1 - (x**2 + y**2) / 800**2) + rng.normal(0, 0.1, len(x))
    rows = (f"{lon:.7f},{lat:.7f},{d:.2f}" for (lon, lat), d in zip(map(_at, x, y), depth_m, strict=True))
    path.write_text("lon,lat,depth_m\n" + "\n".join(rows) + "\n")


def _scene(seed: int) -> Image.Image:
    """Return 4000 x 3000 pixels with the detail of a photograph: sky, a textured bank, ripples."""
    rng = np.random.default_rng(seed)
    coarse = Image.fromarray(rng.integers(60, 190, (94, 125, 3), dtype=np.uint8)).resize((4000, 3000), Image.BICUBIC)
    grain = Image.fromarray(rng.integers(0, 256, (3000, 4000), dtype=np.uint8)).filter(ImageFilter.GaussianBlur(1.2))
    return Image.blend(coarse, Image.merge("RGB", [grain] * 3), 0.35)


def _write_photo(path: Path, base: Image.Image, index: int, photos: int) -> None:
    angle = 2 * math.pi * index / photos
    lon, lat = _at(740 * math.cos(angle), 740 * math.sin(angle))
    gps = {
        piexif.GPSIFD.GPSLongitudeRef: b"W", piexif.GPSIFD.GPSLongitude: _dms(-lon),
        piexif.GPSIFD.GPSLatitudeRef: b"S", piexif.GPSIFD.GPSLatitude: _dms(-lat),
        piexif.GPSIFD.GPSImgDirectionRef: b"T",
        piexif.GPSIFD.GPSImgDirection: (round((90 - math.degrees(angle)) % 360 * 100), 100),
    }  # fmt: skip
    stamp = f"2026:03:{1 + index // 400 % 28:02d} {8 + index // 60 % 10:02d}:{index % 60:02d}:00".encode()
    exif = {"Exif": {piexif.ExifIFD.DateTimeOriginal: stamp, piexif.ExifIFD.FocalLengthIn35mmFilm: 24}, "GPS": gps}
    image = base.copy()
    image.paste((index % 256, index // 256, 90), (0, 0, 16, 16))  # no two files alike
    image.save(path, quality=88, exif=piexif.dump(exif))


def _dms(degrees: float) -> tuple[tuple[int, int], ...]:
    minutes = degrees % 1 * 60
    return (int(degrees), 1), (int(minutes), 1), (round(minutes % 1 * 60 * 10_000), 10_000)


def build(survey: Path, out: Path, workers: int) -> tuple[dict[str, float], float]:
    """Build in a process of its own; return seconds by stage and the peak of the largest process in MB."""
    command = [sys.executable, __file__, "--stages", str(survey), str(out), str(workers)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    return json.loads(done.stdout), resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


def print_stages(survey: Path, out: Path, workers: int) -> None:
    """Build and print the seconds of each stage as JSON."""
    from atlasgen.pipeline import build as run

    marks: list[tuple[str, float]] = []

    def progress(step: str, done: int, total: int) -> None:
        if not marks or marks[-1][0] != step:
            marks.append((step, time.perf_counter()))

    run(survey, out, workers=workers, progress=progress)
    ends = [mark for _, mark in marks[1:]] + [time.perf_counter()]
    stages: dict[str, float] = {}
    for (step, begin), end in zip(marks, ends, strict=True):
        stages[step] = stages.get(step, 0.0) + end - begin
    print(json.dumps(stages))


def compare(survey: Path, photo_stage_s: float, options: argparse.Namespace) -> None:
    """Print the ratio of the photo stage to the yardstick's time for the same files and sizes."""
    tool = shutil.which("vipsthumbnail")
    if tool is None:
        print("vipsthumbnail is not installed (Debian: libvips-tools); no ratio.")
        return
    files = sorted((survey / "photos").glob("*.jpg"))

    def both(path: Path) -> None:
        for size in ("1600x1600", "480x480"):
            target = f"{survey.parent}/t_%s_{size}.jpg[Q=82,strip]"
            environment = os.environ | {"VIPS_CONCURRENCY": "1"}
            subprocess.run([tool, str(path), "--size", size, "-o", target], check=True, env=environment)

    begin = time.perf_counter()
    with ThreadPoolExecutor(options.workers) as threads:
        list(threads.map(both, files))
    seconds = time.perf_counter() - begin
    print(f"vipsthumbnail, both sizes       {seconds:8.1f} s")
    print(f"photo stage / vipsthumbnail     {photo_stage_s / seconds:8.2f}")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--stages"]:
        print_stages(Path(sys.argv[2]), Path(sys.argv[3]), int(sys.argv[4]))
    else:
        main()
