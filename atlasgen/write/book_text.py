"""Makes any text safe to print: only signs the typeface has, and a place to break in every long word."""

from __future__ import annotations

import re
import shutil
import unicodedata
from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path

from PIL import ImageFont

from atlasgen.write.spoken import together

# The weights of Source Sans Pro, the book's only family, that its templates use.
FACES = ("Regular", "It", "Semibold", "Bold")
# Stands for a sign that the typeface lacks. U+FFFD would be usual, but Source Sans Pro has no such glyph either.
LACKING = "☐"
# Shown as nothing; a line may end there.
BREAK = "\u200b"
# Longest run without a break, signs: a narrow table column still holds it at its size; ours.
_LONGEST_RUN = 24
_LONG_RUN = re.compile(rf"\S{{{_LONGEST_RUN + 1},}}")
_NO_SIGN = "\uffff"  # a noncharacter: no typeface has it, so it is drawn as the "no glyph" box


def typeface_folder() -> Path:
    """Return the folder of the typeface's files.

    Raises
    ------
    FileNotFoundError
        The package font-source-sans-pro is not installed.
    """
    spec = find_spec("font_source_sans_pro")
    if spec is None or not spec.submodule_search_locations:
        raise FileNotFoundError(
            "font-source-sans-pro: not installed. Install it with: pip install font-source-sans-pro"
        )
    return Path(spec.submodule_search_locations[0]) / "files"


def copy_faces(folder: Path) -> None:
    """Copy the faces that the book uses into `folder`, so that the printer sees these and no others."""
    folder.mkdir(parents=True, exist_ok=True)
    for face in FACES:
        shutil.copyfile(typeface_folder() / f"SourceSansPro-{face}.ttf", folder / f"SourceSansPro-{face}.ttf")


class _Shown(dict[int, str]):
    """What is printed for each sign, by its number, for `str.translate`; a sign is looked up when it is first met."""

    def __init__(self, look_up: Callable[[str], str]) -> None:
        super().__init__()
        self._look_up = look_up

    def __missing__(self, number: int) -> str:
        self[number] = self._look_up(chr(number))
        return self[number]


class Printable:
    """Turns text into what the typeface can print; `lacking` counts the signs it had to replace.

    Control signs and signs that steer the writing direction print as nothing or as a space: they are not text.
    """

    def __init__(self) -> None:
        faces = ("Regular", "Semibold")
        self._fonts = [
            ImageFont.truetype(
                str(typeface_folder() / f"SourceSansPro-{face}.ttf"), 24, layout_engine=ImageFont.Layout.BASIC
            )
            for face in faces
        ]
        self._no_glyph = [bytes(font.getmask(_NO_SIGN)) for font in self._fonts]
        self._shown = _Shown(self._look_up)
        self.lacking = 0

    def line(self, text: str) -> str:
        """Return `text` on one line, spaces single, unprintable signs replaced; for drawings and metadata."""
        composed = unicodedata.normalize("NFC", text)
        shown = composed.translate(self._shown)
        self.lacking += shown.count(LACKING) - composed.count(LACKING)
        return " ".join(word for word in shown.split(" ") if word)

    def text(self, text: str) -> str:
        """Return `line(text)` with a place to break in every long word, and none between a number and its unit."""
        return _LONG_RUN.sub(lambda match: breakable(match.group()), together(self.line(text)))

    def _look_up(self, sign: str) -> str:
        kind = unicodedata.category(sign)
        if kind in ("Cc", "Zs", "Zl", "Zp"):
            # Non-breaking spaces are kept: a number stays with its unit.
            return sign if sign in "\u00a0\u202f" else " "
        # Marks that steer direction or choose a variant are not text of their own.
        if kind == "Cf" or "\ufe00" <= sign <= "\ufe0f":
            return ""
        return sign if self._has(sign) else LACKING

    def _has(self, sign: str) -> bool:
        if unicodedata.category(sign) in ("Cs", "Cn", "Co"):
            return False
        pairs = zip(self._fonts, self._no_glyph, strict=True)
        return all(bytes(font.getmask(sign)) != missing for font, missing in pairs)


def breakable(word: str) -> str:
    """Allow a break after each `/`, `_`, `-` or `.`, and at the latest every 24 signs; nothing is shown there."""
    pieces = re.findall(rf"[^/_.\-]{{1,{_LONGEST_RUN - 1}}}[/_.\-]?|[/_.\-]", word)
    return BREAK.join(pieces)


def shorten(text: str, most: int) -> str:
    """Cut at a word to `most` signs at the longest, with `…` where something is missing."""
    if len(text) <= most:
        return text
    cut = text[: most - 1]
    at = cut.rfind(" ")
    return (cut[:at] if at > most // 2 else cut).rstrip(" ,;:") + "…"
