"""Books with a planted clash: they hold together, and the cause alone decides."""

import json
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import chain, combinations

import pytest

from scheduler.kept import Kept
from scheduler.levers.catalogue import levers_of
from scheduler.outcome import JobOutcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.why.answer import why
from scheduler.why.chain_links import LinkKind
from shared.book import Book
from shared.edits.levers import pull_all
from shared.examine import examine
from shared.files.read import read_book
from shared.files.write import write_book
from shared.ids import JobId
from shared.levers import Lever, LeverKind, price_of
from tests.bench.clashes import Told, affordable, main, note_cheapest
from tests.books.clashes import KINDS, planted_clash
from tests.books.shapes import Planted

KEPT = (Verdict.FITS, Verdict.TIGHT)


def _stands(book: Book, planted: Planted) -> JobOutcome:
    request = SolveRequest(book=book, now=planted.now, effort=4, workers=1)
    return next(job for job in solve(request).jobs if job.id == planted.job)


@pytest.mark.parametrize("kind", list(KINDS))
def test_a_clash_gives_books_without_a_finding_that_stops(kind: str) -> None:
    for seed in (1, 103):
        planted = planted_clash(kind, seed)
        assert planted.twin is not None
        for book in (planted.book, planted.twin):
            assert [f.code for f in examine(book) if f.stops] == []
            assert read_book(write_book(book)).book == book


@pytest.mark.parametrize("kind", list(KINDS))
def test_the_same_seed_gives_the_same_clash(kind: str) -> None:
    one, again, other = (planted_clash(kind, seed) for seed in (6, 6, 11))
    assert write_book(one.book) == write_book(again.book)
    assert (one.cause, one.undo, one.twin) == (again.cause, again.undo, again.twin)
    assert write_book(one.book) != write_book(other.book)


@pytest.mark.parametrize("kind", list(KINDS))
def test_twins_differ_in_the_cause_alone(kind: str) -> None:
    planted = planted_clash(kind, 2)
    assert planted.twin is not None
    assert planted.book != planted.twin
    assert [j.windows for j in planted.book.jobs] == [j.windows for j in planted.twin.jobs]
    assert [j.segments for j in planted.book.jobs] == [j.segments for j in planted.twin.jobs]
    assert planted.book.offers == planted.twin.offers


@pytest.mark.parametrize("kind", list(KINDS))
@pytest.mark.parametrize("seed", [1, pytest.param(4, marks=pytest.mark.slow)])
def test_the_cause_alone_decides_and_what_undoes_it_does(kind: str, seed: int) -> None:
    planted = planted_clash(kind, seed)
    assert planted.twin is not None
    assert _stands(planted.twin, planted).verdict in KEPT
    assert _stands(planted.book, planted).verdict not in KEPT
    levers = _undoing(planted)
    assert levers
    assert _stands(pull_all(planted.book, levers).book, planted).verdict in KEPT


def _undoing(planted: Planted) -> list[Lever]:
    assert planted.undo is not None
    kind, thing = planted.undo["kind"], planted.undo["id"]
    return [
        lever
        for lever in levers_of(planted.book, planted.now, (JobId(str(planted.job)),))
        if lever.kind.value == kind and thing in (lever.id, lever.offer, *lever.about)
    ]


@pytest.mark.slow
@pytest.mark.parametrize("kind", list(KINDS))
def test_causes_and_ways_out_vary(kind: str) -> None:
    found = [planted_clash(kind, seed) for seed in range(1, 60, 5)]
    jobs = {planted.job for planted in found}
    undone = {planted.undo["kind"] for planted in found if planted.undo is not None}
    assert len(jobs) > 3
    assert len(undone) > (0 if kind == "air" else 1)


def test_the_chain_of_a_miss_goes_by_the_job_and_not_by_who_went_first() -> None:
    planted = planted_clash("floor", 4)
    kept = Kept()
    request = SolveRequest(book=planted.book, now=planted.now, effort=2, workers=1)
    told = next(each for each in solve(request, kept=kept).jobs if each.id == planted.job)
    assert kept.before is not None
    normal, schedule = kept.before.normal, kept.before.schedule
    found = why(normal, schedule, told)
    assert found.goes_first
    own = {step.id for job in planted.book.jobs if job.id == planted.job for step in job.steps}
    assert next((link.kind, link.id) for link in found.chain) == (LinkKind.FLOOR, "floor")
    assert {link.step for link in found.chain} - {None} <= own
    kept_one = next(each for each in solve(request).jobs if each.verdict in KEPT)
    assert not why(normal, schedule, kept_one).goes_first


@pytest.mark.slow
def test_the_bench_tells_of_causes_and_sets(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["--seeds", "1", "--kinds", "client,place", "--seconds", "6", "--json"]
    assert main(asked) == 0
    told = json.loads(capsys.readouterr().out.splitlines()[-1])
    assert told["all"]["cause named"] == told["all"]["cause named asked"] == 2
    assert told["all"]["undone"] == told["all"]["undone asked"] == 2
    assert told["client"]["books"] == 1


def _lever(name: str, price: int, *, helps: bool = True) -> Lever:
    return Lever(kind=LeverKind.STORE, id=name, price=Decimal(price), only_helps=helps)


def test_a_cheaper_set_is_found_where_there_is_one() -> None:
    planted = planted_clash("cure", 1)
    levers = levers_of(planted.book, planted.now, (JobId(str(planted.job)),))
    price = price_of(_undoing(planted))
    dear, right = (Told(kind="cure", seed=1, steps=10) for _ in range(2))
    note_cheapest(dear, planted, levers, price + 1)
    note_cheapest(right, planted, levers, price)
    asked = "cheapest right", "cheapest right asked"
    assert [dear.counts[each] for each in asked] == [0, 1]
    assert [right.counts[each] for each in asked] == [1, 1]


def test_every_cheaper_set_is_part_of_one_that_is_tried() -> None:
    levers = [_lever("a", 0), _lever("b", 3), _lever("c", 4), _lever("d", 8, helps=False)]
    levers += [_lever("e", 6), replace(_lever("f", 5), only_helps=False)]
    tried = list(affordable(levers, Decimal(12)))
    assert all(price_of(one) < 12 for one in tried)
    for some in _subsets(levers):
        if price_of(some) < 12:
            assert any(_covers(one, some) for one in tried), [lever.id for lever in some]


def _covers(tried: Sequence[Lever], some: Sequence[Lever]) -> bool:
    """Say whether what only helps is all in it, and what may harm is the same."""
    harming = {lever.id for lever in some if not lever.only_helps}
    same = harming == {lever.id for lever in tried if not lever.only_helps}
    return same and {lever.id for lever in some} <= {lever.id for lever in tried}


def _subsets(levers: Sequence[Lever]) -> list[tuple[Lever, ...]]:
    counts = range(len(levers) + 1)
    return list(chain.from_iterable(combinations(levers, count) for count in counts))
