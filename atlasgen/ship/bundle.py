"""The atlas beside its chart, on a card, in a folder or in a zip: checked before a byte is written."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from atlasgen.compose.chart_edition import chart_mismatches
from atlasgen.errors import InputFault, MissingInput, OutputRefused
from atlasgen.model import ChartEdition, Progress
from atlasgen.model.wording import say, speaking, spoken_here
from atlasgen.ship.cargo import ATLAS_FOLDER, BUNDLE_LIST, Item, from_folder, from_text, list_text
from atlasgen.ship.medium import Medium, medium_of
from atlasgen.ship.placing import place, plan_placement
from atlasgen.ship.portable import folded, name_faults, size_faults
from atlasgen.ship.read_me import NAMES, Holding, read_me
from atlasgen.ship.shrinking import refuse_over_budget
from atlasgen.ship.verify import verify_edition
from atlasgen.ship.zipping import write_zip

POCKET_NAME = "pocket atlas.html"
# Room for the folders' own entries and what the file system keeps for itself. Ours.
_SPARE_BYTES = 4_000_000
_SHOWN = 12


@dataclass(frozen=True, slots=True)
class Bundled:
    """What was laid where; `warnings` name what other systems or FAT32 cards would not take, one line each."""

    target: Path
    files: int
    bytes: int
    written: int
    removed: int
    warnings: tuple[str, ...]


def bundle(
    atlas: Path, chart: Path, target: Path, *, as_zip: bool = False, pocket_bytes: int | None = None, progress: Progress
) -> Bundled:
    """Lay an edition, the chart's own files and a read-me onto `target`; `pocket_bytes` adds the pocket edition.

    Raises
    ------
    MissingInput
        Atlas or chart is not there.
    InputFault
        The atlas is not whole, states no chart or another one; the chart holds what cannot be copied.
    OutputRefused
        The target cannot hold it: names, sizes, room, the budget, or files there that are not ours.
    """
    progress("verifying the atlas", 0, 0)
    document = _whole_document(atlas)
    _refuse_other_chart(document)
    _refuse_inside(atlas, chart, target)
    with TemporaryDirectory(prefix="atlasgen-") as work:
        items = _items(atlas, chart, document, _pocket(atlas, pocket_bytes, Path(work), progress), progress)
        refuse_over_budget(items, document["survey"]["budget_mb"], ATLAS_FOLDER)
        return _zipped(target, items, document, progress) if as_zip else _laid(target, items, progress)


def _whole_document(atlas: Path) -> dict[str, Any]:
    if not (atlas / "manifest.json").is_file():
        raise MissingInput(str(atlas / "manifest.json"), "Is this the folder of an atlas? Build it first.")
    verdict = verify_edition(atlas)
    if not verdict.whole:
        found = verdict.findings[0] if verdict.findings else None
        what = f"{found.file} {found.words}" if found else verdict.signed.words
        count = f"is not whole: {what}" + (
            f", and {len(verdict.findings) - 1} more" if len(verdict.findings) > 1 else ""
        )
        raise InputFault(str(atlas), count, "a whole edition", "Build it again; `atlasgen verify` tells all.")
    return json.loads((atlas / "atlas.json").read_bytes())


def _refuse_other_chart(document: Mapping[str, Any]) -> None:
    survey = document["survey"]
    stated = survey["chart"]
    if not stated:
        step = "State edition, date and datum of the chart there under [chart], then build again."
        raise InputFault("survey.toml", "the atlas was built without a [chart]", "the chart it ships with", step)
    rule = ChartEdition(stated["edition"], date.fromisoformat(stated["date"]), stated["datum"])
    days = [source["dates"][1] for source in document["sources"] if source["what"] == "soundings" and source["dates"]]
    last = max(map(date.fromisoformat, days), default=None)
    if found := list(chart_mismatches(rule, survey["edition"], survey["datum"], last)):
        raise InputFault("survey.toml", " ".join(found), "a chart and an atlas that belong together")


def _refuse_inside(atlas: Path, chart: Path, target: Path) -> None:
    if not chart.is_dir():
        raise MissingInput(str(chart), "Name the folder that holds the chart edition's own files.")
    target, parts = target.resolve(), [atlas.resolve(), chart.resolve()]
    for part in parts:
        if target == part or part in target.parents or target in part.parents:
            why = f"it and {part} lie inside each other"
            raise OutputRefused(str(target), why, "Choose a card or folder outside atlas and chart.")


def _pocket(atlas: Path, most_bytes: int | None, work: Path, progress: Progress) -> Path | None:
    if most_bytes is None:
        return None
    from atlasgen.ship.pocket import write_pocket

    write_pocket(atlas, work / POCKET_NAME, most_bytes, progress)
    return work / POCKET_NAME


def _items(
    atlas: Path, chart: Path, document: Mapping[str, Any], pocket: Path | None, progress: Progress
) -> list[Item]:
    progress("listing atlas and chart", 0, 0)
    charted = list(from_folder(chart, "chart"))
    if not charted:
        raise InputFault(str(chart), "holds no file", "the chart edition's own files")
    items = [*charted, *from_folder(atlas, "atlas", ATLAS_FOLDER)]
    items += from_folder(pocket.parent, "bundle") if pocket else []
    names = sorted({Path(item.name).parts[0] for item in charted})
    with speaking(spoken_here(document["survey"].get("language"))):
        texts = read_me(document, _holdings(items, names, document), ATLAS_FOLDER, POCKET_NAME if pocket else None)
    items += [from_text(name, text) for name, text in zip(NAMES, texts, strict=True)]
    facts = {"title": document["survey"]["title"], "edition": document["survey"]["edition"]}
    items.append(from_text(BUNDLE_LIST, list_text(items, facts)))
    _refuse_clash(items)
    return items


def _holdings(items: Sequence[Item], chart_names: list[str], document: Mapping[str, Any]) -> list[Holding]:
    names = {item.name for item in items}
    found = (name for name in names if name.startswith(f"{ATLAS_FOLDER}/atlas") and name.endswith(".pdf"))
    books = sorted(found, key=lambda name: (len(name), name))
    holds = "card-holds-volume" if len(books) > 1 else "card-holds-book"
    start = f"{ATLAS_FOLDER}/index.html"
    return [
        Holding(start, say("card-holds-atlas"), start),
        *(Holding(book, say(holds, number=i, count=len(books)), book) for i, book in enumerate(books, 1)),
        *([Holding(POCKET_NAME, say("card-holds-pocket"), POCKET_NAME)] if POCKET_NAME in names else []),
        Holding(_listed(chart_names), say("card-holds-chart", edition=document["survey"]["chart"]["edition"])),
        Holding(BUNDLE_LIST, say("card-holds-list")),
    ]


def _listed(names: Sequence[str]) -> str:
    shown = ", ".join(names[:_SHOWN])
    return say("card-and-more", names=shown, count=len(names) - _SHOWN) if len(names) > _SHOWN else shown


def _refuse_clash(items: Sequence[Item]) -> None:
    """Refuse a chart whose files would take the places of ours."""
    ours = {folded(Path(item.name).parts[0]) for item in items if item.of != "chart"}
    clashes = sorted(
        {Path(i.name).parts[0] for i in items if i.of == "chart" and folded(Path(i.name).parts[0]) in ours}
    )
    if clashes:
        expected = f"names other than {', '.join((ATLAS_FOLDER, POCKET_NAME, BUNDLE_LIST, *NAMES))}"
        raise InputFault(
            "the chart", f"holds {', '.join(clashes)}", expected, "Lay the chart into a folder of its own."
        )


def _laid(target: Path, items: Sequence[Item], progress: Progress) -> Bundled:
    medium = medium_of(target)
    faults = [f"{name}: {words}" for name, words in _faults(items)]
    if faults and medium.is_fat is not False:
        _refuse(target, f"{medium.system} file system", faults)
    placement = plan_placement(target, items)
    _refuse_full(target, medium, [item.size_bytes for item in placement.write])
    place(target, placement, progress)
    size = sum(item.size_bytes for item in items)
    return Bundled(target, len(items), size, len(placement.write), len(placement.remove), tuple(faults))


def _zipped(target: Path, items: Sequence[Item], document: Mapping[str, Any], progress: Progress) -> Bundled:
    survey = document["survey"]
    file = target if target.suffix.lower() == ".zip" else target / f"{_slug(survey['title'])}_{survey['edition']}.zip"
    medium, size = medium_of(file.parent), sum(item.size_bytes for item in items)
    faults = [f"{name}: {words}" for name, words in _faults(items)]
    if medium.is_fat and (large := list(size_faults({file.name: size}))):
        _refuse(file, f"{medium.system} file system", [f"{name}: {words}" for name, words in large])
    _refuse_full(file, medium, [size])
    write_zip(file, items, progress)
    return Bundled(file, len(items), size, len(items), 0, tuple(faults))


def _slug(title: str) -> str:
    return "_".join("".join(sign if sign.isalnum() else " " for sign in title).split())[:60] or "atlas"


def _faults(items: Sequence[Item]) -> list[tuple[str, str]]:
    return [*name_faults(item.name for item in items), *size_faults({item.name: item.size_bytes for item in items})]


def _refuse(target: Path, what: str, faults: Sequence[str]) -> None:
    shown = "".join(f"\n  {line}" for line in faults[:_SHOWN])
    more = f"\n  and {len(faults) - _SHOWN} more" if len(faults) > _SHOWN else ""
    why = f"{what}: {len(faults)} files cannot lie there{shown}{more}"
    step = "Let the chart's makers rename them, set book.volume_mb for a large book, or use another kind of card."
    raise OutputRefused(str(target), why, step)


def _refuse_full(target: Path, medium: Medium, sizes_bytes: Sequence[int]) -> None:
    needed = medium.needed_bytes(sizes_bytes) + (_SPARE_BYTES if sizes_bytes else 0)
    if needed > medium.free_bytes:
        why = f"{needed:,} bytes are needed, {medium.free_bytes:,} are free"
        step = "Make room, use a larger card, or choose a smaller photos.profile in survey.toml and build again."
        raise OutputRefused(str(target), why, step)
