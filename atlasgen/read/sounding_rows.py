"""The rows of one sounding file while they are judged: each is kept, or left out under the first reason met."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.quality import LeftOut
from atlasgen.model.wording import say
from atlasgen.read.columns import heading_of
from atlasgen.read.table import Table
from atlasgen.units import decimal_text, grouped_words

# The deepest lake known, Baikal (from memory): a larger depth is a sounder's way of saying nothing.
DEEPEST_LAKE_M = 1642.0
# Ours: a depth written this often that no other depth comes half near is a sounder's way of saying nothing too.
SENTINEL_ROWS = 5
# Ours: enough of one reason to see what happened, few enough to open in a spreadsheet.
LISTED_AT_MOST = 5000
_NO_BOTTOM_WORDS = frozenset(
    {"nb", "no bottom", "no_bottom", "nobottom", "bottom lost", "lost", "no echo", "--", "---"}
)
_YES, _NO = frozenset({"1", "1.0", "true", "yes", "y"}), frozenset({"0", "0.0", "false", "no", "n"})


def reason(why: str) -> str:
    """Return in words why a sounding was left out; `why` is a key of `input-reason`, or begins with one."""
    return say("input-reason", why=why.partition(",")[0].replace(" ", "-"))


@dataclass
class Rows:
    """The rows of one file; `reason` 0 is kept, else a place (from 1) in `reasons`; `line` 0 where not known."""

    name: str
    reason: np.ndarray
    line: np.ndarray
    reasons: list[str] = field(default_factory=list)

    @classmethod
    def of(cls, name: str, line: np.ndarray) -> Rows:
        """Begin with all rows kept."""
        return cls(name, np.zeros(len(line), dtype=np.int8), line)

    def reject(self, rows: np.ndarray, why: str) -> None:
        """Reject rows that nothing has rejected yet."""
        if why not in self.reasons:
            self.reasons.append(why)
        self.reason[rows & (self.reason == 0)] = self.reasons.index(why) + 1

    @property
    def kept(self) -> np.ndarray:
        """Mask of the rows still standing."""
        return self.reason == 0

    def counts(self) -> Counter[str]:
        """Rejected rows by reason."""
        numbers = np.bincount(self.reason, minlength=len(self.reasons) + 1)[1:]
        return Counter({why: int(count) for why, count in zip(self.reasons, numbers, strict=True) if count})

    def left_out(self, lon: np.ndarray, lat: np.ndarray, depth_m: np.ndarray, time_s: np.ndarray) -> LeftOut:
        """List what was rejected, at most LISTED_AT_MOST of each reason; the rest is counted."""
        counts = self.counts()
        listed = [np.flatnonzero(self.reason == number + 1)[:LISTED_AT_MOST] for number in range(len(self.reasons))]
        rows = np.sort(np.concatenate(listed)) if listed else np.empty(0, dtype=int)
        more = tuple(
            (self.name, why, counts[why] - LISTED_AT_MOST) for why in self.reasons if counts[why] > LISTED_AT_MOST
        )
        return LeftOut(
            file=np.zeros(len(rows), dtype=np.int16),
            row=self.line[rows],
            lon_deg=lon[rows],
            lat_deg=lat[rows],
            depth_m=depth_m[rows],
            time_s=time_s[rows],
            reason=self.reason[rows] - 1,
            files=(self.name,),
            reasons=tuple(self.reasons),
            unlisted=more,
        )


def joined_left_out(parts: list[LeftOut]) -> LeftOut:
    """Put the lists of several files together, files and reasons numbered anew."""
    files = tuple(dict.fromkeys(name for part in parts for name in part.files))
    reasons = tuple(dict.fromkeys(why for part in parts for why in part.reasons))
    columns = ("row", "lon_deg", "lat_deg", "depth_m", "time_s")
    return LeftOut(
        file=np.concatenate([_renumbered(part.file, part.files, files) for part in parts]),
        reason=np.concatenate([_renumbered(part.reason, part.reasons, reasons) for part in parts]),
        files=files,
        reasons=reasons,
        unlisted=tuple(entry for part in parts for entry in part.unlisted),
        **{key: np.concatenate([getattr(part, key) for part in parts]) for key in columns},
    )


def _renumbered(numbers: np.ndarray, names: tuple[str, ...], all_names: tuple[str, ...]) -> np.ndarray:
    return np.array([all_names.index(name) for name in names], dtype=np.int16)[numbers] if len(numbers) else numbers


def judge_depths(rows: Rows, depth_m: np.ndarray, no_data: tuple[float, ...]) -> None:
    """Reject depths that say nothing was measured."""
    for value in no_data:
        rows.reject(np.isclose(depth_m, value, rtol=1e-9, atol=1e-9), reason("no-data value"))
    rows.reject(depth_m == 0, reason("zero depth"))
    rows.reject(depth_m > DEEPEST_LAKE_M, reason("deeper than any lake"))


def judge_sentinel(rows: Rows, depth_m: np.ndarray) -> list[Problem]:
    """Reject the greatest depth where it is written again and again and no other is even half of it; say so.

    A bed that is measured gives depths in between: only a number that stands for "nothing measured" leaves such a gap.
    """
    depths = depth_m[rows.kept]
    if not len(depths):
        return []
    greatest = depths.max()
    others = depths[depths < greatest]
    count = len(depths) - len(others)
    if count < SENTINEL_ROWS or not len(others) or others.max() > greatest / 2:
        return []
    rows.reject(depth_m == greatest, reason("no-data value"))
    value = {"depth": decimal_text(f"{greatest:.10g}"), "count": grouped_words(count)}
    said = say("input-taken-for-no-data", file=rows.name, **value)
    return [Problem(rows.name, "ambiguous", said)]


def judge_no_bottom(rows: Rows, table: Table, depth_column: int) -> None:
    """Reject rows that say in words, in the depth's own cell or in a column about the bottom, that none was found."""
    cells = table.columns[depth_column]
    if cells.dtype.kind != "f":
        rows.reject(np.isin(_lower(cells), list(_NO_BOTTOM_WORDS)), reason("no bottom found"))
    for column, heading in enumerate(table.headings):
        words = set(heading_of(heading).base.split("_"))
        if "bottom" in words and column != depth_column and words & {"lock", "locked", "found", "no", "lost"}:
            rows.reject(
                _bottom_lost(table.columns[column], lost_is_yes=bool(words & {"no", "lost"})), reason("no bottom found")
            )


