"""Names that the program itself brings, in the language that is spoken.

Ways of making, ready-made legs and sample books are files in English. What is copied out of them
into somebody's book becomes theirs: it is put into the language then, once, and is never touched
again.
"""

from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

from app.words.language import WRITTEN_IN
from app.words.voice import Voice

NAMING = frozenset({"name", "product", "air", "by", "agrees", "with_whom", "office", "call"})
"""Fields of a book that hold a name for people, never an id."""

_Value = TypeVar("_Value")


def in_words(voice: Voice, value: _Value) -> _Value:
    """Return a value of the book with every name that the program brought in the language."""
    return value if voice.language == WRITTEN_IN else _said(voice, value)


def _said(voice: Voice, value: _Value) -> _Value:
    if isinstance(value, tuple):
        parts = tuple(_said(voice, part) for part in value)
        is_same = all(new is old for new, old in zip(parts, value, strict=True))
        return value if is_same else parts  # type: ignore[return-value]
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {}
    for field in fields(value):
        old = getattr(value, field.name)
        is_name = field.name in NAMING and isinstance(old, str)
        new = voice.brought(old) if is_name else _said(voice, old)
        if new is not old and new != old:
            changed[field.name] = new
    return replace(value, **changed) if changed else value  # type: ignore[type-var]
