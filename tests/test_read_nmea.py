"""Sources: sentences published in NOAA NCEI's format notes and common NMEA examples, each named; oracle: pynmea2."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pynmea2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.errors import InputFault
from atlasgen.read.nmea import checksum_of, clock_seconds, degrees_of, is_nmea, paired_depths, read_nmea

# Common published examples of GGA and RMC; the second RMC from pynmea2's tests.
GGA = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47"
RMC = "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A"
RMC_WEST = "$GPRMC,225446,A,4916.45,N,12311.12,W,000.5,054.7,191194,020.3,E*68"


def sentence(body: str) -> str:
    """Body with `$` and its checksum."""
    return f"${body}*{checksum_of(body):02X}"


def fix(clock: str, minutes: float = 0.0, day: str = "") -> str:
    """Write a fix at 45 N, 9 E plus minutes of longitude: GGA, or RMC where a day is given."""
    place = f"4500.0000,N,009{minutes:07.4f},E"
    return sentence(f"GPRMC,{clock},A,{place},0.0,0.0,{day},," if day else f"GPGGA,{clock},{place},1,8,1,0,M,0,M,,")


@pytest.fixture
def log(tmp_path):
    """Read lines as a log."""

    def read(*lines: str):
        path = tmp_path / "s.log"
        path.write_text("\n".join(lines), encoding="latin-1")
        return read_nmea(path, "s.log")

    return read


def test_published_gga_and_rmc_give_their_published_position(log):
    """48 deg 07.038 min N, 11 deg 31.000 min E, 23 March 1994, 12:35:19 UTC; one epoch is one fix."""
    read = log(GGA, RMC)
    assert pytest.approx(read.fix_lat_deg.tolist(), abs=1e-9) == [48.1173]
    assert pytest.approx(read.fix_lon_deg.tolist(), abs=1e-9) == [11.516666667]
    assert [datetime(1994, 3, 23, 12, 35, 19, tzinfo=UTC).timestamp()] == read.fix_time_s.tolist()


def test_a_western_longitude_is_negative(log):
    """pynmea2's own test sentence, read by pynmea2."""
    oracle = pynmea2.parse(RMC_WEST)
    read = log(RMC_WEST)
    assert (oracle.longitude, oracle.latitude) == pytest.approx((read.fix_lon_deg[0], read.fix_lat_deg[0]), abs=1e-9)
    assert oracle.datetime.timestamp() == read.fix_time_s[0]


def test_a_positive_dpt_offset_is_added(log):
    """NOAA NCEI, format scs_dpt: 6.29 m below the transducer + 2.40 m to the waterline = 8.69 m."""
    read = log("$SDDPT,0006.29,002.40*6C")
    assert pytest.approx(read.depth_m.tolist()) == [8.69]
    assert read.offset_m == 2.40


def test_a_negative_dpt_offset_is_the_keel_and_is_not_added(log):
    """Meaning after the same note: to the keel, not to the surface."""
    read = log("$SDDPT,10.1,-1.5,*62")
    assert read.depth_m.tolist() == [10.1]
    assert read.offset_m == 0.0


@pytest.mark.parametrize(
    ("text", "depth_m"), [("$SDDBT,7.8,f,2.4,M,1.3,F*0D", 2.4), ("$SDDBT,17.0,f,5.1,M,2.8,F*3E", 5.1)]
)
def test_dbt_gives_its_metres(log, text, depth_m):
    """Sentences printed in public code; metres as pynmea2 reads them."""
    assert [depth_m] == log(text).depth_m.tolist() == [float(pynmea2.parse(text).depth_meters)]


def test_dbt_without_metres_gives_its_feet(log):
    """10 ft = 3.048 m exactly (NIST Handbook 44, Appendix C)."""
    assert pytest.approx(log(sentence("SDDBT,10.0,f,,M,,F")).depth_m.tolist()) == [3.048]


def test_a_wrong_checksum_rejects_and_is_counted(log):
    """Found in a public test: the true sum is 09."""
    read = log("$SDDBT,50.0,f,15.24,M,8.33,F*2A")
    assert read.rejected == {"bad checksum": 1}
    assert read.depth_sentences == 1
    assert checksum_of("SDDBT,50.0,f,15.24,M,8.33,F") == 0x09


def test_a_missing_checksum_is_accepted_and_counted(log):
    """Simple sounders send none."""
    read = log("$SDDBT,7.8,f,2.4,M,1.3,F")
    assert (read.depth_m.tolist(), read.unchecked) == ([2.4], 1)


@pytest.mark.parametrize(
    "body",
    ["GPGGA,123519,4807.038,N,01131.000,E,0,08,0.9,545.4,M,46.9,M,,", "GPGGA,123519,4807.0,N,01131.0,E,8,8,1,0,M,0,M,,",
     "GPRMC,123519,V,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W", "GPGLL,4807.038,N,01131.000,E,123519,V,N"],
)  # fmt: skip
def test_what_is_no_fix_is_not_used(log, body):
    """Quality 0 or 8, status V."""
    read = log(sentence(body))
    assert (len(read.fix_line), read.fixes_rejected) == (0, {"no fix": 1})


