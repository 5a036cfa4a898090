"""What the tests of the worker pool run in other processes; light, since each process imports it."""

from __future__ import annotations

import os
import sys
import time
from typing import NamedTuple


class Order(NamedTuple):
    """One job: what to do, with a number to tell the answers apart."""

    file: str
    number: int
    act: str = "double"


def work(order: Order) -> object:
    """Do as told: answer, die without a word, raise, hang, swell, or describe the process."""
    if order.act == "die":
        os._exit(9)
    if order.act == "raise":
        raise OSError(28, "No space left on device")
    if order.act == "hang":
        time.sleep(600)
    if order.act == "swell":
        return _swollen()
    if order.act == "describe":
        return os.environ.get("VIPS_CONCURRENCY"), os.getpid(), "numpy" in sys.modules
    return 2 * order.number


def _swollen() -> str:
    """Ask for more memory than any photo needs."""
    try:
        return str(len(bytearray(64 * 2**30)))
    except MemoryError:
        return "refused"


def die_elsewhere(home: int) -> int:
    """End this process unless it is `home`; return its number."""
    if os.getpid() != home:
        os._exit(9)
    return home
