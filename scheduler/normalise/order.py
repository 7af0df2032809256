"""What follows what inside a job."""

from collections.abc import Mapping

from shared.book import After, Gate, GateKind, Job, Journey, Step
from shared.ids import StepId
from shared.order import afters_of, in_order, segments_of, touched

__all__ = [
    "after_journey",
    "afters_of",
    "all_behind",
    "followers",
    "in_order",
    "is_answer",
    "journeys_of",
    "last_steps",
    "loadings_of",
    "packed_before",
    "segments_of",
    "touched",
]


def followers(afters: Mapping[StepId, tuple[After, ...]]) -> dict[StepId, list[StepId]]:
    """Return, by step, the steps that come right after it."""
    found: dict[StepId, list[StepId]] = {step: [] for step in afters}
    for step, befores in afters.items():
        for before in befores:
            if before.step in found:
                found[before.step].append(step)
    return found


def all_behind(first: StepId, afters: Mapping[StepId, tuple[After, ...]]) -> set[StepId]:
    """Return the steps that come after one, near or far."""
    by_before = followers(afters)
    found: set[StepId] = set()
    left = [first]
    while left:
        fresh = [step for step in by_before.get(left.pop(), ()) if step not in found]
        found.update(fresh)
        left += fresh
    return found


def journeys_of(job: Job) -> tuple[Journey, ...]:
    """Return the journeys of a job, in the order of its list."""
    return tuple(step for step in job.steps if isinstance(step, Journey))


def loadings_of(job: Job) -> tuple[Gate, ...]:
    """Return the loading gates of a job."""
    return tuple(
        step for step in job.steps if isinstance(step, Gate) and step.gate is GateKind.LOADING
    )


def is_answer(step: Step) -> bool:
    """Return whether a step is the client's answer."""
    return isinstance(step, Gate) and step.gate is GateKind.ANSWER


def packed_before(
    job: Job, step: Step, afters: Mapping[StepId, tuple[After, ...]]
) -> tuple[StepId, ...]:
    """Return what must be ready for a loading besides what it follows.

    All that stands before it in the list and works on its segments.
    """
    if not (isinstance(step, Gate) and step.gate is GateKind.LOADING):
        return ()
    named = {after.step for after in afters[step.id]}
    behind = after_journey(job, afters)
    return tuple(
        each.id
        for each in job.steps[: job.steps.index(step)]
        if not isinstance(each, Journey)
        and each.id not in named | behind
        and touched(job, each) & touched(job, step)
    )


def last_steps(job: Job, afters: Mapping[StepId, tuple[After, ...]]) -> tuple[StepId, ...]:
    """Return the steps whose end is the end of loading.

    Those that the journeys come after; without a journey the loading gates; else the steps
    that nothing comes after.
    """
    journeys = journeys_of(job)
    if journeys:
        named = (after.step for journey in journeys for after in afters[journey.id])
        mine = {step.id for step in job.steps} - {journey.id for journey in journeys}
        return tuple(dict.fromkeys(step for step in named if step in mine))
    loadings = loadings_of(job)
    if loadings:
        return tuple(gate.id for gate in loadings)
    behind = followers(afters)
    return tuple(step.id for step in job.steps if not behind[step.id])


def after_journey(job: Job, afters: Mapping[StepId, tuple[After, ...]]) -> frozenset[StepId]:
    """Return the steps that come after a journey, near or far."""
    found: set[StepId] = {journey.id for journey in journeys_of(job)}
    reached: set[StepId] = set()
    for step in in_order(job, afters):
        if any(after.step in found for after in afters[step.id]):
            found.add(step.id)
            reached.add(step.id)
    return frozenset(reached)
