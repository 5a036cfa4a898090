"""Sources: GPX 1.1 schema (latitudeType, longitudeType, times in UTC); tracks are written by hand."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from atlasgen.read.nmea import checksum_of
from atlasgen.read.tracks import read_tracks

TEN = datetime(2026, 5, 1, 10, tzinfo=UTC).timestamp()
HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1">'
)


def point(second: int | None, lon: str = "9.0", lat: str = "45.0", zone: str = "Z") -> str:
    """One track point at 10:00 and some seconds, or without a time."""
    time = "" if second is None else f"<time>2026-05-01T10:{second // 60:02}:{second % 60:02}{zone}</time>"
    return f'<trkpt lat="{lat}" lon="{lon}"><ele>3</ele>{time}</trkpt>'


def gpx(*segments: str, head: str = HEAD, rest: str = "") -> str:
    """Write a track of segments."""
    return f"{head}{rest}<trk>{''.join(f'<trkseg>{s}</trkseg>' for s in segments)}</trk></gpx>"


@pytest.fixture
def read(tmp_path):
    """Read texts or bytes as files, in their order."""

    def reader(*contents):
        paths_names = []
        for number, content in enumerate(contents):
            path = tmp_path / f"{number}.gpx"
            path.write_bytes(content if isinstance(content, bytes) else content.encode())
            paths_names.append((path, path.name))
        return read_tracks(paths_names)

    return reader


def messages(problems):
    """All messages as one text."""
    return " | ".join(problem.message for problem in problems)


def test_points_come_with_time_place_and_segment(read):
    """Two segments are two pieces; an empty one is none."""
    track, problems = read(gpx(point(0, "9.0") + point(5, "9.1"), "", point(60, "9.2")))
    assert track.time_s.tolist() == [TEN, TEN + 5, TEN + 60]
    assert track.lon_deg.tolist() == [9.0, 9.1, 9.2]
    assert track.lat_deg.tolist() == [45.0, 45.0, 45.0]
    assert track.segment.tolist() == [0, 0, 1]
    assert (track.files, problems) == (("0.gpx",), [])


@pytest.mark.parametrize(
    "text",
    [
        gpx(point(0)),
        gpx(point(0), head=HEAD.replace("1/1", "1/0").replace('"1.1"', '"1.0"')),
        gpx(point(0), head="<gpx>"),
        gpx(point(0), head='<gpx version="9" creator="x">'),
        gpx(point(0)).replace("<ele>3</ele>", "<ele>high</ele><extensions><q:time>x</q:time></extensions>"),
        gpx(point(0), rest="<!-- a comment --><metadata><time>never</time></metadata>"),
    ],
    ids=["1.1", "1.0", "bare", "odd version", "undeclared prefix", "comment"],
)
def test_many_dialects_are_one_track(read, text):
    """Version, namespaces, extensions and other metadata do not matter."""
    assert read(text)[0].time_s.tolist() == [TEN]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "latin-1"])
def test_encodings_and_byte_order_marks_are_read(read, encoding):
    """As XML declares them."""
    text = gpx(point(0), rest="<name>\u00e4</name>").replace("UTF-8", {"utf-8-sig": "UTF-8"}.get(encoding, encoding))
    assert read(text.encode(encoding))[0].time_s.tolist() == [TEN]


BOMB = '<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>'
OUTSIDE = '<!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/hostname">]>'


@pytest.mark.parametrize("declaration", [BOMB, OUTSIDE, "<!DOCTYPE gpx SYSTEM 'http://example.invalid/gpx.dtd'>"])
def test_document_types_and_entities_are_refused(read, declaration):
    """Nothing is expanded and nothing is fetched; the other file is read."""
    text = gpx(point(0), rest="<name>&x;</name>").replace("<gpx ", f"{declaration}<gpx ")
    track, (problem,) = read(text, gpx(point(7)))
    assert track.time_s.tolist() == [TEN + 7]
    assert (problem.level, problem.subject) == ("fault", "0.gpx")
    assert "document type or entities" in problem.message


def test_points_without_a_time_are_said_and_not_used(read):
    """One of two."""
    track, problems = read(gpx(point(None) + point(3)))
    assert track.time_s.tolist() == [TEN + 3]
    assert "without a time: 1; not used" in messages(problems)


def test_a_track_without_any_time_is_no_track(read):
    """It is said why no photo is placed by it."""
    track, problems = read(gpx(point(None) + point(None)))
    assert track is None
    assert [problem.code for problem in problems] == ["bad_row", "no_time"]


def test_times_that_are_no_times_or_before_gps_are_not_used(read):
    """A receiver's empty clock says 1901 or nonsense."""
    odd = point(1).replace("2026-05-01T10:00:01Z", "1901-12-13T20:45:52Z") + point(2).replace("2026-05", "soon")
    track, problems = read(gpx(odd + point(3)))
    assert track.time_s.tolist() == [TEN + 3]
    assert "before 1980, when GPS began: 1" in messages(problems)
    assert "without a time: 1" in messages(problems)


