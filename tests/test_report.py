"""What the commands print can be read in ten seconds, and leaves nothing out."""

from __future__ import annotations

import dataclasses
from pathlib import Path

from sample_atlas import make_sample_atlas

from atlasgen.model import Problem
from atlasgen.report import audit_report, build_report, check_report

ATLAS = make_sample_atlas()


def test_check_groups_problems_by_kind_and_says_what_to_do():
    """Left out first, then the rest; each message whole."""
    text = check_report(ATLAS)
    assert text.startswith("Sample <Lake> & Reservoir, edition 2026.1\n  photos placed      12 (12 from exif)")
    assert "Left out, and why:\n  the picture is cut short or damaged (1)\n    photos/broken" in text
    assert "Used, but look at this:\n  an input that is not there (1)\n    survey.toml: passes: not supplied." in text


def test_check_of_a_clean_survey_says_so():
    """No empty headings."""
    clean = dataclasses.replace(ATLAS, problems=(), left_out=())
    assert check_report(clean).endswith("Nothing to mend.")


def test_many_problems_of_a_kind_are_counted_not_hidden():
    """Five are shown, the rest counted."""
    many = tuple(Problem(f"photos/{i}.jpg", "no_heading", "no direction in the file.") for i in range(12))
    text = check_report(dataclasses.replace(ATLAS, problems=many, left_out=()))
    assert "direction unknown (12)" in text
    assert "and 7 more" in text
    assert text.count("no direction in the file") == 5


def test_build_says_where_to_look_and_that_it_is_not_for_navigation():
    """The two doors, what was left out, the caution."""
    text = build_report(ATLAS, Path("out"))
    assert "Open first: out/index.html" in text
    assert "2 files left out" in text
    assert text.endswith("Not for navigation.")


def test_audit_adds_up_and_names_the_longest_gap_first():
    """Shore by state, by ring and in all; percent of each row."""
    lines = audit_report(ATLAS).splitlines()
    total = next(line for line in lines if line.strip().startswith("in all")).split("in all")[1].split()
    assert total == ["3.4", "km", "0", "m", "0", "%", "0", "m", "0", "%", "600", "m", "18", "%", "2.8", "km", "82", "%"]
    gaps = [line for line in lines if "along ring" in line]
    lengths = [float(line.split()[0]) * (1000 if line.split()[1] == "km" else 1) for line in gaps]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths


def test_the_volumes_of_a_book_are_named_and_one_that_is_too_large_is_told(tmp_path):
    """In order of their numbers; only the one over the limit."""
    atlas = dataclasses.replace(ATLAS, survey=dataclasses.replace(ATLAS.survey, volume_mb=1.0))
    for number in (1, 2, 10):
        (tmp_path / f"atlas-{number}.pdf").write_bytes(b"x" * (1_500_000 if number == 2 else 10))
    report = build_report(atlas, tmp_path)
    places = [report.index(f"atlas-{number}.pdf") for number in (1, 2, 10)]
    assert places == sorted(places)
    assert "atlas-2.pdf has 1.5 MB, more than book.volume_mb (1): it is one tile" in report
    assert "atlas-10.pdf has" not in report
