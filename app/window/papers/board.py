"""The week board: who is at what in each half of a day, in the words of paper. No Qt.

Why somebody is away is nowhere in here: the board hangs on the wall.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from app.exchange.given import Given
from app.window.people.days import first_day
from app.window.sheets.day import Line, Row, Sort
from app.window.sheets.derive import away_on
from app.window.sheets.rows import Day, Stint, changed
from app.window.sheets.under import cure_lines, day_calendar, near_cures
from app.window.wall.hours import person_calendar
from app.words import Words, moments
from app.words import papers as say
from app.words import sheets as on_sheets
from app.words import window as wording
from shared.book import Book, Kind, Person
from shared.worktime import Span, Spans, clip, is_working_day, open_spans
from shared.worktime.zones import local_date

_A_DAY = timedelta(days=1)
_NOON = timedelta(hours=12)
LITTLE = timedelta(minutes=30)
"""What reaches into the other half of a day by no more is not written there."""
LEFT_ALONE_MAX = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What somebody is at from one half of a day (0, 1) to another.

    away: that they are away, in words, with nothing else said; else "".
    """

    first: int
    last: int
    what: str = ""
    stage: str = ""
    kind: Kind | None = None
    is_road: bool = False
    is_changed: bool = False
    away: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardRow:
    """One person, with the entries of each day of the board."""

    name: str
    days: tuple[tuple[Entry, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A week. marks: what it must not hang without. changed: against which sheet, or ""."""

    title: str
    shop: str
    number_line: str
    marks: tuple[str, ...]
    is_old: bool
    days: tuple[str, ...]
    rows: tuple[BoardRow, ...]
    changed: str
    leave: str
    foot: str


def board(given: Given, day: date | None = None) -> Board:
    """Return the board of the week of a day; of the next day of work if none is said."""
    book, words = given.book, given.words
    wanted = day or first_day(book, given.now)
    monday = wanted - timedelta(days=wanted.weekday())
    days = [Day(book, words, monday + n * _A_DAY) for n in range(7)]
    told = None if book.told is None else book.told.plan
    now = {each.day: each.stints(given.plan) for each in days}
    was = {each.day: each.stints(told) if told else {} for each in days}
    backs = {each.day: dict(away_on(each)) for each in days}
    calendar = day_calendar(book)
    shown = [each for each in days if is_working_day(calendar, each.day) or now[each.day]]
    rows = []
    for person in book.people:
        of_days: list[tuple[Entry, ...]] = []
        for each in shown:
            mine = now[each.day].get(person.id, ())
            marked = changed(mine, was[each.day].get(person.id, ()))[0]
            if told is None:
                marked = tuple(replace(row, is_changed=False) for row in marked)
            back = backs[each.day].get(person.id)
            of_days.append(_of_day(each, person, mine, marked, back))
        if any(of_days) or any(each.is_there(person.id) for each in shown):
            rows.append(BoardRow(name=person.name, days=tuple(_runs(of_days, words))))
    return Board(
        title=words.say(say.WEEK, day=monday.day, month=on_sheets.month_in_full(words, monday)),
        shop=book.workshop.name or book.name,
        number_line=_number_line(given),
        marks=given.marks,
        is_old=given.is_old,
        days=tuple(_label(words, each.day) for each in shown),
        rows=tuple(rows),
        changed=_changed(given) if _is_any_changed(rows) else "",
        leave=_leave(given, days[wanted.weekday()]),
        foot=given.made,
    )


def _label(words: Words, day: date) -> str:
    weekday = words.say(moments.WEEKDAYS[day.weekday()])
    return words.say(say.DAY, weekday=weekday, day=day.day)


def _number_line(given: Given) -> str:
    told = given.book.told
    number = 1 if told is None else told.sheet_number + (0 if given.is_told else 1)
    moment = wording.short_moment(given.words, given.now)
    facts = {"number": number, "moment": moment, "before": number - 1}
    if not given.is_told:
        return given.words.say(say.BOARD_DRAFT, **facts)
    return given.words.say(say.BOARD if number == 1 else say.BOARD_AFTER, **facts)


def _is_any_changed(rows: Iterable[BoardRow]) -> bool:
    return any(entry.is_changed for row in rows for day in row.days for entry in day)


def _changed(given: Given) -> str:
    told, words = given.book.told, given.words
    if told is None:
        return ""
    return words.say(say.ANEW, day=wording.short_day(words, local_date(told.at, words.zone)))


# One person's day.


def _of_day(
    day: Day, person: Person, stints: tuple[Stint, ...], rows: tuple[Row, ...], back: str | None
) -> tuple[Entry, ...]:
    """Return a day's entries. back: when somebody who is away is back, in words."""
    hours = _usual(day.book, person, day.first, day.last)
    half = _half(hours, day.first)
    both = (Span(start=day.first, end=half), Span(start=half, end=day.last))
    found = [list(_in_half(day, at, span, stints, rows)) for at, span in enumerate(both)]
    for at, span in enumerate(both):
        is_gone = back is not None and clip(hours, span.start, span.end)
        there = clip(day.there.get(person.id, ()), span.start, span.end)
        if is_gone and not there and not found[at]:
            away = day.words.say(say.AWAY_BACK, back=back)
            found[at].append(Entry(first=at, last=at, away=away))
    return _joined(*found)


def _usual(book: Book, person: Person, first: datetime, last: datetime) -> Spans:
    """Return when somebody is at work on a day if they are not away."""
    return clip(
        open_spans(replace(person_calendar(book, person), away=()), first, last), first, last
    )


def _half(hours: Spans, midnight: datetime) -> datetime:
    """Return when the second half of a day begins: with the break nearest the middle, if any."""
    if not hours:
        return midnight + _NOON
    middle = hours[0].start + (hours[-1].end - hours[0].start) / 2
    breaks = [span.end for span in hours[:-1]]
    return min(breaks, key=lambda end: abs(end - middle), default=middle)


def _in_half(
    day: Day, at: int, half: Span, stints: tuple[Stint, ...], rows: tuple[Row, ...]
) -> Iterator[Entry]:
    """Give what somebody is at in half a day, stages on one piece together."""
    found: dict[tuple[str, str, Kind | None], tuple[Row, Entry]] = {}
    for stint, row in zip(stints, rows, strict=True):
        inside = min(stint.end, half.end) - max(stint.start, half.start)
        if inside <= timedelta(0) or (inside <= LITTLE and inside < stint.end - stint.start):
            continue
        key = (row.sort, row.segment, row.kind)
        _, known = found.get(key, (row, None))
        stages = (known.stage if known else "", row.stage)
        entry = Entry(
            first=at,
            last=at,
            what=row.piece or row.segment,
            stage=", ".join(dict.fromkeys(each for each in stages if each)),
            kind=row.kind,
            is_road=row.sort is Sort.ROAD,
            is_changed=row.is_changed or bool(known and known.is_changed),
        )
        found[key] = (row, entry)
    for row, entry in found.values():
        yield replace(entry, stage=_stage(day, row, entry.stage))


def _stage(day: Day, row: Row, stage: str) -> str:
    """Return what stands behind a piece: its job as well, where the piece is only a part of it."""
    if row.sort is Sort.ROAD:
        return day.words.say(say.ON_THE_ROAD)
    if not row.piece or row.job is None:
        return stage
    job = day.words.names.of("job", row.job)
    return day.words.say(say.OF_JOB, job=job, stage=stage)


def _joined(morning: list[Entry], afternoon: list[Entry]) -> tuple[Entry, ...]:
    """Return a day's entries: what both halves are alone filled with as one."""
    if len(morning) == len(afternoon) == 1:
        one, other = morning[0], afternoon[0]
        if replace(one, first=1, last=1, is_changed=other.is_changed) == other:
            return (replace(one, last=1, is_changed=one.is_changed or other.is_changed),)
    return (*morning, *afternoon)


def _runs(days: list[tuple[Entry, ...]], words: Words) -> Iterator[tuple[Entry, ...]]:
    """Give days, saying when somebody is back only where a time away ends."""
    bare = words.say(say.AWAY)
    for at, day in enumerate(days):
        after = days[at + 1] if at + 1 < len(days) else ()
        goes_on = bool(after) and bool(after[0].away) and after[0].first == 0
        yield tuple(
            replace(entry, away=bare)
            if entry.away and (goes_on if entry.last == 1 else _is_away_after(day, entry))
            else entry
            for entry in day
        )


def _is_away_after(day: tuple[Entry, ...], entry: Entry) -> bool:
    return any(each.away and each.first > entry.last for each in day)


# What is not to be touched.


def _leave(given: Given, day: Day) -> str:
    words = given.words
    cures: tuple[Line, ...] = cure_lines(
        day, given.plan, near_cures(day, given.plan), given.now, most=None
    )
    if not cures:
        return words.say(say.LEAVE_NOTHING)
    named = [words.say(say.LEAVE_ONE, what=c.what, until=c.when) for c in cures[:LEFT_ALONE_MAX]]
    what, more = "; ".join(named), len(cures) - LEFT_ALONE_MAX
    if more > 0:
        return words.say(say.LEAVE_MORE, what=what, count=more, number=words.number_word(more))
    return words.say(say.LEAVE, what=what)
