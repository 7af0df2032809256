"""What an easier book, a book of other names, and time run backwards leave as it was.

An easier book has more people, a longer window, a shorter stage or an earlier start: whoever has a
plan of the book has one of the easier book, so that what is proved best of both may not be worse.
"""

import json
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations
from random import Random
from typing import Any

import pytest

from scheduler.outcome import Outcome, Verdict
from scheduler.problem import Calendar, Edge, Need, Room, Span, Stage, Use, Way
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book
from shared.examine import take_in
from shared.files.write import write_book
from tests.books.eased import EASES
from tests.books.shapes import SHAPES
from tests.scheduler.makespans import least, stage, worker
from tests.scheduler.tried_books import tiny_book

KEPT = (Verdict.FITS, Verdict.TIGHT)
SEEDS = range(24)
LOTS, A_LOT = 5, 20
EFFORT = 6
MISSED, UP_TO_THE_WISH = 2, 4
"""Levels of windows missed, and up to the hours that are short of the wish; what a plan costs may
rise where more can be done."""


@cache
def answered(book: Book) -> Outcome:
    assert book.as_of is not None
    return solve(SolveRequest(book=book, now=book.as_of, effort=EFFORT, workers=1))


def eased(seed: int, ease: str) -> tuple[Outcome, Outcome] | None:
    """Answer a tiny book and the easier one; None where one of them is not decided by proof."""
    book = tiny_book(seed)
    easier = EASES[ease](book, Random(seed))
    assert easier is not None
    before, after = answered(book), answered(easier)
    is_decided = min(before.proved_levels, after.proved_levels) >= UP_TO_THE_WISH
    return (before, after) if is_decided else None


def hold_no_worse(before: Outcome, after: Outcome) -> None:
    """Hold that no verdict is worse: of one job its own, of several how many are kept.

    Of two that can't both be kept another one may be, so their own verdicts may change places. A
    job that could not be placed at all was not late.
    """
    upto = MISSED if before.plan.unplaced else UP_TO_THE_WISH
    assert after.levels[:upto] <= before.levels[:upto]
    if len(before.jobs) == 1:
        (was,), (is_) = before.jobs, after.jobs[0]
        order = tuple(Verdict)
        if was.verdict in KEPT:
            assert order.index(is_.verdict) <= order.index(was.verdict)
    for was, is_ in zip(before.jobs, after.jobs, strict=True):
        if is_.verdict is Verdict.CANNOT:
            assert was.verdict not in KEPT
            assert not was.missed_by_minutes or was.missed_by_minutes >= is_.bound_minutes


@pytest.mark.parametrize("ease", list(EASES))
def test_no_verdict_that_is_proved_is_worse_in_an_easier_book(ease: str) -> None:
    decided = [found for seed in SEEDS if (found := eased(seed, ease)) is not None]

    assert len(decided) >= len(SEEDS) // 2
    for before, after in decided:
        hold_no_worse(before, after)


@pytest.mark.parametrize("ease", list(EASES))
def test_some_verdicts_are_better_in_an_easier_book(ease: str) -> None:
    found = [each for seed in SEEDS if (each := eased(seed, ease)) is not None]

    assert any(
        after.levels[:UP_TO_THE_WISH] < before.levels[:UP_TO_THE_WISH] for before, after in found
    )


@pytest.mark.slow
@pytest.mark.parametrize("lot", range(LOTS))
@pytest.mark.parametrize("ease", list(EASES))
def test_no_verdict_of_many_that_are_proved_is_worse_in_an_easier_book(ease: str, lot: int) -> None:
    """A hundred books with each way of making them easier."""
    seeds = range(1000 + lot * A_LOT, 1000 + (lot + 1) * A_LOT)
    decided = [found for seed in seeds if (found := eased(seed, ease)) is not None]

    assert len(decided) >= A_LOT // 2
    for before, after in decided:
        hold_no_worse(before, after)


def test_a_verdict_that_got_worse_would_be_seen() -> None:
    pairs = [found for seed in SEEDS if (found := eased(seed, "a longer window")) is not None]
    before, after = next(
        (was, now)
        for was, now in pairs
        if now.levels[:UP_TO_THE_WISH] < was.levels[:UP_TO_THE_WISH]
    )

    with pytest.raises(AssertionError):
        hold_no_worse(after, before)


# Time run backwards.


