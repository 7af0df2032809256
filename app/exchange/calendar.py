"""A person's, a place's or a job's part of a plan as an iCalendar file (RFC 5545). No Qt."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from typing import TYPE_CHECKING
from uuid import NAMESPACE_URL, uuid5
from zoneinfo import ZoneInfo

from app.exchange.entries import Entry
from app.exchange.given import Given
from app.exchange.text import plain
from app.exchange.zones import timezone
from app.words import give as say
from shared.book import Book

if TYPE_CHECKING:
    from icalendar import Event

PRODID = "-//Countback//Countback//EN"
_A_DAY = timedelta(days=1)


class Whose(StrEnum):
    """Of what a calendar is."""

    PERSON = "person"
    PLACE = "place"
    JOB = "job"


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """A calendar that can be given: whose it is."""

    whose: Whose
    id: str
    name: str

    def holds(self, entry: Entry) -> bool:
        """Return whether an entry stands in it."""
        if self.whose is Whose.PERSON:
            return self.id in entry.people
        if self.whose is Whose.PLACE:
            return self.id in entry.places
        return self.id == entry.job


def feeds(book: Book) -> tuple[Feed, ...]:
    """Return the calendars of a book: of all people, all places and all jobs, in its order."""
    return (
        *(Feed(whose=Whose.PERSON, id=each.id, name=each.name) for each in book.people),
        *(Feed(whose=Whose.PLACE, id=each.id, name=each.name) for each in book.places),
        *(Feed(whose=Whose.JOB, id=each.id, name=each.name) for each in book.jobs),
    )


def calendar(given: Given, feed: Feed, found: Iterable[Entry]) -> bytes:
    """Return a calendar as a file. found: the entries of the plan.

    The same plan gives the same bytes. An entry keeps its UID from plan to plan; SEQUENCE is the
    revision of the book that the plan was made from, DTSTAMP and LAST-MODIFIED the plan's now.
    """
    from icalendar import Calendar, vText

    mine = [each for each in found if feed.holds(each)]
    made = Calendar()
    made.add("prodid", PRODID)
    made.add("version", "2.0")
    made.add("calscale", "GREGORIAN")
    name = vText(plain(feed.name))
    about = vText(plain("\n".join((*given.marks, given.made))))
    # RFC 7986 section 5; calendars that are older than it know the X- names.
    told = {"name": name, "x-wr-calname": name, "description": about, "x-wr-caldesc": about}
    for key, value in told.items():
        made.add(key, value)
    made.add("last-modified", given.plan.now.astimezone(UTC))
    for zone, first, last in _zones(mine):
        made.add_component(timezone(zone, first.date(), last.date()))
    for each in mine:
        made.add_component(_event(given, feed, each))
    return bytes(made.to_ical())


def _zones(found: Iterable[Entry]) -> list[tuple[str, datetime, datetime]]:
    spans: dict[str, list[datetime]] = {}
    for each in found:
        spans.setdefault(each.zone, []).append(each.start)
        if each.end is not None:
            spans.setdefault(each.end_zone, []).append(each.end)
    wanted = sorted((zone, times) for zone, times in spans.items() if not _is_utc(zone))
    return [(zone, min(times) - _A_DAY, max(times) + _A_DAY) for zone, times in wanted]


def _is_utc(zone: str) -> bool:
    return zone == "UTC"


def _local(when: datetime, zone: str) -> datetime:
    """Return an instant by a zone's clock; in an hour that comes twice, in UTC.

    RFC 5545 section 3.3.5 calls such a local time the first of both; not all who read it do.
    """
    local = when.astimezone(UTC if _is_utc(zone) else ZoneInfo(zone))
    is_twice = local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()
    return when.astimezone(UTC) if is_twice else local


def _event(given: Given, feed: Feed, each: Entry) -> "Event":
    from icalendar import Event

    words, now = given.words, given.plan.now.astimezone(UTC)
    made = Event()
    made.add("uid", _uid(given.book, feed, each))
    made.add("dtstamp", now)
    made.add("last-modified", now)
    made.add("sequence", given.plan.made_from.revision)
    made.add("dtstart", _local(each.start, each.zone))
    if each.end is not None:
        made.add("dtend", _local(each.end, each.end_zone))
    made.add("summary", plain(each.title))
    if each.where:
        made.add("location", plain(each.where))
    lines = (*given.marks, *each.lines, *_who(given, feed, each), *_of_job(given, feed, each))
    lines = (*lines, given.made)
    made.add("description", plain("\n".join(lines)))
    is_sure = each.is_sure and given.is_told and not given.is_old
    made.add("status", "CONFIRMED" if is_sure else "TENTATIVE")
    takes_time = each.takes_time and each.end is not None
    made.add("transp", "OPAQUE" if takes_time else "TRANSPARENT")
    if each.job is not None:
        made.add("categories", [plain(words.names.of("job", each.job))])
    return made


def _who(given: Given, feed: Feed, each: Entry) -> tuple[str, ...]:
    """Return the line of whoever else is at it."""
    words = given.words
    names = words.both(words.names.of("person", one) for one in each.people if one != feed.id)
    if not names or feed.whose is not Whose.PERSON:
        return (names,) if names else ()
    return (words.say(say.WITH, people=names),)


def _of_job(given: Given, feed: Feed, each: Entry) -> tuple[str, ...]:
    """Return the line that tells of which job an entry of somebody's calendar is."""
    if feed.whose is Whose.JOB or each.job is None:
        return ()
    return (given.words.say(say.OF_JOB, job=given.words.names.of("job", each.job)),)


def _uid(book: Book, feed: Feed, each: Entry) -> str:
    """Return a UID as RFC 7986 section 5.3 wants it: a UUID, here one that is worked out."""
    told = ("countback", book.workshop.name, book.name, feed.whose, feed.id, each.key)
    return str(uuid5(NAMESPACE_URL, "\x1f".join(told)))
