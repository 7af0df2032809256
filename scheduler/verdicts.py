"""The verdict on each job of a plan: what it keeps, by how much it misses, what is proved."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.aims import loading_end
from scheduler.calendar import Index
from scheduler.deadlines import Deadlines
from scheduler.normalise import Gone, JobName, Normal
from scheduler.normalise.jobs import wished_buffer_minutes
from scheduler.outcome import JobOutcome, OtherWindow, Rung, Verdict
from scheduler.problem import Schedule
from scheduler.reasons import Reason
from scheduler.slack import slack_minutes, working_minutes
from scheduler.windows import next_window, other_windows
from shared.findings import Clash
from shared.ids import JobId
from shared.units import STEP_MINUTES, instant_of

_WORST_LAST = tuple(Verdict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proved:
    """What is proved of a job that misses, by the way it was found.

    bound_steps: by which it is late at least. alone: even in an otherwise empty workshop; else
    the other jobs keep their windows. rung: what proved it. beside: those other jobs.
    """

    bound_steps: int
    alone: bool
    reason: Clash
    rung: Rung = Rung.FREE
    beside: tuple[JobId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where a job stands in a plan: end of loading, the latest, the steps by which it misses."""

    end: int | None
    latest: int | None
    late_steps: int
    kept: bool


def worst(verdicts: tuple[Verdict, ...]) -> Verdict:
    """Return the worst of some verdicts, `fits` where there are none."""
    return max(verdicts, key=_WORST_LAST.index, default=Verdict.FITS)


def stand_of(normal: Normal, position: int, schedule: Schedule) -> Stand:
    """Return where a job stands in a schedule."""
    aim, name = normal.problem.jobs[position], normal.jobs[position]
    if not aim.lasts:
        window = name.job.held_window
        in_time = name.done_at is not None and window is not None and name.done_at <= window.end
        # A finding tells of a job without steps; nothing of it can be late.
        return Stand(end=None, latest=aim.latest, late_steps=0, kept=in_time or not name.job.steps)
    end = loading_end(aim, schedule)
    if aim.latest is None:
        return Stand(end=end, latest=None, late_steps=0, kept=False)
    if end > aim.latest or aim.trip is None:
        late = max(0, end - aim.latest)
        return Stand(end=end, latest=aim.latest, late_steps=late, kept=not late)
    option = schedule.trips[position]
    kept = aim.trip.is_in_time(option)
    leaves = aim.trip.options[option].leaves if option >= 0 else 0
    late = 0 if kept else max(0, leaves - aim.latest)
    return Stand(end=end, latest=aim.latest, late_steps=late, kept=kept)


def job_outcomes(
    normal: Normal, index: Index, schedule: Schedule, proofs: Mapping[JobId, Proved]
) -> tuple[JobOutcome, ...]:
    """Return how each planned job stands, in the order of the book."""
    deadlines = Deadlines(normal, index)
    found = {gone.job.id: _gone_outcome(gone) for gone in normal.gone}
    for position, name in enumerate(normal.jobs):
        stand = stand_of(normal, position, schedule)
        told = _outcome(normal, name, stand, proofs.get(name.job.id), deadlines)
        aim, clashes = normal.problem.jobs[position], normal.clashes_of(name.job.id)
        windows = other_windows(index, aim, name, clashes, stand.end)
        found[name.job.id] = _with_windows(told, windows) if windows else told
    return tuple(found[job] for job in normal.planned)


