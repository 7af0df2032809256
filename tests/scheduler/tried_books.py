"""Tiny books, and every active plan of them tried out by code that shares nothing with the engine.

A few steps one after another, one or two jobs fetched by their clients, one or two people, a bay
and a booth. Whoever places steps in every order, by everybody and in every place, each as soon as
it fits, has tried all plans that can be best, since nothing here gets better by coming later:
there are no greatest waits (active schedules: Sprecher, Kolisch and Drexl, "Semi-active, active,
and non-delay schedules for the resource-constrained project scheduling problem", European Journal
of Operational Research 80, 1995).
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from random import Random

from shared.book import Book, Job, Kind, Leave, Person, Stage
from shared.ids import JobId, PlaceId, StepId
from tests.builders import (
    NOW,
    SKILL_OF_KIND,
    a_book,
    a_break,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_shift,
    a_stage,
    a_window,
    a_workshop,
    at,
)

QUARTER = timedelta(minutes=15)
DAY_QUARTERS = 96
KINDS = (Kind.FOAM, Kind.LAMINATE, Kind.PAINT)
WEEKS = 5


def tiny_book(seed: int) -> Book:
    """Give a book of one or two jobs of two or three steps, windows near what can be."""
    draw = Random(f"{seed} tiny book")
    people = tuple(_person(draw, name) for name in ("ana", "ben", "cid")[: draw.choice([1, 2, 2])])
    count = draw.choice([1, 2])
    jobs = tuple(_job(draw, name, 3 if count == 1 else 2) for name in ("heron", "otter")[:count])
    breaks = () if draw.random() < 0.5 else (a_break("12:00", "13:00"),)
    return a_book(
        *jobs,
        people=_able(people),
        places=(a_place("bay"), a_place("booth"), a_floor()),
        workshop=a_workshop(
            zone="UTC",
            shifts=(a_shift("08:00", "16:00", breaks=breaks),),
            useful_hours=draw.choice([Decimal(8), Decimal("6.5")]),
            watch_minutes=draw.choice([0, 60]),
        ),
    )


def _person(draw: Random, name: str) -> Person:
    skills = tuple(SKILL_OF_KIND[kind] for kind in KINDS if draw.random() < 0.7)
    leave: tuple[Leave, ...] = ()
    if draw.random() < 0.3:
        day = at("2026-01-05 00:00") + timedelta(days=draw.randint(0, 4))
        leave = (Leave(start=day, end=day + timedelta(days=draw.randint(1, 3))),)
    pace = draw.choice([Decimal(1), Decimal(1), Decimal("0.8")])
    return a_person(name, skills, leave=leave, pace=pace)


def _able(people: tuple[Person, ...]) -> tuple[Person, ...]:
    """Let somebody be there for everything."""
    every = tuple(SKILL_OF_KIND[kind] for kind in KINDS)
    return (replace(people[0], skills=a_person("x", every).skills), *people[1:])


def _job(draw: Random, name: str, most: int) -> Job:
    stages = [_stage(draw, f"{name}-{number}") for number in range(draw.randint(1, most))]
    hours = sum(float(stage.ways[0].hours.likely) + float(stage.cure_hours) for stage in stages)
    end = NOW + timedelta(hours=round(hours * draw.uniform(0.7, 3.5)) + draw.choice([0, 6, 24]))
    window = a_window(f"{name}-window", start="2026-01-05 00:00", end=f"{end:%Y-%m-%d %H:%M}")
    after = None if draw.random() < 0.8 else ()
    steps = [stages[0], *(replace(stage, after=after) for stage in stages[1:])]
    return a_job(name, steps=(*steps, a_gate(f"{name}-loading")), windows=(window,))


def _stage(draw: Random, name: str) -> Stage:
    in_one_go = draw.random() < 0.4
    return a_stage(
        name,
        draw.choice(KINDS),
        hours=draw.choice([2, 3, 5, 6]) if in_one_go else draw.choice([2, 3, 5, 9, 12]),
        places=draw.choice([(), (), ("bay",), ("booth",), ("bay", "booth")]),
        in_one_go=in_one_go,
        cure_hours=draw.choice([0, 0, 4, 20]),
    )


@dataclass(frozen=True, slots=True)
class Taken:
    """Who and what is taken from one quarter to another."""

    what: str
    start: int
    end: int


@dataclass(slots=True)
class Trying:
    """Every active plan of some jobs of a book, as the quarters at which each is loaded."""

    book: Book
    jobs: tuple[JobId, ...]
    open: dict[str, list[bool]] = field(default_factory=dict)

    def ends(self) -> Iterator[dict[JobId, int]]:
        """Give when each job is loaded, plan by plan."""
        for person in self.book.people:
            self.open[person.id] = self._opens(person)
        stages = {
            job.id: [step for step in job.steps if isinstance(step, Stage)]
            for job in self.book.jobs
            if job.id in self.jobs
        }
        yield from self._grow(stages, {}, [])

    def _opens(self, person: Person) -> list[bool]:
        start = datetime(2026, 1, 5, tzinfo=UTC)
        return [
            self._works(person, start + QUARTER * quarter)
            for quarter in range(7 * WEEKS * DAY_QUARTERS)
        ]

    def _works(self, person: Person, when: datetime) -> bool:
        (shift,) = self.book.workshop.shifts
        clock = when.time()
        is_there = when.weekday() in shift.days and shift.start <= clock < shift.end
        is_there &= not any(each.start <= clock < each.end for each in shift.breaks)
        return is_there and not any(leave.start <= when < leave.end for leave in person.leave)

    def _grow(
        self,
        stages: dict[JobId, list[Stage]],
        placed: dict[StepId, tuple[int, int]],
        taken: list[Taken],
    ) -> Iterator[dict[JobId, int]]:
        left = [
            (job, step) for job, steps in stages.items() for step in steps if step.id not in placed
        ]
        if not left:
            yield {job: self._loaded(steps, placed) for job, steps in stages.items()}
            return
        for job, step in left:
            before = self._before(stages[job], step)
            if all(each.id in placed for each in before):
                ready = max([self._first(), *(self._ready(each, placed) for each in before)])
                for start, end, what in self._spots(step, ready, taken):
                    placed[step.id] = (start, end)
                    more = [Taken(each, start, end) for each in what]
                    yield from self._grow(stages, placed, [*taken, *more])
                    del placed[step.id]

    def _first(self) -> int:
        return (NOW.hour * 60 + NOW.minute) // 15

    def _before(self, steps: list[Stage], step: Stage) -> list[Stage]:
        at = steps.index(step)
        return [] if step.after is not None or not at else [steps[at - 1]]

    def _ready(self, step: Stage, placed: dict[StepId, tuple[int, int]]) -> int:
        return placed[step.id][1] + round(step.cure_hours * 4)

    def _loaded(self, steps: list[Stage], placed: dict[StepId, tuple[int, int]]) -> int:
        return max(self._ready(step, placed) for step in steps)

    def _spots(
        self, step: Stage, ready: int, taken: list[Taken]
    ) -> Iterator[tuple[int, int, tuple[str, ...]]]:
        """Give where a step can be with each person and each place, as soon as it fits."""
        (way,) = step.ways
        (need,) = way.needs
        able = [
            person
            for person in self.book.people
            if any(held.skill == need.skill for held in person.skills)
        ]
        places: tuple[PlaceId | None, ...] = way.places or (None,)
        for person in able:
            for place in places:
                what: tuple[str, ...] = (person.id,) if place is None else (person.id, place)
                span = self._soonest(step, person, ready, [t for t in taken if t.what in what])
                if span is not None:
                    yield (*span, what)

    def _soonest(
        self, step: Stage, person: Person, ready: int, taken: list[Taken]
    ) -> tuple[int, int] | None:
        opens, needed = self.open[person.id], self._quarters(step, person)
        for start in range(ready, len(opens)):
            if not opens[start]:
                continue
            end = self._end(step, person, start, needed)
            if end is not None and not any(t.start < end and start < t.end for t in taken):
                return start, end
        return None

    def _quarters(self, step: Stage, person: Person) -> int:
        exact = Fraction(step.ways[0].hours.likely) / Fraction(person.pace) * 4
        if not step.in_one_go:
            exact *= Fraction(self.book.workshop.shift_hours)
            exact /= Fraction(self.book.workshop.useful_hours)
        return -(-exact.numerator // exact.denominator)

    def _end(self, step: Stage, person: Person, start: int, needed: int) -> int | None:
        """Return the end of so many open quarters from one on; in one go: inside the shift."""
        opens = self.open[person.id]
        end, left, pause = start, needed, 0
        while left and end < len(opens):
            pause = 0 if opens[end] else pause + 1
            left -= opens[end]
            end += 1
            if pause > self.book.workshop.longest_pause_days * DAY_QUARTERS:
                return None
        if left:
            return None
        if step.in_one_go:
            last = end + self._watch(step)
            closes = (start // DAY_QUARTERS) * DAY_QUARTERS + 16 * 4
            if last > closes:
                return None
        return end

    def _watch(self, step: Stage) -> int:
        return self.book.workshop.watch_minutes // 15 if step.kind is Kind.LAMINATE else 0


def due(book: Book, job: JobId) -> int:
    """Return the quarter by which a job has to be loaded."""
    (found,) = [each for each in book.jobs if each.id == job]
    window = found.held_window
    assert window is not None
    return int((window.end - datetime(2026, 1, 5, tzinfo=UTC)) / QUARTER)
