"""ship/placing: files onto a card, none of anybody else's touched."""

from __future__ import annotations

from pathlib import Path

import pytest

from atlasgen.errors import InputFault, OutputRefused
from atlasgen.ship import placing
from atlasgen.ship.cargo import BUNDLE_LIST, Item, from_folder, from_text, list_text, read_list
from atlasgen.ship.placing import place, plan_placement


def silent(*_: object) -> None:
    """Show nothing."""


def _bundle(**texts: str) -> list[Item]:
    items = [from_text(name.replace("__", "/"), text.encode()) for name, text in texts.items()]
    return [*items, from_text(BUNDLE_LIST, list_text(items, {}))]


def _put(root: Path, **texts: str) -> None:
    items = _bundle(**texts)
    place(root, plan_placement(root, items), silent)


def _files(root: Path) -> dict[str, str]:
    found = (path for path in root.rglob("*") if path.is_file() and path.name != BUNDLE_LIST)
    return {path.relative_to(root).as_posix(): path.read_text() for path in found}


def test_the_next_edition_writes_only_what_changed(tmp_path: Path):
    """What is the same stays, what is new is written, what is no longer of the bundle goes; foreign files stay."""
    (tmp_path / "mine.txt").write_text("mine")
    _put(tmp_path, a="one", b__c="two", b__d="three")
    placement = plan_placement(tmp_path, items := _bundle(a="one", b__c="new"))
    assert [item.name for item in placement.write] == ["b/c", BUNDLE_LIST]
    assert (placement.keep, placement.remove) == (1, ("b/d",))
    place(tmp_path, placement, silent)
    assert _files(tmp_path) == {"mine.txt": "mine", "a": "one", "b/c": "new"}
    assert set(read_list((tmp_path / BUNDLE_LIST).read_bytes(), "x")) == {"a", "b/c"}
    assert plan_placement(tmp_path, items).write == ()


def test_a_folder_that_becomes_empty_goes_too(tmp_path: Path):
    """But never one that holds anything else."""
    _put(tmp_path, x__y__z="1", k__l="2")
    (tmp_path / "k" / "theirs").write_text("3")
    _put(tmp_path, a="4")
    assert not (tmp_path / "x").exists()
    assert (tmp_path / "k" / "theirs").exists()


@pytest.mark.parametrize("what", ["file", "folder", "link", "link above", "file above", "changed since"])
def test_what_is_not_ours_is_never_touched(tmp_path: Path, what: str):
    """Anything foreign in a file's place stops the bundle before a byte is written."""
    outside = tmp_path / "outside"
    outside.mkdir()
    card = tmp_path / "card"
    card.mkdir()
    if what == "changed since":
        _put(card, a__b="one")
        (card / "a" / "b").write_text("edited")
    elif what == "file":
        (card / "a").mkdir()
        (card / "a" / "b").write_text("theirs")
    elif what == "folder":
        (card / "a" / "b").mkdir(parents=True)
    elif what == "link":
        (card / "a").mkdir()
        (card / "a" / "b").symlink_to(outside / "new")
    elif what == "link above":
        (card / "a").symlink_to(outside)
    else:
        (card / "a").write_text("theirs")
    before = sorted(map(str, tmp_path.rglob("*")))
    with pytest.raises(OutputRefused, match="not ours, or was changed since: a/b"):
        _put(card, a__b="two", c="three")
    assert sorted(map(str, tmp_path.rglob("*"))) == before


def test_an_identical_file_is_left_as_it_is(tmp_path: Path):
    """Whoever put it there: there is nothing to write."""
    (tmp_path / "a").write_text("one")
    assert plan_placement(tmp_path, _bundle(a="one")).keep == 1


def test_a_card_that_gives_back_other_bytes_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Reading back finds a failing card; what was there before stays, and no part is left behind."""
    _put(tmp_path, a="one")
    items = _bundle(a="two")
    placement = plan_placement(tmp_path, items)
    monkeypatch.setattr(placing, "file_sha256", lambda path: "0" * 64)
    with pytest.raises(InputFault, match="read back is not what was written"):
        place(tmp_path, placement, silent)
    assert _files(tmp_path) == {"a": "one"}


def test_a_source_that_changes_while_it_is_copied_is_told(tmp_path: Path):
    """The hash of what was listed is held against what is copied."""
    source = tmp_path / "chart"
    source.mkdir()
    (source / "a").write_text("one")
    items = list(from_folder(source, "chart"))
    (source / "a").write_text("two")
    with pytest.raises(InputFault, match="changed while it was copied"):
        place(tmp_path / "card", plan_placement(tmp_path / "card", items), silent)
    assert _files(tmp_path / "card") == {}


def test_a_bundle_cut_off_is_completed_by_the_next(tmp_path: Path):
    """Files of the new bundle under an old list are taken for ours, since they are what is to be written."""
    _put(tmp_path, a="one", b="two")
    (tmp_path / "a").write_text("new")
    (tmp_path / ".atlasgen-part-7").write_text("left behind")
    _put(tmp_path, a="new", b="new too")
    assert _files(tmp_path) == {"a": "new", "b": "new too"}


@pytest.mark.parametrize("name", ["../x", "/x", "a\\..\\x"])
def test_a_list_that_names_files_outside_is_refused(name: str):
    """A doctored list cannot make us remove what lies outside the card."""
    text = list_text([Item(name, "chart", 1, "0" * 64)], {})
    with pytest.raises(InputFault, match="names inside the folder"):
        read_list(text, "list")


def test_a_list_with_a_flipped_bit_is_refused():
    """It hashes itself."""
    text = list_text([from_text("a", b"one")], {})
    with pytest.raises(InputFault, match="not as it was written"):
        read_list(text.replace(b'"bytes": 3', b'"bytes": 4'), "list")


def test_a_link_or_a_pipe_in_the_chart_is_refused(tmp_path: Path):
    """It cannot be copied byte for byte, and may lead anywhere."""
    (tmp_path / "a").symlink_to("/etc/hostname")
    with pytest.raises(InputFault, match="a link"):
        list(from_folder(tmp_path, "chart"))
