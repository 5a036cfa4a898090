"""What changed since the edition before, as a chapter of the new one."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from atlasgen.model import Atlas


def with_changes(atlas: Atlas, previous: Mapping[str, Any] | None) -> Atlas:
    """Add the chapter on what changed since `previous`, an atlas.json; without one the atlas stays as it is."""
    if previous is None:
        return atlas
    from atlasgen.compose.changes import differences
    from atlasgen.compose.changes_chapter import changes_chapter
    from atlasgen.compose.published import as_published, comparable
    from atlasgen.write.tables import atlas_document

    shown, _ = as_published(atlas, {})
    document = json.loads(json.dumps(atlas_document(shown)))  # as it will be read back: tuples are lists there
    old, new = (comparable(edition, atlas.survey.photo_names) for edition in (previous, document))
    return replace(atlas, chapters=(changes_chapter(differences(old, new)), *atlas.chapters))
