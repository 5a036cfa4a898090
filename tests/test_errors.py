"""Messages name the thing, the value, the allowed and the next step."""

from __future__ import annotations

import pickle

from atlasgen import errors


def test_every_error_is_ours_and_also_a_built_in_kind():
    """A caller can catch the tree or the built-in kind."""
    kinds = {
        errors.SettingsFault: ValueError,
        errors.InputFault: ValueError,
        errors.MissingInput: FileNotFoundError,
        errors.OutputRefused: FileExistsError,
        errors.StrictFailure: ValueError,
    }
    assert set(errors.AtlasgenError.__subclasses__()) == set(kinds)
    for error, built_in in kinds.items():
        assert issubclass(error, built_in)


def test_an_input_fault_reads_as_one_sentence_after_another():
    """FILE: VALUE. Expected ALLOWED. NEXT STEP."""
    fault = errors.InputFault("a.csv", "latitude 123", "-90 to 90", "Are lon and lat swapped?")
    assert str(fault) == "a.csv: latitude 123. Expected -90 to 90. Are lon and lat swapped?"


def test_a_settings_fault_lists_every_key():
    """All faults at once, a line each."""
    fault = errors.SettingsFault("survey.toml", [("a.b", "is missing"), ("c", "3: too many")])
    assert str(fault).splitlines() == ["survey.toml: 2 settings to mend", "  a.b: is missing", "  c: 3: too many"]


def test_the_others_name_the_folder_and_the_next_step():
    """Nothing is said without what to do."""
    assert str(errors.OutputRefused("out", "is a file", "Choose a folder.")) == (
        "out: is a file. Nothing was changed. Choose a folder."
    )
    assert str(errors.MissingInput("x", "Put it there.")) == "x: not found. Put it there."
    assert "1 problem met" in str(errors.StrictFailure(1))


def test_a_fault_comes_back_from_another_process_as_it_was():
    """Its text and its parts survive pickling, as the pool of workers does it."""
    fault = errors.InputFault("a.jpg", 12, "at most 10", "Copy it again.")
    again = pickle.loads(pickle.dumps(fault))
    assert (str(again), again.file, again.next_step) == (str(fault), "a.jpg", "Copy it again.")
