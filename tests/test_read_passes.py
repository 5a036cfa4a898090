"""Source: 1 knot = 1852/3600 m/s by definition; distances on WGS 84 by geographiclib."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from atlasgen.model import Outage
from atlasgen.read.passes import read_passes

TEN = datetime(2026, 5, 1, 10, tzinfo=UTC).timestamp()
HEAD = "pass,time,lon,lat,speed,range_m,height_m\n"
ROWS = (
    "1,2026-05-01 10:00:00,9.0,45.0,2.0,40,6.5\n"
    "1,2026-05-01 10:00:10,9.0,45.0002,2.1,40,\n"
    "2,2026-05-01 10:05:00,9.1,45,2,40,7\n"
)


@pytest.fixture
def read(tmp_path):
    """Read texts as passes a.csv, b.csv ... and an outage table."""

    def reader(*texts, outages=None):
        paths_names = []
        for letter, text in zip("abc", texts, strict=False):
            path = tmp_path / f"{letter}.csv"
            path.write_text(text, encoding="utf-8")
            paths_names.append((path, path.name))
        table = None
        if outages is not None:
            (tmp_path / "outages.csv").write_text(outages, encoding="utf-8")
            table = (tmp_path / "outages.csv", "outages.csv")
        return read_passes(paths_names, table, timedelta(0))

    return reader


def test_rows_become_passes(read):
    """Two passes; an empty cell is unknown."""
    (one, two), problems = read(HEAD + ROWS)
    assert (one.name, two.name) == ("1", "2")
    assert one.time_s.tolist() == [TEN, TEN + 10]
    assert (one.speed_mps.tolist(), one.range_m.tolist()) == ([2.0, 2.1], [40.0, 40.0])
    assert [None if np.isnan(h) else h for h in one.height_above_bed_m] == [6.5, None]
    assert problems == []


def test_speed_in_knots_is_converted(read):
    """10 kn = 5.1444 m/s."""
    (run,), _ = read("time,lon,lat,speed_kn,range_m\n2026-05-01 10:00,9,45,10,40\n")
    assert pytest.approx(run.speed_mps[0]) == 18520 / 3600
    assert run.name == "a"


def test_where_a_pass_comes_from_is_kept(read):
    """File and instrument, and whether its speed was recorded."""
    (run,), _ = read("time,lon,lat,sonar\n2026-05-01 10:00,9,45,Quillsonde S2\n2026-05-01 10:01,9,45.001,\n")
    assert (run.file, run.instrument, run.speed_computed) == ("a.csv", "Quillsonde S2", True)
    (one, _), _ = read(HEAD + ROWS)
    assert (one.instrument, one.speed_computed) == ("", False)


def test_speed_is_computed_where_it_is_not_given(read):
    """The way between the rows before and after, by geographiclib; rows come in any order."""
    rows = ["2026-05-01 10:00:20,9.0,45.0004", "2026-05-01 10:00:00,9.0,45.0", "2026-05-01 10:00:10,9.0,45.0002"]
    (run,), _ = read("time,lon,lat\n" + "\n".join(rows))
    way_m = Geodesic.WGS84.Inverse(45.0, 9.0, 45.0004, 9.0)["s12"]
    assert way_m / 20 == pytest.approx(run.speed_mps[1], rel=1e-6)
    assert np.isnan(run.range_m).all()


def test_one_row_has_no_speed(read):
    """No way is made in no time."""
    (run,), _ = read("time,lon,lat\n2026-05-01 10:00,9,45\n")
    assert np.isnan(run.speed_mps).all()


def test_rows_without_time_or_place_are_counted(read):
    """The others are used."""
    (run,), (problem,) = read("time,lon,lat\nsoon,9,45\n2026-05-01 10:00,9,45\n2026-05-01 10:01,9,\n")
    assert len(run.time_s) == 1
    assert "of 3 rows 1 were used. Left out: 1 no time, 1 no position in range" in problem.message


def test_values_that_cannot_be_are_unknown_and_said(read):
    """A boat at 90 m/s, and a word for a range."""
    (run,), problems = read("time,lon,lat,speed,range_m\n2026-05-01 10:00,9,45,90,wide\n2026-05-01 10:01,9,45,2,40\n")
    assert np.isnan(run.range_m).tolist() == [True, False]
    assert len(problems) == 2
    assert run.speed_mps[0] == 0.0


def test_two_files_with_one_name_are_two_passes(read):
    """Both carry their file's name, and an outage of that name is both's."""
    runs, _ = read(HEAD + ROWS, HEAD + ROWS.splitlines()[0], outages="pass,channel,from,to,why\n1,port,,,\n")
    assert [run.name for run in runs] == ["1 (a)", "2", "1 (b)"]
    assert [len(run.outages) for run in runs] == [1, 0, 1]


def test_outages_go_to_their_pass(read):
    """By name; both channels; empty times are the pass's own."""
    table = "pass,channel,from,to,why\n1,both,2026-05-01 10:00:03,,cable\n2,stbd,,,weed on the transducer\n"
    (one, two), problems = read(HEAD + ROWS, outages=table)
    expected = [Outage("port", TEN + 3, TEN + 10, "cable"), Outage("starboard", TEN + 3, TEN + 10, "cable")]
    assert expected == list(one.outages)
    assert (Outage("starboard", TEN + 300, TEN + 300, "weed on the transducer"),) == two.outages
    assert problems == []


def test_an_outage_without_a_pass_goes_to_those_its_times_touch(read):
    """10:04 to 10:06 touches the second only."""
    table = "pass,channel,from,to,why\n,port,2026-05-01 10:04,2026-05-01 10:06,power\n"
    (one, two), _ = read(HEAD + ROWS, outages=table)
    assert (len(one.outages), len(two.outages)) == (0, 1)


@pytest.mark.parametrize(
    ("row", "says"),
    [("1,left,,,", "channel 'left'"), ("7,port,,,", "no pass '7'"), ("1,port,soon,,", "from 'soon'"),
     ("1,port,2026-05-01 10:05,2026-05-01 10:01,", "is later than")],
)  # fmt: skip
def test_a_bad_outage_is_named_by_its_line(read, row, says):
    """And the passes stand."""
    runs, (problem,) = read(HEAD + ROWS, outages=f"pass,channel,from,to,why\n{row}\n")
    assert len(runs) == 2
    assert problem.message.startswith("outages.csv: line 2: ")
    assert says in problem.message


def test_a_bad_file_is_a_fault_and_the_other_is_read(read):
    """No time column; no channel column."""
    runs, problems = read("lon,lat\n9,45\n", "time,lon,lat\n2026-05-01 10:00,9,45\n", outages="pass,why\n1,x\n")
    assert [run.name for run in runs] == ["b"]
    assert [(p.level, p.subject) for p in problems] == [("fault", "a.csv"), ("fault", "outages.csv")]


def test_names_with_leading_zeros_keep_them(read):
    """007 is a name, not a number."""
    (run,), problems = read("pass,time,lon,lat\n007,2026-05-01 10:00,9,45\n", outages="pass,channel\n007,port\n")
    assert (run.name, len(run.outages), problems) == ("007", 1, [])
