"""write/volumes: a book that would be too large, in volumes at the borders of tiles."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pikepdf
import pypdf
import pytest
from books import write_book
from sample_atlas import make_sample_atlas, write_sample_pictures

from atlasgen.ship.holders import FolderHolder
from atlasgen.ship.links import broken_links
from atlasgen.write.volumes import Volume, smaller, volumes_of


@pytest.fixture(scope="module")
def sample():
    return make_sample_atlas()


def _tiles(volumes: tuple[Volume, ...]) -> list[list[str]]:
    return [list(dict.fromkeys(page.tile for page in volume.pages)) for volume in volumes]


def test_without_a_limit_it_is_one_book(sample):
    """All pages, one file."""
    (only,) = volumes_of(sample, None, dict.fromkeys(sample.page_of_photo(), 10**9))
    assert (only.pages, only.file) == (sample.pages, "atlas.pdf")


def test_a_tile_is_never_parted(sample):
    """With a limit that no page keeps, each run of one tile is a volume of its own, in order, none lost."""
    volumes = volumes_of(sample, 1.0, dict.fromkeys(sample.page_of_photo(), 1000))
    assert [page for volume in volumes for page in volume.pages] == list(sample.pages)
    assert all(len(tiles) == 1 for tiles in _tiles(volumes))
    for before, after in pairwise(volumes):
        assert before.pages[-1].tile != after.pages[0].tile
    assert [volume.file for volume in volumes] == [f"atlas-{i}.pdf" for i in range(1, len(volumes) + 1)]


def test_a_volume_that_comes_out_too_large_is_parted_anew(sample):
    """By as much as it was too large; one of a single tile cannot be parted and stays."""
    whole = volumes_of(sample, 1e12, dict.fromkeys(sample.page_of_photo(), 1000))
    assert smaller(100.0, whole, [150], 100.0) == pytest.approx(100 / 1.5 * 0.97)
    assert smaller(100.0, whole, [99], 100.0) is None
    single = volumes_of(sample, 1.0, dict.fromkeys(sample.page_of_photo(), 1000))
    assert smaller(100.0, single, [150] * len(single), 100.0) is None


@pytest.fixture(scope="module")
def volumes(sample, tmp_path_factory) -> list[Path]:
    """Write the sample's book with a limit of one page's weight."""
    folder = tmp_path_factory.mktemp("volumes")
    write_sample_pictures(sample, folder)
    atlas = replace(sample, survey=replace(sample.survey, volume_mb=1.6))
    return list(write_book(atlas, folder))


def test_volumes_that_stay_too_large_are_there_all_the_same(sample, tmp_path, monkeypatch):
    """After the last round a book that is larger than was asked stays, and whole: none would be worse."""
    monkeypatch.setattr("atlasgen.write.book._MOST_ROUNDS", 2)
    monkeypatch.setattr("atlasgen.write.book.smaller", lambda most, *_: most)
    write_sample_pictures(sample, tmp_path)
    written = write_book(replace(sample, survey=replace(sample.survey, volume_mb=1.6)), tmp_path)
    assert len(written) > 1
    assert {file: hashlib.sha256(file.read_bytes()).hexdigest() for file in written} == written


def _texts(file: Path) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(file).pages]


def test_every_page_is_in_one_volume_under_its_own_number(sample, volumes):
    """Printed numbers go on from volume to volume, and every photo is drawn once."""
    labels = [label for file in volumes for label in pypdf.PdfReader(file).page_labels]
    for page in sample.pages:
        assert str(page.number) in labels
    starts = [int(next(label for label in pypdf.PdfReader(file).page_labels if label.isdecimal())) for file in volumes]
    assert starts == sorted(starts)
    assert starts[0] == 1
    assert len(volumes) > 1


def test_each_volume_says_what_it_is_and_where_the_rest_is(volumes):
    """Cover and title name the volume; the contents name the volumes of other pages; each has the cautions."""
    count = len(volumes)
    for number, file in enumerate(volumes, 1):
        texts = _texts(file)
        assert f"Volume {number} of {count}" in texts[0]
        assert pypdf.PdfReader(file).metadata.title.endswith(f"volume {number} of {count}")
        assert any("not for navigation" in text for text in texts)
        contents = next(text for text in texts if text.startswith("Contents"))
        assert all((f"volume {other}," in contents) == (other != number) for other in range(1, count + 1))
    assert any(text.startswith("Map index") for text in _texts(volumes[0]))
    assert not any(text.startswith("Map index") for text in _texts(volumes[-1]))
    assert any(text.startswith("List of photographs") or "Photographs" in text for text in _texts(volumes[-1]))


def test_no_link_of_a_volume_leads_out_of_it(volumes):
    """What lies in another volume is named without a link; the outline is whole."""
    names = {file.name for file in volumes}
    holder = FolderHolder(volumes[0].parent)
    assert [pair for pair in broken_links(holder) if pair[0] in names] == []
    for file in volumes:
        with pikepdf.open(file) as pdf, pdf.open_outline() as outline:
            assert outline.root
