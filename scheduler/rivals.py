"""Pencilled jobs of which only one can be taken, as far as was found."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from scheduler.outcome import JobOutcome, Outcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book, Standing
from shared.ids import JobId

_EFFORT = 2
"""Placement passes for each plan without one of them."""
_MOST_TRIED = 6
_MET = (Verdict.FITS, Verdict.TIGHT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rivals:
    """A pencilled job that misses its window, and keeps it once another pencilled one is not made.

    Found, not proved: no plan that keeps both windows was found.
    """

    job: JobId
    other: JobId


def rivals(book: Book, outcome: Outcome, asked: tuple[JobId, ...] = ()) -> tuple[Rivals, ...]:
    """Return the pencilled jobs that miss their windows because of one other pencilled job.

    The first few pairs are tried with a quick plan each; one that can't be kept by itself is no
    rival, and a book in which none misses is not planned again.
    """
    found = list(_tried(book, outcome, asked))
    return tuple(sorted(found, key=lambda each: (each.job, each.other)))


def _tried(book: Book, outcome: Outcome, asked: tuple[JobId, ...]) -> Iterator[Rivals]:
    pencilled = {job.id for job in book.jobs if job.standing is Standing.PENCILLED}
    told = [
        job for job in outcome.jobs if job.id in pencilled and job.verdict is not Verdict.CANNOT
    ]
    late = [job for job in told if job.verdict in (Verdict.MISSES, Verdict.NOT_FOUND)]
    pairs = [(job, other) for job in late for other in told if other.id != job.id]
    for job, other in pairs[:_MOST_TRIED]:
        if _fits_without(book, outcome, asked, job, other.id):
            yield Rivals(job=job.id, other=other.id)


def _fits_without(
    book: Book, outcome: Outcome, asked: tuple[JobId, ...], job: JobOutcome, other: JobId
) -> bool:
    jobs = tuple(
        replace(each, standing=Standing.ENQUIRY, pencilled_until=None) if each.id == other else each
        for each in book.jobs
    )
    request = SolveRequest(
        book=replace(book, jobs=jobs, plan=None),
        now=outcome.now,
        asked=tuple(each for each in asked if each != other),
        effort=_EFFORT,
        workers=1,
    )
    found = solve(request)
    return any(each.id == job.id and each.verdict in _MET for each in found.jobs)
