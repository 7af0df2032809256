"""Plans and books altered by draws, most of them so that something is broken."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from random import Random
from typing import TypeVar

from shared.book import Book, Closure, Fact, FactKind, Job, Leave, Stage, Step
from shared.ids import FactId
from shared.plan import Placement, Plan
from tests.scheduler.check.change import QUARTER

DAY = timedelta(days=1)
Thing = TypeVar("Thing")


def altered_plan(book: Book, plan: Plan, draw: Random) -> Plan:
    """Alter a few placements, or a whole job."""
    placements = list(plan.placements)
    for _ in range(draw.choice((1, 2, 8))):
        at = draw.randrange(len(placements))
        placements[at : at + 1] = draw.choice(PLACEMENTS)(book, placements[at], draw)
    if draw.random() < 0.3:
        job, days = draw.choice(placements).job, draw.choice((-1, 1, 7)) * DAY
        placements = [_moved(each, days) if each.job == job else each for each in placements]
    return replace(plan, placements=tuple(placements))


def _moved(each: Placement, by: timedelta) -> Placement:
    return replace(each, start=each.start + by, end=each.end + by)


PLACEMENTS: tuple[Callable[[Book, Placement, Random], list[Placement]], ...] = (
    lambda _, each, draw: [_moved(each, draw.choice((-4, -1, 1, 40, 96)) * QUARTER)],
    lambda _, each, draw: [replace(each, end=each.end + draw.choice((-4, -1, 1, 96)) * QUARTER)],
    lambda book, each, draw: [
        replace(each, people=tuple(draw.choice(book.people).id for _ in each.people))
    ],
    lambda book, each, draw: [replace(each, place=draw.choice(book.places).id)],
    lambda _, each, draw: [replace(each, part=draw.choice(("abrade", "rework", "changes")))],
    lambda _, each, __: [replace(each, round=each.round + 1)],
    lambda _, each, __: [each, each],
    lambda *_: [],
)


def altered_book(book: Book, plan: Plan, draw: Random) -> Book:
    """Alter one thing that a check reads."""
    return draw.choice(BOOKS)(book, plan, draw)


def _job(book: Book, plan: Plan, draw: Random) -> Book:
    at = draw.randrange(len(book.jobs))
    job = book.jobs[at]
    steps = list(job.steps)
    number = draw.randrange(len(steps))
    steps[number] = _step(steps[number])
    return replace(book, jobs=_with(book.jobs, at, replace(job, steps=tuple(steps))))


def _step(step: Step) -> Step:
    if isinstance(step, Stage):
        return replace(step, cure_hours=step.cure_hours + 3, warmest_celsius=Decimal(15))
    return replace(step, name=f"{step.name} again")


def _piece(book: Book, plan: Plan, draw: Random) -> Book:
    at = draw.randrange(len(book.jobs))
    job: Job = book.jobs[at]
    piece = replace(job.segments[0], length_m=Decimal(7), width_m=Decimal(4))
    job = replace(job, segments=(piece, *job.segments[1:]))
    return replace(book, jobs=_with(book.jobs, at, job))


def _person(book: Book, plan: Plan, draw: Random) -> Book:
    at = draw.randrange(len(book.people))
    begins = plan.now + draw.randrange(20) * DAY
    away = Leave(start=begins, end=begins + 3 * DAY)
    person = book.people[at]
    person = replace(person, leave=(*person.leave, away), pace=draw.choice((Decimal(1), _SLOW)))
    return replace(book, people=_with(book.people, at, person))


def _workshop(book: Book, plan: Plan, draw: Random) -> Book:
    workshop, day = book.workshop, (plan.now + draw.randrange(20) * DAY).date()
    altered = draw.choice(
        (
            replace(workshop, closures=(*workshop.closures, Closure(first=day, last=day))),
            replace(workshop, pair_loss_percent=workshop.pair_loss_percent + 5),
            replace(workshop, bridged_break_minutes=draw.choice((0, 60))),
            replace(workshop, temperatures=workshop.temperatures[1:]),
            replace(workshop, never_alone=()),
            replace(workshop, standing_room_m=workshop.standing_room_m + 1),
            replace(workshop, wrap_m=Decimal(1)),
        )
    )
    return replace(book, workshop=altered)


def _fact(book: Book, plan: Plan, draw: Random) -> Book:
    placed = draw.choice(plan.placements)
    fact = Fact(
        id=FactId(f"altered-{len(book.facts)}"),
        kind=draw.choice((FactKind.DONE, FactKind.RUNNING)),
        step=placed.step,
        at=placed.start,
        told_by="ada",
        people=draw.choice(((), placed.people)),
        remaining_hours=Decimal(3),
    )
    return replace(book, facts=(*book.facts, fact))


def _place(book: Book, plan: Plan, draw: Random) -> Book:
    at = draw.randrange(len(book.places))
    place = replace(book.places[at], area_m2=Decimal(9), clear_out_minutes=75)
    return replace(book, places=_with(book.places, at, place))


_SLOW = Decimal("0.85")
BOOKS: tuple[Callable[[Book, Plan, Random], Book], ...] = (
    _job,
    _piece,
    _person,
    _workshop,
    _fact,
    _place,
)


def _with(things: tuple[Thing, ...], at: int, instead: Thing) -> tuple[Thing, ...]:
    return (*things[:at], instead, *things[at + 1 :])
