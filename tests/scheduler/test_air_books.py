"""Books full of shared air, moves, kinds of places and foam in stock, as time goes on."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from itertools import product
from random import Random

import pytest

from shared.book import (
    Act,
    Apart,
    Book,
    Booking,
    FactKind,
    GateKind,
    Job,
    Kind,
    Place,
    PlaceKind,
    Stage,
    Step,
)
from shared.ids import PlaceId
from shared.plan import Placement, Plan
from shared.trade.defaults import APART, USUAL_ACTS, WET_HOURS
from tests.builders import (
    NOW,
    SKILL_OF_KIND,
    a_book,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_stage,
    a_way,
    a_window,
    a_workshop,
)
from tests.scheduler.normals import solved
from tests.scheduler.test_as_time_goes_on import facts_at

ACTS = tuple(act for act in Act if act is not Act.ISOCYANATE)
KINDS = (PlaceKind.BAY, PlaceKind.BOOTH)
JOB_COUNT = 7
ONCE_FOUND = (112, 216, 255, 394, 1195, 2189)
"""Seeds of books that the engine and the check once read differently."""


def _places(draw: Random) -> tuple[Place, ...]:
    airs = (None, "east", "hall", "hall")
    until = NOW + timedelta(days=draw.randrange(2, 12))
    foam = Booking(start=NOW, end=until, area_m2=Decimal(draw.randrange(9)))
    clear_out = draw.choice((0, 5))
    return (
        *(a_place(name, slots=2, air=draw.choice(airs)) for name in ("bay", "nook")),
        a_place("booth", PlaceKind.BOOTH, air=draw.choice(airs), clear_out_minutes=clear_out),
        a_floor("hall", 18, bookings=(foam,)),
        a_floor("store", 12, kind=PlaceKind.STORE),
    )


def _stage(step: str, draw: Random) -> Stage:
    kind = draw.choice(tuple(Kind))
    way = a_way(
        hours=draw.randrange(1, 6),
        skill=SKILL_OF_KIND[kind],
        places=draw.choice((("bay",), ("nook",), ("bay", "nook"), ("booth",), ())),
        place_kinds=draw.choice(((), (), KINDS, KINDS[:1])),
    )
    return a_stage(
        step,
        kind,
        ways=(way,),
        cure_hours=draw.choice((0, 0, 12)),
        watch_minutes=0,
        does=draw.choice((None, None, tuple(draw.sample(ACTS, 2)))),
        wet_hours=draw.choice((None, Decimal("0.5"), Decimal(20))),
        moves_to=draw.choice((None, None, None, PlaceId("store"), PlaceId("hall"))),
    )


def _job(name: str, draw: Random) -> Job:
    steps: list[Step] = [_stage(f"{name}-{number}", draw) for number in range(3)]
    if draw.random() < 0.3:
        steps.insert(1, a_gate(f"{name}-yes", GateKind.ANSWER, answer_days=1))
    window = a_window(start="2026-01-01 00:00", end="2026-01-30 18:00")
    return a_job(name, steps=(*steps, a_gate(f"{name}-loading")), windows=(window,))


def _pairs(draw: Random) -> tuple[Apart, ...] | None:
    if draw.random() < 0.5:
        return None
    return tuple(
        Apart(first=draw.choice(ACTS), second=draw.choice(ACTS), minutes=draw.choice((0, 7, 60)))
        for _ in range(draw.randrange(2, 8))
    )


def airy(seed: int) -> tuple[Book, Random]:
    """Give a book in which air and floor decide, and the source of what happens next."""
    draw = Random(seed)
    jobs = [_job(f"piece{number}", draw) for number in range(JOB_COUNT)]
    people = tuple(a_person(name) for name in ("ana", "ben", "cleo", "dan", "eve"))
    workshop = a_workshop(apart=_pairs(draw))
    return a_book(*jobs, places=_places(draw), people=people, workshop=workshop), draw


def _acts(book: Book, placed: Placement) -> dict[Act, timedelta]:
    """Give what is done, and how long it lasts after the end."""
    step = next(step for job in book.jobs for step in job.steps if step.id == placed.step)
    if not isinstance(step, Stage):
        return {}
    wet = WET_HOURS[step.kind] if step.wet_hours is None else step.wet_hours
    done = USUAL_ACTS[step.kind] if step.does is None else step.does
    return {act: timedelta(hours=float(wet)) if act is Act.WET else timedelta(0) for act in done}


def meetings(book: Book, plan: Plan) -> list[str]:
    """Give what meets in one air; an own reading of the rule.

    Two told facts, and what goes on nobody knows when or by whom, are left aside.
    """
    airs = {place.id: place.air or f"only {place.id}" for place in book.places}
    told = {fact.step for fact in book.facts}
    vague = {one.step for one in book.facts if one.kind is FactKind.RUNNING and not one.people}
    pairs = APART if book.workshop.apart is None else book.workshop.apart
    works = [
        (placed, airs[placed.place], _acts(book, placed))
        for placed in plan.placements
        if placed.place is not None and placed.step not in vague
    ]
    found = []
    for (one, air, does), (other, its_air, others) in product(works, repeat=2):
        if one is other or {one.step, other.step} <= told or air != its_air:
            continue
        for pair in pairs:
            if pair.first in does and pair.second in others:
                over = one.end + does[pair.first] + timedelta(minutes=pair.minutes)
                dry = other.end + others[pair.second]
                if one.start < dry and other.start < over and one.start < over:
                    found.append(f"{one.step} {pair.first} {other.step} {pair.second}")
    return found


@pytest.mark.parametrize("seed", [*range(5), *ONCE_FOUND])
def test_nothing_meets_that_is_kept_apart_at_any_moment(seed: int) -> None:
    book, draw = airy(seed)
    for _ in range(3):
        assert book.as_of is not None
        plan = solved(book, book.as_of).plan
        assert not meetings(book, plan)
        now = book.as_of + timedelta(minutes=draw.randrange(60, 12 * 24 * 60))
        book = replace(book, facts=tuple(facts_at(book, plan, now, draw)), as_of=now)


def test_the_other_reading_finds_what_meets() -> None:
    """Without the rule many of these plans have something meet."""
    count = 0
    for seed in range(8):
        book, _ = airy(seed)
        assert book.as_of is not None
        free = replace(book, workshop=replace(book.workshop, apart=()))
        count += bool(meetings(book, solved(free, book.as_of).plan))

    assert count >= 4
