"""Numbers that are printed and must add up: lengths in whole centimetres, and shares by largest remainders."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

# Lengths in the audit are whole centimetres, so that what is printed adds up to what is printed.
PER_METRE = 100

Key = TypeVar("Key")


def whole_cm(length_m: float) -> int:
    """Return a length in whole centimetres."""
    return round(length_m * PER_METRE)


def shared_out(parts: int, weights: Mapping[Key, float]) -> dict[Key, int]:
    """Share out whole parts by weight, adding up exactly: the method of largest remainders, ties to the first.

    All are 0 where there is no weight at all.
    """
    total = sum(weights.values())
    if total == 0:
        return dict.fromkeys(weights, 0)
    found = {key: int(weight * parts // total) for key, weight in weights.items()}
    by_remainder = sorted(weights, key=lambda key: -(weights[key] * parts % total))
    for key in by_remainder[: parts - sum(found.values())]:
        found[key] += 1
    return found


def percents(whole: Mapping[Key, int]) -> dict[Key, float]:
    """Tenths of a percent that add up to 100.0; all 0.0 where there is nothing."""
    return {key: tenths / 10 for key, tenths in shared_out(1000, whole).items()}