def test_a_sentence_behind_a_loggers_own_time_is_read(log):
    """Text before `$` does not matter; other sentences and noise neither."""
    read = log("2026-05-01 10:00 $SDDBT,7.8,f,2.4,M,1.3,F*0D", "!AIVDM,1,1,,A,x,0*00", "\x00\xff$", "$GPGSV,1*00")
    assert read.depth_m.tolist() == [2.4]


def test_depth_lies_between_the_fixes_around_it(log):
    """Half way by line: half way in place and time."""
    read = log(fix("100000", 0.0, "010526"), "$SDDBT,7.8,f,2.4,M,1.3,F", fix("100002", 0.06, "010526"))
    paired = paired_depths(read)
    assert pytest.approx(paired.lon_deg.tolist(), abs=1e-9) == [9.0005]
    assert [datetime(2026, 5, 1, 10, 0, 1, tzinfo=UTC).timestamp()] == paired.time_s.tolist()


def test_depth_without_fixes_near_has_no_place(log):
    """Before the first fix, and between two that are a minute apart."""
    depth = "$SDDBT,7.8,f,2.4,M,1.3,F"
    paired = paired_depths(log(depth, fix("100000"), depth, fix("100100"), depth))
    assert (len(paired.depth_m), paired.rejected) == (0, {"no fix near": 3})


def test_the_day_turns_at_midnight(log):
    """GGA has no date; RMC said it before midnight."""
    read = log(fix("235958", day="311225"), fix("235959"), fix("000000"), fix("000001"))
    first = datetime(2025, 12, 31, 23, 59, 58, tzinfo=UTC).timestamp()
    assert [first, first + 1, first + 2, first + 3] == read.fix_time_s.tolist()


def test_a_date_after_midnight_dates_the_fixes_before_it(log):
    """And it dates a long log whose only date stands at the start."""
    before = log(fix("235959"), fix("000000", day="010126"))
    assert datetime(2025, 12, 31, 23, 59, 59, tzinfo=UTC).timestamp() == before.fix_time_s[0]
    long = log(fix("000000", day="010126"), *(fix(f"{hour:02}0000") for hour in range(1, 24)))
    assert (np.arange(24) * 3600.0 == long.fix_time_s - long.fix_time_s[0]).all()


def test_logs_put_together_keep_their_own_dates(log):
    """The second day starts with a GGA whose RMC follows."""
    read = log(fix("100000", day="010526"), fix("090000"), fix("090001", day="040526"))
    assert datetime(2026, 5, 4, 9, tzinfo=UTC).timestamp() == read.fix_time_s[1]


def test_zda_gives_the_date(log):
    """ZDA carries day, month and year in full."""
    read = log(sentence("GPZDA,100000.00,01,05,2026,00,00"), fix("100000"))
    assert [datetime(2026, 5, 1, 10, tzinfo=UTC).timestamp()] == read.fix_time_s.tolist()


def test_a_ping_sent_twice_is_one_depth(log):
    """DPT and DBT of one sounder: DPT, which carries the offset, is used."""
    read = log("$SDDPT,2.4,0.5", "$SDDBT,7.8,f,2.4,M,1.3,F")
    assert pytest.approx(read.depth_m.tolist()) == [2.9]
    assert read.depth_sentences == 2


def test_a_log_that_cannot_be_opened_is_an_input_fault(tmp_path):
    """And it is no NMEA log either."""
    assert not is_nmea(tmp_path / "none.log")
    with pytest.raises(InputFault):
        read_nmea(tmp_path / "none.log", "none.log")


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_coordinates_come_back_as_pynmea2_reads_them(lat, lon):
    """Written with four decimals of a minute, read within half of the last digit, and as the oracle does."""
    texts = []
    for value, width, sides in ((lat, 2, "NS"), (lon, 3, "EW")):
        tenths = round(abs(value) * 600000)
        texts.append(f"{tenths // 600000:0{width}}{tenths % 600000 / 10000:07.4f},{sides[value < 0]}")
    oracle = pynmea2.parse(sentence(f"GPGLL,{texts[0]},{texts[1]},120000,A"))
    read = [degrees_of(*text.split(","), limit) for text, limit in zip(texts, (90, 180), strict=True)]
    assert [oracle.latitude, oracle.longitude] == pytest.approx(read, abs=1e-12)
    assert [lat, lon] == pytest.approx(read, abs=0.5e-4 / 60 + 1e-9)


@pytest.mark.parametrize(
    ("text", "side", "limit"),
    [("4860.0", "N", 90), ("9100.0", "N", 90), ("", "N", 90), ("4800.0", "", 90), ("4.8", "N", 90)],
)
def test_what_is_no_coordinate_is_none(text, side, limit):
    """60 minutes, 91 degrees, nothing, no side, no minutes."""
    assert degrees_of(text, side, limit) is None


def test_clock_is_seconds_since_midnight():
    """12:35:19.5, and 24:00:00 is none."""
    assert clock_seconds("123519.5") == 45319.5
    assert clock_seconds("240000") is None


def test_two_fixes_on_one_line_of_a_joined_log(log):
    """A line cut off and joined to the next holds both; the depth behind it has none after it, the one before has."""
    depth = sentence("SDDPT,2.50,0.00")
    paired = paired_depths(log(fix("120000"), depth, fix("120001") + fix("120002", 0.02), depth))
    assert paired.placed.tolist() == [True, False]
    assert np.isfinite(paired.lon_deg).all()
