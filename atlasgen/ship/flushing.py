"""Makes sure that what was written is on the medium, and that reading it back asks the medium."""

from __future__ import annotations

import os
from typing import IO


def flush_out(file: IO[bytes]) -> None:
    """Flush a file to its disk or card, and drop it from the system's memory where that can be asked for."""
    file.flush()
    os.fsync(file.fileno())
    if hasattr(os, "posix_fadvise"):
        os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)
