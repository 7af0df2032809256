"""From what is proved of a job to a certificate that plain code can follow, as far as one can.

The chain and the count are looked for with the check's own arithmetic, never taken from the engine:
so what is written is what can be replayed, be it less than the engine knows. What only a search
has found is written as that.
"""

from dataclasses import replace

from scheduler.calendar import Index
from scheduler.check.alone import Alone
from scheduler.check.alone_chain import Times, soonest_of
from scheduler.check.certificate import Pool, check_certificate
from scheduler.check.clock import down, instant, seconds, up
from scheduler.check.latest import loaded_by
from scheduler.energy import Overload
from scheduler.model.alone import alone as alone_problem
from scheduler.normalise import Normal
from scheduler.outcome import JobOutcome, Rung
from scheduler.proof import Ladder
from shared.book import Book, Job
from shared.certificate import Certificate, Forced, ProofBy
from shared.ids import StepId
from shared.units import STEP_MINUTES, instant_of

_MINUTE = 60


def certify(normal: Normal, told: JobOutcome) -> Certificate | None:
    """Return the certificate of a job that is proved to miss; None where nothing is proved."""
    job = next((job for job in normal.book.jobs if job.id == told.id), None)
    if job is None or told.rung in (None, Rung.PLAN, Rung.LEGS):
        return None
    by = loaded_by(job)
    if by is None:
        return None
    usual = Certificate(
        made_from=normal.made_from,
        now=normal.now,
        job=told.id,
        by=ProofBy.SEARCH,
        late_minutes=told.bound_minutes,
        loaded_by=instant(by),
        beside=told.beside,
    )
    if told.beside:
        return usual
    for found in (_by_chain(normal.book, job, usual), _by_counting(normal, job, usual)):
        if found is not None and check_certificate(normal.book, found).holds:
            return found
    return usual


def _by_chain(book: Book, job: Job, usual: Certificate) -> Certificate | None:
    alone = Alone(book, job, usual.now)
    times = Times(alone)
    chain = soonest_of(alone, times.longest())
    if not chain:
        return None
    last = times.left_at(chain[-1].step, seconds(chain[-1].end))
    late = (last - seconds(usual.loaded_by)) // _MINUTE
    if late <= 0:
        return None
    return replace(usual, by=ProofBy.CHAIN, late_minutes=late, chain=tuple(chain))


def _by_counting(normal: Normal, job: Job, usual: Certificate) -> Certificate | None:
    """Return what counting the work of the same people in a stretch proves at the most."""
    overload = _overload(normal, job)
    if overload is None or not overload.workers:
        return None
    base = replace(
        usual,
        by=ProofBy.COUNTING,
        people=tuple(normal.workers[worker] for worker in overload.workers),
        start=instant_of(normal.origin, overload.start),
        end=instant_of(normal.origin, overload.end),
    )
    low, high = 0, max(1, usual.late_minutes // STEP_MINUTES)
    best: Certificate | None = None
    while low < high:
        middle = (low + high + 1) // 2
        found = _counted(normal.book, job, replace(base, late_minutes=middle * STEP_MINUTES))
        if found is None:
            high = middle - 1
        else:
            low, best = middle, found
    return best


def _overload(normal: Normal, job: Job) -> Overload | None:
    positions = (at for at, name in enumerate(normal.jobs) if name.job.id == job.id)
    position = next(positions, None)
    latest = None if position is None else normal.problem.jobs[position].latest
    if position is None or latest is None:
        return None
    ladder = Ladder(alone_problem(Index(normal.problem).problem, position))
    refuted = ladder.by_counting((latest,))
    return None if refuted is None else refuted.overload


def _counted(book: Book, job: Job, base: Certificate) -> Certificate | None:
    if base.start is None or base.end is None:
        return None
    alone = Alone(book, job, base.now)
    stretch = up(seconds(base.start)), down(seconds(base.end))
    due = seconds(base.loaded_by) + (base.late_minutes - 1) * _MINUTE
    pool = Pool(alone, base.people, stretch, due)
    work = [Forced(step=step, minutes=minutes) for step, minutes in _forced(job, pool)]
    if sum(each.minutes for each in work) <= pool.there * STEP_MINUTES:
        return None
    return replace(base, work=tuple(work))


def _forced(job: Job, pool: Pool) -> list[tuple[StepId, int]]:
    forced = ((step.id, pool.forced(step.id) * STEP_MINUTES) for step in job.steps)
    return [(step, minutes) for step, minutes in forced if minutes]
