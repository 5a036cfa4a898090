"""The pocket edition: a finished edition as one HTML file within a stated size, for where a folder cannot be opened."""

from __future__ import annotations

import hashlib
import math
import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from markupsafe import Markup

from atlasgen.errors import InputFault, MissingInput, OutputRefused
from atlasgen.model import Progress
from atlasgen.model.wording import say, speaking
from atlasgen.ship.flushing import flush_out
from atlasgen.ship.holders import FolderHolder, Holder, opened
from atlasgen.ship.inlining import svg_uri
from atlasgen.ship.pocket_drawings import coarse
from atlasgen.ship.pocket_page import GENERATOR, PhotoPlace, PocketPage, read_page
from atlasgen.ship.pocket_photos import LADDER, Darkroom, Small, Step, best_step
from atlasgen.units import MEGABYTE, grouped
from atlasgen.workers import pool
from atlasgen.write.edition import MANIFEST
from atlasgen.write.spoken import say_html
from atlasgen.write.taking_over import file_sha256

# Drawings that would take more of the file than this share are rounded, so that the photographs keep their room.
_DRAWINGS_SHARE = 1 / 4
_HEAD_BYTES = 2048
_AT_LAST = "photos at their smallest"


@dataclass(frozen=True, slots=True)
class PocketResult:
    """What was written: bytes of the file, photographs in it and left out, their long edge and WebP quality."""

    size_bytes: int
    photos_shown: int
    photos_left_out: int
    long_edge_px: int
    quality: int


@dataclass(frozen=True, slots=True)
class _Filled:
    """A page with drawings and photographs put in."""

    page: PocketPage
    drawings: Mapping[str, str]
    rounded: bool
    photos: Mapping[str, Small]

    def pieces(self) -> Iterable[bytes]:
        """Return the bytes of the file, in pieces."""
        with speaking(self.page.words.language):
            words = _words(self.page, self.photos, len(self.page.photos) - len(self.photos), self.rounded)
        return (piece.encode("utf-8") for piece in self.page.pieces(self.drawings, self.photos, words))

    def size_bytes(self) -> int:
        """Return what the file weighs."""
        return sum(map(len, self.pieces()))


def write_pocket(
    atlas: Path, target: Path, most_bytes: int, progress: Progress, workers: int | None = None
) -> PocketResult:
    """Write the pocket edition of the edition in a folder or zip to `target`, in at most `most_bytes` bytes.

    Same edition and size, same bytes. It is written beside the target, read back, and then takes its name.

    Raises
    ------
    MissingInput
        There is no edition, or no folder to write to.
    InputFault
        A file of the edition is not as it was, or `most_bytes` is too small; the message names what would do.
    OutputRefused
        Something that is no pocket edition of ours stands at the target, or it lies within the edition.
    """
    _refuse(target)
    progress("reading the edition", 0, 0)
    with opened(atlas, MANIFEST) as holder:
        _refuse_within(holder, target)
        page = read_page(holder)
    with pool(workers or os.cpu_count() or 2) as executor:
        filled, step = _fitted(page, Darkroom(atlas, executor, progress), most_bytes)
    size_bytes = _place(target, filled.pieces())
    shown = len(filled.photos)
    edge_px = max((small.long_edge_px for small in filled.photos.values()), default=0)
    return PocketResult(size_bytes, shown, len(page.photos) - shown, edge_px, step.quality)


def _refuse(target: Path) -> None:
    if not target.absolute().parent.is_dir():
        raise MissingInput(str(target.absolute().parent), "Make this folder first, or name another file.")
    if target.is_dir() or (target.is_symlink() and not target.exists()):
        raise OutputRefused(str(target), "is no file", "Name a file, such as pocket.html.")
    if target.exists() and not _is_ours(target):
        raise OutputRefused(str(target), "is there, and is no pocket edition", "Name another file.")


def _refuse_within(holder: Holder, target: Path) -> None:
    if isinstance(holder, FolderHolder) and target.resolve().is_relative_to(holder.folder.resolve()):
        why = "lies within the edition, which would not be whole any more"
        raise OutputRefused(str(target), why, "Name a file beside it.")


