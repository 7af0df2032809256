"""The root of every value that a book holds: frozen, built by keyword, losing nothing."""

from dataclasses import dataclass

Kept = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """A part of a book.

    Attributes
    ----------
    kept: fields of the file that this version doesn't know, as (name, JSON text), in the
        order of names; written back as they came.
    """

    kept: Kept = ()
