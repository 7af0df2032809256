"""A book with a text of somebody's choice in every field that holds free text."""

import dataclasses
from collections.abc import Sequence
from dataclasses import replace
from itertools import count
from typing import Any, get_type_hints

from shared.book import Book
from tests.app.exchange.scenes import a_book, replanned

NO_FREE_TEXT = frozenset(
    {
        "zone", "country", "subdivision", "currency", "digest", "id", "way", "part", "unit",
        "finish", "rules",
    }
)  # fmt: skip
"""Fields of texts that are words of a list, or by which something is known."""


def planted(texts: Sequence[str], first: int = 0) -> Book:
    """The book of `a_book` and its plan; each free text is the next of some, and a number."""
    before = a_book()
    assert before.plan is not None
    numbers = count(1)
    book: Book = _in(replace(before, plan=None), lambda: _next(texts, next(numbers) + first))
    assert next(numbers) > 100
    return replace(book, plan=replanned(book, before.plan))


def _next(texts: Sequence[str], number: int) -> str:
    return f"{texts[number % len(texts)]}{number}"


def _in(value: Any, text: Any) -> Any:
    if isinstance(value, tuple):
        return tuple(_in(each, text) for each in value)
    if not dataclasses.is_dataclass(value) or isinstance(value, type):
        return value
    hints = get_type_hints(type(value))
    made = {}
    for field in dataclasses.fields(value):
        before = getattr(value, field.name)
        is_free = hints[field.name] is str and field.name not in NO_FREE_TEXT
        made[field.name] = text() if is_free else _in(before, text)
    return replace(value, **made)
