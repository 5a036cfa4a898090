"""Which kinds of personal metadata a photo carries; only their names are kept, never what they hold."""

from __future__ import annotations

import re

from atlasgen.read.tiff import read_tags

# What tells a person or their equipment in XMP, by kind; property names of the XMP, IPTC and MWG standards.
_IN_XMP = {
    "serial number": rb"SerialNumber",
    "name of a person": rb"<dc:creator|CameraOwnerName|OwnerName|artist\b|CreatorContactInfo|captionwriter",
    "people in the picture": rb"PersonInImage|mwg-rs:Regions|MPReg|RegionInfo|PeopleTag",
    "editing history": rb"xmpMM:(?:History|DerivedFrom|Ingredients)|stEvt:",
    "position": rb"GPSLatitude|GpsLatitude",
    "embedded preview": rb"xmpGImg|xapGImg|:Thumbnails",
}
# Exif 3.0: 0xA430 CameraOwnerName, 0xA431 BodySerialNumber, 0xA435 LensSerialNumber, 0x927C MakerNote, 0xA420
# ImageUniqueID; TIFF 6.0: 0x013B Artist; 0x013C HostComputer. Captions and comments are words for the page, and are not
# among them.
_IN_EXIF = {
    "name of a person": {0x013B, 0xA430},
    "serial number": {0xA431, 0xA435, 0xA420},
    "maker's own notes": {0x927C},
    "name of a computer": {0x013C},
}


def personal_kinds(exif: bytes | None, xmp: bytes | None) -> tuple[str, ...]:
    """Return the kinds, sorted; damaged metadata is looked through as far as it can be read."""
    found = {kind for kind, pattern in _IN_XMP.items() if xmp and re.search(pattern, xmp, re.IGNORECASE)}
    return tuple(sorted(found | _exif_kinds(exif)))


def _exif_kinds(exif: bytes | None) -> set[str]:
    if not exif:
        return set()
    # A picture within the block begins as every JPEG does, wherever a maker has put it.
    found = {"embedded preview"} if b"\xff\xd8\xff" in exif else set()
    try:
        tags = read_tags(exif)
    except ValueError:
        # What is wrong with it was told when it was read; that there is something is all that can be said here.
        return found | {"metadata that cannot be read"}
    held = {tag for part in (tags.main, tags.exif) for tag, entry in part.items() if entry.data.strip(b"\0 ")}
    found |= {kind for kind, ours in _IN_EXIF.items() if (held | tags.broken) & ours}
    return found | ({"position"} if tags.gps else set())
