"""SHA-256 of values by what they hold: two values of equal contents have one fingerprint, in every process."""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time, timedelta
from functools import cache
from pathlib import PurePath
from typing import Any
from zoneinfo import ZoneInfo

# Shorter values are written anew each time: to look them up would cost as much.
_LONG_BYTES = 64


class Fingerprints:
    """Takes fingerprints; that of a large value met before is not taken again.

    A value is known again by its identity and held until the end, so it must not change in between: only values that
    cannot (tuples, frozen dataclasses, geometries) are looked up, and arrays, which no step of the program alters.
    """

    def __init__(self) -> None:
        self._known: dict[int, tuple[Any, bytes]] = {}

    def learn(self, value: Any, name: str) -> None:
        """Take `name`, of which the value follows, for its fingerprint; and of it for those of a tuple's parts."""
        if isinstance(value, tuple):
            for place, part in enumerate(value):
                self.learn(part, f"{name} {place}")
        elif _is_frozen(value):
            self._known[id(value)] = (value, b"@" + name.encode())

    def of(self, value: Any) -> str:
        """Return the fingerprint, 64 hexadecimal digits.

        Raises
        ------
        TypeError
            The value holds something that has no contents to compare, such as a function.
        """
        return hashlib.sha256(self._written(value)).hexdigest()

    def _written(self, value: Any) -> bytes:
        """Return a value as bytes that tell its kind and where it ends: a small one itself, a large one by its hash."""
        if value is None or isinstance(value, bool | int | float | str):
            return _small(value)
        known = self._known.get(id(value))
        if known is not None and known[0] is value:
            return known[1]
        kind, parts, lasting = self._parts(value)
        digest = hashlib.sha256(kind)
        digest.update(b"".join(parts))
        written = b"#" + digest.digest()
        if lasting:
            self._known[id(value)] = (value, written)
        return written

    def _parts(self, value: Any) -> tuple[bytes, Iterable[bytes], bool]:
        """Return a value's kind, its parts written, and whether it can never change."""
        if isinstance(value, tuple | list):
            return b"list", map(self._written, value), isinstance(value, tuple)
        if isinstance(value, Mapping):
            pairs = sorted(self._written(key) + self._written(item) for key, item in value.items())
            return b"mapping", pairs, False
        if isinstance(value, set | frozenset):
            return b"set", sorted(map(self._written, value)), False
        if is_dataclass(value) and not isinstance(value, type):
            held = (self._written(getattr(value, field)) for field in _fields(type(value)))
            return b"dataclass " + _name(value), held, _is_frozen(value)
        plain = _plain(value)
        return b"value " + _name(value), [plain], len(plain) > _LONG_BYTES


def _is_frozen(value: Any) -> bool:
    params = getattr(type(value), "__dataclass_params__", None)
    return params is not None and params.frozen


@cache
def _fields(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


def _name(value: Any) -> bytes:
    return type(value).__name__.encode() + b"\0"


def _small(value: Any) -> bytes:
    if value is None:
        return b"-"
    if isinstance(value, bool):
        return b"t" if value else b"f"
    if isinstance(value, float):
        return b"d" + struct.pack("<d", value)
    text = str(value).encode("utf-8", "surrogatepass")
    return (b"s" if isinstance(value, str) else b"i") + struct.pack("<q", len(text)) + text


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
