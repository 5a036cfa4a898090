"""Saves pictures as the devices would, and puts in the troubles that every real survey folder has."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

import numpy as np
import piexif
from PIL import Image
from pillow_heif import from_pillow, open_heif

from demo_photos.make.cameras import Shot, shots
from demo_photos.make.devices import exif_bytes, orientation, true_heading_deg, true_lonlat, xmp_bytes

QUALITY = 72
DUPLICATE = ("photos/drone/day 1/TW2_0105.JPG", "photos/drone/sorted/TW2_0105.JPG")
CUT_SHORT = ("photos/drone/day 2/TW2_0131.JPG", "photos/drone/day 2/TW2_0133.JPG")
NO_IMAGE = "photos/phone/IMG_20260311_150000.jpg"
LEFT_OUT_WHY = "a thumb over the lens"

# What is the matter with photos that carry these traits, for the answer sheet.
TRAIT_WORDS = {
    "track": "no position; taken while the boat's track was running",
    "lost": "no position, and no track was running",
    "zero": "position written as 0, 0",
    "magnetic": "heading from magnetic north",
    "noheading": "no heading",
    "turn3": "stored upside down (orientation 3)",
    "turn6": "stored turned (orientation 6)",
    "turn8": "stored turned (orientation 8)",
    "heic": "HEIC file",
    "png": "small PNG file",
    "markup": "caption holds markup and script",
    "far": "tens of kilometres from the lake",
    "xmponly": "position only in XMP",
    "wrongplace": "position wrong by over 400 m; put right in corrections.csv",
    "leaveout": "left out in corrections.csv",
}
# How to turn the upright picture into what the device stores.
_STORED = {3: Image.Transpose.ROTATE_180, 6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}


def save(shot: Shot, upright: np.ndarray, out: Path) -> None:
    """Write one photo with its metadata; `upright` is uint8 RGB (height, width, 3)."""
    path = out / shot.file
    path.parent.mkdir(parents=True, exist_ok=True)
    image = Image.fromarray(upright)
    turn = _STORED.get(orientation(shot))
    image = image.transpose(turn) if turn is not None else image
    exif, xmp = exif_bytes(shot), xmp_bytes(shot)
    if "heic" in shot.traits:
        heic = from_pillow(image)
        heic.save(path, quality=60, exif=exif)
    elif "png" in shot.traits:
        image.quantize(96, dither=Image.Dither.NONE).save(path, exif=exif, optimize=True)
    else:
        extra = {"xmp": xmp} if xmp else {}
        image.save(path, "JPEG", quality=QUALITY, exif=exif, optimize=True, **extra)


def retag(shot: Shot, made: Path, out: Path) -> None:
    """Write a photo to `out` with the pixels, as encoded, of the one in `made` and its metadata anew.

    The metadata go through `save` itself, on a picture of a few pixels whose own picture data are then exchanged, so
    that the file is byte for byte what rendering it again would give. Formats that cannot be cut up so are copied,
    and must hold the right metadata already.
    """
    old, path = made / shot.file, out / shot.file
    save(shot, np.zeros((8, 8, 3), np.uint8), out)
    if old.suffix.lower() in (".jpg", ".jpeg"):
        path.write_bytes(_cut(path.read_bytes())[0] + _cut(old.read_bytes())[1])
        return
    shutil.copyfile(old, path)
    exif = open_heif(path).info["exif"] if "heic" in shot.traits else Image.open(path).info["exif"]
    if piexif.load(exif) != piexif.load(exif_bytes(shot)):
        raise SystemExit(f"{shot.file}: its metadata would change, and only JPEG files can be retagged. Render it.")


def _cut(jpeg: bytes) -> tuple[bytes, bytes]:
    """Cut a JPEG file into its metadata and its picture, which begins with the quantization tables (DQT, FF DB)."""
    at = 2
    while jpeg[at + 1] != 0xDB:
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
    return jpeg[:at], jpeg[at:]


def spoil(out: Path) -> None:
    """Add the duplicate, the file cut short and the file that is no image."""
    copy = out / DUPLICATE[1]
    copy.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(out / DUPLICATE[0], copy)
    whole = (out / CUT_SHORT[0]).read_bytes()
    (out / CUT_SHORT[1]).write_bytes(whole[: int(len(whole) * 0.45)])
    (out / NO_IMAGE).write_text("Card was full here. Nothing was saved.\n", encoding="utf-8")


def write_corrections(out: Path) -> None:
    """Write the crew's word: one photo put where it was taken, one left out, one caption."""
    head = ("file", "lon", "lat", "heading_deg", "pitch_deg", "height_m", "taken", "caption", "leave_out")
    rows = []
    for shot in shots():
        if "wrongplace" in shot.traits:
            lon, lat = true_lonlat(shot)
            rows.append((shot.file, f"{lon:.6f}", f"{lat:.6f}", f"{true_heading_deg(shot):.0f}", *[""] * 5))
        elif "leaveout" in shot.traits:
            rows.append((shot.file, *[""] * 7, LEFT_OUT_WHY))
        elif shot.file == "photos/drone/day 1/TW2_0140.JPG":
            rows.append((shot.file, *[""] * 6, "Sallow Flats with the water 4.6 ft down", ""))
    with (out / "corrections.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([head, *rows])
