"""The build's memory on disk: results by the fingerprint of what they were made from and of the program itself.

One SQLite file for each survey, below the user's own cache folder (or ATLASGEN_CACHE), readable by that user alone.
It holds no pictures. Delete it whenever you like: the next build is then a clean one, and gives the same bytes. Every
entry carries a hash of itself; a damaged one, or a damaged file, is dropped and what it held is made anew.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any, TypeVar

from atlasgen.fingerprint import Fingerprints
from atlasgen.model.memory import Former, Stamp
from atlasgen.model.wording import language

Value = TypeVar("Value")

# A file written within so long of being read may be written again without its time stamp showing it: two seconds is
# the coarsest stamp in use, that of FAT.
_SETTLED_NS = 2_000_000_000
# Whatever of these gets a new version may give other bytes.
_LIBRARIES = (
    "babel", "contourpy", "fluent.syntax", "font-source-sans-pro", "jinja2", "numpy", "pandas", "pikepdf", "pillow",
    "pillow-heif", "pyogrio", "pyproj", "pyvips", "pyvips-binary", "rasterio", "scipy", "shapely", "startinpy", "typst",
)  # fmt: skip
_TABLE = "CREATE TABLE IF NOT EXISTS results (key TEXT PRIMARY KEY, sha256 TEXT NOT NULL, value BLOB NOT NULL)"


class Cache:
    """A `Memory` in an open database; see `opened`."""

    def __init__(self, database: sqlite3.Connection, settled_before_ns: int) -> None:
        self._database, self.settled_before_ns = database, settled_before_ns
        self._fingerprints, self._used = Fingerprints(), set[str]()
        self.made, self.spared = 0, 0

    def remember(self, kind: str, parts: Any, make: Callable[[], Value]) -> Value:
        """Return `make()`, or what it returned for these parts before."""
        return self.mapped(kind, [parts], lambda _: [make()], keep=lambda _: True)[0]

    def mapped(
        self,
        kind: str,
        parts: Sequence[Any],
        make: Callable[[list[int]], Sequence[Any]],
        *,
        keep: Callable[[Any], bool] = bool,
        restore: Callable[[int, Any], bool] = lambda number, value: True,
    ) -> list[Any]:
        """Return one result for each of `parts`; see `Memory.mapped`."""
        keys = [None if part is None else self._key(kind, part) for part in parts]
        found = {
            number: value
            for number, key in enumerate(keys)
            if key is not None and (value := self._get(key)) is not None and restore(number, value)
        }
        lacking = [number for number in range(len(parts)) if number not in found]
        self.spared, self.made = self.spared + len(found), self.made + len(lacking)
        for number, value in zip(lacking, make(lacking) if lacking else (), strict=True):
            key = keys[number]
            found[number] = self._put(key, value) if key is not None and keep(value) else value
        for number, key in enumerate(keys):
            # What cannot be counted on to come out the same again has no name.
            if key is not None and keep(found[number]):
                self._fingerprints.learn(found[number], key)
        return [found[number] for number in range(len(parts))]

    def _key(self, kind: str, part: Any) -> str:
        # Whatever is remembered may hold words.
        base = f"{kind} {program()} {language()}"
        key = hashlib.sha256(f"{base} {self._fingerprints.of(part)}".encode()).hexdigest()
        self._used.add(key)
        return key

    def _get(self, key: str) -> Any:
        """Return what is kept, None if nothing is, or if it is not as it was written."""
        try:
            row = self._database.execute("SELECT sha256, value FROM results WHERE key = ?", (key,)).fetchone()
            if row is None:
                return None
            if hashlib.sha256(row[1]).hexdigest() == row[0]:
                return pickle.loads(row[1])  # the user's own file, as the program's code is
        except Exception:
            pass  # whatever a damaged entry makes of itself, it is made anew
        return None

    def _put(self, key: str, value: Value) -> Value:
        """Keep a value; return it as it will come back, so that what is made from it is the same either way."""
        data = pickle.dumps(value, protocol=5)
        try:
            row = (key, hashlib.sha256(data).hexdigest(), data)
            self._database.execute("INSERT OR REPLACE INTO results VALUES (?, ?, ?)", row)
        except sqlite3.Error:
            pass  # a cache that cannot be written to costs time, not the build
        return pickle.loads(data)  # our own bytes of a moment ago

    def former(self, folder: Path) -> Former:
        """Return the edition that stands in a folder, with the stamps that `left` was told."""
        return Former(folder, dict(self.recall("left", str(folder.resolve())) or ()))

    def left(self, folder: Path, stamps: Iterable[tuple[str, Stamp]]) -> None:
        """Keep the stamps of a folder's files, by name."""
        self.keep("left", str(folder.resolve()), tuple(stamps))

    def recall(self, kind: str, parts: Any) -> Any:
        """Return what was kept for these parts, None if nothing was."""
        return self._get(self._key(kind, parts))

    def keep(self, kind: str, parts: Any, value: Any) -> None:
        """Keep a value for these parts."""
        self._put(self._key(kind, parts), value)

    def drop_unused(self) -> None:
        """Forget what this build did not ask for, so that the cache never outgrows one build."""
        with suppress(sqlite3.Error):
            kept = {key for (key,) in self._database.execute("SELECT key FROM results")}
            self._database.executemany("DELETE FROM results WHERE key = ?", [(key,) for key in kept - self._used])


