"""The soonest end of one job by itself, phase after phase: what none is below, and a plan of it."""

from dataclasses import dataclass, replace

from scheduler.aims import loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.countback import earliest
from scheduler.faults import EngineFault
from scheduler.model.run import Found, Status
from scheduler.model.whole import soonest_loading
from scheduler.necks import Phase, end_before, phases_of, problem_of
from scheduler.place import place
from scheduler.problem import Problem, Schedule
from scheduler.purse import Purse
from scheduler.replay import breaches
from scheduler.shifts import first_schedule

_Spot = tuple[int, int, int, tuple[int, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Phased:
    """What is known of the soonest end of a job by itself.

    end: none is sooner. least_ends: by neck, the soonest that it is over. schedule: a plan, None
    where none was found.
    """

    end: int
    least_ends: dict[int, int]
    schedule: Schedule | None = None

    def can_end_by(self, problem: Problem, when: int) -> bool:
        """Return whether the plan ends by then."""
        schedule = self.schedule
        return schedule is not None and loading_end(problem.jobs[0], schedule) <= when


class Phases:
    """The phases of the only job of a problem, asked once or again with more to spend."""

    def __init__(self, problem: Problem) -> None:
        """Find the phases; nothing is asked yet."""
        self.problem, self.phases = problem, phases_of(problem)
        self._decided: dict[tuple[Phase, int | None], _Answer] = {}

    def soonest(self, purse: Purse) -> Phased:
        """Find the soonest end, as far as the purse allows.

        Each phase begins where the one before is proved to end at the soonest; where a plan ends
        later than that, the plan goes on from its own end. What is decided is remembered.
        """
        return _Walk(self, purse).result()

    def solved(self, phase: Phase, least_ends: dict[int, int], purse: Purse) -> "_Answer":
        """Find the soonest end of one phase: by its chain and a pass, else by the solver."""
        key = phase, None if phase.before is None else least_ends[phase.before]
        answer = self._decided.get(key)
        if answer is None:
            answer = _solved(problem_of(self.problem, phase, least_ends), purse)
            if answer.bound == answer.value:
                self._decided[key] = answer
        return answer


@dataclass(frozen=True, slots=True, kw_only=True)
class _Answer:
    """Of one phase: the least value of its gate or end, and a schedule with its value."""

    bound: int
    value: int | None
    schedule: Schedule | None


class _Walk:
    def __init__(self, phases: Phases, purse: Purse) -> None:
        self._phases, self._problem, self._purse = phases, phases.problem, purse
        self._least: dict[int, int] = {}
        self._planned: dict[int, int] = {}
        self._spots: dict[int, _Spot] = {}
        self._end = 0
        self._can_plan = True

    def result(self) -> Phased:
        """Go through the phases."""
        phases = self._phases.phases
        for at, phase in enumerate(phases):
            share = Purse(self._purse.part(len(phases) - at), self._purse.cancel)
            self._take(phase, share)
            self._purse.spend(share.spent)
            if self._end > self._problem.horizon:
                break
        return Phased(
            end=self._end,
            least_ends=self._least,
            schedule=self._joined() if self._can_plan else None,
        )

    def _take(self, phase: Phase, purse: Purse) -> None:
        is_level = not self._can_plan or self._planned == self._least
        share = Purse(purse.part(1 if is_level else 2), purse.cancel)
        planned = found = self._phases.solved(phase, self._least, share)
        purse.spend(share.spent)
        if not is_level:
            planned = self._phases.solved(phase, self._planned, purse)
        self._note(phase, planned)
        self._end = found.bound
        if phase.neck is None:
            return
        self._least[phase.neck] = end_before(self._problem, phase.neck, found.bound)
        if planned.value is not None:
            self._planned[phase.neck] = end_before(self._problem, phase.neck, planned.value)

    def _note(self, phase: Phase, found: _Answer) -> None:
        """Keep where the stages of a phase lie in its schedule."""
        schedule = found.schedule
        if schedule is None:
            self._can_plan = False
            return
        for at, number in enumerate(phase.numbers):
            if number != phase.before:
                self._spots[number] = (
                    schedule.starts[at],
                    schedule.ends[at],
                    schedule.ways[at],
                    schedule.teams[at],
                )

    def _joined(self) -> Schedule | None:
        """Return the plan of all phases together; where it breaks a rule, one in its order."""
        problem = self._problem
        if len(self._spots) == len(problem.stages):
            spots = [self._spots[number] for number in range(len(problem.stages))]
            schedule = Schedule(
                starts=tuple(spot[0] for spot in spots),
                ends=tuple(spot[1] for spot in spots),
                ways=tuple(spot[2] for spot in spots),
                teams=tuple(spot[3] for spot in spots),
                trips=(-1,),
            )
            if not breaches(problem, schedule):
                return schedule
        late = (problem.horizon, 0, 0, ())
        order = sorted(
            range(len(problem.stages)),
            key=lambda number: (self._spots.get(number, late)[0], number),
        )
        found = place(Index(problem), order)
        return None if isinstance(found, Unfit) else found


def _solved(part: Problem, purse: Purse) -> _Answer:
    index = Index(part)
    lasts = index.problem.jobs[0].lasts
    times = earliest(index)
    never = index.problem.horizon + 1
    ends = (times.ends[last] for last in lasts)
    chain = max((never if end is None else end for end in ends), default=0)
    first = first_schedule(_pressed(index, chain), 1)
    if isinstance(first, Unfit):
        return _Answer(bound=chain, value=None, schedule=None)
    value = loading_end(index.problem.jobs[0], first)
    answer = _Answer(bound=chain, value=value, schedule=first)
    if chain < value and not purse.is_over():
        limits = replace(purse.part(), workers=1)
        found = soonest_loading(index, limits, first=first, at_least=chain, cancel=purse.cancel)
        purse.spend(found.effort)
        return _with(answer, found)
    return answer


def _pressed(index: Index, latest: int) -> Index:
    """Return the index of the same problem, its job to end by the latest, late or not."""
    problem = index.problem
    aims = (replace(problem.jobs[0], latest=latest),)
    return index.variant(replace(problem, jobs=aims), index.terms.bounds)


def _with(answer: _Answer, found: Found) -> _Answer:
    """Return an answer with what the solver says of the phase."""
    if found.status is Status.NOTHING_FITS:
        raise EngineFault("the solver rules out a phase of which a plan is known")
    bound = answer.bound if found.bound is None else max(answer.bound, found.bound)
    if found.schedule is None:
        return replace(answer, bound=bound)
    return _Answer(bound=bound, value=found.value, schedule=found.schedule)
