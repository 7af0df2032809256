"""What follows what inside a job, as the book says it."""

from collections.abc import Mapping

from shared.book import After, Job, Segment, Step
from shared.ids import SegmentId, StepId

_WHOLE = SegmentId("")


def segments_of(job: Job, step: Step) -> tuple[Segment, ...]:
    """Return the segments that a step works on: those it names, else all of the job."""
    if not step.segments:
        return job.segments
    return tuple(segment for segment in job.segments if segment.id in step.segments)


def touched(job: Job, step: Step) -> frozenset[SegmentId]:
    """Return the ids of the segments of a step; a job without any counts as one piece."""
    return frozenset(segment.id for segment in segments_of(job, step)) or frozenset({_WHOLE})


def touched_by_step(job: Job) -> dict[StepId, frozenset[SegmentId]]:
    """Return what `touched` does for every step of a job."""
    every = frozenset(segment.id for segment in job.segments)
    whole = frozenset({_WHOLE})
    return {
        step.id: ((every.intersection(step.segments) if step.segments else every) or whole)
        for step in job.steps
    }


def afters_of(job: Job) -> dict[StepId, tuple[After, ...]]:
    """Return, by step, what it comes after: as named, else by the order of the job's list."""
    found: dict[StepId, tuple[After, ...]] = {}
    latest: dict[SegmentId, StepId] = {}
    by_step = touched_by_step(job)
    for step in job.steps:
        pieces = by_step[step.id]
        if step.after is None:
            before = {latest[piece]: None for piece in sorted(pieces) if piece in latest}
            found[step.id] = tuple(After(step=each) for each in before)
        else:
            found[step.id] = step.after
        latest.update(dict.fromkeys(pieces, step.id))
    return found


def in_order(job: Job, afters: Mapping[StepId, tuple[After, ...]]) -> tuple[Step, ...]:
    """Return the steps, each behind those it comes after, else in the order of the list.

    Raises
    ------
    ValueError
        If steps come after each other in a ring.
    """
    by_id = {step.id: step for step in job.steps}
    done: dict[StepId, None] = {}
    for step in job.steps:
        _walk(step.id, by_id, afters, done, ())
    return tuple(by_id[step] for step in done)


def _walk(
    step: StepId,
    by_id: Mapping[StepId, Step],
    afters: Mapping[StepId, tuple[After, ...]],
    done: dict[StepId, None],
    path: tuple[StepId, ...],
) -> None:
    if step in path:
        raise ValueError(f"steps come after each other in a ring: {path}")
    if step in done:
        return
    for after in afters[step]:
        if after.step in by_id:
            _walk(after.step, by_id, afters, done, (*path, step))
    done[step] = None
