"""What is proved of the jobs that miss, and of the levels of the objective."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from math import inf

from scheduler.aims import Levels, levels
from scheduler.bounds import Bounds, as_known, reached
from scheduler.calendar import Index
from scheduler.colliding import Collision, collisions
from scheduler.energy import Overload
from scheduler.faults import EngineFault
from scheduler.model.alone import alone, sub_book
from scheduler.model.run import Limits
from scheduler.normalise import Normal
from scheduler.outcome import Rung
from scheduler.problem import Schedule
from scheduler.proof import SOLVED, Climb, Kind, Ladder, Proof, prove_by_chain
from scheduler.purse import Purse
from scheduler.reasons import Reason
from scheduler.request import Cancel
from scheduler.sub_books import groups, partners
from scheduler.verdicts import Proved, stand_of
from shared.findings import Clash, Fact
from shared.ids import JobId
from shared.units import STEP_MINUTES, instant_of

NAMED_AT_ONCE = 80
NAMED_UP_TO = 260
"""With no more stages the solver is asked with people by name at once; up to so many, with pools
first; of more, only with pools."""
LADDERS_MAX = 24
HOUR_MINUTES = 60
Facts = tuple[tuple[str, Fact], ...]


class Prover:
    """What is proved so far of the jobs of one normalised book."""

    def __init__(self, normal: Normal, index: Index) -> None:
        """Start with nothing proved."""
        self._normal, self._index = normal, index
        self._problem = normal.problem
        self._by_chain: dict[int, Proof | None] = {}
        self._found: dict[int, Proof] = {}
        self._could: set[tuple[int, ...]] = set()
        self._ladders: dict[tuple[int, ...], Ladder] = {}
        self._bounds: Bounds | None = None
        settled = (
            job
            for job, (name, aim) in enumerate(zip(normal.jobs, self._problem.jobs, strict=True))
            if not name.more and not aim.guessed
        )
        self._collisions = collisions(self._problem, settled)

    def proved(self, schedule: Schedule) -> dict[JobId, Proved]:
        """Return what is proved of the jobs that miss in a schedule.

        What was proved beside others counts only while all of them keep their windows.

        Raises
        ------
        EngineFault
            If a job is proved to be later than it is.
        """
        self.by_journeys(schedule)
        found: dict[JobId, Proved] = {}
        kept = set(self.kept(schedule))
        for job in missed_jobs(self._normal, schedule):
            proof = self._found.get(job)
            if proof is not None and kept.issuperset(proof.beside):
                self._agree(job, proof, schedule)
                found[self._normal.jobs[job].job.id] = _proved(self._normal, proof)
        return found

    @property
    def job_count(self) -> int:
        """Return how many jobs there are."""
        return len(self._normal.jobs)

    @property
    def known(self) -> tuple[Proof, ...]:
        """Return the best proof of each job that has one."""
        return tuple(self._found.values())

    def kept(self, schedule: Schedule) -> list[int]:
        """Return the jobs that keep their windows in a schedule."""
        jobs = range(len(self._normal.jobs))
        return [job for job in jobs if stand_of(self._normal, job, schedule).kept]

    def missed(self, schedule: Schedule) -> list[int]:
        """Return the jobs that miss their windows in a schedule, though no fact forbids it."""
        return list(missed_jobs(self._normal, schedule))

    def unproved(self, schedule: Schedule) -> list[int]:
        """Return the jobs that miss in a schedule without any proof."""
        kept = set(self.kept(schedule))
        return [
            job
            for job in missed_jobs(self._normal, schedule)
            if job not in self._found or not kept.issuperset(self._found[job].beside)
        ]

    def by_room(self, jobs: Iterable[int]) -> list[int]:
        """Return jobs by how little is left between their soonest end and their latest."""
        ends = self.bounds.soonest.ends

        def room(job: int) -> int:
            aim, never = self._problem.jobs[job], self._problem.horizon
            soonest = (ends[last] for last in aim.lasts)
            end = max((never if each is None else each for each in soonest), default=0)
            return (never if aim.latest is None else aim.latest) - end

        return sorted(jobs, key=lambda job: (room(job), job))

    def by_journeys(self, schedule: Schedule) -> None:
        """See which jobs that miss need for their journeys what one that keeps its window needs."""
        kept = set(self.kept(schedule))
        for job, collision in product(self.unproved(schedule), self._collisions):
            other = collision.other(job)
            if other in kept:
                self._note(_by_journeys(job, other, collision))

    def by_chain(self, schedule: Schedule) -> None:
        """Try the longest chain of each job that misses, once."""
        for job in self.unproved(schedule):
            if job not in self._by_chain:
                self._by_chain[job] = proof = prove_by_chain(self._index, job)
                self._note(proof)

    def by_counting(self, job: int, schedule: Schedule) -> None:
        """Count the work that a job must do against the hours and the room for it, alone."""
        climb = self._alone(job, self._late(job, schedule))
        if climb is not None:
            climb.count()
            self._note(climb.result(job))

    def alone(self, job: int, schedule: Schedule, limits: Limits, cancel: Cancel | None) -> None:
        """Ask the solver whether the job could be in time alone, then how late it must be."""
        purse = Purse(limits, cancel)
        self.by_counting(job, schedule)
        self.alone_within(job, purse)
        self.raise_within(job, schedule, purse)

    def alone_within(self, job: int, purse: Purse) -> None:
        """Ask the solver whether the job could be in time alone, within a purse."""
        climb = self._alone(job, 1) if self.is_open((job,)) else None
        if climb is not None:
            self._solve(climb, (job,), purse)
            self._note(climb.result(job))

    def raise_within(self, job: int, schedule: Schedule, purse: Purse) -> None:
        """Ask the solver how late the job must be, alone if that is proved, within a purse."""
        known = self._found.get(job)
        if known is None:
            return
        jobs, late = (job, *known.beside), self._late(job, schedule)
        climb = self._climb(jobs, late) if known.beside else self._alone(job, late)
        if climb is not None:
            self._solve(climb, jobs, purse)
            self._note(climb.result(job, known.beside))

    def together(self, job: int, schedule: Schedule, limits: Limits, cancel: Cancel | None) -> None:
        """Ask whether the job could be in time with the kept windows kept."""
        self.together_within(job, schedule, Purse(limits, cancel))

    def together_within(self, job: int, schedule: Schedule, purse: Purse) -> None:
        """Ask whether the job could be in time with the kept windows kept, within a purse.

        With one more job, with two and with all, by counting; then in this order by the solver.
        """
        aim = self._problem.jobs[job]
        if aim.latest is None or aim.guessed or not aim.lasts:
            return
        kept = [each for each in self.kept(schedule) if self._is_pressed(each) and each != job]
        ranked = partners(self._index, self.bounds.soonest, job, kept)
        asked = [jobs for jobs in groups(job, ranked) if self.is_open(jobs)]
        late = self._late(job, schedule)
        for jobs in reversed(asked):
            climb = self._climb(jobs, late)
            climb.count()
            if self._note_together(climb, jobs):
                return
        for at, jobs in enumerate(asked):
            if purse.is_over():
                return
            share = Purse(purse.part(len(asked) - at), purse.cancel)
            climb = self._climb(jobs, 1)
            self._solve(climb, jobs, share)
            purse.spend(share.spent)
            if self._note_together(climb, jobs):
                return

    @property
    def bounds(self) -> Bounds:
        """Return what no plan is below, as far as it is known."""
        if self._bounds is None:
            self._bounds = Bounds(self._problem)
            for collision in self._collisions:
                self._bounds.conflict(collision.jobs)
        return self._bounds

    def least_levels(self) -> Levels:
        """Return what each level comes to at least, whatever the plan."""
        return as_known(self.bounds.levels(), is_partial=is_partial(self._normal))

    def _late(self, job: int, schedule: Schedule) -> int | None:
        return stand_of(self._normal, job, schedule).late_steps or None

    def _alone(self, job: int, most: int | None) -> Climb | None:
        aim = self._problem.jobs[job]
        if aim.latest is None or aim.guessed or not aim.lasts:
            return None
        known = self._found.get(job)
        ladder = self._ladder((job,), is_alone=True)
        is_known = known is not None and not known.beside
        return Climb(ladder, 0, {0: aim.latest}, most, known if is_known else None)

    def _note_together(self, climb: Climb, jobs: tuple[int, ...]) -> bool:
        proof = climb.result(jobs[0], jobs[1:])
        self._note(proof)
        return proof is not None

    def _climb(self, jobs: tuple[int, ...], most: int | None) -> Climb:
        latest = ((at, self._problem.jobs[job].latest) for at, job in enumerate(jobs))
        due = {at: when for at, when in latest if when is not None}
        known = self._found.get(jobs[0])
        is_known = known is not None and known.beside == jobs[1:]
        return Climb(self._ladder(jobs), 0, due, most, known if is_known else None)

    def is_open(self, jobs: tuple[int, ...]) -> bool:
        """Return whether no plan is known in which the first of these is in time with the rest."""
        return jobs not in self._could

    def _solve(self, climb: Climb, jobs: tuple[int, ...], purse: Purse) -> None:
        climb.solve(purse, self._kinds(self._ladder(jobs, is_alone=len(jobs) == 1)))
        if climb.is_at_its_best and not climb.result(jobs[0]):
            self._could.add(jobs)

    def _kinds(self, ladder: Ladder) -> Sequence[Kind]:
        count = len(ladder.problem.stages)
        if count <= NAMED_AT_ONCE:
            return SOLVED[1:]
        return SOLVED if count <= NAMED_UP_TO else SOLVED[:1]

    def _ladder(self, jobs: tuple[int, ...], *, is_alone: bool = False) -> Ladder:
        found = self._ladders.pop(jobs, None)
        if found is None:
            part = alone(self._problem, jobs[0]) if is_alone else sub_book(self._problem, jobs)
            found = Ladder(part)
        self._ladders[jobs] = found
        if len(self._ladders) > LADDERS_MAX:
            del self._ladders[next(iter(self._ladders))]
        return found

    def _is_pressed(self, job: int) -> bool:
        aim = self._problem.jobs[job]
        return aim.latest is not None and not aim.guessed and bool(aim.lasts)

    def _note(self, proof: Proof | None) -> None:
        """Keep a proof if it says more than what is known of the job."""
        if proof is None:
            return
        if proof.beside:
            self.bounds.conflict((proof.job, *proof.beside))
        else:
            self.bounds.late(proof.job, proof.bound_steps)
        if _worth(proof) > _worth(self._found.get(proof.job)):
            self._found[proof.job] = proof

    def _agree(self, job: int, proof: Proof, schedule: Schedule) -> None:
        stand = stand_of(self._normal, job, schedule)
        late = max(0, (stand.end or 0) - (stand.latest or 0))
        if proof.bound_steps > late:
            name = self._normal.jobs[job].job.id
            raise EngineFault(f"{name} is proved {proof.bound_steps} steps late, but is {late}")


def _worth(proof: Proof | None) -> tuple[bool, float]:
    """Return how much a proof says: what holds alone says more than what holds beside others."""
    if proof is None:
        return False, -inf
    return not proof.beside, proof.bound_steps


_RUNGS: dict[Kind, Rung] = {"chain": Rung.CHAIN, "energy": Rung.ENERGY}


def _proved(normal: Normal, proof: Proof) -> Proved:
    return Proved(
        bound_steps=proof.bound_steps,
        alone=not proof.beside,
        reason=_reason(normal, proof),
        rung=Rung.FREE if proof.beside else _RUNGS.get(proof.kind, Rung.ALONE),
        beside=tuple(normal.jobs[job].job.id for job in proof.beside),
    )


def _reason(normal: Normal, proof: Proof) -> Clash:
    facts: Facts = (("minutes", proof.bound_steps * STEP_MINUTES),)
    if proof.collision is not None:
        return _of_journeys(normal, proof.beside[0], proof.collision)
    if proof.beside:
        return Clash(code=Reason.TOGETHER_TOO_MUCH.value, facts=facts, kind="solver")
    if proof.kind == "chain":
        return Clash(code=Reason.CHAIN_TOO_LONG.value, facts=facts, kind="chain")
    if proof.overload is not None and proof.overload.workers:
        facts = (*facts, *_of_work(normal, proof.overload))
        return Clash(code=Reason.TOO_MUCH_WORK.value, facts=facts, kind="capacity")
    return Clash(code=Reason.ALONE_TOO_LONG.value, facts=facts, kind="solver")


def _by_journeys(job: int, beside: int, collision: Collision) -> Proof:
    return Proof(kind="journeys", job=job, bound_steps=0, beside=(beside,), collision=collision)


def _of_journeys(normal: Normal, other: int, collision: Collision) -> Clash:
    """Return that another job's journey needs the same person, or the same lorry, at once."""
    job = ("job", normal.jobs[other].job.id)
    if collision.worker is not None:
        person = ("person", normal.workers[collision.worker])
        return Clash(code=Reason.SAME_CREW.value, facts=(job, person), kind="capacity")
    room = None if collision.room is None else normal.rooms[collision.room].equipment
    if room is None:
        return Clash(code=Reason.JOURNEYS_AT_ONCE.value, facts=(job,), kind="capacity")
    equipment = ("equipment", room)
    return Clash(code=Reason.SAME_LORRY.value, facts=(job, equipment), kind="capacity")


