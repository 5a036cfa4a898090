"""Sources: NIST Handbook 44 (foot), GeographicLib's GeoConvert documentation (UTM point); files are written by hand."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from atlasgen.errors import InputFault
from atlasgen.read.nmea import checksum_of
from atlasgen.read.soundings import read_soundings

STATED = {"depth_unit": "metres", "depth_positive": "down"}


@pytest.fixture
def read(tmp_path):
    """Read texts as files; `names` give their suffixes."""

    def reader(*texts, names=(), **rules):
        paths_names = []
        for number, text in enumerate(texts):
            path = tmp_path / (names[number] if names else f"{number}.csv")
            path.write_text(text, encoding="utf-8")
            paths_names.append((path, path.name))
        defaults = {
            "columns": {}, "crs": "EPSG:4326", "depth_unit": None, "depth_positive": None,
            "zone": timedelta(0), "no_data": (),
        }  # fmt: skip
        return read_soundings(paths_names, **{**defaults, **rules})

    return reader


def messages(problems):
    """All messages as one text."""
    return " | ".join(problem.message for problem in problems)


def test_positions_depths_and_times_are_read(read):
    """A heading that says all leaves nothing to assume but the sign, which is the usual one."""
    soundings, problems = read(
        "lon,lat,depth_m,time\n9.0,45.0,2.5,2026-05-01T10:00:00Z\n9.0001,45.0,3.5,2026-05-01T10:00:01Z\n"
    )
    assert (soundings.lon_deg.tolist(), soundings.lat_deg.tolist()) == ([9.0, 9.0001], [45.0, 45.0])
    assert soundings.depth_m.tolist() == [2.5, 3.5]
    start = datetime(2026, 5, 1, 10, tzinfo=UTC).timestamp()
    assert [start, start + 1] == soundings.time_s.tolist()
    assert (soundings.line.tolist(), soundings.files, soundings.rejected) == ([0, 0], ("0.csv",), {})
    assert problems == []


@pytest.mark.parametrize(
    ("heading", "stated", "depth_m"),
    [("depth_ft", None, 3.048), ("Depth (fathoms)", None, 18.288), ("depth", "feet", 3.048), ("Depth [m]", None, 10.0)],
)
def test_the_unit_comes_from_the_heading_or_the_settings(read, heading, stated, depth_m):
    """10 ft = 3.048 m, 10 fathoms = 60 ft = 18.288 m (NIST Handbook 44, Appendix C)."""
    soundings, problems = read(f"lon,lat,{heading}\n9,45,10\n", depth_unit=stated)
    assert [depth_m] == pytest.approx(soundings.depth_m.tolist())
    assert problems == []


def test_an_unknown_unit_is_assumed_to_be_metres_and_said(read):
    """The message tells how to state it."""
    soundings, (problem,) = read("lon,lat,depth\n9,45,10\n")
    assert soundings.depth_m.tolist() == [10.0]
    assert "metres were assumed" in problem.message
    assert "soundings.depth_unit" in problem.message


def test_a_unit_that_is_not_known_is_refused(read):
    """Centimetres are not silently metres."""
    soundings, (problem,) = read("lon,lat,Depth (cm)\n9,45,250\n")
    assert soundings is None
    assert (problem.level, "is in cm" in problem.message) == ("fault", True)


def test_a_heading_goes_before_the_settings_and_it_is_said(read):
    """Feet in the heading, metres in survey.toml."""
    soundings, (problem,) = read("lon,lat,depth_ft\n9,45,10\n", depth_unit="metres")
    assert pytest.approx(soundings.depth_m.tolist()) == [3.048]
    assert "the heading was followed" in problem.message


def test_negative_depths_are_heights_and_it_is_said(read):
    """Column order y, x, z and depths below zero."""
    soundings, (problem,) = read("y,x,z\n49.66621,-93.74006,-2.59\n49.66617,-93.74007,-2.68\n", depth_unit="metres")
    assert soundings.depth_m.tolist() == [2.59, 2.68]
    assert soundings.lon_deg.tolist() == [-93.74006, -93.74007]
    assert 'soundings.depth_positive = "up"' in problem.message


def test_a_stated_sign_needs_no_note(read):
    """And depths of the other sign are counted."""
    soundings, (problem,) = read("lon,lat,depth_m\n9,45,-2\n9,45,3\n", depth_positive="up")
    assert soundings.depth_m.tolist() == [2.0]
    assert soundings.rejected == {"depth of the wrong sign": 1}
    assert "of 2 rows 1 were used" in problem.message


def test_mixed_signs_are_refused_and_the_likely_reason_named(read):
    """-99 in a tenth of the rows: state the sign, or the value that means nothing."""
    rows = "".join(f"9,45,{depth}\n" for depth in [2, 3, 4, 5, 6, 7, 8, 9, 10, -99])
    soundings, (problem,) = read(f"lon,lat,depth_m\n{rows}")
    assert soundings is None
    for part in ("9 depths above and 1 below zero", "-99 m", "soundings.depth_positive", "soundings.no_data"):
        assert part in problem.message
    assert read(f"lon,lat,depth_m\n{rows}", no_data=(-99.0,))[0].rejected == {"no-data value": 1}


def test_a_few_of_the_other_sign_are_left_out(read):
    """One in 200 is under 1 %."""
    soundings, _ = read("lon,lat,depth_m\n" + "9,45,2\n" * 199 + "9,45,-2\n")
    assert (len(soundings.depth_m), soundings.rejected) == (199, {"depth of the wrong sign": 1})


def test_every_reason_is_counted(read):
    """One row for each."""
    rows = [
        "9,45,5,A",
        "9,45,6,V",
        "9,45,-1,A",
        "x,45,5,A",
        "9,,5,A",
        "9,95,5,A",
        "0,0,5,A",
        "9,45,0,A",
        "9,45,9999,A",
        "9,45,5,A,7",
    ]
    soundings, problems = read("lon,lat,depth_m,depth_status\n" + "\n".join(rows), no_data=(-1.0,), **STATED)
    expected = {
        "deeper than any lake": 1, "flagged invalid": 1, "no-data value": 1, "not a number": 2,
        "position out of range": 2, "wrong number of cells": 1, "zero depth": 1,
    }  # fmt: skip
    assert expected == soundings.rejected
    assert soundings.depth_m.tolist() == [5.0]
    assert "of 10 rows 1 were used" in messages(problems)


@pytest.mark.parametrize(
    ("heading", "values", "kept"),
    [
        ("pos_status", "AV", 1),
        ("valid", "10", 1),
        ("valid", ["true", "false"], 1),
        ("flag", "19", 2),
        ("station", "AV", 2),
    ],
)
def test_flags_are_honoured_where_they_are_flags(read, heading, values, kept):
    """A column called flag with other numbers, or another column with A and V, says nothing."""
    rows = "".join(f"9,45,5,{value}\n" for value in values)
    assert kept == len(read(f"lon,lat,depth_m,{heading}\n{rows}")[0].depth_m)


def test_a_file_without_a_usable_row_is_a_fault_with_its_reasons(read):
    """It says what was wrong with the rows."""
    soundings, (problem,) = read("lon,lat,depth_m\nN45,E9,x\n9,45,\n")
    assert soundings is None
    assert "none of 2 rows can be used (2 not a number)" in problem.message


def test_projected_coordinates_are_brought_to_wgs_84(read):
    """UTM 38N, 444140.54 E 3684706.36 N, is 33.3 N 44.4 E (GeographicLib, GeoConvert documentation)."""
    soundings, _ = read("x,y,depth_m\n444140.54,3684706.36,5\n", crs="EPSG:32638")
    assert pytest.approx((soundings.lon_deg[0], soundings.lat_deg[0]), abs=1e-6) == (44.4, 33.3)


@pytest.mark.parametrize("crs", ["EPSG:9", "the lake's own", "EPSG:4978"])
def test_a_crs_that_is_no_map_is_refused_by_its_key(read, crs):
    """Unknown to PROJ, or geocentric."""
    with pytest.raises(InputFault, match=r"survey\.toml: soundings\.crs"):
        read("x,y,depth_m\n1,2,5\n", crs=crs)


def test_an_open_quotation_mark_is_said(read):
    """No row is swallowed by it."""
    soundings, problems = read('lon,lat,depth_m,note\n9,45,5,"x\n9,45,6,y\n')
    assert soundings.depth_m.tolist() == [5.0, 6.0]
    assert "quotation mark" in messages(problems)


def test_metres_without_a_crs_are_a_fault_that_names_the_setting(read):
    """The other file is read all the same."""
    soundings, problems = read("x,y,depth_m\n444140.54,3684706.36,5\n", "lon,lat,depth_m\n9,45,5\n")
    assert (soundings.files, soundings.depth_m.tolist()) == (("1.csv",), [5.0])
    assert [problem.level for problem in problems] == ["fault"]
    assert "soundings.crs" in problems[0].message


def test_named_columns_go_before_headings(read):
    """By heading and by place."""
    columns = {"lon": "2", "lat": "1", "depth": "echo", "time": None}
    soundings, _ = read("a,b,echo\n45,9,5\n", columns=columns, **STATED)
    assert (soundings.lon_deg[0], soundings.lat_deg[0], soundings.depth_m[0]) == (9.0, 45.0, 5.0)


def test_a_table_without_a_heading_is_guessed_where_values_leave_no_doubt(read):
    """-93.74 is no latitude, and depths are coarse."""
    soundings, problems = read("49.66621,-93.74006,2.5\n49.66617,-93.74017,2.6\n", **STATED)
    assert (soundings.lon_deg.tolist(), soundings.depth_m.tolist()) == ([-93.74006, -93.74017], [2.5, 2.6])
    assert "column 2 was read as longitude, 1 as latitude and 3 as depth" in messages(problems)


def test_a_table_without_a_heading_is_refused_where_they_leave_doubt(read):
    """9 and 45 may both be latitudes."""
    soundings, (problem,) = read("9.12345,45.12345,2.5\n9.12346,45.12346,2.6\n", **STATED)
    assert soundings is None
    assert 'soundings.columns.lon = "1"' in problem.message
    columns = {"lon": "1", "lat": "2", "depth": "3"}
    soundings, _ = read("9.12345,45.12345,2.5\n9.12346,45.12346,2.6\n", columns=columns, **STATED)
    assert soundings.lon_deg.tolist() == [9.12345, 9.12346]


def test_runs_end_at_a_pause_a_jump_a_named_line_and_a_file(read):
    """61 s; 111 m without times (0.001 degrees of latitude); a line column; the next file."""
    times = "".join(f"9,45,5,2026-05-01 10:0{clock}\n" for clock in ("0:00", "1:00", "2:01"))
    jumps = "9,45.0,5\n9,45.0005,5\n9,45.0015,5\n"
    lines = "9,45,5,a\n9,45,5,a\n9,45,5,b\n"
    soundings, _ = read(
        "lon,lat,depth_m,time\n" + times, "lon,lat,depth_m\n" + jumps, "lon,lat,depth_m,transect\n" + lines
    )
    assert soundings.line.tolist() == [0, 0, 1, 2, 2, 3, 4, 4, 5]


def test_date_and_time_columns_are_one_time_in_the_zone_given(read):
    """10:00 at UTC+02:00 is 08:00 UTC."""
    soundings, _ = read("date,time,lon,lat,depth_m\n2026-05-01,10:00:00,9,45,5\n", zone=timedelta(hours=2))
    assert [datetime(2026, 5, 1, 8, tzinfo=UTC).timestamp()] == soundings.time_s.tolist()


def test_times_of_day_without_a_date_are_said(read):
    """The depths are used all the same."""
    soundings, (problem,) = read("time,lon,lat,depth_m\n19:32:32,9,45,5\n")
    assert np.isnan(soundings.time_s).all()
    assert (problem.code, "without a date: 1" in problem.message) == ("no_time", True)


def test_points_of_a_vector_file_are_soundings(read):
    """A sentinel of 2^32 - 8 hundredths is no depth, whether listed as no data or not."""
    features = [
        {"type": "Feature", "properties": {"depth": depth, "time": "2026-05-01T10:00:00Z"},
         "geometry": {"type": "Point", "coordinates": [9.0, 45.0]}}
        for depth in (6.4, 42949672.92)
    ]  # fmt: skip
    text = json.dumps({"type": "FeatureCollection", "features": features})
    soundings, _ = read(text, names=["s.geojson"], **STATED)
    assert (soundings.depth_m.tolist(), soundings.rejected) == ([6.4], {"deeper than any lake": 1})
    assert read(text, names=["s.geojson"], no_data=(42949672.92,), **STATED)[0].rejected == {"no-data value": 1}
    assert [datetime(2026, 5, 1, 10, tzinfo=UTC).timestamp()] == soundings.time_s.tolist()


def test_an_nmea_log_is_soundings(read):
    """Depth between two fixes; a bad sum and a depth after the last fix are counted."""
    fixes = [f"GPRMC,10000{s},A,4500.000,N,00900.00{s},E,0.0,0.0,010526,," for s in (0, 2)]
    first, last = (f"${body}*{checksum_of(body):02X}" for body in fixes)
    depth, bad = "$SDDPT,0006.29,002.40*6C", "$SDDBT,50.0,f,15.24,M,8.33,F*2A"
    soundings, problems = read("\n".join([first, depth, last, bad, depth]), names=["s.log"])
    assert pytest.approx(soundings.depth_m.tolist()) == [8.69]
    assert [datetime(2026, 5, 1, 10, 0, 1, tzinfo=UTC).timestamp()] == soundings.time_s.tolist()
    assert soundings.rejected == {"bad checksum": 1, "no fix near": 1}
    assert "transducer 2.40 m below the waterline" in messages(problems)


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [("s.tif", "x", "is a raster"), ("s.csv", "", "is empty"), ("s.csv", "a,b\n1,2\n", "none of them for longitude"),
     ("s.csv", "lon,lat\n1,2\n", "none of them for depth"), ("s.log", "$GPGLL,4500.0,N,00900.0,E,1,A", "no DPT or DBT"),
     ("s.geojson", "{", "not recognized")],
)  # fmt: skip
def test_what_holds_no_soundings_is_a_fault_and_no_crash(read, name, text, says):
    """Each names the file and what is missing."""
    soundings, (problem,) = read(text, names=[name])
    assert soundings is None
    assert (name, "fault", True) == (problem.subject, problem.level, says in problem.message)


CELL = st.one_of(
    st.floats(-200, 200, allow_nan=False).map(lambda n: f"{n:.3f}"),
    st.sampled_from(["", "x", "0", "-9999", "nan", "9,9"]),
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=80)
@given(st.lists(st.tuples(CELL, CELL, CELL, st.sampled_from("AV")), max_size=30), st.sampled_from([None, "down", "up"]))
def test_rows_read_are_rows_kept_and_rows_rejected(read, rows, positive):
    """Whatever the cells hold, no row is lost; a file that cannot be used is a fault instead."""
    lines = [",".join(row) for row in [("9", "45", "5", "A"), *rows]]
    soundings, problems = read(
        "lon,lat,depth_m,status\n" + "\n".join(lines) + "\n", depth_positive=positive, no_data=(-9999.0,)
    )
    if soundings is None:
        assert [problem.level for problem in problems if problem.level == "fault"] == ["fault"]
    else:
        assert len(lines) == len(soundings.depth_m) + sum(soundings.rejected.values())
        assert (soundings.depth_m > 0).all()
        assert ((np.abs(soundings.lon_deg) <= 180) & (np.abs(soundings.lat_deg) <= 90)).all()


def test_rows_left_out_are_listed_with_their_line(read):
    """A zero in line 3 of the first file, a word in line 2 of the second."""
    soundings, _ = read("lon,lat,depth_m\n9,45,5\n9,45,0\n", "lon,lat,depth_m\n9,45,x\n9,45,6\n")
    listed = soundings.left_out
    assert [listed.files[number] for number in listed.file] == ["0.csv", "1.csv"]
    assert (listed.row.tolist(), listed.lon_deg.tolist()) == ([3, 2], [9.0, 9.0])
    assert [listed.reasons[number] for number in listed.reason] == ["zero depth", "not a number"]
    assert (soundings.file.tolist(), soundings.row.tolist()) == ([0, 1], [2, 3])


def test_lines_of_a_log_are_known_and_its_draught_is_kept(read):
    """The depth stands in line 2; the log's 2.4 m of draught are in it; a bad sum is only counted."""
    fixes = [f"GPRMC,10000{s},A,4500.000,N,00900.00{s},E,0.0,0.0,010526,," for s in (0, 2)]
    first, last = (f"${body}*{checksum_of(body):02X}" for body in fixes)
    depth, bad = "$SDDPT,0006.29,002.40*6C", "$SDDBT,50.0,f,15.24,M,8.33,F*2A"
    soundings, _ = read("\n".join([first, depth, last, bad, depth]), names=["s.log"])
    assert (soundings.row.tolist(), soundings.draught_in_m) == ([2], (2.4,))
    assert soundings.left_out.row.tolist() == [5]
    assert soundings.left_out.unlisted == (("s.log", "bad checksum", 1),)


