"""All parts of the workshop's page, in the order of its list. No Qt."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from app.window.workshop.bought import bought_part
from app.window.workshop.items import Field, Part, Sentence, Standing, Text
from app.window.workshop.learned import learned_part
from app.window.workshop.offers import offers
from app.window.workshop.people import At, people_part
from app.window.workshop.places import places_part
from app.window.workshop.shop import hours_part, rates_part, ways_part
from app.window.workshop.standing import running
from app.words import workshop_view as say
from shared.book import Book
from shared.edits import Edited
from shared.findings import Finding

PARTS = ("people", "places", "hours", "rates", "ways", "bought", "standing", "learned")


def _people(book: Book, at: At) -> Part:
    made = people_part(book, at)
    return replace(made, items=(*made.items, *offers(book, at)))


_MAKERS: dict[str, Callable[[Book, At], Part]] = {
    "people": _people,
    "places": places_part,
    "hours": hours_part,
    "rates": rates_part,
    "ways": ways_part,
    "bought": bought_part,
    "learned": learned_part,
}


def part_of(name: str, book: Book, at: At, ended: str, keep: Callable[[str], object]) -> Part:
    """Return a part by its name; ended, keep: the moment that day one's facts are given."""
    if name in _MAKERS:
        return _MAKERS[name](book, at)
    title = at.words.say(say.PARTS["standing"])
    scopes = (("facts",),)
    if not running(book):
        nothing = Text(text=at.words.say(say.STANDS_NONE))
        return Part(name="standing", title=title, items=(nothing,), scopes=scopes)
    moment = Field(
        name="ended", label=at.words.say(say.ENDED), text=ended, write=_nothing, keep=keep
    )
    how = Sentence(template=say.STANDING_HOW, fields=(("moment", moment),))
    return Part(name="standing", title=title, items=(how, Standing()), scopes=scopes)


def _nothing(book: Book, text: str) -> Edited:
    """Day one's moment is no field of the book."""
    raise NotImplementedError(f"{text} of {book.name}")


def owned(findings: tuple[Finding, ...], book: Book, at: At) -> dict[str, tuple[Finding, ...]]:
    """Return the findings that are about each part of a book."""
    parts = [part_of(name, book, at, "", str) for name in PARTS] if findings else []
    return {part.name: tuple(each for each in findings if part.owns(each)) for part in parts}


def now_text(at: At, when: datetime) -> str:
    """Write a moment as it can be read back."""
    return at.words.moment(when, after=None)
