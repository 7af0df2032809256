"""Who is away, from when, to when: what is typed, read leniently. No Qt."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from app.window.people import days
from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.words import Words, moments
from app.words import people_view as say
from app.words import window as said
from shared.absence import Absence, AwayKind
from shared.book import Book
from shared.ids import MaterialId, StepId
from shared.worktime import local_instant

_A_DAY = timedelta(days=1)
_CLOCK = "07:00"


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What stands in the blanks. start, end: a day each, or an instant; the end day is included."""

    kind: AwayKind = AwayKind.PERSON
    id: str = ""
    start: date | datetime | None = None
    end: date | datetime | None = None
    reason: str = ""

    def absence(self, book: Book, now: datetime) -> Absence | None:
        """Return who or what is away when; None while that is not known or lies behind now."""
        if not self.id or self.start is None or self.end is None:
            return None
        zone = book.workshop.zone
        start = max(now, _instant(self.start, zone))
        end = _instant(self.end, zone, is_end=True)
        if end <= start:
            return None
        steps: tuple[StepId, ...] = ()
        if self.kind is AwayKind.DELIVERY:
            # It reads books for the engine, which a window that starts does not wait for.
            from scheduler.away.hits import steps_with

            steps = steps_with(book, MaterialId(self.id))
        return Absence(kind=self.kind, id=self.id, start=start, end=end, steps=steps)


def _instant(when: date | datetime, zone: str, *, is_end: bool = False) -> datetime:
    if isinstance(when, datetime):
        return when
    return days.midnight(when + _A_DAY if is_end else when, zone)


def known(book: Book) -> Mapping[str, tuple[AwayKind, str]]:
    """Return by name who and what can be away; people first."""
    found: dict[str, tuple[AwayKind, str]] = {}
    for kind, things in (
        (AwayKind.PERSON, book.people),
        (AwayKind.EQUIPMENT, book.equipment),
        (AwayKind.PLACE, book.places),
        (AwayKind.DELIVERY, book.materials),
    ):
        for each in things:
            found.setdefault(each.name, (kind, each.id))
    return found


def who(text: str, book: Book) -> tuple[AwayKind, str]:
    """Read a name, or the beginning of just one.

    Raises NotTaken.
    """
    wanted = " ".join(text.split()).casefold()
    names = known(book)
    exact = [value for name, value in names.items() if name.casefold() == wanted]
    begun = [value for name, value in names.items() if name.casefold().startswith(wanted)]
    if exact or (wanted and len(begun) == 1):
        return (exact or begun)[0]
    raise NotTaken("not_a_person", value=text)


def when(text: str, words: Words, now: datetime) -> date | datetime:
    """Read a day ("tomorrow", "Wed", "Wed 20 Jan", "2027-01-20") or a moment on it with its time.

    A weekday alone is the next one, today included.

    Raises NotTaken.
    """
    plain = " ".join(text.split())
    zone = ZoneInfo(words.zone)
    today = now.astimezone(zone).date()
    day_text, at = _with_clock(plain)
    day = _named_day(day_text, words, today)
    if day is None:
        written = f"{day_text} {_CLOCK}"
        found = typed.moment(written, words.zone, now, typed.months_of(words))
        day = found.astimezone(zone).date()
    if at is None:
        return day
    return local_instant(day, at, words.zone, opening=True)


def _with_clock(text: str) -> tuple[str, time | None]:
    head, _, tail = text.rpartition(" ")
    parts = tail.replace(".", ":").split(":")
    if len(parts) == 2 and all(part.isdigit() for part in parts):
        hour, minute = (int(part) for part in parts)
        if hour < 24 and minute < 60:
            return head, time(hour, minute)
    return text, None


def _named_day(text: str, words: Words, today: date) -> date | None:
    wanted = text.casefold()
    if not wanted or wanted == words.say(say.DAY_TODAY).casefold():
        return today
    if wanted == words.say(say.DAY_TOMORROW).casefold():
        return today + _A_DAY
    for ahead in range(7):
        day = today + ahead * _A_DAY
        name = words.say(moments.WEEKDAYS[day.weekday()]).casefold().rstrip(".")
        if len(wanted) >= 2 and " " not in wanted and wanted.startswith(name):
            return day
    return None


def written(when_: date | datetime | None, words: Words) -> str:
    """Write a day or a moment as it can be read back."""
    if when_ is None:
        return ""
    if isinstance(when_, datetime):
        return said.short_moment_bare(words, when_, words.zone)
    return said.short_day(words, when_)
