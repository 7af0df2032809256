"""What falls due next in the workshop: closures, people away, certificates and tests. No Qt."""

from collections.abc import Iterator
from datetime import date, timedelta

from app.window.workshop.people import At
from app.words import Words
from app.words import workshop_view as say
from shared.book import Book
from shared.worktime.zones import local_date

COUNT, DAYS = 4, 120


def next_dates(book: Book, at: At) -> tuple[tuple[str, str], ...]:
    """Return the next few things that fall due, each with its day; never why somebody is away."""
    last = at.today + timedelta(days=DAYS)
    coming = sorted(each for each in _all(book, at.words) if at.today <= each[0] <= last)
    return tuple((text, at.words.day(day, after=at.today)) for day, text in coming[:COUNT])


def _all(book: Book, words: Words) -> Iterator[tuple[date, str]]:
    for closure in book.workshop.closures:
        yield closure.first, words.say(say.NEXT_SHUT)
    for person in book.people:
        for leave in person.leave:
            day = local_date(leave.start, words.zone)
            yield day, words.say(say.NEXT_AWAY, name=person.name)
        for held in person.certificates:
            if held.expires is not None:
                facts = {"certificate": held.certificate, "name": person.name}
                yield held.expires, words.say(say.NEXT_EXPIRES, **facts)
    for thing in book.equipment:
        if thing.test_due is not None:
            yield thing.test_due, words.say(say.NEXT_TEST, name=thing.name)
