"""Edits of whole jobs: add, remove, reorder, copy, change."""

from dataclasses import replace

from shared.book import Book, Job, Step, Window
from shared.edits.edited import (
    Edited,
    fresh_id,
    inserted,
    job_of,
    label,
    moved,
    of_job,
    of_jobs,
)
from shared.edits.lookup import segment_ids, step_ids
from shared.ids import JobId, SegmentId, StepId


def add_job(book: Book, job: Job, at: int | None = None) -> Edited:
    """Add a job, at a position or at the end."""
    return of_jobs(book, inserted(book.jobs, job, at), {job.id}, label("add_job", name=job.name))


def remove_job(book: Book, job_id: JobId) -> Edited:
    """Remove a job with all that was told of its steps."""
    gone = job_of(book, job_id)
    jobs = tuple(job for job in book.jobs if job.id != job_id)
    steps = {step.id for step in gone.steps}
    kept = tuple(fact for fact in book.facts if fact.step not in steps)
    what = label("remove_job", name=gone.name)
    return of_jobs(replace(book, facts=kept), jobs, {job_id}, what)


def move_job(book: Book, job_id: JobId, to: int) -> Edited:
    """Put a job at another position in the book."""
    job = job_of(book, job_id)
    return of_jobs(book, moved(book.jobs, job, to), {job_id}, label("move_job", name=job.name))


def change_job(book: Book, job: Job) -> Edited:
    """Put a job's new self in the place of its old one, found by its id."""
    job_of(book, job.id)
    return of_job(book, job, label("change_job", name=job.name))


def change_window(book: Book, job_id: JobId, window: Window) -> Edited:
    """Change one of a job's windows, found by its id."""
    job = job_of(book, job_id)
    windows = tuple(window if old.id == window.id else old for old in job.windows)
    return of_job(book, replace(job, windows=windows), label("change_window", name=job.name))


def copy_job(book: Book, job_id: JobId, name: str) -> Edited:
    """Add a copy of a job, under another name and with ids of its own, behind it."""
    old = job_of(book, job_id)
    new_id = fresh_id(old.id, (job.id for job in book.jobs))
    made = renamed(book, old, JobId(new_id))
    made = replace(made, name=name, deposit_paid=None)
    jobs = inserted(book.jobs, made, book.jobs.index(old) + 1)
    return of_jobs(book, jobs, {made.id}, label("copy_job", name=old.name))


def renamed(book: Book, job: Job, new_id: JobId) -> Job:
    """Give a job with new ids for itself, its segments and its steps."""
    taken_segments, taken_steps = segment_ids(book), step_ids(book)
    segments: dict[SegmentId, SegmentId] = {}
    for segment in job.segments:
        wanted = _swap_head(segment.id, job.id, new_id)
        segments[segment.id] = SegmentId(fresh_id(wanted, taken_segments))
        taken_segments.add(segments[segment.id])
    steps: dict[StepId, StepId] = {}
    for step in job.steps:
        steps[step.id] = StepId(fresh_id(_swap_head(step.id, job.id, new_id), taken_steps))
        taken_steps.add(steps[step.id])
    return replace(
        job,
        id=new_id,
        segments=tuple(replace(s, id=segments[s.id]) for s in job.segments),
        steps=tuple(with_ids(step, steps, segments) for step in job.steps),
    )


def _swap_head(old: str, head: str, new_head: str) -> str:
    return new_head + old[len(head) :] if old.startswith(head) else f"{new_head}.{old}"


def with_ids(step: Step, steps: dict[StepId, StepId], segments: dict[SegmentId, SegmentId]) -> Step:
    """Give a step whose own id, segments and `after` are renamed where they have a new name."""
    after = step.after
    if after is not None:
        after = tuple(replace(a, step=steps.get(a.step, a.step)) for a in after)
    over = tuple(segments.get(s, s) for s in step.segments)
    return replace(step, id=steps.get(step.id, step.id), segments=over, after=after)
