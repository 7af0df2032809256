"""Memory that is free and kept by the C library: a long day of large answers makes more of it."""

import ctypes
import sys
from collections.abc import Callable
from functools import cache


def give_back() -> None:
    """Give it back to the system where the library can (glibc); it takes some milliseconds."""
    trim = _trim()
    if trim is not None:
        trim(0)


@cache
def _trim() -> Callable[[int], int] | None:
    if not sys.platform.startswith("linux"):
        return None
    found: Callable[[int], int] | None = getattr(ctypes.CDLL(None), "malloc_trim", None)
    return found
