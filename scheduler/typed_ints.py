"""Bisection of sorted whole numbers, written for the compiler; plain code reads `sorted_ints`."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mypy_extensions import i64


def bisect_left(items: list[int], x: int, lo: int = 0, hi: int = -1) -> int:
    """Return the first position in [lo, hi) that holds no less than x, else hi; -1: the length."""
    low: i64 = lo
    high: i64 = len(items) if hi < 0 else hi
    while low < high:
        middle: i64 = (low + high) >> 1
        if items[middle] < x:
            low = middle + 1
        else:
            high = middle
    return low


def bisect_right(items: list[int], x: int, lo: int = 0, hi: int = -1) -> int:
    """Return the first position in [lo, hi) that holds more than x, else hi; -1: the length."""
    low: i64 = lo
    high: i64 = len(items) if hi < 0 else hi
    while low < high:
        middle: i64 = (low + high) >> 1
        if x < items[middle]:
            high = middle
        else:
            low = middle + 1
    return low


def row_left(items: tuple[int, ...], x: int) -> int:
    """Return the first position that holds no less than x, else the length."""
    low: i64 = 0
    high: i64 = len(items)
    while low < high:
        middle: i64 = (low + high) >> 1
        if items[middle] < x:
            low = middle + 1
        else:
            high = middle
    return low


def row_right(items: tuple[int, ...], x: int) -> int:
    """Return the first position that holds more than x, else the length."""
    low: i64 = 0
    high: i64 = len(items)
    while low < high:
        middle: i64 = (low + high) >> 1
        if x < items[middle]:
            high = middle
        else:
            low = middle + 1
    return low
