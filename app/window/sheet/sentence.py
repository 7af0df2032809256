"""A sentence with fields in it: its words and its fields in the order of the language. No Qt."""

from collections.abc import Iterable
from dataclasses import dataclass

from app.words.template import Template
from app.words.voice import Voice

_MARK = "\x1f"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A word of a sentence, or a field of it by its name."""

    text: str = ""
    field: str = ""


def pieces(voice: Voice, template: Template, fields: Iterable[str]) -> tuple[Piece, ...]:
    """Return a sentence word by word, with its fields where the language has them."""
    said = voice.say(template, **{name: f"{_MARK}{name}{_MARK}" for name in fields})
    found: list[Piece] = []
    for number, part in enumerate(said.split(_MARK)):
        if number % 2:
            found.append(Piece(field=part))
        else:
            found += [Piece(text=word) for word in part.split()]
    return tuple(found)
