"""What a rebuild costs against a clean build: `python benchmarks/rebuild.py --photos 800`.

Makes the survey of `many_photos.py`, and builds it with the command a crew uses, each time in a process of its own:
clean (`--anew`), with an empty cache, with nothing changed, with one photo retouched (its pixels, not its Exif), and
with one photo that stands elsewhere. Prints seconds and their ratio to the clean build of the same run, and compares
the last edition with a clean one byte for byte. Ratios travel between machines; seconds do not.
"""

from __future__ import annotations

import argparse
import compileall
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import piexif
from many_photos import make_survey
from PIL import Image

import atlasgen

# Time stamps of a file system may be two seconds coarse: younger files are read again.
_SETTLED_S = 3.0


def main() -> None:
    """Build again and again, and compare."""
    options = _options()
    # As an installation does: else each run would compile the program first.
    compileall.compile_dir(Path(atlasgen.__file__).parent, quiet=1)
    with tempfile.TemporaryDirectory(dir=options.dir) as folder:
        top = Path(folder)
        survey, photo = top / "survey", top / "survey" / "photos" / f"{options.photos // 2:05d}.jpg"
        make_survey(survey, options.photos)
        clean_s = _told("clean build", _build(top, "clean", "--anew"), None)
        _told("with an empty cache", _build(top, "atlas"), clean_s)
        _told("nothing changed", _build(top, "atlas"), clean_s)
        _retouch(photo, moved=False)
        _told("one photo retouched", _build(top, "atlas"), clean_s)
        _retouch(photo, moved=True)
        _told("one photo elsewhere", _build(top, "atlas"), clean_s)
        _build(top, "clean", "--anew")
        same = _files(top / "atlas") == _files(top / "clean")
        print(f"the last edition {'equals' if same else 'DIFFERS FROM'} a clean build, file by file")
    sys.exit(0 if same else 1)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--photos", type=int, default=800)
    parser.add_argument("--dir", help="folder for the temporary survey and three editions (about 5 MB a photo)")
    return parser.parse_args()


def _build(top: Path, out: str, *more: str) -> float:
    """Build in a process of its own; return its seconds, start and imports included."""
    time.sleep(_SETTLED_S)
    command = [sys.executable, "-c", "from atlasgen.cli import main; main()", "build", str(top / "survey"), "-q"]
    environment = os.environ | {"ATLASGEN_CACHE": str(top / "cache")}
    begin = time.perf_counter()
    subprocess.run([*command, "--out", str(top / out), *more], check=True, env=environment, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begin


def _told(name: str, seconds: float, clean_s: float | None) -> float:
    ratio = "" if clean_s is None else f"{100 * seconds / clean_s:8.1f} % of the clean build"
    print(f"{name:<24}{seconds:8.2f} s{ratio}", flush=True)
    return seconds


def _retouch(path: Path, *, moved: bool) -> None:
    """Paint over a corner of a photo; `moved` lets it stand some 20 m farther north too."""
    with Image.open(path) as picture:
        exif = piexif.load(picture.info["exif"])
        picture.load()
    if moved:
        degrees, minutes, (seconds, of) = exif["GPS"][piexif.GPSIFD.GPSLatitude]
        exif["GPS"][piexif.GPSIFD.GPSLatitude] = (degrees, minutes, (max(0, seconds - round(0.65 * of)), of))
    picture.paste((30, 200, 30 + 100 * moved), (500, 500, 700, 700))
    picture.save(path, quality=88, exif=piexif.dump(exif))


def _files(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


if __name__ == "__main__":
    main()
