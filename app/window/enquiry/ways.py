"""Ways out of a miss, and the enquiries of a book, as lines to choose from. No Qt."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from app.window.enquiry.state import enquiries
from app.words import Words
from app.words import enquiry_view as say
from app.words import levers as levers_say
from app.words import window as of_window
from shared.book import Book, Standing
from shared.ids import JobId

if TYPE_CHECKING:
    from scheduler.rush.values import Rush


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """An enquiry by its name. more: behind it, "" for nothing."""

    job: JobId
    name: str
    more: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way out: its number, what it comes to, and its changes."""

    number: int
    head: str
    lines: tuple[str, ...]

    @property
    def line(self) -> str:
        """Return it as it is read out."""
        return " ".join((self.head, *self.lines))


def names_of(book: Book, words: Words) -> tuple[Name, ...]:
    """Return what can be taken or let go, by name; nothing where there is no choice."""
    found = []
    for job in enquiries(book):
        more = ""
        if job.standing is Standing.PENCILLED and job.pencilled_until is not None:
            day = of_window.short_day(words, job.pencilled_until)
            more = words.say(say.PENCILLED_UNTIL, day=day)
        found.append(Name(job=job.id, name=job.name, more=more))
    return tuple(found) if len(found) > 1 else ()


def ways_of(found: "Rush", words: Words, today: date, *, is_money_hidden: bool) -> tuple[Way, ...]:
    """Return the ways into the wished window, cheapest first; without prices where money is hid."""
    if found.ways is None:
        return ()
    made = []
    for number, way in enumerate(found.ways.ways, 1):
        if is_money_hidden:
            head = words.say(say.WAY, number=number)
            lines = tuple(levers_say.lever_text(words, lever, today) for lever in way.levers)
        else:
            head = levers_say.way_line(words, way, number, found.ways.at_least)
            head = head.removeprefix(f"{number}. ")
            lines = tuple(levers_say.lever_line(words, lever, today) for lever in way.levers)
        made.append(Way(number=number, head=head, lines=lines))
    return tuple(made)
