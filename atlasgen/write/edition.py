"""An edition on disk: staged beside its place, renamed when whole, listed in a manifest."""

from __future__ import annotations

import glob
import hashlib
import json
import re
import shutil
from collections.abc import Iterator, Mapping
from concurrent.futures import Executor
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from atlasgen import __version__
from atlasgen.errors import OutputRefused
from atlasgen.model import Atlas, Progress
from atlasgen.model.memory import ANEW, Former, Memory
from atlasgen.workers import aside
from atlasgen.write.exchange import exchange
from atlasgen.write.jsonrows import json_rows
from atlasgen.write.taking_over import file_sha256, taken_over

try:
    import fcntl
except ImportError:  # not a POSIX system: two builds of one output are then not kept apart
    fcntl = None  # type: ignore[assignment]

MANIFEST = "manifest.json"
FORMAT = "atlasgen edition 1"
_BLANK = b"0" * 64
_OWN = re.compile(rb'("self_sha256": ")[0-9a-f]{64}')


@contextmanager
def staged(out: Path, survey_dir: Path) -> Iterator[Path]:
    """Give an empty folder beside `out`; rename it to `out` when the block ends well, else leave `out` as it was.

    Raises
    ------
    OutputRefused
        `out` is not ours to replace, lies inside the survey (or the other way round), or is being built already.
    """
    out, survey_dir = out.resolve(), survey_dir.resolve()
    _refuse_foreign(out, survey_dir)
    out.parent.mkdir(parents=True, exist_ok=True)
    with _locked(out):
        _restore_previous(out)
        staging = out.with_name(f".{out.name}.building")
        # And whatever else a build that was killed has left.
        for left in out.parent.glob(f"{glob.escape(staging.name)}*"):
            shutil.rmtree(left, ignore_errors=True)
        staging.mkdir()
        try:
            yield staging
            _swap(staging, out)
        finally:
            shutil.rmtree(staging, ignore_errors=True)


def _refuse_foreign(out: Path, survey_dir: Path) -> None:
    """Refuse any folder whose loss somebody would mourn."""
    if out == survey_dir or survey_dir in out.parents or out in survey_dir.parents:
        why = "the output and the survey folder lie inside each other"
        raise OutputRefused(str(out), why, "Choose a folder outside the survey for --out.")
    if out.is_dir() and any(out.iterdir()) and not is_edition(out):
        why = "exists, is not empty and is not an atlas"
        raise OutputRefused(str(out), why, "Choose another folder for --out, or empty this one yourself.")
    if out.exists() and not out.is_dir():
        raise OutputRefused(str(out), "is a file", "Choose a folder for --out.")


@contextmanager
def _locked(out: Path) -> Iterator[None]:
    """Keep two builds from one output; the lock falls with the process, however that ends."""
    lock_path = out.with_name(f".{out.name}.lock")
    with lock_path.open("w") as lock:
        if fcntl:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError:
                why = "another atlasgen is building it"
                raise OutputRefused(str(out), why, "Wait until it ends, then build again.") from None
        try:
            yield
        finally:
            lock_path.unlink(missing_ok=True)


def _previous(out: Path) -> Path:
    return out.with_name(f".{out.name}.previous")


def _restore_previous(out: Path) -> None:
    """Bring the former edition back if a build was cut off between the two renames."""
    previous = _previous(out)
    if previous.exists() and not out.exists():
        previous.rename(out)
    shutil.rmtree(previous, ignore_errors=True)


def _swap(staging: Path, out: Path) -> None:
    """Put the new folder in the place of the old one: in one step where the system can, else in two renames."""
    previous = _previous(out)
    if out.exists() and exchange(staging, out):
        staging.rename(previous)
    elif out.exists():
        out.rename(previous)
        staging.rename(out)
    else:
        staging.rename(out)
    shutil.rmtree(previous, ignore_errors=True)


def is_edition(folder: Path) -> bool:
    """Tell whether a folder holds an edition that atlasgen wrote."""
    try:
        return json.loads((folder / MANIFEST).read_bytes()).get("format") == FORMAT
    except (OSError, ValueError, AttributeError):
        return False


