"""Verdicts of tiny books held against trying every plan: no false cannot, no false fits."""

from itertools import chain

import pytest

from scheduler.check.certificate import check_certificate
from scheduler.kept import Kept
from scheduler.outcome import JobOutcome, Outcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.why.certify import certify
from shared.book import Book
from shared.certificate import ProofBy
from shared.ids import JobId
from tests.builders import NOW
from tests.scheduler.tried_books import Trying, due, tiny_book

A_QUARTER = 15
FEW = (*range(12), 1548)
"""The last is one in which two searches that take turns would be done before both have loaded."""
LOTS = 10
A_LOT = 100
Ends = list[dict[JobId, int]]


def late(book: Book, ends: dict[JobId, int], job: JobId) -> int:
    """Give the minutes by which a job is late in a plan."""
    return max(0, ends[job] - due(book, job)) * A_QUARTER


def hold(seed: int) -> tuple[Verdict, ...]:
    """Hold the answer for a tiny book against all of its plans."""
    book = tiny_book(seed)
    kept = Kept()
    outcome = solve(SolveRequest(book=book, now=NOW, effort=4), kept=kept)
    assert outcome.check.sound
    alone = {job.id: list(Trying(book, (job.id,)).ends()) for job in book.jobs}
    there = tuple(job for job, plans in alone.items() if plans)
    every = list(Trying(book, there).ends())
    _hold_missed(outcome, book, every, never_count=len(alone) - len(there))
    for told in outcome.jobs:
        if told.id not in there:
            assert told.verdict in (Verdict.CANNOT, Verdict.NOT_FOUND)
            continue
        _hold_job(book, told, every, alone[told.id])
        assert kept.before is not None
        proof = certify(kept.before.normal, told)
        if proof is not None and proof.by is not ProofBy.SEARCH:
            assert check_certificate(book, proof).holds
            least = min(late(book, ends, told.id) for ends in alone[told.id])
            assert proof.late_minutes <= least
    return tuple(told.verdict for told in outcome.jobs)


def _hold_missed(outcome: Outcome, book: Book, every: Ends, never_count: int) -> None:
    """Hold how many windows are missed against the fewest that there are."""
    fewest = min((sum(late(book, ends, job) > 0 for job in ends) for ends in every), default=0)
    fewest += never_count
    missed = outcome.levels[0]
    assert missed >= fewest
    assert outcome.bounds[0] <= fewest
    if outcome.proved_levels:
        assert missed == fewest


def _hold_job(book: Book, told: JobOutcome, every: Ends, alone: Ends) -> None:
    least_alone = min(late(book, ends, told.id) for ends in alone)
    if told.verdict in (Verdict.FITS, Verdict.TIGHT):
        assert any(late(book, ends, told.id) == 0 for ends in every)
    if told.verdict is Verdict.CANNOT:
        assert least_alone > 0
        assert 0 < told.bound_minutes <= least_alone
    if told.verdict is Verdict.MISSES:
        with_others = [
            ends for ends in every if all(late(book, ends, other) == 0 for other in told.beside)
        ]
        least = min((late(book, ends, told.id) for ends in with_others), default=None)
        assert least is None or 0 < told.bound_minutes <= least
    if told.missed_by_minutes:
        assert told.missed_by_minutes >= least_alone


@pytest.mark.parametrize("seed", FEW)
def test_no_verdict_of_a_tiny_book_is_false(seed: int) -> None:
    hold(seed)


@pytest.mark.slow
@pytest.mark.parametrize("lot", range(LOTS))
def test_no_verdict_of_a_thousand_tiny_books_is_false(lot: int) -> None:
    """A thousand in all; every verdict but one that is not found comes up in each lot."""
    seeds = range(1000 + lot * A_LOT, 1000 + (lot + 1) * A_LOT)
    told = set(chain.from_iterable(hold(seed) for seed in seeds))

    assert told >= {Verdict.FITS, Verdict.CANNOT}