def _is_ours(path: Path) -> bool:
    if not path.is_file():  # a device or a pipe would not be read to an end
        return False
    with path.open("rb") as file:
        return GENERATOR.encode("ascii") in file.read(_HEAD_BYTES)


def _fitted(page: PocketPage, room: Darkroom, most_bytes: int) -> tuple[_Filled, Step]:
    """Return the page as good as it can be: photographs as large as possible, all of them if that can be."""
    files = [place.file for place in page.photos]
    fine = {name: svg_uri(svg) for name, svg in page.drawings.items()}
    sets = [(fine, False)] if sum(map(len, fine.values())) <= most_bytes * _DRAWINGS_SHARE else []
    rough = {name: svg_uri(coarse(svg)) for name, svg in page.drawings.items()}
    for drawings, rounded in [*sets, (rough, True)]:
        filled = partial(_Filled, page, drawings, rounded)
        step = best_step(room, files, partial(_weight, filled), most_bytes)
        if step:
            return filled(room.at(files, step, _AT_LAST)), step
    small = room.at(files, LADDER[-1], _AT_LAST)
    return _with_some_left_out(_Filled(page, rough, True, small), most_bytes), LADDER[-1]


def _weight(filled: Callable[[Mapping[str, Small]], _Filled], photos: Mapping[str, Small]) -> int:
    return filled(photos).size_bytes()


def _with_some_left_out(whole: _Filled, most_bytes: int) -> _Filled:
    """Leave out as few photographs as possible: the later on their page the sooner, the first of a page never."""
    ranked = sorted(enumerate(whole.page.photos), key=lambda pair: (pair[1].number, pair[0]))
    firsts = sum(place.number == 0 for place in whole.page.photos)

    def keep(count: int) -> _Filled:
        kept: list[PhotoPlace] = [place for _, place in ranked[:count]]
        photos = {place.file: whole.photos[place.file] for place in kept}
        return _Filled(whole.page, whole.drawings, whole.rounded, photos)

    least = keep(firsts).size_bytes()
    if least > most_bytes:
        raise InputFault(*_too_small(most_bytes, least))
    low, high = firsts, len(ranked)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if keep(middle).size_bytes() <= most_bytes else (low, middle - 1)
    return keep(low)


def _too_small(most_bytes: int, least_bytes: int) -> tuple[str, str, str, str]:
    enough = math.ceil(least_bytes / MEGABYTE * 10) / 10
    return (
        "pocket edition",
        f"{most_bytes / MEGABYTE:g} MB is too small for pages, drawings and one small photograph of each page",
        f"at least {enough:.1f} MB for this atlas",
        f"Give it --megabytes {enough:.1f}.",
    )


def _words(page: PocketPage, photos: Mapping[str, Small], left_out: int, rounded: bool) -> str:
    """Return the section that says what this file is, as HTML."""
    edge_px = max((small.long_edge_px for small in photos.values()), default=0)
    place = Markup('<a href="#audit">{}</a>').format(say("web-about-complete"))
    texts = [
        say_html("pocket-what", title=page.title),
        say_html("pocket-holds", count=len(photos), photographs=grouped(len(photos)), pixels=grouped(edge_px)),
        say_html("pocket-full", place=place),
    ]
    if left_out:
        texts.append(say_html("pocket-gone", count=left_out, photographs=grouped(left_out)))
    if page.lacks_pictures:
        texts.append(say_html("pocket-no-pictures"))
    if rounded:
        texts.append(say_html("pocket-rounded"))
    body, heading = "".join(f"\n    <p>{text}</p>" for text in texts), say_html("pocket-title")
    return f'\n  <section id="pocket">\n    <h2>{heading}</h2>{body}\n  </section>'


def _place(target: Path, pieces: Iterable[bytes]) -> int:
    """Write a file beside its place, read it back, and give it its name; return its size in bytes."""
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    digest, size = hashlib.sha256(), 0
    try:
        with part.open("xb") as file:
            for piece in pieces:
                size += file.write(piece)
                digest.update(piece)
            flush_out(file)
        if file_sha256(part) != digest.hexdigest():
            step = "The disk or card may be failing: try another one."
            raise InputFault(str(target), "what is read back is not what was written", "the same bytes", step)
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)
    return size
