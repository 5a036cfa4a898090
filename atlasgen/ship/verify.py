"""An edition against its manifest: whole, or what is missing, altered or extra, and which references lead nowhere."""

from __future__ import annotations

import hashlib
import json
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from typing import Any, Literal

from atlasgen.errors import InputFault, MissingInput
from atlasgen.ship.cargo import ATLAS_FOLDER, BUNDLE_LIST, read_list
from atlasgen.ship.holders import Holder, opened
from atlasgen.ship.links import broken_links
from atlasgen.ship.signing import SIGNATURE, Signed, read_signature
from atlasgen.write.edition import MANIFEST, manifest_hash

State = Literal["missing", "altered", "extra", "unreadable", "broken link"]
_CHUNK = 1 << 20


@dataclass(frozen=True, slots=True)
class Finding:
    """One file of an edition that is not as it should be, and what about it, in words."""

    file: str
    state: State
    words: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """What verifying found: how many files the manifest lists, every finding, and what the signature says."""

    files: int
    findings: tuple[Finding, ...]
    signed: Signed

    @property
    def whole(self) -> bool:
        """Whether nothing is wrong with the files, the references or the signature."""
        return not self.findings and not self.signed.bad


def verify_edition(path: Path, public_key: Path | None = None) -> Verdict:
    """Verify the edition in a folder, on a card or in a zip; of `public_key` its signature must be, if one is given.

    Of a bundle, the chart's files and the read-me are compared with the bundle's list as well.

    Raises
    ------
    MissingInput
        There is no manifest, or no such key.
    InputFault
        The manifest, the zip or the key cannot be read.
    """
    verdict = _verify_atlas(path, public_key)
    beside = _verify_beside(path)
    return replace(verdict, files=verdict.files + len(beside[0]), findings=(*verdict.findings, *beside[1]))


def _verify_beside(path: Path) -> tuple[dict[str, tuple[int, str]], list[Finding]]:
    """Compare what lies beside the atlas with the bundle's list; what is not listed is the card owner's."""
    try:
        with opened(path, BUNDLE_LIST) as holder:
            rows = read_list(_read(holder, BUNDLE_LIST), BUNDLE_LIST)
            rows = {name: row for name, row in rows.items() if not name.startswith(f"{ATLAS_FOLDER}/")}
            found = [_compare(holder, name, {"bytes": size, "sha256": sha}) for name, (size, sha) in rows.items()]
            return rows, [finding for finding in found if finding]
    except MissingInput:
        return {}, []


def _verify_atlas(path: Path, public_key: Path | None) -> Verdict:
    with opened(path, MANIFEST) as holder:
        text = _read(holder, MANIFEST)
        rows = _rows(text)
        findings = [Finding(MANIFEST, "altered", "is not as it was written")] if not _is_own(text) else []
        findings += [finding for name, row in rows.items() if (finding := _compare(holder, name, row))]
        known = {*rows, MANIFEST, SIGNATURE}
        findings += [
            Finding(name, "extra", "is not part of the edition") for name in holder.names() if name not in known
        ]
        # References of files that are not themselves any more would only say the same again.
        links = [] if findings else [Finding(name, "broken link", words) for name, words in broken_links(holder)]
        return Verdict(len(rows), (*findings, *links), read_signature(holder, text, public_key))


def _read(holder: Holder, name: str) -> bytes:
    try:
        with holder.open(name) as file:
            return file.read()
    except (OSError, zipfile.BadZipFile, zlib.error) as error:
        raise InputFault(name, f"cannot be read ({error})", "the list of files", "Copy the edition again.") from None


def _is_own(text: bytes) -> bool:
    """Whether the manifest carries the hash of its own bytes, so that no bit of it can change unnoticed."""
    try:
        return json.loads(text)["self_sha256"] == manifest_hash(text)
    except (ValueError, KeyError, TypeError):
        return False


def _rows(text: bytes) -> dict[str, Mapping[str, Any]]:
    try:
        listed = json.loads(text)["files"]
        rows: dict[str, Mapping[str, Any]] = {
            row["file"]: {"bytes": int(row["bytes"]), "sha256": str(row["sha256"])} for row in listed
        }
    except (ValueError, KeyError, TypeError) as error:
        raise InputFault(
            MANIFEST, f"cannot be read ({error})", "the list of files", "Copy the edition again."
        ) from None
    for name in rows:
        if PurePosixPath(name).is_absolute() or ".." in PurePosixPath(name).parts:
            raise InputFault(MANIFEST, repr(name), "names inside the folder", "Copy the edition again.")
    return rows


def _compare(holder: Holder, name: str, row: Mapping[str, Any]) -> Finding | None:
    try:
        size = holder.size_bytes(name)
        if size != row["bytes"]:
            return Finding(name, "altered", f"has {size:,} bytes instead of {row['bytes']:,}")
        if _sha256(holder, name, size) == row["sha256"]:
            return None
        return Finding(name, "altered", "has the right size but other contents")
    except FileNotFoundError:
        return Finding(name, "missing", "is not there")
    except zipfile.BadZipFile:
        return Finding(name, "altered", "does not fit its checksum in the zip")
    except (OSError, zlib.error) as error:
        return Finding(name, "unreadable", f"cannot be read: {getattr(error, 'strerror', None) or error}")


def _sha256(holder: Holder, name: str, size: int) -> str:
    """Hash no more than the size that is stated and one byte: what unpacks to more is not the file that was listed."""
    digest, left = hashlib.sha256(), size + 1
    with holder.open(name) as file:
        while left > 0 and (part := file.read(min(_CHUNK, left))):
            digest.update(part)
            left -= len(part)
    return digest.hexdigest()
