"""A walk through every value of a book, the plans left out, and the path to each."""

from collections.abc import Iterator
from functools import cache
from typing import cast

from shared.book import Book
from shared.files.codec import Field, Listed, OneOf, Record, record_of
from shared.files.scalars import Codec
from shared.value import Value

Path = tuple[str | int, ...]

NOT_WALKED = frozenset({"plan", "told"})
"""Fields of a book that are held against it elsewhere."""


def every_value(book: Book) -> Iterator[tuple[Path, Value]]:
    """Give each value with the path to it, from the root down, in the order of the file."""
    yield (), book
    for field in _inner(Book):
        if field.name not in NOT_WALKED:
            yield from _below(book, field, ())


def _values(value: Value, path: Path) -> Iterator[tuple[Path, Value]]:
    yield path, value
    for field in _inner(type(value)):
        yield from _below(value, field, path)


def _below(value: Value, field: Field, path: Path) -> Iterator[tuple[Path, Value]]:
    part = getattr(value, field.name)
    here = (*path, field.name)
    if isinstance(part, tuple):
        for index, each in enumerate(part):
            yield from _values(each, (*here, index))
    elif part is not None:
        yield from _values(part, here)


def _inner(cls: type[Value]) -> tuple[Field, ...]:
    wanted: object = cls
    return _inner_of(wanted)


@cache
def _inner_of(cls: object) -> tuple[Field, ...]:
    return tuple(
        field for field in record_of(cast("type[Value]", cls)).fields if _holds_values(field.codec)
    )


def _holds_values(codec: Codec) -> bool:
    inside = codec.item if isinstance(codec, Listed) else codec
    return isinstance(inside, Record | OneOf)
