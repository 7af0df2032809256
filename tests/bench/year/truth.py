"""What happens in a year, as nobody knows it beforehand: drawn once, the same for who plans how.

Each draw is bound to its step or person and seed, so that it doesn't depend on what was done
before. Shapes: hours log-normal about the estimate, their logarithms with a part in common for
the kind, one for the job and one of its own; answers log-normal with the agreed days as median,
in one of ten cases twice as long or more; illness, breakages, late deliveries by the dice.
Common practice, no source.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from shared.book import Book, Gate, Job, Journey, Kind, Stage, Step
from shared.ids import JobId, PersonId, StepId
from shared.worktime import nth_working_day_after
from tests.bench.year.clock import START, at, day_of
from tests.bench.year.commissions import WORKDAYS
from tests.bench.year.shop import YEAR_DAYS

KIND_SIGMA, JOB_SIGMA, OWN_SIGMA = 0.08, 0.12, 0.22
ONE_GO_MOST = 1.35
"""Work in one go is cut to what a long evening can take."""
LEAST, MOST = 0.5, 2.5
ANSWER_SIGMA = math.log(2) / 1.2816
ANSWER_MOST = 3
CHANGES_PERCENT, BREAK_PERMILLE = 20, 25
CHANGES_HOURS = Decimal(6)
BREAK_SHARE = Decimal("0.4")
ILL_A_YEAR = 3
ILL_DAYS = (1, 1, 2, 2, 3, 3, 5, 10)
LATE_PERCENT = 25
LATE_DAYS = (2, 3, 5, 8, 10)
FOAM_DAYS, PAINT_DAYS = 5, 20
"""Foam is promised so many working days after a job is booked, paint so many before its window."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Illness:
    """Somebody is ill from the morning of a day on and back on another."""

    person: PersonId
    first: date
    back: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """What some steps of a job wait for: promised for a day, there on another."""

    steps: tuple[StepId, ...]
    promised: date
    comes: date


class Truth:
    """What will happen in a year of a seed."""

    def __init__(self, seed: int) -> None:
        """Take the seed."""
        self._seed = seed

    def _draw(self, *what: object) -> Random:
        return Random("/".join(map(str, (self._seed, *what))))

    def factor(self, job: JobId, step: Step, kind: Kind) -> float:
        """Return the true hours of a stage over those estimated."""
        logarithm = (
            self._draw("kind", kind.value).gauss(0, KIND_SIGMA)
            + self._draw("job", job).gauss(0, JOB_SIGMA)
            + self._draw("step", step.id).gauss(0, OWN_SIGMA)
        )
        most = ONE_GO_MOST if not isinstance(step, Journey) and step.in_one_go else MOST
        return max(LEAST, min(most, math.exp(logarithm)))

    def answer(self, job: Job, gate: Gate, pictures: int) -> int:
        """Return the quarter in which the client answers pictures of a quarter."""
        draw = self._draw("answer", gate.id)
        agreed = job.client.answer_days
        days = max(1, round(agreed * min(ANSWER_MOST, math.exp(draw.gauss(0, ANSWER_SIGMA)))))
        day = nth_working_day_after(WORKDAYS, day_of(pictures), days)
        return max(pictures, at(day, draw.randrange(10, 17)))

    def changes(self, gate: Gate) -> Decimal:
        """Return the person-hours of carving that the yes asks for, 0 for none."""
        draw = self._draw("changes", gate.id)
        return CHANGES_HOURS if draw.randrange(100) < CHANGES_PERCENT else Decimal(0)

    def broken(self, stage: Stage) -> Decimal:
        """Return the person-hours of work that is done once more after a stage, 0 for none."""
        if self._draw("broken", stage.id).randrange(1000) >= BREAK_PERMILLE:
            return Decimal(0)
        likely = stage.ways[0].hours.likely
        return (likely * BREAK_SHARE).quantize(Decimal("0.25")) + 1

    def illnesses(self, book: Book) -> tuple[Illness, ...]:
        """Return who is ill when, by the first day."""
        found = [each for person in book.people for each in self._ill(person.id)]
        return tuple(sorted(found, key=lambda each: (each.first, each.person)))

    def _ill(self, person: PersonId) -> Iterable[Illness]:
        draw = self._draw("ill", person)
        day = 0.0
        while True:
            day += draw.expovariate(ILL_A_YEAR / YEAR_DAYS)
            if day > YEAR_DAYS + 60:
                return
            first = nth_working_day_after(WORKDAYS, START + timedelta(days=int(day)), 1)
            back = nth_working_day_after(WORKDAYS, first, draw.choice(ILL_DAYS))
            yield Illness(person=person, first=first, back=back)
            day += (back - first).days

    def materials(self, job: Job, booked: date) -> tuple[Material, ...]:
        """Return the deliveries of a job that was booked on a day."""
        window = job.windows[0].start.date()
        paint = max(booked, window - timedelta(days=PAINT_DAYS * 7 // 5))
        foam = nth_working_day_after(WORKDAYS, booked, FOAM_DAYS)
        return (
            self._material(job, "block", foam),
            self._material(job, "prime", nth_working_day_after(WORKDAYS, paint, 1)),
        )

    def _material(self, job: Job, word: str, promised: date) -> Material:
        steps = tuple(step.id for step in job.steps if step.name == word)
        draw = self._draw("material", job.id, word)
        late = draw.choice(LATE_DAYS) if draw.randrange(100) < LATE_PERCENT else 0
        comes = nth_working_day_after(WORKDAYS, promised, late) if late else promised
        return Material(steps=steps, promised=promised, comes=comes)
