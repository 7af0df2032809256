"""What stands under the rows of a day: cures, what is due, what to mind, days left. No Qt."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.window.sheets.day import Care, Left, Line
from app.window.sheets.rows import Day, segment_text
from app.window.wall.hours import shop_calendar
from app.window.wall.parts import shapes_of
from app.words import Words
from app.words import cautions as cautioning
from app.words import sheets as say
from app.words import window as wording
from app.words.voice import capital
from scheduler.outcome import CheckResult, StepTimes
from shared.book import Book, FactKind, Gate, GateKind, Job, Stage, Step
from shared.cautions import Caution, cautions_of
from shared.ids import StepId
from shared.plan import Plan
from shared.worktime import DayCalendar, is_working_day
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from scheduler.cured import Cured

WEEK = timedelta(days=7)
SOON = timedelta(days=3)
DUES_MAX, CURES_MAX, STAGES_MAX = 8, 8, 3
_REACH = timedelta(days=60)
_A_DAY = timedelta(days=1)
Due = tuple[datetime, str, str]
"""By when, what, and when in words."""
Latest = Sequence[tuple[str, Sequence[StepTimes]]]
"""Names of jobs, each with the latest times of its steps."""


def near_plan(day: Day, plan: Plan) -> Plan:
    """Return what of a plan can matter for what cures on a day, or waits to be coated again."""
    near = (p for p in plan.placements if p.start < day.last + WEEK and p.end > day.first - _REACH)
    return replace(plan, placements=tuple(near))


def near_cures(day: Day, plan: Plan) -> "Mapping[StepId, Cured]":
    """Return when what is made around a day has cured."""
    # As on the wall: it brings in all that reads books for the engine.
    from scheduler.cured import cured

    return cured(day.book, near_plan(day, plan))


def cure_lines(
    day: Day,
    plan: Plan,
    found: "Mapping[StepId, Cured]",
    now: datetime,
    *,
    most: int | None = CURES_MAX,
) -> tuple[Line, ...]:
    """Return what cures on a day from now on, and until when, the first to end first.

    most: so many lines at most, as many as there is room for on paper; None: all.
    """
    where = {placed.step: placed.place for placed in plan.placements if not placed.part}
    since = max(now, day.begins)
    lines = []
    for job in day.book.jobs:
        for step in job.steps:
            one = found.get(step.id)
            if one is None or not isinstance(step, Stage):
                continue
            if one.end < day.last and one.ready > max(since, one.end):
                at = where.get(step.id)
                place = day.words.names.of("place", at) if at else ""
                lines.append((one.ready, _cure(day.words, job, step, one, place)))
    return tuple(line for _, line in sorted(lines, key=lambda each: each[0])[:most])


def _cure(words: Words, job: Job, step: Stage, one: "Cured", place: str) -> Line:
    wanted = set(step.segments)
    segments = tuple(s for s in job.segments if not wanted or s.id in wanted)
    what = segment_text(words, job, segments)
    cures = wording.cure_label(words, step.kind, str(one.hours))
    template = say.CURE_WHAT if place else say.CURE_WHAT_BARE
    moment = wording.short_moment(words, one.ready)
    return Line(
        what=words.say(template, what=what, cures=cures, place=place),
        when=words.say(say.UNTIL, moment=moment),
    )


def due_lines(
    day: Day,
    plan: Plan,
    found: "Mapping[StepId, Cured]",
    latest: Latest,
    now: datetime,
    *,
    most: int | None = DUES_MAX,
) -> tuple[Line, ...]:
    """Return what falls due in the next days, by when. most: as for cures."""
    every = (
        *answers_due(day, plan, now),
        *_loadings(day, latest),
        *orders_due(day, plan, now),
        *_coming(day),
        *_coats(day, near_plan(day, plan), found, now),
    )
    rows = sorted(every, key=lambda each: (each[0], each[1]))
    return tuple(Line(what=capital(what), when=when) for _, what, when in rows[:most])


def _by(words: Words, day: date) -> str:
    return words.say(say.BY, day=wording.short_day(words, day))


def answers_overdue(book: Book, plan: Plan, now: datetime) -> frozenset[StepId]:
    """Return of which gates a client's answer is overdue."""
    from scheduler.asks import Ask, asks

    found = asks(book, plan, now, CheckResult())
    return frozenset(each.step for each in found if each.ask is Ask.ANSWER)


def answers_due(day: Day, plan: Plan, now: datetime) -> Iterator[Due]:
    """Give pictures and answers of the next week, and answers that are overdue."""
    words, zone = day.words, day.zone
    jobs = {job.id: job.name for job in day.book.jobs}
    late = answers_overdue(day.book, plan, now)
    gates = {
        step.id
        for job in day.book.jobs
        for step in job.steps
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER
    }
    out = {fact.step for fact in day.book.facts if fact.kind is FactKind.PICTURES}
    over = {fact.step for fact in day.book.facts if fact.answer is not None}
    for placed in plan.placements:
        if placed.step not in gates - over or placed.part or placed.round > 1:
            continue
        name = jobs.get(placed.job, placed.job)
        if placed.step in late:
            yield now, words.say(say.DUE_ANSWER_LATE, job=name), ""
            continue
        is_out = placed.step in out or placed.start < day.first
        at, template = placed.end if is_out else placed.start, say.DUE_PICTURES
        if is_out:
            template = say.DUE_ANSWER
        if day.first <= at < day.first + WEEK:
            yield at, words.say(template, job=name), _by(words, local_date(at, zone))


