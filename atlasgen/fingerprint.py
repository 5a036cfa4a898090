"""SHA-256 of values by what they hold: two values of equal contents have one fingerprint, in every process."""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time, timedelta
from functools import cache
from pathlib import PurePath
from typing import Any
from zoneinfo import ZoneInfo

# Small values are hashed afresh each time: to look them up would cost as much.
_SMALL = (type(None), bool, int, float, str)


class Fingerprints:
    """Takes fingerprints; that of a large value met before is not taken again.

    A value is known again by its identity and held until the end, so it must not change in between: only values that
    cannot (tuples, frozen dataclasses, geometries) are looked up, and arrays, which no step of the program alters.
    """

    def __init__(self) -> None:
        self._known: dict[int, tuple[Any, bytes]] = {}

    def of(self, value: Any) -> str:
        """Return the fingerprint, 64 hexadecimal digits.

        Raises
        ------
        TypeError
            The value holds something that has no contents to compare, such as a function.
        """
        return self._digest(value).hex()

    def _digest(self, value: Any) -> bytes:
        if isinstance(value, _SMALL):
            return _small(value)
        known = self._known.get(id(value))
        if known is not None and known[0] is value:
            return known[1]
        digest, lasting = self._taken(value)
        if lasting:
            self._known[id(value)] = (value, digest)
        return digest

    def _taken(self, value: Any) -> tuple[bytes, bool]:
        name = type(value).__name__.encode()
        if isinstance(value, tuple):
            return _joined(b"list", map(self._digest, value)), True
        if isinstance(value, list):
            return _joined(b"list", map(self._digest, value)), False
        if isinstance(value, Mapping):
            pairs = sorted(self._digest(key) + self._digest(item) for key, item in value.items())
            return _joined(b"mapping", pairs), False
        if isinstance(value, set | frozenset):
            return _joined(b"set", sorted(map(self._digest, value))), False
        if is_dataclass(value) and not isinstance(value, type):
            frozen = type(value).__dataclass_params__.frozen  # type: ignore[attr-defined]
            return _joined(name, (self._digest(getattr(value, field)) for field in _fields(type(value)))), frozen
        plain = _plain(value)
        return _joined(name, [plain]), len(plain) > 64


@cache
def _fields(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


def _small(value: Any) -> bytes:
    if isinstance(value, float):
        return _joined(b"float", [struct.pack("<d", value)])
    return _joined(type(value).__name__.encode(), [str(value).encode("utf-8", "surrogatepass")])


def _plain(value: Any) -> bytes:
    """Return the contents of a value that holds no other values as bytes."""
    if isinstance(value, bytes):
        return value
    if isinstance(value, date | datetime | time):
        return f"{value.isoformat()} {value.tzinfo if isinstance(value, datetime | time) else ''}".encode()
    if isinstance(value, timedelta | ZoneInfo | PurePath):
        return repr(value).encode()
    if hasattr(value, "geom_type"):
        from shapely import to_wkb

        return to_wkb(value)
    if hasattr(value, "__array_interface__"):
        return _of_array(value)
    raise TypeError(f"no fingerprint of {type(value).__name__}")


def _of_array(value: Any) -> bytes:
    import numpy as np

    array = np.asarray(value)
    if array.dtype.hasobject:
        raise TypeError("no fingerprint of an array of objects")
    return f"{array.dtype.str} {array.shape} ".encode() + np.ascontiguousarray(array).tobytes()


def _joined(kind: bytes, parts: Any) -> bytes:
    digest = hashlib.sha256(kind)
    for part in parts:
        digest.update(struct.pack("<q", len(part)))
        digest.update(part)
    return digest.digest()
