"""A delivery as rows: when, by whose clock, what; backwards from the window and forwards to it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import groupby
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.cli.console import Console
from app.cli.delivered import Delivered
from app.words import Words, moments
from app.words import deliver as say
from app.words.legs import leg_name
from shared.asking.countries import country_named
from shared.book import Book, Leg, Window
from shared.delivery.judged import AT_SEA, goal_of, home_from, site_from
from shared.journeys.clocks import Clock, clocks_of
from shared.plan import Because, Doing, LegTime, Stretch

if TYPE_CHECKING:
    from shared.delivery.run import Run

_ABOARD = frozenset({Doing.SEA, Doing.SEA_REST})
_LANDED = frozenset({Doing.LAND, Doing.LAND_IN_REST})
_IN_REST = frozenset({Doing.BOARD_IN_REST, Doing.LAND_IN_REST})
_BROKEN_RESTS = "DR08a"
"""The figure behind a rest that boarding and landing may break."""
_IN_TURNS = 3
_GAP = "  "


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Something at an instant, or from one to another, by the clock of a zone."""

    zone: str
    start: datetime
    text: str
    end: datetime | None = None


def say_rows(console: Console, words: Words, rows: Iterable[Row], after: date) -> None:
    """Write rows under each other: the zone where it changes, the day where it changes."""
    rows = list(rows)
    days = [moments.day(words, _local(row.start, row.zone).date(), after=after) for row in rows]
    times = [_times(words, row) for row in rows]
    day_width = max((len(day) for day in days), default=0)
    time_width = max((len(time) for time in times), default=0)
    indent = " " * (len(_GAP) * 3 + day_width + time_width)
    zone, shown = "", ""
    for row, day, time in zip(rows, days, times, strict=True):
        if row.zone != zone:
            console.say(_GAP + words.say(say.ZONE, place=place_of(row.zone)))
            zone, shown = row.zone, ""
        head = "" if day == shown else day
        shown = day
        first = f"{_GAP}{head.ljust(day_width)}{_GAP}{time.ljust(time_width)}{_GAP}"
        console.wrapped(row.text, indent=indent, first=first)


def place_of(zone: str) -> str:
    """Give the place that a zone is named after."""
    return zone.rpartition("/")[2].replace("_", " ")


def _times(words: Words, row: Row) -> str:
    start = _local(row.start, row.zone)
    text = moments.clock(words, start)
    if row.end is None:
        return text
    end = _local(row.end, row.zone)
    last = moments.clock(words, end)
    if end.date() != start.date():
        weekday = words.say(moments.WEEKDAYS[end.weekday()])
        last = words.say(say.ON_DAY, weekday=weekday, clock=last)
    return words.say(say.FROM_TO, start=text, end=last)


def _local(when: datetime, zone: str) -> datetime:
    return when.astimezone(ZoneInfo(zone))


def forth_rows(
    words: Words,
    book: Book,
    made: Delivered,
    stretches: Sequence[Stretch],
    legs: Sequence[LegTime],
) -> list[Row]:
    """Give a journey from its departure on; where no hours are judged, leg by leg."""
    own = made.journey.legs
    clocks = clocks_of(book, made.job, own)
    if not stretches:
        return list(_leg_rows(words, own, clocks, legs))
    rows = list(stretch_rows(words, own, clocks, stretches, made.window))
    home = home_from(made.journey)
    return [*rows, *_leg_rows(words, own, clocks, legs, first=home)]


def travel_rows(
    words: Words, book: Book, made: Delivered, stretches: Sequence[Stretch]
) -> list[Row]:
    """Give the crew's own way."""
    own = made.journey.travel
    return list(stretch_rows(words, own, clocks_of(book, made.job, own), stretches, None))


def _leg_rows(
    words: Words,
    legs: Sequence[Leg],
    clocks: Sequence[Clock],
    times: Sequence[LegTime],
    first: int = 0,
) -> Iterator[Row]:
    for leg, clock, time in list(zip(legs, clocks, times, strict=False))[first:]:
        text = leg_name(words, leg)
        if leg.by:
            text = words.say(say.BY, leg=text, by=leg.by)
        yield Row(zone=clock.start, start=time.start, end=time.end, text=text)


def stretch_rows(
    words: Words,
    legs: Sequence[Leg],
    clocks: Sequence[Clock],
    stretches: Sequence[Stretch],
    window: Window | None,
) -> Iterator[Row]:
    """Give one row for each stretch, with the reason of each wait; two who drive in turns as one.

    window: whose other trades are named where it has some.
    """
    for _, group in groupby(enumerate(stretches), key=_same_drive):
        parts = [one for _, one in group]
        one = replace(parts[0], end=parts[-1].end)
        clock, leg = clocks[one.leg], legs[one.leg]
        text = _text(words, leg, clock, one, parts)
        if one.doing is Doing.REST and one.because is Because.CLOSED:
            hours = words.elapsed(_minutes([one]))
            text = say.closed_line(words, leg, hours, _others(window, one))
        yield Row(zone=_zone(clock, one), start=one.start, end=one.end, text=text)


