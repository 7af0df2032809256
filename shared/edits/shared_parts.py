"""Parts of a book that are as they were in another, held once for both.

A book that is read again and again from a file would be kept whole in each edit that took it.
"""

from collections.abc import Mapping
from dataclasses import fields, replace
from datetime import datetime
from decimal import Decimal
from operator import is_

from shared.book import Book
from shared.value import Value


def with_parts_of(former: Book, made: Book) -> Book:
    """Return what was made, with the very objects of the former wherever they say the same.

    Two that compare equal may be written otherwise (1.5 and 1.50 hours): those stay apart.
    """
    shared = _shared(former, made)
    assert isinstance(shared, Book)
    return shared


def _shared(former: object, made: object) -> object:
    if former is made or type(former) is not type(made):
        return made
    if isinstance(former, Value) and isinstance(made, Value):
        return _value(former, made)
    if isinstance(former, tuple) and isinstance(made, tuple):
        return _tuple(former, made)
    return former if _is_written_alike(former, made) else made


def _is_written_alike(former: object, made: object) -> bool:
    if former != made:
        return False
    return not isinstance(made, Decimal | datetime) or repr(former) == repr(made)


def _value(former: Value, made: Value) -> Value:
    names = [each.name for each in fields(made)]
    parts = {name: _shared(getattr(former, name), getattr(made, name)) for name in names}
    if all(part is getattr(former, name) for name, part in parts.items()):
        return former
    return replace(made, **parts)  # type: ignore[arg-type]


def _tuple(former: tuple[object, ...], made: tuple[object, ...]) -> tuple[object, ...]:
    by_id = {getattr(each, "id", None): each for each in former}
    facing = former + (None,) * (len(made) - len(former))
    parts = tuple(
        _shared(_same_thing(other, by_id, each), each)
        for other, each in zip(facing, made, strict=False)
    )
    is_same = len(former) == len(parts) and all(map(is_, former, parts))
    return former if is_same else parts


def _same_thing(facing: object, by_id: Mapping[object, object], part: object) -> object:
    """Return what stood at the same place, unless a part with an id of its own was moved."""
    own = getattr(part, "id", None)
    return facing if own is None or getattr(facing, "id", None) == own else by_id.get(own)
