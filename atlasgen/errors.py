"""Every error atlasgen raises on purpose; anything else is a defect.

    AtlasgenError
    ├── SettingsFault   (ValueError)  survey.toml: every fault, by key
    ├── InputFault      (ValueError)  a file of the survey that cannot be used
    ├── MissingInput    (FileNotFoundError)  a file that must be there and is not
    ├── OutputRefused   (FileExistsError)  an output folder that is not ours to replace
    └── StrictFailure   (ValueError)  --strict: problems were met

A single bad photo is not an error but a `Problem` (see `model`): it reaches the audit and the build goes on.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from atlasgen.model.wording import say


class AtlasgenError(Exception):
    """Base of all; its text is one or more lines for a person, with the next step."""


def fault_text(file: str, value: object, expected: str, next_step: str = "") -> str:
    """Build the one sentence form of every message: `FILE: VALUE. Expected ALLOWED. NEXT STEP`.

    It may become a `Problem` that readers see, so it is in the language now spoken.
    """
    text = say("fault-line", file=file, value=f"{value}", expected=expected)
    return f"{text} {next_step}" if next_step else text


class SettingsFault(AtlasgenError, ValueError):
    """survey.toml cannot be used; `faults` holds `(key, what is wrong and what is allowed)` for each fault."""

    def __init__(self, file: str, faults: Iterable[tuple[str, str]]) -> None:
        self.file = file
        self.faults = tuple(faults)
        lines = [f"{file}: {len(self.faults)} setting{'s' if len(self.faults) != 1 else ''} to mend"]
        super().__init__("\n".join(lines + [f"  {key}: {what}" for key, what in self.faults]))


class InputFault(AtlasgenError, ValueError):
    """A file of the survey says something that cannot be; names file, value, what is allowed and the next step."""

    def __init__(self, file: str, value: object, expected: str, next_step: str = "") -> None:
        self.file, self.value, self.expected, self.next_step = file, value, expected, next_step
        super().__init__(fault_text(file, value, expected, next_step))

    def __reduce__(self) -> tuple[type[InputFault], tuple[Any, ...]]:
        return type(self), (self.file, f"{self.value}", self.expected, self.next_step)


class MissingInput(AtlasgenError, FileNotFoundError):
    """A file or folder the survey needs is not there."""

    def __init__(self, file: str, next_step: str) -> None:
        self.file = file
        super().__init__(f"{file}: not found. {next_step}")


class OutputRefused(AtlasgenError, FileExistsError):
    """The output folder must not be written; nothing was changed."""

    def __init__(self, folder: str, why: str, next_step: str) -> None:
        super().__init__(f"{folder}: {why}. Nothing was changed. {next_step}")


class StrictFailure(AtlasgenError, ValueError):
    """With --strict, any problem fails the build; the previous edition stays as it was."""

    def __init__(self, count: int) -> None:
        super().__init__(
            f"--strict: {count} problem{'s' if count != 1 else ''} met, nothing was published. "
            "Mend them, or build without --strict."
        )