@contextmanager
def opened(path: Path) -> Iterator[Cache]:
    """Open the cache in a file, or begin it anew if it is damaged; what a build that fails has made is kept as well.

    A file that cannot be had (another build holds it, the folder is closed) is done without.
    """
    with closing(_database(path)) as database:
        memory = Cache(database, _now_ns(path) - _SETTLED_NS)
        try:
            yield memory
        finally:
            with suppress(sqlite3.Error):
                database.commit()


def _database(path: Path) -> sqlite3.Connection:
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        try:
            return _connected(path)
        except sqlite3.OperationalError:
            raise
        except sqlite3.DatabaseError:
            path.unlink(missing_ok=True)
            return _connected(path)
    except (OSError, sqlite3.Error):
        return _connected(None)


def _connected(path: Path | None) -> sqlite3.Connection:
    if path is not None:
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
    database = sqlite3.connect(path or ":memory:", timeout=1.0)
    try:
        database.execute("PRAGMA synchronous = OFF")
        database.execute(_TABLE)
        database.execute("SELECT count(*) FROM results").fetchone()
    except sqlite3.DatabaseError:
        database.close()
        raise
    return database


def _now_ns(path: Path) -> int:
    """Return the file system's own time, with which the time stamps of the inputs are compared."""
    try:
        os.utime(path)
        return path.stat().st_mtime_ns
    except OSError:
        return 0


def place_of(survey_dir: Path) -> Path:
    """Return the cache file of a survey: one for each folder, below ATLASGEN_CACHE or the user's cache folder."""
    from platformdirs import user_cache_path

    top = os.environ.get("ATLASGEN_CACHE")
    name = hashlib.sha256(os.fsencode(survey_dir.resolve())).hexdigest()[:20]
    return (Path(top) if top else user_cache_path("atlasgen", appauthor=False)) / f"{name}.sqlite"


@cache
def program() -> str:
    """Return the fingerprint of the program: its code, its templates, and the libraries that its results rest on."""
    from atlasgen.resources import resource

    digest = hashlib.sha256()
    for top in (Path(__file__).parent, resource("templates")):
        for path in sorted(top.rglob("*")):
            if path.is_file() and path.suffix != ".pyc":
                digest.update(path.relative_to(top).as_posix().encode() + b"\0" + path.read_bytes())
    for name in _LIBRARIES:
        digest.update(f"{name} {_version(name)}".encode())
    return digest.hexdigest()


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "-"
