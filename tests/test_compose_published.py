"""Photos are called in every output as the crew chose, and nowhere otherwise."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from sample_atlas import make_sample_atlas

from atlasgen.compose.published import as_published, public_names
from atlasgen.model import Problem
from atlasgen.write.since import with_changes
from atlasgen.write.tables import atlas_document

WHO = "Ottoline Quill"


def named(choice: str):
    """Return the sample atlas with two photos and four files left out below a folder that bears a name."""
    atlas = make_sample_atlas()
    first, second, *rest = atlas.placed.photos
    photos = (
        replace(first, source=replace(first.source, file=f"photos/{WHO}/a.jpg")),
        replace(second, source=replace(second.source, file=f"photos/{WHO}/one/a.jpg")),
        *rest,
    )
    told = [
        (f"photos/{WHO}/b.txt", "not_an_image", f"photos/{WHO}/b.txt: it is text.", "left_out"),
        (f"photos/{WHO}/two/a.jpg", "duplicate", f"photos/{WHO}/two/a.jpg: the same bytes as photos/{WHO}/a.jpg.",
         "left_out"),
        (f"photos/{WHO}", "unreadable", f"photos/{WHO}: the folder cannot be opened (no). Expected a folder.",
         "left_out"),
        (f"photos/{WHO}/lava.jpg", "damaged", f"photos/{WHO}/lava.jpg: cut short.", "left_out"),
        (f"photos/{WHO}/a.jpg", "no_heading", "no direction in the file."),
        ("corrections.csv", "ambiguous", f"corrections.csv: {WHO}/A.JPG has several rows; the last was used."),
        (f"{WHO}/gone.jpg", "unused", f"corrections for {WHO}/gone.jpg: no such photo was read."),
        ("stage.csv", "no_stage", f"no level for 2 photos (photos/{WHO}/one/a.jpg, photos/{WHO}/a.jpg)."),
    ]  # fmt: skip
    problems = tuple(Problem(*words) for words in told)
    return replace(
        atlas,
        survey=replace(atlas.survey, photo_names=choice),
        placed=replace(atlas.placed, photos=photos),
        problems=problems,
        left_out=tuple(p for p in problems if p.level == "left_out"),
    )


def test_paths_leave_all_as_it_is():
    """The default changes nothing."""
    atlas = named("paths")
    assert as_published(atlas, {"a": "1"}) == (atlas, {"a": "1"})


@pytest.mark.parametrize("choice", ["names", "none"])
def test_the_folder_is_nowhere(choice):
    """Neither in the atlas's document nor among the inputs, in any case of letters."""
    atlas = named(choice)
    inputs = {photo.source.file: photo.source.sha256 for photo in atlas.placed.photos} | {"stage.csv": "f"}
    shown, hashes = as_published(atlas, inputs)
    assert WHO.casefold() not in str((atlas_document(shown), hashes)).casefold()
    assert list(hashes.values()) == list(inputs.values())
    assert hashes["stage.csv"] == "f"


def test_a_shared_last_part_is_told_apart_by_the_id():
    """Three files are called a.jpg; one of them was left out and has a number."""
    atlas = named("names")
    one, two = (photo.id for photo in atlas.placed.photos[:2])
    names = public_names(atlas)
    assert [names[key] for key in sorted(names) if WHO in key] == [
        "a folder of photos",
        f"a.jpg ({one})",
        "b.txt",
        "lava.jpg",
        f"a.jpg ({two})",
        "a.jpg (file left out 4)",
    ]
    told = [problem.message for problem in as_published(atlas, {})[0].problems]
    assert told == [
        "b.txt: it is text.",
        f"a.jpg (file left out 4): the same bytes as a.jpg ({one}).",
        "a folder of photos: the folder cannot be opened (no). Expected a folder.",
        "lava.jpg: cut short.",
        "no direction in the file.",
        f"corrections.csv: a.jpg ({one}) has several rows; the last was used.",
        "corrections for gone.jpg: no such photo was read.",
        f"no level for 2 photos (a.jpg ({two}), a.jpg ({one})).",
    ]


def test_without_names_a_photo_is_its_id_and_a_file_left_out_a_number():
    """Not even the last part remains, and each problem still tells which file it is about."""
    atlas = named("none")
    shown, _ = as_published(atlas, {})
    assert [photo.source.file for photo in shown.placed.photos] == [f"photo {p.id}" for p in atlas.placed.photos]
    subjects = [problem.subject for problem in shown.problems]
    first = atlas.placed.photos[0].id
    assert subjects == [
        "file left out 2",
        "file left out 4",
        "a folder of photos",
        "file left out 3",
        f"photo {first}",
        "corrections.csv",
        "a file",
        "stage.csv",
    ]
    assert [word for word in ("a.jpg", "gone.jpg", "b.txt") if word in str(shown.problems).casefold()] == []


@pytest.mark.parametrize("choice", ["names", "none"])
def test_the_edition_before_may_have_told_more_and_still_gives_nothing_away(choice):
    """The chapter on what changed lists photos that came and went by their new names, though the old file has paths."""
    before = json.loads(json.dumps(atlas_document(named("paths"))))
    after = named(choice)
    fewer = replace(after, placed=replace(after.placed, photos=after.placed.photos[2:]))
    pages = tuple(
        replace(page, figures=tuple(f for f in page.figures if f.photo in {p.id for p in fewer.placed.photos}))
        for page in after.pages
    )
    chapter = with_changes(replace(fewer, pages=pages), before).chapters[0]
    assert "shows" in str(chapter) or "was on page" in str(chapter)
    assert WHO not in str(chapter)
