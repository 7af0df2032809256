"""What is proved of the jobs that miss, and of how many levels of the objective."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.crowded import without_crowds
from scheduler.faults import EngineFault
from scheduler.model.alone import generous
from scheduler.model.run import Limits
from scheduler.model.whole import can_be_in_time
from scheduler.normalise import Normal
from scheduler.problem import JobAim, Schedule
from scheduler.proof import Proof, prove, prove_by_chain
from scheduler.reasons import Reason
from scheduler.request import Cancel
from scheduler.verdicts import Proved, stand_of
from shared.findings import Clash
from shared.ids import JobId
from shared.units import STEP_MINUTES

TOGETHER_MAX = 250
"""Of books with more stages the solver is not asked what the jobs can do together."""


class Prover:
    """What is proved so far of the jobs of one normalised book."""

    def __init__(self, normal: Normal, index: Index) -> None:
        """Start with nothing proved."""
        self._normal, self._index = normal, index
        self._by_chain: dict[int, Proof | None] = {}
        self._found: dict[int, Proved] = {}

    def proved(self, schedule: Schedule) -> dict[JobId, Proved]:
        """Return what is proved of the jobs that miss in a schedule.

        Raises
        ------
        EngineFault
            If a job is proved to be later than it is.
        """
        found: dict[JobId, Proved] = {}
        for job in missed_jobs(self._normal, schedule):
            proof = self._found.get(job)
            if proof is not None:
                self._agree(job, proof, schedule)
                found[self._normal.jobs[job].job.id] = proof
        return found

    def unproved(self, schedule: Schedule) -> list[int]:
        """Return the jobs that miss in a schedule without any proof."""
        return [job for job in missed_jobs(self._normal, schedule) if job not in self._found]

    def by_chain(self, schedule: Schedule) -> None:
        """Try the longest chain of each job that misses, once."""
        for job in self.unproved(schedule):
            if job not in self._by_chain:
                self._by_chain[job] = proof = prove_by_chain(self._index, job)
                self._note(job, proof)

    def alone(self, job: int, schedule: Schedule, limits: Limits, cancel: Cancel | None) -> None:
        """Ask the solver what the job could do alone."""
        late = stand_of(self._normal, job, schedule).late_steps
        self._note(job, prove(self._index, job, limits, most_steps=late or None, cancel=cancel))

    def together(self, job: int, schedule: Schedule, limits: Limits, cancel: Cancel | None) -> None:
        """Ask the solver whether the job could be in time with the kept windows kept."""
        problem = generous(self._normal.problem)
        aim = problem.jobs[job]
        if len(problem.stages) > TOGETHER_MAX or aim.latest is None or aim.guessed:
            return
        late = stand_of(self._normal, job, schedule).late_steps
        for bound in dict.fromkeys((1, late) if late else (1,)):
            aims = self._with_kept(job, schedule, bound)
            index = Index(without_crowds(replace(problem, jobs=aims)))
            answer, _ = can_be_in_time(index, limits, cancel=cancel)
            if answer is not False:
                break
            self._found[job] = _proved(bound, Reason.TOGETHER_TOO_MUCH, alone=False)

    def _with_kept(self, job: int, schedule: Schedule, bound: int) -> tuple[JobAim, ...]:
        """Return the aims with windows that the schedule keeps, and this job's less than late."""
        found: list[JobAim] = []
        for position, aim in enumerate(self._normal.problem.jobs):
            is_kept = not aim.guessed and stand_of(self._normal, position, schedule).kept
            latest = aim.latest if is_kept else None
            if position == job and aim.latest is not None:
                latest = aim.latest + bound - 1
            found.append(replace(aim, latest=latest, wish=None, trip=None))
        return tuple(found)

    def _note(self, job: int, proof: Proof | None) -> None:
        if proof is not None:
            by_chain = proof.kind == "chain"
            reason = Reason.CHAIN_TOO_LONG if by_chain else Reason.ALONE_TOO_LONG
            self._found[job] = _proved(proof.bound_steps, reason, alone=True)

    def _agree(self, job: int, proof: Proved, schedule: Schedule) -> None:
        stand = stand_of(self._normal, job, schedule)
        late = max(0, (stand.end or 0) - (stand.latest or 0))
        if proof.bound_steps > late:
            name = self._normal.jobs[job].job.id
            raise EngineFault(f"{name} is proved {proof.bound_steps} steps late, but is {late}")


def _proved(bound_steps: int, reason: Reason, *, alone: bool) -> Proved:
    facts = (("minutes", bound_steps * STEP_MINUTES),)
    chain = reason is Reason.CHAIN_TOO_LONG
    clash = Clash(code=reason.value, facts=facts, kind="chain" if chain else "solver")
    return Proved(bound_steps=bound_steps, alone=alone, reason=clash)


def missed_jobs(normal: Normal, schedule: Schedule) -> Iterator[int]:
    """Give the jobs that miss their window though no fact of theirs forbids it."""
    for position, name in enumerate(normal.jobs):
        if not normal.clashes_of(name.job.id) and not stand_of(normal, position, schedule).kept:
            yield position


def proved_levels(normal: Normal, schedule: Schedule, proofs: Mapping[JobId, Proved]) -> int:
    """Return how many leading levels are proved least: none can be below what is proved."""
    reached = levels(normal.problem, schedule)
    for count, (value, least) in enumerate(zip(reached, _leasts(normal, proofs), strict=True)):
        if value > least:
            return count
    return len(reached)


def is_partial(normal: Normal) -> bool:
    """Return whether journeys could leave at more moments than the problem knows.

    What is least among those that it knows is then not proved least of all.
    """
    pairs = zip(normal.jobs, normal.problem.jobs, strict=True)
    return any(name.more or aim.guessed for name, aim in pairs)


def _is_lost(aim: JobAim) -> bool:
    return aim.latest is None and not aim.guessed


def _leasts(normal: Normal, proofs: Mapping[JobId, Proved]) -> tuple[int, ...]:
    """Return what each level comes to at least."""
    alone = {job: proof for job, proof in proofs.items() if proof.alone}
    lost = [
        position
        for position, name in enumerate(normal.jobs)
        if name.job.id in alone or _is_lost(normal.problem.jobs[position])
    ]
    firm = sum(normal.problem.jobs[position].firm for position in lost)
    late = sum(proof.bound_steps for proof in alone.values())
    cost = sum(
        min((way.cost for way in stage.ways), default=0)
        for stage in normal.problem.stages
        if not stage.optional
    )
    trips = (aim.trip for aim in normal.problem.jobs if aim.trip is not None)
    cost += sum(min((going.price for going in trip.options), default=0) for trip in trips)
    return (firm, len(lost) - firm, late, 0, 0, 0, cost, 0)
