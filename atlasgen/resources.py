"""Finds templates/ and shared/ in a checkout, an editable install and a wheel."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def resource(*parts: str) -> Path:
    """Return the path of a file or folder below the checkout (preferred, never stale) or the wheel's copy.

    Raises
    ------
    FileNotFoundError
        The installation is not whole.
    """
    for base in (_PACKAGE.parent, _PACKAGE / "_data"):
        path = base.joinpath(*parts)
        if (base / "templates" / "web").is_dir() and path.exists():
            return path
    raise FileNotFoundError(f"{'/'.join(parts)}: not part of this installation of atlasgen. Install it again.")
