"""How long the days of a crew are about a journey: road, site and bench counted as one. No Qt."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

from app.window.countback.one_job import OneJob
from app.window.people.days import there
from app.window.wall.items import instant_at, minute_of
from app.words import Words
from app.words import countback_view as say
from shared.book import AT_SEA, Journey, LegKind, Person
from shared.delivery.judged import site_from
from shared.ids import PersonId
from shared.plan import Doing
from shared.worktime import Span, Spans, clip, union

if TYPE_CHECKING:
    from shared.plan import Stretch, Trip

LEAST_REST = timedelta(hours=9)
"""Between two days lie at least so many: a reduced daily rest, regulation (EC) 561/2006, art. 4."""
LONGEST_DAY = timedelta(hours=13)
"""What a daily rest of 11 hours leaves of 24: directive 2003/88/EC, article 3."""
_AROUND = timedelta(days=1)
_IDLE = frozenset({Doing.REST, Doing.STAND, Doing.SEA_REST})
_NOBODY = frozenset({LegKind.WAIT, LegKind.RETURN})


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """A day of somebody, or the rest between two, in minutes since 1970."""

    start: int
    end: int
    text: str
    is_rest: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty:
    """Somebody's days and rests about a journey."""

    person: PersonId
    name: str
    stints: tuple[Stint, ...]

    @property
    def text(self) -> str:
        """Return it as it is read out."""
        return f"{self.name}: {', '.join(each.text for each in self.stints)}."


def duties(one: OneJob, first: int, last: int, words: Words) -> tuple[Duty, ...]:
    """Return the days of everybody who goes with the job's journeys, between two minutes."""
    trips = {trip.step: trip for trip in one.plan.trips} if one.plan else {}
    journeys = [s for s in one.job.steps if isinstance(s, Journey) and s.id in trips]
    crew = {person: None for step in journeys for person in step.crew}
    known = {person.id: person for person in one.shown.book.people}
    span = (instant_at(first) - _AROUND, instant_at(last) + _AROUND)
    found = []
    for person in crew:
        if person in known:
            away = [each for s in journeys if person in s.crew for each in _away(s, trips[s.id])]
            held = union([*away, *_bench(one, known[person], *span)])
            stints = tuple(e for e in _stints(held, words) if e.start < last and e.end > first)
            if stints:
                found.append(Duty(person=person, name=known[person].name, stints=stints))
    return tuple(found)


def _away(step: Journey, trip: "Trip") -> Iterator[Span]:
    """Give when a crew drives or works; their own way there in the place of the lorry's."""
    at_site = site_from(step) if trip.travel else 0
    own = [each for each in trip.stretches if each.leg >= at_site]
    yield from _active([*trip.travel, *own])
    if not trip.stretches:
        for leg, at in zip(step.legs, trip.legs, strict=False):
            if leg.kind not in _NOBODY and at.start < at.end:
                yield Span(start=at.start, end=at.end)
    by_road = not any(leg.kind in AT_SEA for leg in step.legs)
    if by_road and trip.end < trip.back:
        yield Span(start=trip.end, end=trip.back)


def _active(stretches: "Iterable[Stretch]") -> Iterator[Span]:
    for each in stretches:
        if each.doing not in _IDLE and each.start < each.end:
            yield Span(start=each.start, end=each.end)


def _bench(one: OneJob, person: Person, first: datetime, last: datetime) -> Iterator[Span]:
    """Give when somebody works in the workshop, on whichever job."""
    plan = one.shown.plan
    hours = there(one.shown.book, person, first, last)
    for placed in plan.placements if plan else ():
        if person.id in placed.people and placed.start < last and placed.end > first:
            yield from clip(hours, placed.start, placed.end)


def _stints(held: Spans, words: Words) -> Iterator[Stint]:
    """Give days, and between them rests; what no rest parts is one day."""
    days: list[Span] = []
    for span in held:
        if days and span.start - days[-1].end < LEAST_REST:
            days[-1] = Span(start=days[-1].start, end=span.end)
        else:
            days.append(span)
    rests = [Span(start=a.end, end=b.start) for a, b in pairwise(days)]
    made = [
        (day, say.LONG_DAY_OF if day.end - day.start > LONGEST_DAY else say.DAY_OF, False)
        for day in days
    ]
    made += [(rest, say.REST_OF, True) for rest in rests]
    for span, template, is_rest in sorted(made, key=lambda each: each[0].start):
        start, end = minute_of(span.start), minute_of(span.end)
        hours = words.elapsed(end - start)
        yield Stint(start=start, end=end, text=words.say(template, hours=hours), is_rest=is_rest)
