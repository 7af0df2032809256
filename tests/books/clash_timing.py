"""When a made-up job would be loaded, by the plain planner: with a cause and without it.

Windows of clashes are set between the two. Nothing here is shared with the engine.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from shared.book import Book, Gate, GateKind, Job, Person, Place, Stage, Way, Window, Workshop
from shared.ids import JobId, PersonId, StepId
from shared.plan import Placement, Trip
from shared.worktime import Spans
from tests.books.commissions import at, window
from tests.books.serial import Fitted, Planner

FAR = timedelta(days=450)
DAY = timedelta(days=1)
OPENS, SHUTS = 7, 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What holds a job up that the plain planner does not read from a book by itself.

    cures: hours after a step where they are not the step's own. not_before: of a step. by: who
    alone can do a step. busy: who is taken from when to when besides.
    """

    cures: Mapping[StepId, Decimal] = field(default_factory=lambda: MappingProxyType({}))
    not_before: Mapping[StepId, datetime] = field(default_factory=lambda: MappingProxyType({}))
    by: Mapping[StepId, PersonId] = field(default_factory=lambda: MappingProxyType({}))
    busy: tuple[tuple[PersonId, datetime, datetime], ...] = ()


NOTHING = Held()
_KNOWN_HOURS: dict[tuple[Workshop, datetime], tuple[Spans, Spans]] = {}
"""The hours of the last workshop that was asked for, since reckoning them takes long."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """Where the plain planner put everything."""

    placements: tuple[Placement, ...]
    trips: tuple[Trip, ...]

    def of(self, step: StepId) -> Placement:
        """Return where a step was put, of a gate its last round."""
        return [placed for placed in self.placements if placed.step == step][-1]

    def trip(self, job: JobId) -> Trip:
        """Return the trip of a job."""
        return next(trip for trip in self.trips if trip.job == job)


class ClashPlanner(Planner):
    """The plain planner that also minds leave, bookings, long cures, rounds and late starts."""

    def __init__(self, book: Book, now: datetime, held: Held) -> None:
        """Book whatever the book says is taken."""
        own = tuple(person for person in book.people if not person.freelance)
        super().__init__(replace(book, people=own), now)
        self._held = held
        self._only: PersonId | None = None
        for person in own:
            away = [(leave.start, leave.end) for leave in person.leave]
            self.diary.people[person.id] = away
        for work in book.other_work:
            for who in work.people:
                self.diary.people.setdefault(who, []).append((work.start, work.end))
        for one, start, end in held.busy:
            self.diary.people.setdefault(one, []).append((start, end))
        for place in book.places:
            whole = Fraction(1) if place.area_m2 is None else Fraction(place.area_m2)
            shut = [(start, end, whole) for start, end in self._shut(place)]
            self.diary.rooms[str(place.id)] = shut

    def _shut(self, place: Place) -> Iterator[tuple[datetime, datetime]]:
        yield from ((each.start, each.end) for each in place.bookings if each.area_m2 is None)
        for closed in place.closures:
            yield at(closed.first, 0), at(closed.last + DAY, 0)
        for work in self.book.other_work:
            if place.id in work.places:
                yield work.start, work.end
        if place.usable_from is not None:
            yield self.now - DAY, at(place.usable_from, 0)
        if place.usable_until is not None:
            yield at(place.usable_until + DAY, 0), self.now + FAR

    def hours_of(self, person: Person) -> tuple[Spans, Spans]:
        """Give a person's open stretches and shifts: all have those of the workshop."""
        assert not person.hours
        key = (self.book.workshop, self.now)
        if key not in _KNOWN_HOURS:
            _KNOWN_HOURS.clear()
            _KNOWN_HOURS[key] = super().hours_of(person)
        return _KNOWN_HOURS[key]

    def joint(self, team: tuple[Person, ...]) -> tuple[Spans, Spans]:
        """Give the hours that a team has in common: those of each of them."""
        return self.hours_of(team[0])

    def fit(self, job: Job, step: Stage | Gate, begin: datetime) -> tuple[Fitted, Way]:
        """Find the earliest end of a step, by who alone can do it if that is so."""
        self._only = self._held.by.get(step.id)
        return super().fit(job, step, begin)

    def teams(self, way: Way) -> list[tuple[Person, ...]]:
        """List the teams that can do a way."""
        found = super().teams(way)
        only = self._only
        return [team for team in found if only is None or only in {each.id for each in team}]

    def answer_due(self, job: Job, step: Gate, out: datetime) -> datetime:
        """Give when the answer is due, of whoever it is that answers."""
        asked = job if step.answered_by is None else replace(job, client=step.answered_by)
        return super().answer_due(asked, step, out)

    def place_step(
        self, job: Job, step: Stage | Gate, begin: datetime
    ) -> tuple[datetime, datetime]:
        """Place one step; give its end and when what follows may start."""
        begin = max(begin, self._held.not_before.get(step.id, begin))
        if isinstance(step, Stage) and step.id in self._held.cures:
            step = replace(step, cure_hours=self._held.cures[step.id])
        end, free = super().place_step(job, step, begin)
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
            for _ in range(step.allow_no):
                end, free = super().place_step(job, step, free)
        return end, free


def timed(book: Book, now: datetime, held: Held = NOTHING) -> Timed:
    """Place the jobs of a book one after the other, the first before all others."""
    planner = ClashPlanner(book, now, held)
    for job in book.jobs:
        planner.drive(job, planner.plan_job(job))
    return Timed(placements=tuple(planner.placements), trips=tuple(planner.trips))


def days_around(end: datetime, days_long: int = 3) -> Window:
    """Give a window of whole days whose last holds an instant."""
    last = end.date()
    return window(at(last - (days_long - 1) * DAY, OPENS), at(last, SHUTS))