def _of_work(normal: Normal, overload: Overload) -> Facts:
    """Return who would have to work how many hours, and has how many, from when to when."""
    names = {person.id: person.name for person in normal.book.people}
    return (
        ("others", ", ".join(names[normal.workers[worker]] for worker in overload.workers)),
        ("wanted", -(-overload.needed * STEP_MINUTES // HOUR_MINUTES)),
        ("have", overload.there * STEP_MINUTES // HOUR_MINUTES),
        ("first", instant_of(normal.origin, overload.start).isoformat()),
        ("until", instant_of(normal.origin, overload.end).isoformat()),
    )


def missed_jobs(normal: Normal, schedule: Schedule) -> Iterator[int]:
    """Give the jobs that miss their window though no fact of theirs forbids it."""
    for position, name in enumerate(normal.jobs):
        if not normal.clashes_of(name.job.id) and not stand_of(normal, position, schedule).kept:
            yield position


def proved_levels(normal: Normal, schedule: Schedule, prover: Prover) -> int:
    """Return how many leading levels are proved least: none can be below what is proved."""
    return reached(levels(normal.problem, schedule), prover.least_levels())


def is_partial(normal: Normal) -> bool:
    """Return whether journeys could leave at more moments than the problem knows.

    What is least among those that it knows is then not proved least of all.
    """
    pairs = zip(normal.jobs, normal.problem.jobs, strict=True)
    return any(name.more or aim.guessed for name, aim in pairs)