def test_a_time_without_a_zone_is_utc_and_said(read):
    """GPX says all times are UTC; an offset is followed."""
    track, problems = read(gpx(point(0, zone="") + point(3605, zone="+01:00").replace("T10:60", "T11:00")))
    assert track.time_s.tolist() == [TEN, TEN + 5]
    assert "no zone: 1; read as UTC" in messages(problems)


def test_times_that_go_back_or_repeat_are_sorted_and_said(read):
    """The first of equal times stands."""
    track, problems = read(gpx(point(5, "9.5") + point(2, "9.2") + point(5, "9.6") + point(9, "9.9")))
    assert list(zip(track.time_s - TEN, track.lon_deg, strict=True)) == [(2, 9.2), (5, 9.5), (9, 9.9)]
    assert "go back in time: 1" in messages(problems)
    assert "repeat a time: 1" in messages(problems)


@pytest.mark.parametrize(
    ("lon", "lat", "used"),
    [
        ("-180", "45", True),
        ("180", "45", False),
        ("9", "90", True),
        ("9", "90.1", False),
        ("x", "45", False),
        ("nan", "45", False),
    ],
)
def test_positions_follow_the_range_of_the_schema(read, lon, lat, used):
    """GPX 1.1: -180 <= lon < 180, -90 <= lat <= 90."""
    track, problems = read(gpx(point(0, lon, lat) + point(9)))
    assert (2 if used else 1) == len(track.time_s)
    assert used != ("in range: 1; not used" in messages(problems))


def test_routes_and_waypoints_are_said_and_not_used(read):
    """A plan is no track."""
    rest = '<wpt lat="1" lon="1"/><wpt lat="1" lon="1"/><rte><rtept lat="1" lon="1"/></rte>'
    assert "routes: 1" in messages(read(gpx(point(0), rest=rest))[1])
    track, (problem,) = read(f"{HEAD}{rest}</gpx>")
    assert track is None
    assert "no track point (1 route, 2 waypoints)" in problem.message


@pytest.mark.parametrize(
    "content",
    [b"", b"no xml", b"<gpx><trk>", b"<kml/>", b"\xff\xfe\x00", b'<?xml version="1.0" encoding="x-y"?><gpx/>'],
)
def test_what_is_no_gpx_is_a_fault_and_no_crash(read, content):
    """The message names the file and ends with what happens."""
    track, (problem,) = read(content)
    assert track is None
    assert problem.level == "fault"
    assert problem.message.startswith("0.gpx: ")


def test_a_missing_file_is_a_fault(tmp_path):
    """No OSError reaches the caller."""
    _, (problem,) = read_tracks([(tmp_path / "none.gpx", "tracks/none.gpx")])
    assert problem.message.startswith("tracks/none.gpx: No such file")


def test_segments_are_in_order_of_time_over_all_files(read):
    """The later file was recorded first."""
    track, _ = read(gpx(point(600, "9.6")), gpx(point(0, "9.0")))
    assert track.lon_deg.tolist() == [9.0, 9.6]
    assert track.segment.tolist() == [0, 1]


def test_an_nmea_log_is_a_track(read):
    """RMC carries date, time and place; two hours of silence part two pieces."""
    bodies = [f"GPRMC,{clock},A,4500.0,N,00900.0,E,0.0,0.0,010526,," for clock in ("100000", "100001", "120001")]
    track, _ = read("\n".join(f"${body}*{checksum_of(body):02X}" for body in bodies))
    assert track.time_s.tolist() == [TEN, TEN + 1, TEN + 7201]
    assert track.segment.tolist() == [0, 0, 1]
