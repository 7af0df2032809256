"""Hypothesis strategies: whole books and plans, made from the classes themselves.

Every field of every class gets any value its type allows within the limits of a file, so that
a field added to a class is tried without a change here.
"""

import dataclasses
import json
import types
from collections.abc import Callable
from datetime import UTC, date, datetime, time
from decimal import Decimal
from enum import StrEnum
from functools import cache
from typing import Any, NewType, TypeVar, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from shared.book import Book
from shared.files.read import HIGHEST_REVISION
from shared.plan import Plan
from shared.value import Kept, Value
from shared.worktime import Break, Shift

V = TypeVar("V", bound=Value)

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
wholes = st.integers(-(10**12) + 1, 10**12 - 1)
numbers = st.decimals(
    min_value=-(10**9), max_value=10**9, allow_nan=False, allow_infinity=False, places=3
) | st.sampled_from([Decimal("1E-60"), Decimal("-0"), Decimal("1.50"), Decimal("9E+11")])
days = st.dates(date(1900, 1, 1), date(2199, 12, 31))
clocks = st.times().map(lambda at: at.replace(microsecond=0))
instants = st.datetimes(
    datetime(1900, 1, 1),
    datetime(2199, 12, 31, 23),
    timezones=st.just(UTC),
)
json_values = st.recursive(
    st.none() | st.booleans() | wholes | texts,
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(texts, inside, max_size=3),
    max_leaves=6,
)

_PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    str: texts,
    bool: st.booleans(),
    int: wholes,
    Decimal: numbers,
    date: days,
    time: clocks,
    datetime: instants,
}


def _kept(cls: type[Value]) -> st.SearchStrategy[Kept]:
    """Give fields that no version knows, their names kept apart from those of the class."""
    known = {field.name for field in dataclasses.fields(cls)} | {"step", "countback"}
    names = texts.filter(lambda name: name not in known)
    one_line = json_values.map(lambda value: json.dumps(value, ensure_ascii=False))
    fields = st.dictionaries(names, one_line, max_size=2)
    return st.just(()) | fields.map(lambda found: tuple(sorted(found.items())))


def _of_type(hint: Any) -> st.SearchStrategy[Any]:
    if isinstance(hint, NewType):
        return _of_type(hint.__supertype__)
    if get_origin(hint) is tuple:
        return st.lists(_of_type(get_args(hint)[0]), max_size=2).map(tuple)
    if get_origin(hint) in (Union, types.UnionType):
        return st.one_of([_of_type(part) for part in get_args(hint)])
    if hint is types.NoneType:
        return st.none()
    if hint in _PLAIN:
        return _PLAIN[hint]
    return st.sampled_from(hint) if issubclass(hint, StrEnum) else values_of(hint)


@cache
def _strategy(cls: type[Value]) -> st.SearchStrategy[Value]:
    hints = get_type_hints(cls)
    fields = {name: st.deferred(_later(hint)) for name, hint in hints.items() if name != "kept"}
    if cls is Shift:
        fields["days"] = st.lists(st.integers(0, 6), max_size=7).map(tuple)
    if cls is Book:
        fields["revision"] = st.integers(-(10**12) + 1, HIGHEST_REVISION)
    if cls is Break:
        ends = st.lists(clocks, min_size=2, max_size=2, unique=True)
        return st.builds(
            lambda pair, kept: Break(start=pair[0], end=pair[1], kept=kept), ends, _kept(cls)
        )
    return st.builds(cls, **fields, kept=_kept(cls))


def _later(hint: Any) -> Callable[[], st.SearchStrategy[Any]]:
    return lambda: _of_type(hint)


def values_of(cls: type[V]) -> st.SearchStrategy[V]:
    """Give any value of a class that a file can hold, whether or not it makes sense."""
    hint: Any = cls
    found: st.SearchStrategy[Any] = _strategy(hint)
    return found


def books() -> st.SearchStrategy[Book]:
    """Give any book that a file can hold, whether or not it makes sense."""
    return values_of(Book)


def plans() -> st.SearchStrategy[Plan]:
    """Give any plan that a file can hold."""
    return values_of(Plan)
