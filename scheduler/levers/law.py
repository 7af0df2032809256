"""What extra hours may not take from a person: daily and weekly rest, the weekly average.

Daily rest of so many hours in each 24 (DR15a, DR16e); weekly rest (DR15g, DR16g), here of the
calendar week; the average over the reference period (DR15d, DR16d, DR16b), in every period that
holds the week. Under 18: hours of a day and week, rests, no nights (YW01 to YW06). Open the
current text before a live job.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise

from scheduler.levers.attendance import attendance, morning
from shared.book import Book, ExtraHours, Person
from shared.levers import Lever, LeverKind
from shared.trade import figure
from shared.worktime import Span, Spans, clip, total_seconds, union
from shared.worktime.zones import local_date, zone_named

_A_DAY, _A_WEEK = timedelta(days=1), timedelta(days=7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits of the hours of one person; day, week: None where there is none."""

    daily_rest: timedelta
    weekly_rest: timedelta
    average: timedelta
    weeks: int
    day: timedelta | None = None
    week: timedelta | None = None
    clock: tuple[int, int] | None = None


def limits_of(book: Book, person: Person) -> Limits:
    """Return the limits that hold for a person, by the workshop's country."""
    is_gb = book.workshop.country == "GB"
    rest, weekly, most = ("DR16e", "DR16g", "DR16d") if is_gb else ("DR15a", "DR15g", "DR15d")
    weeks = int(figure("DR16b").amount)
    if not person.under_18:
        return Limits(
            daily_rest=_hours(rest), weekly_rest=_hours(weekly), average=_hours(most), weeks=weeks
        )
    return Limits(
        daily_rest=_hours("YW03"),
        weekly_rest=_hours("YW04"),
        average=_hours("YW02"),
        weeks=weeks,
        day=_hours("YW01"),
        week=_hours("YW02"),
        clock=(int(figure("YW06").amount), int(figure("YW05").amount)),
    )


def _hours(figure_id: str) -> timedelta:
    return timedelta(minutes=int(figure(figure_id).amount * 60))


class Week:
    """What a person works around some extra hours, by which these are judged.

    besides: hours at the wheel and on site, which count as well.
    """

    def __init__(self, book: Book, person: Person, besides: Iterable[Span] = ()) -> None:
        """Take the person's limits; hours are asked of the book as they are needed."""
        self._book, self._person = book, person
        self._zone = book.workshop.zone
        self._limits = limits_of(book, person)
        self._besides = tuple(besides)

    def forbids(self, extra: Span) -> str | None:
        """Return which limit some extra hours break, counted as worked; None for none."""
        monday = self._monday(extra.start)
        limits = self._limits
        around = self._worked(monday - _A_WEEK, monday + 2 * _A_WEEK, extra)
        if not _rests(around, extra, limits.daily_rest):
            return "daily_rest"
        week = (monday, self._plus(monday, 7))
        if not _has_gap(clip(around, *week), *week, limits.weekly_rest):
            return "weekly_rest"
        if limits.clock is not None and not self._is_by_day(extra, *limits.clock):
            return "night"
        if limits.day is not None and self._most_in_a_day(around, extra) > limits.day:
            return "day"
        if limits.week is not None and _length(clip(around, *week)) > limits.week:
            return "week"
        return None if self._average_holds(monday, extra) else "average"

    def _worked(self, start: datetime, end: datetime, extra: Span) -> Spans:
        shifts = attendance(self._book, self._person, start, end)
        return union(shifts, clip(union(self._besides), start, end), extra)

    def _average_holds(self, monday: datetime, extra: Span) -> bool:
        """Return whether no reference period that holds the week is above the average."""
        weeks, limits = self._limits.weeks, self._limits
        first, last = monday - (weeks - 1) * _A_WEEK, monday + weeks * _A_WEEK
        worked = self._worked(first, last, extra)
        edges = [self._plus(monday, 7 * at) for at in range(1 - weeks, weeks + 1)]
        each = [_length(clip(worked, one, other)) for one, other in pairwise(edges)]
        sums = (sum(each[at : at + weeks], timedelta()) for at in range(weeks))
        return all(total <= weeks * limits.average for total in sums)

    def _most_in_a_day(self, worked: Spans, extra: Span) -> timedelta:
        day = local_date(extra.start, self._zone)
        days = (day + at * _A_DAY for at in range((extra.end - extra.start).days + 2))
        return max(
            _length(clip(worked, morning(self._zone, each), morning(self._zone, each + _A_DAY)))
            for each in days
        )

    def _is_by_day(self, extra: Span, opens: int, shuts: int) -> bool:
        zone = zone_named(self._zone)
        start, end = extra.start.astimezone(zone), extra.end.astimezone(zone)
        late = (end.hour, end.minute) > (shuts, 0)
        return start.date() == end.date() and start.hour >= opens and not late

    def _monday(self, instant: datetime) -> datetime:
        day = local_date(instant, self._zone)
        return morning(self._zone, day - day.weekday() * _A_DAY)

    def _plus(self, monday: datetime, days: int) -> datetime:
        return morning(self._zone, local_date(monday, self._zone) + days * _A_DAY)


def _rests(worked: Spans, extra: Span, rest: timedelta) -> bool:
    """Return whether a rest lies in each 24 hours around some hours."""
    at = next(at for at, span in enumerate(worked) if span.start <= extra.start < span.end)
    first = last = at
    while first and worked[first].start - worked[first - 1].end < rest:
        first -= 1
    while last + 1 < len(worked) and worked[last + 1].start - worked[last].end < rest:
        last += 1
    return worked[last].end - worked[first].start <= _A_DAY - rest


def _has_gap(worked: Spans, start: datetime, end: datetime, rest: timedelta) -> bool:
    edges = [start, *(each for span in worked for each in (span.start, span.end)), end]
    return any(edges[at + 1] - edges[at] >= rest for at in range(0, len(edges), 2))


def _length(spans: Spans) -> timedelta:
    return timedelta(seconds=total_seconds(spans))


def lawful_together(book: Book, levers: Sequence[Lever]) -> tuple[Lever, ...]:
    """Return levers without those extra hours that the law forbids beside cheaper ones."""
    people = {str(person.id): person for person in book.people}
    taken: list[Lever] = []
    for lever in sorted(_hours_among(levers), key=lambda each: (each.price, each.id)):
        person = people[lever.about[0]]
        more = (*person.overtime_taken, _extra(lever))
        with_it = replace(person, overtime_taken=more)
        week = Week(replace(book, people=(with_it,)), with_it)
        mine = [each for each in taken if each.about == lever.about]
        if all(week.forbids(span_of(each)) is None for each in (lever, *mine)):
            people[lever.about[0]] = with_it
            taken.append(lever)
    return tuple(
        lever for lever in levers if lever.kind is not LeverKind.OVERTIME or lever in taken
    )


def _hours_among(levers: Sequence[Lever]) -> list[Lever]:
    return [lever for lever in levers if lever.kind is LeverKind.OVERTIME]


def _extra(lever: Lever) -> ExtraHours:
    span = span_of(lever)
    return ExtraHours(start=span.start, end=span.end)


def span_of(lever: Lever) -> Span:
    """Return the hours of a lever that opens some."""
    assert lever.start is not None
    assert lever.end is not None
    return Span(start=lever.start, end=lever.end)
