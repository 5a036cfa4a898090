"""Drawings for the pocket edition: as they are, or rounded to tenths of a millimetre where bytes are short."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

_TAG = re.compile(r"<[a-z][^>]*>")
_PATH = re.compile(r'(?<= d=")[Mlz0-9. -]*(?=")')
_RUN = re.compile(r"M([^Mlz]*)(?:l([^Mlz]*))?(z?)")
_NUMBER = re.compile(r"-?\d*\.?\d+")
# The page says what the picture shows, and no style sheet reaches into it.
_TITLE = re.compile(r"<title\b[^>]*>[^<]*</title>")
_UNREAD = re.compile(r' (?:class|role|aria-labelledby)="[^"]*"')


def coarse(svg: str) -> str:
    """Return one of our drawings with the points of its paths in tenths of a millimetre instead of hundredths.

    A point moves by at most 0.05 mm, a fifth of a pixel on a screen of 96 dots an inch. Points that fall together
    become one. What a picture in a page does not need, its title and classes, goes.
    """
    return _TAG.sub(lambda found: _tag(found.group()), _TITLE.sub("", svg, count=1))


def _tag(tag: str) -> str:
    # Only within tags: a name on the map may look like an attribute.
    return _PATH.sub(lambda found: _path(found.group()), _UNREAD.sub("", tag))


def _path(path: str) -> str:
    return "".join(_run(*found.groups()) for found in _RUN.finditer(path))


def _run(first: str, rest: str | None, close: str) -> str:
    """Round one run of relative moves; each is taken from where the rounded one before it stands, so none drifts."""
    places = list(_places(_numbers(first), _numbers(rest or "")))
    moves = [(x - u, y - v) for (u, v), (x, y) in pairwise(places)]
    kept = [move for move in moves if move != (0, 0)] or moves[:1]
    start = _pair(*places[0])
    return f"M{start}" + (f"l{_joined(kept)}" if kept else "") + close


def _places(first: list[int], steps: list[int]) -> Iterator[tuple[int, int]]:
    x, y = first
    yield _tenths(x), _tenths(y)
    for dx, dy in zip(steps[::2], steps[1::2], strict=True):
        x, y = x + dx, y + dy
        yield _tenths(x), _tenths(y)


def _tenths(hundredths: int) -> int:
    return (hundredths + 5) // 10


def _numbers(text: str) -> list[int]:
    return [round(float(number) * 100) for number in _NUMBER.findall(text)]


def _joined(pairs: list[tuple[int, int]]) -> str:
    words = [_pair(*pair) for pair in pairs]
    return "".join(word if i == 0 or word.startswith("-") else f" {word}" for i, word in enumerate(words))


def _pair(x: int, y: int) -> str:
    right = _word(y)
    return _word(x) + (right if right.startswith("-") else f" {right}")


def _word(tenths: int) -> str:
    whole, part = divmod(abs(tenths), 10)
    digits = (str(whole) if whole or not part else "") + (f".{part}" if part else "")
    return f"-{digits}" if tenths < 0 else digits
