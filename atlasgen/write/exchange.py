"""Two folders change places in one step, so that no moment has neither."""

from __future__ import annotations

import ctypes
import os
from functools import cache
from pathlib import Path
from typing import Any

# Linux, man 2 renameat2; in the C library since glibc 2.28.
_RENAME_EXCHANGE = 2
_AT_FDCWD = -100


def exchange(one: Path, other: Path) -> bool:
    """Let two paths of one file system change places; False, and nothing done, where the system cannot do it."""
    rename = _renameat2()
    if rename is None:
        return False
    return rename(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0


@cache
def _renameat2() -> Any:
    try:
        function = ctypes.CDLL(None).renameat2
    except (OSError, AttributeError, TypeError):
        return None
    function.argtypes = [ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint]
    return function
