"""A book in which every field of every class is filled, and ways to break a plain tree."""

import dataclasses
import json
import types
from collections.abc import Iterator
from datetime import UTC, date, datetime, time
from decimal import Decimal
from enum import StrEnum
from typing import Any, NewType, Union, get_args, get_origin, get_type_hints

from shared.book import Book
from shared.plan import Plan
from shared.worktime import Break, Shift

Path = tuple[str | int, ...]

_PLAIN: dict[Any, Any] = {
    str: "a text",
    bool: True,
    int: 3,
    Decimal: Decimal("2.25"),
    date: date(2026, 2, 3),
    time: time(9, 30),
    datetime: datetime(2026, 2, 3, 4, 5, 6, tzinfo=UTC),
}


def filled(cls: Any) -> Any:
    """Give a value of a class with something in every field, and one unknown field."""
    fields = {name: _value(hint) for name, hint in get_type_hints(cls).items() if name != "kept"}
    if cls is Shift:
        fields["days"] = (0, 6)
    if cls is Break:
        fields["end"] = time(10)
    return cls(**fields, kept=(("zz_unknown", '{"a": [1.50, null, true]}'),))


def _value(hint: Any) -> Any:
    if isinstance(hint, NewType):
        return _value(hint.__supertype__)
    if get_origin(hint) is tuple:
        inside = get_args(hint)[0]
        if get_origin(inside) is types.UnionType:
            return tuple(filled(kind) for kind in get_args(inside))
        return (_value(inside),)
    if get_origin(hint) in (Union, types.UnionType):
        return _value(get_args(hint)[0])
    if hint in _PLAIN:
        return _PLAIN[hint]
    return next(iter(hint)) if issubclass(hint, StrEnum) else filled(hint)


def filled_book() -> Book:
    book: Book = filled(Book)
    return book


def filled_plan() -> Plan:
    plan: Plan = filled(Plan)
    return plan


def tree_of(data: bytes) -> Any:
    """Give the plain tree of a file; its numbers may lose digits."""
    return json.loads(data)


def bytes_of(tree: Any) -> bytes:
    return json.dumps(tree, ensure_ascii=False).encode()


def every_path(tree: Any, path: Path = ()) -> Iterator[Path]:
    """Give the path to every part of a tree, the root included."""
    yield path
    if isinstance(tree, dict):
        for name, part in tree.items():
            yield from every_path(part, (*path, name))
    if isinstance(tree, list):
        for index, part in enumerate(tree):
            yield from every_path(part, (*path, index))


def part_at(tree: Any, path: Path) -> Any:
    for step in path:
        tree = tree[step]
    return tree


def changed(tree: Any, path: Path, part: Any) -> Any:
    """Give a copy of a tree with another part at a path."""
    if not path:
        return part
    step, rest = path[0], path[1:]
    if isinstance(tree, dict):
        return {**tree, step: changed(tree.get(step), rest, part)}
    copy = list(tree)
    copy[int(step)] = changed(copy[int(step)], rest, part)
    return copy


def without(tree: Any, path: Path) -> Any:
    """Give a copy of a tree in which a field or element is missing."""
    home = part_at(tree, path[:-1])
    if isinstance(home, dict):
        return changed(tree, path[:-1], {k: v for k, v in home.items() if k != path[-1]})
    return changed(tree, path[:-1], [v for i, v in enumerate(home) if i != path[-1]])


def field_count(cls: type[Any]) -> int:
    """Give the number of fields of a class that stand in a file."""
    return len(dataclasses.fields(cls)) - 1