def _bottom_lost(cells: np.ndarray, *, lost_is_yes: bool) -> np.ndarray:
    """Tell from a column of yes and no; none where it holds anything else."""
    texts = _lower(np.where(np.isnan(cells), "", cells.astype(str)) if cells.dtype.kind == "f" else cells)
    if not set(np.unique(texts)) <= _YES | _NO | {""}:
        return np.zeros(len(cells), dtype=bool)
    return np.isin(texts, list(_YES if lost_is_yes else _NO))


def _lower(cells: np.ndarray) -> np.ndarray:
    return np.array([str(cell).strip().lower() for cell in cells], dtype=str)


def positive_down(
    table: Table, column: int, rows: Rows, depth_m: np.ndarray, stated: str | None
) -> tuple[np.ndarray, list[Problem]]:
    """Turn depths positive down; where nothing is stated, the sign that 99 % share decides, and it is said."""
    kept = rows.kept
    up, down = int((depth_m[kept] < 0).sum()), int((depth_m[kept] > 0).sum())
    heading = table.headings[column]
    if stated is None and min(up, down) >= 0.01 * max(up + down, 1) and min(up, down) > 0:
        raise _mixed_signs(table, heading, depth_m[kept], up, down)
    negative = stated == "up" or (stated is None and up > down)
    problems = []
    if stated is None and negative:
        said = say("input-depths-negative", file=table.name, column=f"{heading!r}")
        problems.append(Problem(table.name, "ambiguous", said))
    depth_m = -depth_m if negative else depth_m
    rows.reject(depth_m < 0, reason("depth of the wrong sign"))
    return depth_m, problems


def _mixed_signs(table: Table, heading: str, depth_m: np.ndarray, up: int, down: int) -> InputFault:
    values, counts = np.unique(depth_m[depth_m < 0] if up <= down else depth_m[depth_m > 0], return_counts=True)
    common = int(counts.argmax())
    return InputFault(
        table.name,
        say(
            "input-two-signs",
            column=f"{heading!r}",
            down=grouped_words(down),
            up=grouped_words(up),
            count=grouped_words(int(counts[common])),
            depth=decimal_text(f"{values[common]:.10g}"),
        ),
        say("input-one-sign"),
        say("input-state-sign"),
    )
