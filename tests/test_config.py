"""survey.toml is checked as a whole."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from atlasgen.config import Settings, read_settings
from atlasgen.errors import InputFault, MissingInput, SettingsFault
from atlasgen.model import LonLat
from atlasgen.units import zone_offset

LEAST = '[survey]\ntitle = "A lake"\nedition = "1"\n'


def settings_from(folder, text):
    (folder / "survey.toml").write_text(text, encoding="utf-8")
    return read_settings(folder)


def test_two_lines_are_enough(tmp_path):
    """Title and edition; the rest has defaults, and each room gets its own plain rules."""
    settings = settings_from(tmp_path, LEAST)
    assert settings.place_rules().reach_length_m == 100
    assert settings.measure_rules().fine_to == 30
    assert settings.compose_rules().tile_scheme == "WebMercatorQuad, zoom 16"
    assert settings.write_rules().large_px == 1600
    assert settings.read_rules().files["photos"] == ("photos",)


def test_all_faults_are_told_at_once_by_key(tmp_path):
    """Unknown key, missing key, wrong kind, out of range: one message."""
    text = (
        '[survey]\ntitle = ""\nedition = "a b"\ntime_zone = "Mars"\n'
        '[shore]\nstart = [50, 100]\nstrat = 1\n[[camera]]\nclock_fast_s = "x"\n[tiles]\nzoom = 40\n'
    )
    with pytest.raises(SettingsFault) as caught:
        settings_from(tmp_path, text)
    keys = [key for key, _ in caught.value.faults]
    assert keys == [
        "survey.title", "survey.edition", "survey.time_zone", "shore.start", "shore.strat", "tiles.zoom",
        "camera.1.match", "camera.1.clock_fast_s",
    ]  # fmt: skip
    assert "swapped" in str(caught.value)


def test_an_edition_cannot_leave_its_folder(tmp_path):
    """The edition is printed and may name files: no path characters."""
    with pytest.raises(SettingsFault):
        settings_from(tmp_path, '[survey]\ntitle = "A"\nedition = "../x"\n')


def test_no_file_and_no_toml_are_told(tmp_path):
    """The next step stands in the message."""
    with pytest.raises(MissingInput, match="atlasgen new"):
        read_settings(tmp_path)
    with pytest.raises(InputFault, match=r"survey\.toml"):
        settings_from(tmp_path, "[survey\n")


@pytest.mark.parametrize(
    ("zone", "offset"),
    [("UTC", 0), ("UTC+05:00", 300), ("UTC-3", -180), ("UTC+5:30", 330), ("Etc/GMT-5", 300)],
)
def test_time_zones(zone, offset):
    """Offsets as written; Etc/GMT-5 is east of Greenwich (POSIX sign, tz database)."""
    value = zone_offset(zone)
    if isinstance(value, ZoneInfo):
        value = value.utcoffset(datetime(2026, 1, 1, tzinfo=UTC))
    assert value == timedelta(minutes=offset)


def test_metric_readers_get_metric_depth_lines():
    """The defaults of the depth lines follow the reader's unit; what is set stays."""
    survey = {"title": "A", "edition": "1"}
    metric = Settings.model_validate({"survey": survey, "units": {"depth": "metres"}, "depth": {"major_every": 2}})
    rules = metric.measure_rules()
    assert (rules.fine_interval, rules.fine_to, rules.major_every) == (0.5, 10, 2)


def test_start_and_cameras_become_plain_values():
    """The middle rooms see no settings file."""
    settings = Settings.model_validate(
        {
            "survey": {"title": "A", "edition": "1"},
            "shore": {"start": [-96.4, -31.6]},
            "camera": [{"match": "X", "time_zone": "UTC+02:00", "clock_fast_s": 7}],
        }
    )
    rules = settings.place_rules()
    assert rules.start == LonLat(-96.4, -31.6)
    assert (rules.cameras[0].zone, rules.cameras[0].clock_fast_s) == (timedelta(hours=2), 7)


def test_the_starter_file_is_valid(tmp_path):
    """`atlasgen new` gives settings that can be read, and every key it explains exists."""
    from atlasgen.resources import resource

    text = resource("templates", "new", "survey.toml").read_text(encoding="utf-8")
    assert settings_from(tmp_path, text).survey.edition == "2026.1"
    opened = "\n".join(_uncommented(line) for line in text.splitlines())
    assert settings_from(tmp_path, opened).plan.launch == (-96.4, -31.6)


def _uncommented(line):
    """Take the leading # from lines that are settings."""
    stripped = line.removeprefix("# ")
    return stripped if line.startswith("# ") and (" = " in stripped or stripped.startswith("[[")) else line


def test_the_steps_of_cleaning_and_reduction_reach_their_room(tmp_path):
    """A list without a step switches it off; an unknown one is refused by name."""
    head = '[survey]\ntitle = "t"\nedition = "1"\n[soundings]\n'
    (tmp_path / "survey.toml").write_text(
        head + 'draught_m = 0.3\nwater_temperature_c = 14.0\nreduce = ["stage"]\nclean = ["land", "spikes"]\n'
    )
    rules = read_settings(tmp_path).measure_rules().soundings
    assert (rules.draught_m, rules.water_temperature_c, rules.sounder_speed_mps) == (0.3, 14.0, 1500.0)
    assert (rules.reduce, rules.clean) == (("stage",), ("land", "spikes"))
    (tmp_path / "survey.toml").write_text(head + 'clean = ["weed"]\nwater_temperature_c = 60\n')
    with pytest.raises(SettingsFault) as fault:
        read_settings(tmp_path)
    for named in ("soundings.clean", "'weed'", "soundings.water_temperature_c"):
        assert named in str(fault.value)
