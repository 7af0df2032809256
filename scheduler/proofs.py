"""What is proved of the jobs that miss, and of how many levels of the objective."""

from collections.abc import Iterator, Mapping

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.countback import earliest
from scheduler.normalise import Normal
from scheduler.problem import Schedule
from scheduler.reasons import Reason
from scheduler.verdicts import Proved, stand_of
from shared.findings import Clash
from shared.ids import JobId
from shared.units import STEP_MINUTES


def missed_jobs(normal: Normal, schedule: Schedule) -> Iterator[int]:
    """Give the jobs that miss their window though no fact of theirs forbids it."""
    for position, name in enumerate(normal.jobs):
        if not normal.clashes_of(name.job.id) and not stand_of(normal, position, schedule).kept:
            yield position


def prove_missed(normal: Normal, index: Index, schedule: Schedule) -> dict[JobId, Proved]:
    """Return, for jobs that miss, what the longest chain in an empty workshop proves."""
    missed = tuple(missed_jobs(normal, schedule))
    if not missed:
        return {}
    ends = earliest(index).ends
    found: dict[JobId, Proved] = {}
    for position in missed:
        aim = normal.problem.jobs[position]
        lasts = [ends[stage] for stage in aim.lasts]
        soonest = (
            None if None in lasts else max((end for end in lasts if end is not None), default=0)
        )
        if aim.latest is not None and soonest is not None and soonest > aim.latest:
            found[normal.jobs[position].job.id] = _by_chain(soonest - aim.latest)
    return found


def _by_chain(bound_steps: int) -> Proved:
    facts = (("minutes", bound_steps * STEP_MINUTES),)
    reason = Clash(code=Reason.CHAIN_TOO_LONG.value, facts=facts, kind="chain")
    return Proved(bound_steps=bound_steps, alone=True, reason=reason)


def proved_levels(normal: Normal, schedule: Schedule, proofs: Mapping[JobId, Proved]) -> int:
    """Return how many leading levels are proved least: none can be below what is proved."""
    reached = levels(normal.problem, schedule)
    for count, (value, least) in enumerate(zip(reached, _leasts(normal, proofs), strict=True)):
        if value > least:
            return count
    return len(reached)


def _leasts(normal: Normal, proofs: Mapping[JobId, Proved]) -> tuple[int, ...]:
    """Return what each level comes to at least."""
    lost = [
        position
        for position, name in enumerate(normal.jobs)
        if name.job.id in proofs or normal.problem.jobs[position].latest is None
    ]
    firm = sum(normal.problem.jobs[position].firm for position in lost)
    late = sum(proof.bound_steps for proof in proofs.values())
    cost = sum(
        min((way.cost for way in stage.ways), default=0)
        for stage in normal.problem.stages
        if not stage.optional
    )
    return (firm, len(lost) - firm, late, 0, 0, 0, cost, 0)
