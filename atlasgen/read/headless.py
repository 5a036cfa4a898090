"""Tables without a heading: which column is which, only where the values leave no doubt."""

from __future__ import annotations

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.wording import say
from atlasgen.read.table import Table

# A lake is smaller than this: positions in degrees hardly vary, and are written finer than any depth. Ours.
_LAKE_DEG = 3.0


def guessed_columns(table: Table, geographic: bool, setting: str) -> tuple[dict[str, int], list[Problem]]:
    """Find longitude, latitude and depth among exactly three columns of numbers.

    Two columns must be fine (more than three decimals) and nearly constant, the third coarse; and only one order
    of the two may fit, which is so where one of them is beyond 90 degrees.

    Raises
    ------
    InputFault
        Anything is left open.
    """
    numbers = [table.numbers(column) for column in range(len(table.headings))]
    places = [column for column, values in enumerate(numbers) if _is_place(values)]
    if geographic and len(numbers) == 3 and len(places) == 2:
        far = [column for column in places if np.nanmax(np.abs(numbers[column])) > 90]
        if len(far) == 1:
            lon, lat = far[0], next(column for column in places if column != far[0])
            depth = 3 - lon - lat
            columns = {"lon": lon + 1, "lat": lat + 1, "depth": depth + 1}
            said = say("input-headless", file=table.name, **columns)
            return {"lon": lon, "lat": lat, "depth": depth}, [Problem(table.name, "ambiguous", said)]
    first = ", ".join(str(cells[0]) for cells in table.columns)
    raise InputFault(
        table.name,
        say("input-headless-unclear", columns=f"{first}"),
        say("input-first-line"),
        say("input-add-heading", key=setting),
    )


def _is_place(values: np.ndarray) -> bool:
    values = values[np.isfinite(values)]
    if not len(values) or np.abs(values).max() > 180 or np.ptp(values) > _LAKE_DEG:
        return False
    fine = np.abs(values * 1000 - np.round(values * 1000)) > 1e-6
    return bool(fine.mean() > 0.5)