def test_a_file_given_twice_is_read_once_and_that_is_said(read):
    """The same bytes under two names."""
    text = "lon,lat,depth_m\n9,45,5\n"
    soundings, (problem,) = read(text, text, names=["b.csv", "a.csv"])
    assert (soundings.files, soundings.depth_m.tolist()) == (("a.csv",), [5.0])
    assert problem.message == "b.csv: the same bytes as a.csv, which is used. Delete one of them."


def test_the_order_in_which_files_are_given_does_not_matter(read):
    """They are taken by name."""
    one, two = "lon,lat,depth_m\n9,45,5\n", "lon,lat,depth_m\n9,45,6\n"
    there, _ = read(one, two, names=["a.csv", "b.csv"])
    back, _ = read(two, one, names=["b.csv", "a.csv"])
    assert (there.files, there.depth_m.tolist()) == (back.files, back.depth_m.tolist())


@pytest.mark.parametrize(
    ("heading", "cells"),
    [("bottom_lock", ("1", "0", "1")), ("Bottom lost", ("no", "yes", "")), ("no_bottom", ("0", "1", "0"))],
)
def test_a_column_may_say_that_no_bottom_was_found(read, heading, cells):
    """The second row."""
    rows = "".join(f"9,45,{depth},{cell}\n" for depth, cell in zip((5, 6, 7), cells, strict=True))
    soundings, _ = read(f"lon,lat,depth_m,{heading}\n{rows}")
    assert (soundings.depth_m.tolist(), soundings.rejected) == ([5.0, 7.0], {"no bottom found": 1})


