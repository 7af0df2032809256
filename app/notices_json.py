"""Notices and papers of jobs as plain JSON values, beside what the engine answers."""

from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from app.outcome_json import instant_text
from shared.book import Book
from shared.ids import JobId
from shared.notices.quiet import is_quiet
from shared.plan import Trip

if TYPE_CHECKING:
    from collections.abc import Sequence

    from scheduler.outcome import Outcome
    from shared.notices import Due

Json = dict[str, Any]


def job_dues(book: Book, trips: tuple[Trip, ...], now: datetime) -> dict[JobId, "tuple[Due, ...]"]:
    """Return the dues of the jobs that have some; a book whose jobs are quiet pays nothing."""
    loud = [job for job in book.jobs if trips and not is_quiet(book, job)]
    if not loud:
        return {}
    from shared.notices.listed import dues

    found = {job.id: dues(book, job, trips, now) for job in loud}
    return {job: listed for job, listed in found.items() if listed}


def with_dues(told: Json, book: Book, outcome: "Outcome") -> Json:
    """Give an outcome for programs with the dues of each job, its `jobs` in order."""
    found = job_dues(book, outcome.plan.trips, outcome.now)
    jobs = [
        {**each, "dues": due_objects(found.get(job.id, ()))}
        for each, job in zip(told["jobs"], outcome.jobs, strict=True)
    ]
    return {**told, "jobs": jobs}


def due_objects(found: "Sequence[Due]") -> list[Json]:
    """Give dues for programs."""
    return [due_object(due) for due in found]


def due_object(due: "Due") -> Json:
    """Give a due for programs: `by` is a day, or an instant where the hour counts."""
    return {
        "id": due.id,
        "code": due.code.value,
        "name": due.name,
        "journey": due.journey,
        "by": by_text(due.by),
        "before": due.before.value,
        "at": instant_text(due.at),
        "lead": due.lead,
        "counted": due.counted.value,
        "office": due.office,
        "country": due.country,
        "subdivision": due.receiver.subdivision,
        "figures": list(due.figures),
        "because": dict(due.because),
        "done": None if due.done is None else due.done.isoformat(),
        "is_over": due.is_over,
        "late_days": due.late_days,
        "is_legal": due.is_legal,
    }


def by_text(by: date | datetime) -> str:
    """Give a day, or an instant in UTC."""
    return instant_text(by) or "" if isinstance(by, datetime) else by.isoformat()
