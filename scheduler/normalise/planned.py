"""Which jobs are planned, and how far ahead a plan may reach."""

from collections.abc import Collection, Sequence
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from scheduler.grid import WEEK_STEPS
from shared.book import Book, Job, Journey, Standing
from shared.ids import JobId
from shared.units import steps_up
from shared.worktime.zones import local_date

LATE_WEEKS = 26
"""So long after the last window a plan may reach at least."""
LATE_WEEKS_MAX = 104
PERIOD_STEPS = 13 * WEEK_STEPS
WEEKLY_HOURS = 20
"""Person-hours that one person surely gets done in a week, for the reach of a plan only."""


def planned_jobs(book: Book, now: datetime, asked: Collection[JobId]) -> tuple[Job, ...]:
    """Return the jobs to plan: firm, still pencilled, and the enquiries asked for."""
    today = local_date(now, book.workshop.zone)
    found: list[Job] = []
    for job in book.jobs:
        until = job.pencilled_until
        still = job.standing is Standing.PENCILLED and (until is None or until >= today)
        if job.standing is Standing.FIRM or still or job.id in asked:
            found.append(job)
    return tuple(found)


def horizon_of(book: Book, jobs: Collection[Job], origin: datetime, hours: Fraction) -> int:
    """Return the last step of a plan: room behind the last window for all the work there is.

    hours: the person-hours of all jobs. Windows that are only on offer count too: what they call
    for is counted back from them. Whole quarters of a year, so that few edits change it and what
    is remembered of the book still fits.
    """
    windows = [window for job in jobs for window in job.windows]
    ends = [steps_up(origin, window.end) for window in windows]
    people = max(1, len(book.people))
    weeks = LATE_WEEKS + int(hours / (people * WEEKLY_HOURS))
    reach = max([0, *ends]) + min(weeks, LATE_WEEKS_MAX) * WEEK_STEPS
    return -(-reach // PERIOD_STEPS) * PERIOD_STEPS


def person_hours(job: Job) -> Fraction:
    """Return the person-hours of a job, each step by its longest way."""
    ways = (step.ways for step in job.steps if not isinstance(step, Journey))
    hours = (max((way.hours.likely for way in each), default=Decimal(0)) for each in ways)
    return Fraction(sum(hours, Decimal(0)))


def in_order_of_need(jobs: Sequence[Job]) -> tuple[Job, ...]:
    """Return jobs so that one whose steps come after those of another stands behind it."""
    owner = {step.id: job for job in jobs for step in job.steps}
    done: dict[JobId, Job] = {}
    open_: set[JobId] = set()

    def walk(job: Job) -> None:
        if job.id in open_ or job.id in done:
            return
        open_.add(job.id)
        for step in job.steps:
            for after in step.after or ():
                if after.step in owner and owner[after.step].id != job.id:
                    walk(owner[after.step])
        done[job.id] = job

    for job in jobs:
        walk(job)
    return tuple(done.values())
