"""Due lines: which coat must be followed by when, or is abraded first."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import TYPE_CHECKING

from shared.book import After, Book, FactKind, Job, Journey, Stage, Step, Workshop
from shared.ids import JobId, StepId
from shared.order import afters_of
from shared.plan import Placement, Plan
from shared.worktime import (
    DateSpan,
    DayCalendar,
    HolidayRule,
    NoWorkingTime,
    WorkCalendar,
    is_working_day,
    local_instant,
    open_spans,
    previous_working_day,
)
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from scheduler.cured import Cured


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """A coat whose recoat time runs out, and the step that must start before or is abraded for.

    ended, ready: when the coat is over and when it has cured. runs_out: when its recoat time is
    over. day: the working day before that, where the due line stands. last_day: the last day on
    which there are working hours before it. is_over, ran_out: the coat, or its recoat time, is
    over by now. can_abrade: the coat says how. starts: when the next step starts in the plan,
    None where it doesn't stand in it. abrade_starts, abrade_hours: the abrade stage that the plan
    holds because this recoat time runs out, and its person-hours.
    """

    job: JobId
    coat: StepId
    next: StepId
    ended: datetime
    ready: datetime
    runs_out: datetime
    day: date
    last_day: date
    is_over: bool
    ran_out: bool
    can_abrade: bool
    starts: datetime | None = None
    abrade_starts: datetime | None = None
    abrade_hours: Decimal | None = None

    @property
    def is_abraded(self) -> bool:
        """Return whether the plan abrades before the next step."""
        return self.abrade_starts is not None


def dues(
    book: Book, plan: Plan, now: datetime, known: "Mapping[StepId, Cured] | None" = None
) -> tuple[Due, ...]:
    """Return the due lines of the planned jobs, by when the recoat times run out.

    Those that ran out before now are among them only where the plan abrades for them. known: what
    `cured` says of the plan, where it has been asked already.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of the workshop's zone or of the holidays of its country.
    """
    coats = any(
        isinstance(step, Stage) and (step.recoat_hours is not None or step.recoat_bands)
        for job in book.jobs
        for step in job.steps
    )
    found = list(_Dues(book, plan, now, known).found()) if coats else []
    return tuple(sorted(found, key=lambda due: (due.runs_out, due.job, due.coat, due.next)))


COMING_DAYS = 14


def coming(found: Iterable[Due], today: date) -> tuple[Due, ...]:
    """Return those whose line stands in the next two weeks, or stood already."""
    return tuple(due for due in found if (due.day - today).days <= COMING_DAYS)


class _Dues:
    """The due lines of one plan."""

    def __init__(
        self, book: Book, plan: Plan, now: datetime, known: "Mapping[StepId, Cured] | None"
    ) -> None:
        self._book, self._plan, self._now = book, plan, now
        self._placed = {(each.step, each.part): each for each in plan.placements if each.round < 2}
        # It brings in all that reads books for the engine; who only opens a book waits for none.
        from scheduler.cured import cured

        self._cured = cured(book, plan) if known is None else known
        begun = (FactKind.DONE, FactKind.RUNNING, FactKind.GONE, FactKind.PICTURES)
        self._begun = {fact.step for fact in book.facts if fact.kind in begun}
        self._days = _Days(book.workshop)

    def found(self) -> Iterator[Due]:
        """Give them job by job."""
        wanted = set(self._plan.jobs)
        for job in self._book.jobs:
            if job.id in wanted:
                yield from self._of_job(job)

    def _of_job(self, job: Job) -> Iterator[Due]:
        after_coat: dict[StepId, list[Step]] = defaultdict(list)
        afters = afters_of(job)
        for step in job.steps:
            for after in afters[step.id]:
                if self._waits(step, after) and step not in after_coat[after.step]:
                    after_coat[after.step].append(step)
        for coat in job.steps:
            if isinstance(coat, Stage):
                for step in after_coat[coat.id]:
                    yield from self._due(job, coat, step)

    def _waits(self, step: Step, after: After) -> bool:
        """Return whether a recoat time runs up to a step, which has not begun."""
        if isinstance(step, Journey) or after.from_start or step.id in self._begun:
            return False
        return not (isinstance(step, Stage) and step.takes_off)

    def _due(self, job: Job, coat: Stage, step: Step) -> Iterator[Due]:
        cured = self._cured.get(coat.id)
        runs_out = None if cured is None else cured.coat_by
        starts, abrade = self._placed.get((step.id, "")), self._placed.get((step.id, "abrade"))
        if cured is None or runs_out is None:
            return
        if starts is None or starts.start <= runs_out:
            abrade = None
        if runs_out <= self._now and abrade is None:
            return
        day, last_day = self._days.before(runs_out)
        yield Due(
            job=job.id,
            coat=coat.id,
            next=step.id,
            ended=cured.end,
            ready=cured.ready,
            runs_out=runs_out,
            day=day,
            last_day=last_day,
            is_over=cured.end <= self._now,
            ran_out=runs_out <= self._now,
            can_abrade=coat.abrade is not None and bool(coat.abrade.ways),
            starts=None if starts is None else starts.start,
            abrade_starts=None if abrade is None else abrade.start,
            abrade_hours=_hours(coat, abrade),
        )


def _hours(coat: Stage, abrade: Placement | None) -> Decimal | None:
    """Return the person-hours of an abrade stage."""
    if abrade is None or coat.abrade is None:
        return None
    return next((way.hours.likely for way in coat.abrade.ways if way.id == abrade.way), None)


class _Days:
    """The working days of a workshop."""

    def __init__(self, workshop: Workshop) -> None:
        holidays = HolidayRule(
            country=workshop.country,
            subdivision=workshop.subdivision,
            categories=workshop.holiday_categories,
        )
        closed = tuple(
            DateSpan(first=shut.first, last=shut.last)
            for shut in workshop.closures
            if shut.first <= shut.last
        )
        weekdays = tuple(sorted({day for shift in workshop.shifts for day in shift.days}))
        self._days = DayCalendar(holidays=holidays, closed=closed, weekdays=weekdays)
        self._hours = WorkCalendar(
            zone=workshop.zone, shifts=workshop.shifts, holidays=holidays, closed=closed
        )
        self._zone = workshop.zone

    def before(self, instant: datetime) -> tuple[date, date]:
        """Return the working day before that of an instant, and the last with hours before it.

        Where five years hold none it is the instant's own day.
        """
        today = local_date(instant, self._zone)
        try:
            before = previous_working_day(self._days, today)
        except NoWorkingTime:
            return today, today
        if not is_working_day(self._days, today):
            return before, before
        morning = local_instant(today, time(0), self._zone, opening=True)
        is_open = bool(open_spans(self._hours, morning, instant))
        return before, today if is_open else before
