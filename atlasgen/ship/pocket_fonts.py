"""The faces of the pocket edition: only the letters that it uses, where a library for that is installed."""

from __future__ import annotations

import io

# Kept beside the defaults: figures of one width, as the tables set them.
_FEATURES = ("tnum", "lnum", "zero")
# The family's name is reserved by its licence: a changed face may not carry it. Copyright and licence stay in the face.
_RENAMED = {1: "Atlas Pocket", 3: "Atlas Pocket", 4: "Atlas Pocket", 6: "AtlasPocket", 16: "Atlas Pocket"}


def fitted_face(ttf: bytes, letters: frozenset[str]) -> tuple[str, bytes]:
    """Return a face for `letters` as (name ending, bytes): a compressed subset, or `ttf` whole without fontTools."""
    try:
        from fontTools.subset import Options, Subsetter
        from fontTools.ttLib import TTFont
    except ImportError:
        return ".ttf", ttf
    options = Options(hinting=False, name_IDs=["*"], name_languages=["*"], notdef_outline=True)
    options.layout_features = [*options.layout_features, *_FEATURES]
    face = TTFont(io.BytesIO(ttf), recalcTimestamp=False)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=sorted(map(ord, letters)))
    subsetter.subset(face)
    for record in face["name"].names:
        if record.nameID in _RENAMED:
            record.string = _RENAMED[record.nameID]
    face.flavor = "woff"
    stream = io.BytesIO()
    face.save(stream, reorderTables=False)
    return ".woff", stream.getvalue()