def _same_drive(numbered: tuple[int, Stretch]) -> tuple[int, int, int]:
    """Give what is alike for stretches in which two drive the same road in turns."""
    number, one = numbered
    if one.doing is Doing.DRIVE and one.wheel:
        return -1, one.leg, one.share
    return number, one.leg, one.share


def _others(window: Window | None, one: Stretch) -> str:
    """Give who else has the site when a wait ends."""
    blocked = () if window is None else window.blocked
    names = [each.name for each in blocked if each.start < one.end <= each.end]
    return names[0] if names else ""


def _minutes(stretches: Iterable[Stretch], wheel: int | None = None) -> int:
    lengths = (one.end - one.start for one in stretches if wheel in (None, one.wheel))
    return int(sum(lengths, timedelta()).total_seconds()) // 60


def _zone(clock: Clock, one: Stretch) -> str:
    if one.doing in _LANDED:
        return clock.end
    if one.doing is Doing.DRIVE and clock.shares:
        return clock.of_share(one.share)
    return clock.start


def _text(words: Words, leg: Leg, clock: Clock, one: Stretch, parts: Sequence[Stretch]) -> str:
    facts: dict[str, object] = {
        "hours": words.elapsed(_minutes(parts)),
        "wheel": one.wheel if len({part.wheel for part in parts}) == 1 else _IN_TURNS,
        "first": words.elapsed(_minutes(parts, 1)),
        "second": words.elapsed(_minutes(parts, 2)),
        "country": _country(leg, one.share),
    }
    if one.doing is Doing.REST:
        return say.wait_line(words, one.because, one.rule, facts)
    if one.doing in _ABOARD:
        facts["arrives"] = _there(words, one.end, clock.end)
    text = say.doing_line(words, one.doing, leg, facts)
    if one.doing is Doing.DRIVE and len(leg.shares) > 1:
        return words.say(say.THROUGH, text=text, country=facts["country"])
    return text


def _there(words: Words, when: datetime, zone: str) -> str:
    """Give the time of day somewhere, named where the workshop's clock says another."""
    day = _local(when, zone).date()
    return words.moment(when, after=day, zone=zone)


def _country(leg: Leg, share: int) -> str:
    code = leg.shares[share].country if share < len(leg.shares) else leg.country
    found = None if code is None else country_named(code)
    return code or "" if found is None else found.name


def back_rows(words: Words, book: Book, made: Delivered) -> list[Row]:
    """Give the departure that is the latest in time, from the window's end back to the loading."""
    assert made.window is not None
    site, home = made.job.site.zone, book.workshop.zone
    rows = [Row(zone=site, start=made.window.end, text=words.say(say.SHUTS))]
    rows += reversed(_legs_of_best(words, book, made))
    leaves = made.leaves_by
    if leaves is None:
        return rows
    rows.append(Row(zone=home, start=leaves, text=words.say(say.LEAVE)))
    if made.loading_by is not None:
        rows.append(Row(zone=home, start=made.loading_by, text=words.say(say.LOAD)))
    return rows


def _legs_of_best(words: Words, book: Book, made: Delivered) -> list[Row]:
    """Give the legs up to the window's end, each as long as it is worked on, in their order."""
    clocks = clocks_of(book, made.job, made.journey.legs)
    goal, gate = goal_of(made.journey), site_from(made.journey)
    best = made.best
    rows: list[Row] = []
    for at, leg in enumerate(made.journey.legs[:goal]):
        if at == gate and best is not None and best.site_by is not None:
            zone = made.job.site.zone
            rows.append(Row(zone=zone, start=best.site_by, text=words.say(say.AT_GATE)))
        span = _span(made, best.latest if best else None, at)
        if span is None:
            continue
        text = leg_name(words, leg)
        if leg.kind in AT_SEA:
            there = _there(words, span[1], clocks[at].end)
            text = f"{text}: " + words.say(say.SEA, arrives=there)
        elif leg.by:
            text = words.say(say.BY, leg=text, by=leg.by)
        rows.append(Row(zone=clocks[at].start, start=span[0], end=span[1], text=text))
    return rows


def _span(made: Delivered, run: "Run | None", at: int) -> tuple[datetime, datetime] | None:
    """Give from when to when a leg is worked on; a sailing from casting off to alongside."""
    if run is None:
        plain = made.plain
        if plain is None:
            return None
        return (plain.leaves, *plain.ends)[at], plain.ends[at]
    mine = [one for one in run.stretches if one.leg == at and not _is_wait(one)]
    sea = [one for one in mine if one.doing in _ABOARD]
    used = sea or mine
    return (used[0].start, used[-1].end) if used else None


def _is_wait(one: Stretch) -> bool:
    return one.doing in (Doing.REST, Doing.STAND)


def rules_of(stretches: Iterable[Stretch]) -> list[str]:
    """Give the figures behind the waits, each once, in the order in which they come."""
    return list(dict.fromkeys(rule for one in stretches for rule in _rules(one)))


def _rules(one: Stretch) -> tuple[str, ...]:
    if one.doing in _IN_REST:
        return (_BROKEN_RESTS,)
    return (one.rule,) if one.rule else ()
