"""The root of every value that a book holds: frozen, built by keyword, losing nothing."""

from dataclasses import dataclass, fields

Kept = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Value:
    """A part of a book.

    Attributes
    ----------
    kept: fields of the file that this version doesn't know, as (name, JSON text), in the
        order of names; written back as they came.
    """

    kept: Kept = ()

    def __repr__(self) -> str:
        """Give the value as it would be written in code.

        Written once here: making it anew for each of some fifty classes takes a twentieth of
        the start of a short command.
        """
        told = (f"{each.name}={getattr(self, each.name)!r}" for each in fields(self))
        return f"{type(self).__qualname__}({', '.join(told)})"
