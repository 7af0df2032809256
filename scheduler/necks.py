"""Where a job comes together, and what lies between.

A neck is a stage that every other one comes before or after: a client's answer, a trial fit. What
lies between two necks is asked by itself, and begins once the first is over: so a job falls into
phases, and its soonest end is found phase after phase. Every phase leaves out only what the
others bring, so that what it proves holds of the whole.
"""

from dataclasses import dataclass, replace

from scheduler.model.alone import some_stages
from scheduler.problem import Edge, Problem, Stage, Way


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """Stages between two necks, the second among them.

    before: the neck before them, None for the first phase. neck: the second, None for what comes
    after the last one. numbers: the stages of `problem_of` in the whole (the gate left out).
    """

    stages: tuple[int, ...]
    before: int | None
    neck: int | None

    @property
    def numbers(self) -> tuple[int, ...]:
        """Return the stages, with the neck before them."""
        return self.stages if self.before is None else (self.before, *self.stages)


def phases_of(problem: Problem) -> tuple[Phase, ...]:
    """Return the phases of a job by itself, in order.

    A neck right behind another makes no phase of its own; what loading does not wait for is in
    none.
    """
    after = _after(problem)
    lasts = set(problem.jobs[0].lasts)
    left = {number for number, each in enumerate(after) if number in lasts or each & lasts}
    phases: list[Phase] = []
    before: int | None = None
    necks = _necks([after[number] & left for number in range(len(after))], left)
    for neck, following in zip(necks, (*necks[1:], None), strict=False):
        inside = {number for number in left if number == neck or neck in after[number]}
        if following is not None and _between(after, neck, following) == {following}:
            continue
        is_last = following is None and inside == left
        phases.append(
            Phase(stages=tuple(sorted(inside)), before=before, neck=None if is_last else neck)
        )
        left -= inside
        before = neck
    if left:
        phases.append(Phase(stages=tuple(sorted(left)), before=before, neck=None))
    return tuple(phases)


def problem_of(problem: Problem, phase: Phase, least_ends: dict[int, int]) -> Problem:
    """Return the problem of one phase, whose only job ends when the next one may begin.

    A gate stands behind the neck: no work, and begun when what follows the neck may begin at the
    soonest. least_ends: by neck, the soonest that it can be over.
    """
    lasts = problem.jobs[0].lasts if phase.neck is None else (phase.neck,)
    part = some_stages(with_ends(problem, least_ends), phase.numbers, _among(lasts, phase))
    if phase.neck is None:
        return part
    at, gate = part.jobs[0].lasts[0], len(part.stages)
    edge = Edge(before=at, after=gate, least=_least_after(problem, phase.neck))
    return replace(
        part,
        stages=(*part.stages, Stage(ways=(Way(),), job=0)),
        edges=(*part.edges, edge),
        jobs=(replace(part.jobs[0], lasts=(gate,)),),
    )


def with_ends(problem: Problem, least_ends: dict[int, int]) -> Problem:
    """Return the problem with some stages over no sooner than so."""
    if not least_ends:
        return problem
    stages = list(problem.stages)
    for number, soonest in least_ends.items():
        ends = stages[number].ends
        ends = ((0, problem.horizon + 1),) if ends is None else ends
        kept = ((max(first, soonest), until) for first, until in ends if until > soonest)
        stages[number] = replace(stages[number], ends=tuple(kept))
    return replace(problem, stages=tuple(stages))


def end_before(problem: Problem, neck: int, gate: int) -> int:
    """Return the soonest end of a neck behind which the gate opens no sooner than so."""
    low, high = 0, problem.horizon + 1
    while low < high:
        middle = (low + high) // 2
        if _opens(problem, neck, middle) < gate:
            low = middle + 1
        else:
            high = middle
    return low


def _opens(problem: Problem, neck: int, end: int) -> int:
    """Return when the gate behind a neck opens that is over at an end."""
    cure = problem.stages[neck].cure
    ready = end + max(cure.least, _least_after(problem, neck))
    if cure.table is None:
        return ready
    value = cure.table.value(end)
    return problem.horizon + 1 if value is None else max(ready, value)


def _least_after(problem: Problem, neck: int) -> int:
    """Return the least wait behind a neck."""
    waits = (edge.least for edge in problem.edges if edge.before == neck and _follows(edge))
    return min(waits, default=0)


def _follows(edge: Edge) -> bool:
    return not edge.from_start and edge.least >= 0


def _among(lasts: tuple[int, ...], phase: Phase) -> tuple[int, ...]:
    return tuple(last for last in lasts if last in phase.numbers)


def _after(problem: Problem) -> list[set[int]]:
    """Return, by stage, those that begin no sooner than it is over."""
    following: list[list[int]] = [[] for _ in problem.stages]
    for edge in problem.edges:
        if _follows(edge):
            following[edge.before].append(edge.after)
    found = []
    for number in range(len(problem.stages)):
        met: set[int] = set()
        left = list(following[number])
        while left:
            each = left.pop()
            if each not in met:
                met.add(each)
                left += following[each]
        found.append(met)
    return found


def _necks(after: list[set[int]], among: set[int]) -> list[int]:
    """Return the necks among some stages, in order."""
    before = [0] * len(after)
    for number in among:
        for each in after[number]:
            before[each] += 1
    found = [
        number
        for number in among
        if number not in after[number] and before[number] + len(after[number]) == len(among) - 1
    ]
    return sorted(found, key=lambda number: before[number])


def _between(after: list[set[int]], neck: int, following: int) -> set[int]:
    """Return what comes after a neck and no later than another."""
    return {each for each in after[neck] if each == following or following in after[each]}
