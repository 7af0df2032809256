"""Edits of segments: add, remove, reorder, copy, change."""

from dataclasses import replace

from shared.book import Book, Job, Segment, Step
from shared.edits.edited import Edited, fresh_id, inserted, job_of, label, moved, of_job
from shared.edits.jobs import with_ids
from shared.edits.lookup import job_of_segment, segment_ids, segment_of, step_ids
from shared.edits.steps import without_steps
from shared.ids import JobId, SegmentId, StepId


def add_segment(book: Book, job_id: JobId, segment: Segment, at: int | None = None) -> Edited:
    """Add a segment without steps of its own; steps over the whole job include it."""
    job = job_of(book, job_id)
    made = replace(job, segments=inserted(job.segments, segment, at))
    return of_job(book, made, label("add_segment", name=segment.name))


def change_segment(book: Book, segment: Segment) -> Edited:
    """Put a segment's new self in the place of its old one, found by its id."""
    job = job_of_segment(book, segment.id)
    segments = tuple(segment if old.id == segment.id else old for old in job.segments)
    what = label("change_segment", name=segment.name)
    return of_job(book, replace(job, segments=segments), what)


def move_segment(book: Book, segment_id: SegmentId, to: int) -> Edited:
    """Put a segment at another position in its job."""
    job, segment = job_of_segment(book, segment_id), segment_of(book, segment_id)
    made = replace(job, segments=moved(job.segments, segment, to))
    return of_job(book, made, label("move_segment", name=segment.name))


def remove_segment(book: Book, segment_id: SegmentId) -> Edited:
    """Remove a segment with the steps that are its alone; shared steps go on without it."""
    job, segment = job_of_segment(book, segment_id), segment_of(book, segment_id)
    alone = {step.id for step in job.steps if step.segments == (segment_id,)}
    book, job = without_steps(book, job, alone)
    segments = tuple(s for s in job.segments if s.id != segment_id)
    steps = tuple(_without(step, segment_id) for step in job.steps)
    made = replace(job, segments=segments, steps=steps)
    return of_job(book, made, label("remove_segment", name=segment.name))


def _without(step: Step, segment_id: SegmentId) -> Step:
    return replace(step, segments=tuple(s for s in step.segments if s != segment_id))


def copy_segment(book: Book, segment_id: SegmentId, name: str) -> Edited:
    """Add a copy of a segment behind it, with copies of its own steps; shared steps take it in."""
    job, old = job_of_segment(book, segment_id), segment_of(book, segment_id)
    new_id = SegmentId(fresh_id(old.id, segment_ids(book)))
    made = replace(old, id=new_id, name=name)
    segments = inserted(job.segments, made, job.segments.index(old) + 1)
    steps = _with_copies(book, job, segment_id, new_id)
    what = label("copy_segment", name=old.name)
    return of_job(book, replace(job, segments=segments, steps=steps), what)


def _with_copies(book: Book, job: Job, old: SegmentId, new: SegmentId) -> tuple[Step, ...]:
    """Give the job's steps with each step of the old segment doubled or widened."""
    taken, names = step_ids(book), dict[StepId, StepId]()
    for step in job.steps:
        if step.segments == (old,):
            names[step.id] = StepId(fresh_id(_named(step.id, old, new), taken))
            taken.add(names[step.id])
    steps: list[Step] = []
    for step in job.steps:
        steps.append(step if step.id in names else _widened(step, names, old, new))
        if step.id in names:
            steps.append(with_ids(step, names, {old: new}))
    return tuple(steps)


def _widened(step: Step, names: dict[StepId, StepId], old: SegmentId, new: SegmentId) -> Step:
    """Give a shared step that takes the new segment in, and waits for its copies as for theirs."""
    if old in step.segments:
        step = replace(step, segments=(*step.segments, new))
    after = step.after or ()
    copies = tuple(replace(a, step=names[a.step]) for a in after if a.step in names)
    return replace(step, after=(*after, *copies)) if copies and _takes(step, new) else step


def _takes(step: Step, segment: SegmentId) -> bool:
    return not step.segments or segment in step.segments


def _named(step_id: str, old: str, new: str) -> str:
    return new + step_id[len(old) :] if step_id.startswith(old) else step_id