def _outcome(
    normal: Normal, name: JobName, stand: Stand, proof: Proved | None, deadlines: Deadlines
) -> JobOutcome:
    job, workshop = name.job, normal.book.workshop
    end, latest = _instant(normal, stand.end), _instant(normal, stand.latest)
    late_until = _instant(normal, _plus(stand.latest, stand.late_steps))
    slack = None
    if stand.kept and end is not None and latest is not None:
        slack = slack_minutes(workshop, end, latest)
    wished = wished_buffer_minutes(workshop, job)
    clashes = normal.clashes_of(job.id)
    verdict = _verdict(stand, clashes, proof, is_short=slack is not None and slack < wished)
    return JobOutcome(
        id=job.id,
        name=job.name,
        verdict=verdict,
        missed_by_minutes=stand.late_steps * STEP_MINUTES,
        missed_by_working_minutes=_working(normal, latest, late_until),
        bound_minutes=_bound_minutes(verdict, proof),
        slack_minutes=slack,
        wished_buffer_minutes=wished,
        latest_start=deadlines.start(job),
        latest_answer=deadlines.answer(job),
        answered_by=deadlines.answered_by(job),
        latest_loading=latest,
        loading_end=name.done_at if end is None else end,
        reasons=_reasons(normal, job.id, stand, clashes, proof, verdict),
        steps=deadlines.steps(job),
        rung=_rung(verdict, clashes, proof),
        beside=proof.beside if proof is not None and verdict is Verdict.MISSES else (),
    )


def _rung(verdict: Verdict, clashes: tuple[Clash, ...], proof: Proved | None) -> Rung | None:
    if clashes:
        return Rung.LEGS
    if verdict in (Verdict.FITS, Verdict.TIGHT):
        return Rung.PLAN
    return None if proof is None else proof.rung


def _with_windows(told: JobOutcome, windows: tuple[OtherWindow, ...]) -> JobOutcome:
    is_kept = told.verdict in (Verdict.FITS, Verdict.TIGHT)
    return replace(told, windows=windows, next_window=None if is_kept else next_window(windows))


def _verdict(
    stand: Stand, clashes: tuple[Clash, ...], proof: Proved | None, *, is_short: bool
) -> Verdict:
    if clashes:
        return Verdict.CANNOT
    if stand.kept:
        return Verdict.TIGHT if is_short else Verdict.FITS
    if proof is None:
        return Verdict.NOT_FOUND
    return Verdict.CANNOT if proof.alone else Verdict.MISSES


def _reasons(
    normal: Normal,
    job: JobId,
    stand: Stand,
    clashes: tuple[Clash, ...],
    proof: Proved | None,
    verdict: Verdict,
) -> tuple[Clash, ...]:
    if clashes:
        return clashes
    if verdict in (Verdict.FITS, Verdict.TIGHT):
        return ()
    left_out = tuple(
        Clash(code=one.code, facts=(("step", one.step),), kind="solver")
        for one in normal.unplaced
        if one.job == job and one.code == Reason.NOT_PLACED
    )
    if proof is not None or left_out:
        return (proof.reason,) if proof is not None else left_out
    facts = (("minutes", stand.late_steps * STEP_MINUTES),)
    return (Clash(code=Reason.LATE.value, facts=facts, kind="solver"),)


def _bound_minutes(verdict: Verdict, proof: Proved | None) -> int:
    if proof is None or verdict not in (Verdict.CANNOT, Verdict.MISSES):
        return 0
    return proof.bound_steps * STEP_MINUTES


def _gone_outcome(gone: Gone) -> JobOutcome:
    """Return how a job stands whose lorry has gone: as it left."""
    job = gone.job
    left = min((trip.start for trip in gone.trips), default=None)
    late = Clash(code=Reason.NO_DEPARTURE.value)
    return JobOutcome(
        id=job.id,
        name=job.name,
        verdict=Verdict.FITS if gone.kept else Verdict.CANNOT,
        loading_end=left,
        reasons=() if gone.kept else (late,),
        rung=Rung.PLAN if gone.kept else Rung.LEGS,
    )


def _plus(step: int | None, more: int) -> int | None:
    return None if step is None else step + more


def _instant(normal: Normal, step: int | None) -> datetime | None:
    return None if step is None or step < 0 else instant_of(normal.origin, step)


def _working(normal: Normal, start: datetime | None, end: datetime | None) -> int:
    if start is None or end is None:
        return 0
    return working_minutes(normal.book.workshop, start, end)
