"""Lays a folder's Typst template out as a PDF, for book and field sheet alike."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Any


class LayoutFault(RuntimeError):
    """A print template could not be laid out; a defect of atlasgen, whatever the survey holds."""


# Tagged for readers who hear the page (ISO 14289-1) and for archives (ISO 19005-2, level A).
_STANDARDS = ("ua-1", "a-2a")


def lay_out_pdf(
    folder: Path,
    source: str,
    output: Path,
    dated: date,
    ask: str | None = None,
    standards: Sequence[str] = _STANDARDS,
) -> Any:
    """Lay out `folder/source` into `output`, with the typefaces in `folder/faces`, to the `standards` named.

    Returns the answer, as JSON values, to `ask`: a Typst expression put to the finished layout; None without one.

    Raises
    ------
    LayoutFault
        With what the typesetter says; a warning counts as a fault, since it may stand for text that is not printed.
    """
    import typst

    faces = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folder / "faces")])
    compiler = typst.Compiler(input=str(folder / source), root=str(folder), font_paths=faces)
    stamp = datetime.combine(dated, time(), UTC)
    try:
        _, warnings = compiler.compile_with_warnings(
            output=str(output),
            format="pdf",
            timestamp=stamp,
            pdf_standards=list(standards),  # type: ignore[arg-type]
        )
        answer = json.loads(compiler.eval(ask)) if ask else None
    except typst.TypstError as error:
        raise LayoutFault(f"{error.message} {' '.join(error.hints)}\n{error.diagnostic}") from None
    if warnings:
        raise LayoutFault("\n".join(warning.diagnostic for warning in warnings))
    return answer