def test_a_depth_in_words_may_say_it_too(read):
    """NB for no bottom; any other word is no number."""
    soundings, _ = read("lon,lat,depth_m\n9,45,5\n9,45,NB\n9,45,what\n")
    assert soundings.rejected == {"no bottom found": 1, "not a number": 1}


def test_a_depth_that_stands_for_nothing_is_found_and_said(read):
    """999.9 five times, and nothing between 6 m and it; four times it may be chance."""
    head, bed = "lon,lat,depth_m\n", "".join(f"9,45.{n},{5 + n / 10}\n" for n in range(9))
    soundings, (problem, _) = read(head + bed + "9,45,999.9\n" * 5)
    assert (len(soundings.depth_m), soundings.rejected) == (9, {"no-data value": 5})
    assert "999.9 m stands 5 times" in problem.message
    assert read(head + bed + "9,45,999.9\n" * 4)[0].rejected == {}
    assert read(head + bed + "9,45,9.9\n" * 9)[0].rejected == {}


def test_only_the_first_of_many_are_listed_and_the_rest_is_counted(read):
    """5,002 zeros."""
    soundings, _ = read("lon,lat,depth_m\n9,45,5\n" + "9,45,0\n" * 5002)
    assert len(soundings.left_out.row) == 5000
    assert soundings.left_out.unlisted == (("0.csv", "zero depth", 2),)


def test_lines_of_a_large_file_are_stated_only_where_they_are_known(read):
    """The fast parser passes over a blank line, and then no line is stated."""
    rows = "".join(f"9.{n:06},45.{n:06},{5 + n % 7}.25\n" for n in range(90_000))
    soundings, _ = read("lon,lat,depth_m\n" + rows)
    assert soundings.row[[0, -1]].tolist() == [2, 90_001]
    soundings, _ = read("lon,lat,depth_m\n" + rows[:24] + "\n" + rows[24:])
    assert set(soundings.row.tolist()) == {0}