@dataclass(frozen=True, slots=True)
class Chained:
    """A few stages of two skills and a room, and what must come after what."""

    stages: tuple[Stage, ...]
    edges: tuple[Edge, ...]
    workers: int

    @property
    def backwards(self) -> "Chained":
        """Return the same with time running the other way."""
        edges = tuple(replace(edge, before=edge.after, after=edge.before) for edge in self.edges)
        stages = tuple(
            replace(each, ways=tuple(_backwards(way) for way in each.ways)) for each in self.stages
        )
        return Chained(stages, edges, self.workers)

    def least(self, *open_: Span) -> int | None:
        """Return the proved least length; open_: when everybody works, None said: always."""
        calendar = (Calendar(open=open_, shifts=open_),) if open_ else ()
        people = (worker(0, 1, calendar=0 if open_ else None),) * self.workers
        horizon = open_[-1][1] + DAY_STEPS - DAY_CLOSES if open_ else HORIZON * 2
        return least(
            *self.stages,
            edges=self.edges,
            workers=people,
            rooms=(Room(capacity=2),),
            calendars=calendar,
            horizon=horizon,
        )


def _backwards(way: Way) -> Way:
    uses = tuple(replace(use, before=use.after, after=use.before) for use in way.uses)
    return replace(way, uses=uses)


HORIZON = 40
DAY_STEPS, DAY_OPENS, DAY_CLOSES = 10, 2, 8
DAYS = tuple((10 * day + DAY_OPENS, 10 * day + DAY_CLOSES) for day in range(12))
"""Days that look the same from either end."""


def chained(seed: int) -> Chained:
    draw = Random(seed)
    count = draw.randrange(4, 7)
    stages = tuple(
        stage(
            draw.randrange(1, 6),
            needs=(Need(skill=draw.randrange(2), can=draw.choice((1, 1, 2))),),
            uses=(Use(room=0, units=draw.randrange(3), after=draw.choice((0, 0, 2))),),
        )
        for _ in range(count)
    )
    edges = tuple(
        Edge(before=one, after=other, least=draw.choice((0, 0, 3, 7)))
        for one, other in combinations(range(count), 2)
        if draw.random() < 0.35
    )
    return Chained(stages, edges, workers=2)


@pytest.mark.parametrize("seed", range(20))
def test_the_least_length_is_the_same_backwards(seed: int) -> None:
    made = chained(seed)

    length = made.least()

    assert length is not None
    assert made.backwards.least() == length
    assert made.backwards.backwards == made


@pytest.mark.parametrize("seed", range(8))
def test_as_many_days_are_needed_backwards_where_days_are_the_same_from_either_end(
    seed: int,
) -> None:
    made = chained(seed)

    on, back = made.least(*DAYS), made.backwards.least(*DAYS)

    assert on is not None
    assert back is not None
    assert -(-on // DAY_STEPS) == -(-back // DAY_STEPS)


# Names.


def named_otherwise(book: Book, draw: Random) -> Book:
    """Give a book in which everybody and everything is called otherwise, ids apart."""
    told = json.loads(write_book(book))
    found = take_in(json.dumps(_named(told, draw)).encode()).book
    assert found is not None
    return found


def _named(part: Any, draw: Random, key: str = "") -> Any:
    if isinstance(part, dict):
        return {name: _named(value, draw, name) for name, value in part.items()}
    if isinstance(part, list):
        return [_named(value, draw, key) for value in part]
    return f"{draw.randrange(10**6)} {part[::-1]}" if key == "name" and part else part


def told_of(outcome: Outcome) -> tuple[object, ...]:
    """Give all of an answer that names have no part in."""
    plan = outcome.plan
    jobs = tuple(replace(job, name="", reasons=()) for job in outcome.jobs)
    reasons = tuple(tuple(why.code for why in job.reasons) for job in outcome.jobs)
    return plan.placements, plan.trips, plan.unplaced, outcome.levels, jobs, reasons


@pytest.mark.parametrize(("shape", "seed"), [("small", 3), ("tiny", 4), ("ruled", 5)])
def test_names_change_nothing_of_an_answer(shape: str, seed: int) -> None:
    book = SHAPES[shape](seed).book
    other = named_otherwise(book, Random(seed))
    assert book.as_of is not None

    was, now = (
        solve(SolveRequest(book=each, now=book.as_of, effort=1, workers=1))
        for each in (book, other)
    )

    assert {job.name for job in was.jobs}.isdisjoint(job.name for job in now.jobs)
    assert told_of(was) == told_of(now)
    assert was.plan.placements
