"""What follows what inside a job."""

from collections.abc import Mapping
from functools import cached_property

from scheduler.normalise.acts import acts_done
from shared.book import Act, After, Gate, GateKind, Job, Journey, Segment, Step
from shared.ids import SegmentId, StepId
from shared.order import afters_of, in_order, segments_of, touched, touched_by_step

__all__ = [
    "JobOrder",
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


class JobOrder:
    """What follows what in one job, and what each step works on, each looked up once."""

    def __init__(self, job: Job) -> None:
        """Take the job."""
        self.job = job
        self.touched = touched_by_step(job)
        self._acts: dict[tuple[StepId, str], frozenset[Act]] = {}
        self._segments = {segment.id: segment for segment in job.segments}

    @cached_property
    def afters(self) -> dict[StepId, tuple[After, ...]]:
        """Return, by step, what it comes after."""
        return afters_of(self.job)

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """Return the steps, each behind those it comes after."""
        return in_order(self.job, self.afters)

    @cached_property
    def behind(self) -> frozenset[StepId]:
        """Return the steps that come after a journey, near or far."""
        return after_journey(self.job, self.afters, self.steps)

    @cached_property
    def lasts(self) -> tuple[StepId, ...]:
        """Return the steps whose end is the end of loading."""
        return last_steps(self.job, self.afters)

    def acts(self, step: Step, part: str = "") -> frozenset[Act]:
        """Return what is done in a step, or in a part of it that is worked besides."""
        key = (step.id, part)
        if key not in self._acts:
            self._acts[key] = acts_done(self.job, step, part)
        return self._acts[key]

    def segments(self, step: Step) -> tuple[Segment, ...]:
        """Return the segments that a step works on."""
        if len(step.segments) == 1:
            segment = self._segments.get(step.segments[0])
            return () if segment is None else (segment,)
        return segments_of(self.job, step)

    @cached_property
    def by_segment(self) -> dict[SegmentId, tuple[Step, ...]]:
        """Return, by segment, the steps that work on it, in the order of the list."""
        found: dict[SegmentId, list[Step]] = {segment.id: [] for segment in self.job.segments}
        for step in self.job.steps:
            for segment in self.touched[step.id]:
                if segment in found:
                    found[segment].append(step)
        return {segment: tuple(steps) for segment, steps in found.items()}

    def is_loaded(self, step: StepId) -> bool:
        """Return whether what the job is loaded with waits for a step."""
        if not {step, *all_behind(step, self.afters)}.isdisjoint(self.lasts):
            return True
        return any(
            each.id in self.lasts and step in packed_before(self.job, each, self.afters)
            for each in self.job.steps
        )


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


def after_journey(
    job: Job, afters: Mapping[StepId, tuple[After, ...]], order: tuple[Step, ...] | None = None
) -> frozenset[StepId]:
    """Return the steps that come after a journey, near or far; order: as `in_order` has them."""
    found: set[StepId] = {journey.id for journey in journeys_of(job)}
    reached: set[StepId] = set()
    for step in in_order(job, afters) if order is None else order:
        if any(after.step in found for after in afters[step.id]):
            found.add(step.id)
            reached.add(step.id)
    return frozenset(reached)
