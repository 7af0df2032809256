"""Memory that nobody needs any more: a long day of large answers makes more and more of it."""

import ctypes
import gc
import sys
from collections.abc import Callable
from functools import cache


def give_back(*, of_all_ages: bool = True) -> None:
    """Look for rings that nothing holds, and give what is free back to the system.

    The program hardly ever looks for old rings by itself (see `app/__main__.py`), and the C library
    keeps what is free in pieces unless it is asked (glibc can be).

    of_all_ages: else only those made lately, which takes no more than some milliseconds.
    """
    gc.collect(2 if of_all_ages else 1)
    trim = _trim()
    if trim is not None:
        trim(0)


@cache
def _trim() -> Callable[[int], int] | None:
    if not sys.platform.startswith("linux"):
        return None
    found: Callable[[int], int] | None = getattr(ctypes.CDLL(None), "malloc_trim", None)
    return found
