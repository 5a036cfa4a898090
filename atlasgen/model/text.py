"""Words from outside: what is text in them, and how the rest is shown where it must be told.

Control signs can drive a terminal, and marks that turn the reading direction can disguise a name (Unicode Technical
Report 36, section 2.5). Neither is text: in words they are taken out, in names of files they are written out.
"""

from __future__ import annotations

import re
import unicodedata

# Left-to-right and right-to-left marks, embeddings, overrides and isolates (Unicode Standard Annex 9, 2.1 to 2.6),
# and the byte order mark.
DIRECTION_MARKS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")
_NOT_TEXT = ("Cc", "Cs", "Cn")


def plain_text(text: str) -> str:
    """Take out control signs, lone surrogates, noncharacters and direction marks; fold blanks; compose (NFC)."""
    kept = (" " if sign.isspace() else sign for sign in text if sign not in DIRECTION_MARKS)
    plain = "".join(sign for sign in kept if sign == " " or unicodedata.category(sign) not in _NOT_TEXT)
    return unicodedata.normalize("NFC", re.sub(" +", " ", plain)).strip()


def visible(text: str, *, lines: bool = False) -> str:
    r"""Write out what is not text, as in `\x1b`; `lines` leaves ends of lines as they are."""
    return "".join(sign if _is_text(sign) or (lines and sign == "\n") else _written_out(sign) for sign in text)


def _is_text(sign: str) -> bool:
    return sign not in DIRECTION_MARKS and unicodedata.category(sign) not in (*_NOT_TEXT, "Zl", "Zp")


def _written_out(sign: str) -> str:
    return sign.encode("ascii", "backslashreplace").decode() if ord(sign) > 127 else f"\\x{ord(sign):02x}"
