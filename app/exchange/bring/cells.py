"""Cells of tables, what columns are called, and that there is no table. No Qt."""

from datetime import date, datetime, time, timedelta

Cell = str | int | float | bool | date | datetime | time | timedelta
"""As the file has it; "" for nothing."""
_LETTERS = 26


class NoTable(Exception):  # noqa: N818 - it says what happened
    """A file holds no table that can be read: a code and facts for the sentence."""

    def __init__(self, code: str, **facts: str | int) -> None:
        super().__init__(code, facts)
        self.code = code
        self.facts = facts


def letter(column: int) -> str:
    """Return what a column, counted from 0, is called in a spreadsheet: A, B, ... Z, AA."""
    found = ""
    number = column + 1
    while number:
        number, rest = divmod(number - 1, _LETTERS)
        found = chr(ord("A") + rest) + found
    return found