def _loadings(day: Day, latest: Latest) -> Iterator[Due]:
    over = {fact.step for fact in day.book.facts if fact.kind is FactKind.DONE}
    gates = {
        step.id
        for job in day.book.jobs
        for step in job.steps
        if isinstance(step, Gate) and step.gate is GateKind.LOADING
    }
    for name, steps in latest:
        for times in steps:
            by = times.latest_start
            if times.step not in gates - over or by is None:
                continue
            if by < day.first + WEEK:
                moment = wording.short_moment(day.words, by)
                when = day.words.say(say.BY, day=moment)
                yield by, day.words.say(say.DUE_LOADING, job=name), when


def orders_due(day: Day, plan: Plan, now: datetime) -> Iterator[Due]:
    """Give what has to be ordered within a week, or should have been."""
    from shared.orders import buying

    for order in buying(day.book, plan, now).orders:
        if order.day < day.day + WEEK:
            name = day.words.names.of("material", order.material)
            at = day.first + (order.day - day.day)
            yield at, day.words.say(say.DUE_ORDER, material=name), _by(day.words, order.day)


def _coming(day: Day) -> Iterator[Due]:
    for delivery in day.book.deliveries:
        if not delivery.arrived and day.first <= delivery.at < day.first + SOON:
            name = capital(day.words.names.of("material", delivery.material))
            when = wording.short_moment(day.words, delivery.at)
            yield delivery.at, day.words.say(say.DUE_COMES, material=name), when


def _coats(day: Day, plan: Plan, found: "Mapping[StepId, Cured]", now: datetime) -> Iterator[Due]:
    from scheduler.dues import dues

    words = day.words
    for due in dues(day.book, plan, now, found):
        if due.is_abraded or not due.is_over or due.runs_out >= day.first + SOON:
            continue
        what = words.say(
            say.DUE_COAT,
            job=words.names.of("job", due.job),
            coat=words.names.bare_step(due.coat),
            next=words.names.bare_step(due.next),
        )
        moment = wording.short_moment(words, due.runs_out)
        yield due.runs_out, what, words.say(say.BY, day=moment)


def cares(day: Day, steps: Iterable[StepId]) -> tuple[Care, ...]:
    """Return what to mind in steps, each caution once, with the stages that call for it."""
    words, wanted = day.words, frozenset(steps)
    merged: dict[str, Caution] = {}
    stages: dict[str, dict[str, None]] = defaultdict(dict)
    for job, step in _steps(day.book, wanted):
        for each in cautions_of(day.book, job, step):
            known = merged.get(each.id)
            places = (*(known.places if known else ()), *each.places)
            merged[each.id] = replace(each, places=tuple(dict.fromkeys(places)))
            stages[each.id][step.name] = None
    return tuple(
        Care(
            id=each.id,
            name=capital(words.say(cautioning.NAMES[each.id])),
            text=words.say(
                say.CARE_IN,
                caution=cautioning.sentence(words, each),
                stages=_some(words, tuple(stages[each.id])),
            ),
        )
        for each in merged.values()
    )


def _steps(book: Book, wanted: frozenset[StepId]) -> Iterator[tuple[Job, Step]]:
    for job in book.jobs:
        for step in job.steps:
            if step.id in wanted:
                yield job, step


def _some(words: Words, names: tuple[str, ...]) -> str:
    return words.series(names[:STAGES_MAX]) + (" …" if len(names) > STAGES_MAX else "")


def caution_ids(day: Day, steps: Iterable[StepId]) -> tuple[str, ...]:
    """Return which cautions go with steps."""
    found = (
        each.id
        for job, step in _steps(day.book, frozenset(steps))
        for each in cautions_of(day.book, job, step)
    )
    return tuple(dict.fromkeys(found))


def day_calendar(book: Book) -> DayCalendar:
    """Return which days the workshop works."""
    shop = shop_calendar(book)
    weekdays = tuple(sorted({each for shift in shop.shifts for each in shift.days}))
    return DayCalendar(holidays=shop.holidays, closed=shop.closed, weekdays=weekdays)


def days_left(day: Day, plan: Plan) -> tuple[Left, ...]:
    """Return the working days left to each planned job's window, the day itself counted."""
    calendar = day_calendar(day.book)
    planned = [job for job in day.book.jobs if job.id in plan.jobs and job.held_window is not None]
    found = []
    for job in planned:
        held = job.held_window
        assert held is not None
        site = ZoneInfo(job.site.zone)
        opens, shuts = held.start.astimezone(site).date(), held.end.astimezone(site).date()
        figure = _left(day, calendar, opens, shuts)
        found.append((opens, Left(job=job.name, figure=figure, shapes=shapes_of(job, {}))))
    return tuple(each for _, each in sorted(found, key=lambda one: (one[0], one[1].job)))


def _left(day: Day, calendar: DayCalendar, opens: date, shuts: date) -> str:
    if day.day > shuts:
        return day.words.say(say.LEFT_NONE)
    if day.day >= opens:
        return day.words.say(say.OPEN_NOW)
    ahead = (opens - day.day).days
    return str(sum(is_working_day(calendar, day.day + n * _A_DAY) for n in range(ahead)))
