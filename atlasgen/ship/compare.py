"""Two published editions of one lake compared: what they say, and their files."""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from atlasgen.compose.changes import differences
from atlasgen.errors import InputFault
from atlasgen.model.changes import Changes, FileChanges
from atlasgen.model.wording import spoken_here
from atlasgen.read.edition_shape import ATLAS, MANIFEST_ROWS, MOST_BYTES, first_fault, lie_apart
from atlasgen.ship.holders import Holder, opened
from atlasgen.write.edition import MANIFEST

_ATLAS = "atlas.json"
_AGAIN = "Copy the edition again, then verify it with: atlasgen verify."


def compare_editions(old: Path, new: Path) -> Changes:
    """Compare two editions, each in a folder, on a card or in a zip, which is not unpacked.

    Raises
    ------
    MissingInput
        There is no edition.
    InputFault
        A zip, atlas.json or manifest.json cannot be read, or the editions are of different lakes.
    """
    (old_atlas, old_manifest), (new_atlas, new_manifest) = _read(old), _read(new)
    _refuse_other_lake(old, new, old_atlas["survey"], new_atlas["survey"])
    return replace(differences(old_atlas, new_atlas), files=_file_changes(old_manifest, new_manifest))


def language_of(path: Path) -> str:
    """Return the language of an edition, which its page of changes speaks; raises as `read_atlas` does."""
    return spoken_here(read_atlas(path)["survey"].get("language"))


def read_atlas(path: Path) -> Mapping[str, Any]:
    """Return what a comparison reads of the atlas.json of a published edition, its shape tested.

    Raises
    ------
    MissingInput
        There is no edition.
    InputFault
        The zip or atlas.json cannot be read.
    """
    with opened(path, MANIFEST) as holder:
        return _parsed(path, holder, _ATLAS, ATLAS)


def _read(path: Path) -> tuple[Mapping[str, Any], Mapping[str, Any]]:
    with opened(path, MANIFEST) as holder:
        return _parsed(path, holder, _ATLAS, ATLAS), _parsed(path, holder, MANIFEST, MANIFEST_ROWS)


def _parsed(path: Path, holder: Holder, name: str, shape: TypeAdapter[Any]) -> Mapping[str, Any]:
    where = f"{path}: {name}"
    try:
        if (size := holder.size_bytes(name)) > MOST_BYTES:
            raise InputFault(where, f"has {size:,} bytes", f"at most {MOST_BYTES:,}", _AGAIN)
        with holder.open(name) as file:
            text = file.read(MOST_BYTES)
    except (OSError, zipfile.BadZipFile, zlib.error) as error:
        words = f"cannot be read ({getattr(error, 'strerror', None) or error})"
        raise InputFault(where, words, "a whole edition", _AGAIN) from None
    try:
        return shape.validate_json(text, strict=True)
    except ValidationError as error:
        raise InputFault(where, *first_fault(error), _AGAIN) from None


def _refuse_other_lake(old: Path, new: Path, before: Mapping[str, Any], now: Mapping[str, Any]) -> None:
    """Refuse editions whose bounds have no water in common: bank by bank there would be nothing to compare."""
    if lie_apart(before["bounds"], now["bounds"]):
        titles = f"“{before['title']}” and “{now['title']}” lie apart"
        raise InputFault(f"{old} and {new}", titles, "two editions of one lake", "Compare editions of the same lake.")


def _file_changes(old: Mapping[str, Any], new: Mapping[str, Any]) -> FileChanges:
    files = [{row["file"]: row["sha256"] for row in manifest["files"]} for manifest in (old, new)]
    inputs = [manifest.get("inputs", {}) for manifest in (old, new)]
    added, removed, altered = _by_state(*files)
    inputs_added, inputs_removed, inputs_altered = _by_state(*inputs)
    return FileChanges(
        added=added,
        removed=removed,
        altered=altered,
        inputs_added=inputs_added,
        inputs_removed=inputs_removed,
        inputs_altered=inputs_altered,
        old_made_with=old.get("made_with"),
        new_made_with=new.get("made_with"),
    )


def _by_state(
    old: Mapping[str, str], new: Mapping[str, str]
) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """Return the names that were added, removed and altered, sorted."""
    return (
        tuple(sorted(set(new) - set(old))),
        tuple(sorted(set(old) - set(new))),
        tuple(sorted(name for name in set(old) & set(new) if old[name] != new[name])),
    )
