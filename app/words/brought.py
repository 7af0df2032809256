"""Names that the program itself brings, in the language that is spoken.

Ways of making, ready-made legs and sample books are files in English, and a workshop that is
assumed has English names. What is copied out of them into somebody's book becomes theirs: it is
put into the language then, once, and is never touched again.
"""

import re
from dataclasses import fields, is_dataclass, replace
from string import Formatter
from typing import TYPE_CHECKING, TypeVar

from app.words.language import WRITTEN_IN
from app.words.template import Phrase, within
from app.words.voice import Voice

if TYPE_CHECKING:
    from shared.book import Book, Job, Route

NAMING = frozenset({"name", "product", "air", "by", "agrees", "with_whom", "office", "call"})
"""Fields of a book that hold a name for people, never an id."""

ASSUMED = (
    within("brought", "carving hall"),
    within("brought", "laminating hall"),
    within("brought", "floor"),
    within("brought", "booth"),
    within("brought", "supplier"),
    within("brought", "client"),
    within("brought", "answer"),
    within("brought", "hoist"),
    within("brought", "hot-wire"),
    within("brought", "crane"),
    within("brought", "van"),
    within("brought", "lorry"),
    within("brought", "1 person"),
    within("brought", "2 people"),
    within("brought", "3 people"),
)
"""Names that code gives to what is assumed."""

MADE_OF = (
    within("brought", "site of {name}"),
    within("brought", "changes ({name})"),
    within("brought", "{name} again"),
    within("brought", "Person {number}"),
    within("brought", "booth {number}"),
    within("brought", "{name} {part}"),
    within("brought", "{name}: {rest}"),
)
"""Names that code makes of others. number, part: in figures; rest: what somebody wrote."""

_Value = TypeVar("_Value")


def in_words(voice: Voice, value: _Value) -> _Value:
    """Return a value of the book with every name that the program brought in the language."""
    return value if voice.language == WRITTEN_IN else _said(voice, value)


def routes_in_words(voice: Voice, book: "Book | None" = None) -> "tuple[Route, ...]":
    """Return the ways of making there are: the book's own as they stand, then the program's."""
    from shared.routes import known_routes

    own = () if book is None else book.routes
    return tuple(each if each in own else in_words(voice, each) for each in known_routes(book))


def job_in_words(voice: Voice, book: "Book", job: "Job") -> "Book":
    """Return the book with the brought names of one of its jobs in the language."""
    jobs = tuple(in_words(voice, each) if each.id == job.id else each for each in book.jobs)
    return book if voice.language == WRITTEN_IN else replace(book, jobs=jobs)


def name_in_words(voice: Voice, name: str) -> str:
    """Return a name in the language, also where code made it of another one."""
    said = voice.brought(name)
    if said != name:
        return said
    for made in MADE_OF:
        found = _pattern(made).fullmatch(name)
        if found is None:
            continue
        facts = found.groupdict()
        if "name" in facts:
            facts["name"] = voice.brought(facts["name"])
        if made in _OF_BROUGHT and facts["name"] == found["name"]:
            continue
        return voice.say(made, **facts)
    return name


_OF_BROUGHT = frozenset(MADE_OF[-2:])
"""These are made of a brought name or not at all: "Wall 1/2" of a person's own stays."""


def _pattern(made: Phrase) -> "re.Pattern[str]":
    written = ""
    for literal, fact, _, _ in Formatter().parse(made.text):
        written += re.escape(literal)
        if fact:
            digits = {"number": r"\d+", "part": r"\d+/\d+"}
            written += f"(?P<{fact}>{digits.get(fact, '.+')})"
    return re.compile(written)


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
        if field.name in NAMING and isinstance(old, str):
            new = name_in_words(voice, old)
        else:
            new = _said(voice, old)
        if new is not old and new != old:
            changed[field.name] = new
    return replace(value, **changed) if changed else value
