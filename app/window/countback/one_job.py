"""One job of the book by itself, as the wall makes it. No Qt."""

from dataclasses import dataclass, replace
from datetime import date
from zoneinfo import ZoneInfo

from app.window.wall.derive import Shown, derive
from app.window.wall.hours import shop_calendar
from app.window.wall.items import Band, Row, Wall
from app.words import Words
from scheduler.outcome import JobOutcome
from shared.book import Job
from shared.ids import JobId
from shared.plan import Plan
from shared.worktime import WorkCalendar


@dataclass(frozen=True, slots=True, kw_only=True)
class OneJob:
    """A job with its plan and how it stands.

    shown: the whole book. wall: of this job only. told: None while it is not planned. calendar:
    the workshop's own hours, by which what is to spare is counted.
    """

    job: Job
    shown: Shown
    wall: Wall
    plan: Plan | None
    told: JobOutcome | None
    calendar: WorkCalendar

    @property
    def band(self) -> Band:
        """Return its band."""
        return self.wall.bands[0]

    @property
    def rows(self) -> tuple[Row, ...]:
        """Return its segments' rows."""
        return self.wall.rows

    @property
    def opens(self) -> date | None:
        """Return the site's own date on which the window opens."""
        held = self.job.held_window
        return None if held is None else held.start.astimezone(ZoneInfo(self.job.site.zone)).date()

    def days_left(self, day: date) -> int | None:
        """Return the working days from a day, itself counted, to the window; None past it."""
        opens, held = self.opens, self.job.held_window
        if opens is None or held is None:
            return None
        if day > held.end.astimezone(ZoneInfo(self.job.site.zone)).date():
            return None
        return sum(not each.is_off and day <= each.date < opens for each in self.wall.days)


def one_job(shown: Shown, job_id: JobId, words: Words) -> OneJob:
    """Return a job of a book by itself."""
    job = next(each for each in shown.book.jobs if each.id == job_id)
    plan, outcome = _only(shown.plan, job_id), shown.outcome
    book = replace(shown.book, jobs=(job,), plan=None)
    alone = Shown(book=book, now=shown.now, plan=plan, outcome=outcome, is_stale=shown.is_stale)
    told = next((o for o in outcome.jobs if o.id == job_id), None) if outcome else None
    return OneJob(
        job=job,
        shown=shown,
        wall=derive(alone, words),
        plan=plan,
        told=told,
        calendar=shop_calendar(shown.book),
    )


def _only(plan: Plan | None, job: JobId) -> Plan | None:
    if plan is None:
        return None
    return replace(
        plan,
        jobs=tuple(each for each in plan.jobs if each == job),
        placements=tuple(each for each in plan.placements if each.job == job),
        trips=tuple(each for each in plan.trips if each.job == job),
        unplaced=tuple(each for each in plan.unplaced if each.job == job),
        let_go=tuple(each for each in plan.let_go if each.job == job),
    )


def governing(shown: Shown) -> JobId | None:
    """Return the job with the least to spare, without a plan the first by its window."""
    if shown.outcome is not None and shown.outcome.jobs:
        known = {job.id for job in shown.book.jobs}
        told = [each for each in shown.outcome.jobs if each.id in known]
        worst = min(
            told, key=lambda each: (each.slack_minutes or 0) - each.missed_by_minutes, default=None
        )
        if worst is not None:
            return worst.id
    return next(iter(in_turn(shown)), None)


def in_turn(shown: Shown) -> tuple[JobId, ...]:
    """Return all jobs in the order of their windows."""

    def key(job: Job) -> tuple[bool, float, str]:
        held = job.held_window
        return held is None, held.start.timestamp() if held else 0, job.id

    return tuple(job.id for job in sorted(shown.book.jobs, key=key))