def keep_unchanged(folder: Path, former: Former) -> None:
    """Let every file that the `former` edition holds with the same bytes be that file: it is then not written anew."""
    try:
        listed = json.loads((former.folder / MANIFEST).read_bytes())["files"]
        before = {row["file"]: row["sha256"] for row in listed}
    except (OSError, ValueError, KeyError, TypeError):
        return
    for row in json.loads((folder / MANIFEST).read_bytes())["files"]:
        name, sha256 = row["file"], row["sha256"]
        source, target = former.folder / name, folder / name
        if before.get(name) == sha256 and source.is_file() and not source.samefile(target):
            taken_over(former, name, folder, sha256)


def write_edition(
    atlas: Atlas,
    inputs: Mapping[str, str],
    folder: Path,
    executor: Executor,
    progress: Progress,
    memory: Memory = ANEW,
) -> None:
    """Write book, tables, web atlas (it links to both) and manifest into `folder`, where the pictures are already.

    `executor` binds the photos into the book and writes the GeoPackage meanwhile.
    """
    from atlasgen.compose.published import as_published
    from atlasgen.write import book, soundings_table, tables, web

    atlas, inputs = as_published(atlas, inputs)
    package = folder / "atlas.gpkg"
    with TemporaryDirectory(dir=folder.parent, prefix=f"{folder.name}.") as work:
        progress("writing the book", 0, 0)
        books = book.begin_book(atlas, folder, folder, executor, work=Path(work), progress=progress, memory=memory)
        progress("writing tables", 0, 0)
        packed = aside(executor, tables.write_geopackage, tables.geopackage_layers(atlas), package)
        tables.write_atlas_json(atlas, folder / "atlas.json")
        tables.write_reaches_csv(atlas, folder / "audit" / "reaches.csv")
        soundings_table.write_soundings_left_out(
            atlas.known.soundings_left_out, folder / "audit" / "soundings_left_out.csv"
        )
        progress("writing the offline atlas", 0, 0)
        web.write_web(atlas, folder, progress, memory, beside=(package.name, *(file.name for file in books)))
        packed()
        hashes = {file.name: written() for file, written in books.items()}
    write_manifest(folder, inputs, _picture_hashes(atlas) | hashes)


def _picture_hashes(atlas: Atlas) -> dict[str, str]:
    """Return the SHA-256 of the published pictures by file, as the workers took them of what they wrote."""
    pictures = [picture for picture in atlas.pictures.values() if picture.sha256]
    large = {f"photos/{picture.photo}.jpg": picture.sha256 for picture in pictures}
    return large | {f"thumbs/{picture.photo}.jpg": picture.thumb_sha256 for picture in pictures}


def write_manifest(folder: Path, inputs: Mapping[str, str], hashes: Mapping[str, str] | None = None) -> None:
    """List every file below `folder` with size and SHA-256, and the inputs' hashes and the tool's version.

    `hashes` are those that are known, by file: of what was to be written, whatever the disk has made of it.
    """
    known = hashes or {}
    files = [
        {
            "file": name,
            "bytes": (folder / name).stat().st_size,
            "sha256": known.get(name) or file_sha256(folder / name),
        }
        for name in _listing(folder)
    ]
    manifest = {
        "format": FORMAT,
        "self_sha256": _BLANK.decode(),
        "made_with": f"atlasgen {__version__}",
        "files": files,
        "inputs": dict(sorted(inputs.items())),
    }
    text = json_rows(manifest).encode()
    (folder / MANIFEST).write_bytes(text.replace(_BLANK, manifest_hash(text).encode(), 1))


def manifest_hash(text: bytes) -> str:
    """Return the SHA-256 of a manifest's bytes, its own entry for it blanked: the first 64 hex digits in it."""
    return hashlib.sha256(_OWN.sub(rb"\g<1>" + _BLANK, text, count=1)).hexdigest()


def _listing(folder: Path) -> list[str]:
    names = (path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    return sorted(name for name in names if name != MANIFEST)
