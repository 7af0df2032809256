"""Finding things in a book for an edit."""

from shared.book import Book, Job, Person, Segment, Step
from shared.edits.edited import found
from shared.ids import PersonId, SegmentId, StepId


def step_ids(book: Book) -> set[str]:
    """Give the ids of all steps in jobs and routes."""
    owned = {str(step.id) for job in book.jobs for step in job.steps}
    return owned | {str(step.id) for route in book.routes for step in route.steps}


def segment_ids(book: Book) -> set[str]:
    """Give the ids of all segments."""
    return {str(segment.id) for job in book.jobs for segment in job.segments}


def job_of_step(book: Book, step_id: StepId) -> Job:
    """Give the job that a step belongs to.

    Raises NoSuchThing when no job has it.
    """
    return found(book.jobs, lambda job: any(s.id == step_id for s in job.steps), step_id)


def job_of_segment(book: Book, segment_id: SegmentId) -> Job:
    """Give the job that a segment belongs to.

    Raises NoSuchThing when no job has it.
    """
    return found(book.jobs, lambda job: any(s.id == segment_id for s in job.segments), segment_id)


def step_of(book: Book, step_id: StepId) -> Step:
    """Give a step of a job.

    Raises NoSuchThing when no job has it.
    """
    job = job_of_step(book, step_id)
    return found(job.steps, lambda step: step.id == step_id, step_id)


def segment_of(book: Book, segment_id: SegmentId) -> Segment:
    """Give a segment of a job.

    Raises NoSuchThing when no job has it.
    """
    job = job_of_segment(book, segment_id)
    return found(job.segments, lambda segment: segment.id == segment_id, segment_id)


def person_of(book: Book, person_id: PersonId) -> Person:
    """Give a person.

    Raises NoSuchThing when there is none.
    """
    return found(book.people, lambda person: person.id == person_id, person_id)
