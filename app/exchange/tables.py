"""A plan, its hours and its orders as tables of typed cells. No Qt."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from app.exchange.given import Given
from app.exchange.work import Worked, stage_text, times_there, worked
from app.window.people.days import at_work, midnight
from app.window.wall.parts import stands
from app.words import give as say
from app.words import orders as ordering
from app.words import window as wording
from app.words.template import Template
from app.words.voice import capital
from shared.book import Fact, Gate, Job, Journey, Material, Stage
from shared.estimate.recorded import recorded_hours
from shared.ids import PersonId, StepId
from shared.journeys.clocks import clocks_of
from shared.orders import Order, buying
from shared.plan import Placement, Trip
from shared.worktime.zones import local_date

Cell = str | int | Decimal | date | datetime | None
"""Moments stand by the clock of the zone beside them, or of the workshop; without a zone."""
Row = tuple[Cell, ...]
_A_DAY = timedelta(days=1)
_HOUR = timedelta(hours=1)
_HUNDREDTH = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under columns. id: of the table in every language."""

    id: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


PLAN_COLUMNS: tuple[Template, ...] = (
    *(say.JOB, say.PIECES, say.STEP, say.KIND, say.START, say.END, say.ZONE, say.PEOPLE),
    *(say.PLACE, say.THINGS, say.ROUND, say.LOW, say.LIKELY, say.HIGH, say.RECORDED),
    *(say.STANDS, say.STEP_ID),
)
HOURS_COLUMNS: tuple[Template, ...] = (
    *(say.DAY, say.PERSON, say.JOB, say.PIECES, say.STEP, say.KIND, say.HOURS, say.STEP_ID),
)
ORDER_COLUMNS: tuple[Template, ...] = (
    *(say.ORDER_BY, say.HERE_BY, say.NEEDED_ON, say.NOT_BEFORE, say.MATERIAL, say.SUPPLIER),
    *(say.QUANTITY, say.UNIT, say.PACKS, say.NEEDED, say.JOBS, say.COST, say.CURRENCY),
    *(say.OVERDUE, say.DEPOSITS, say.MATERIAL_ID),
)


def tables(given: Given) -> tuple[Table, ...]:
    """Return plan, hours and orders. What people cost and why they are away is in none."""
    found = tuple(worked(given.book, given.plan, given.words))
    return (
        _table(given, "plan", say.PLAN, PLAN_COLUMNS, _plan_rows(given, found)),
        _table(given, "hours", say.HOURS_TITLE, HOURS_COLUMNS, _hour_rows(given, found)),
        _table(given, "orders", say.ORDERS, ORDER_COLUMNS, _order_rows(given)),
    )


def _table(
    given: Given, identity: str, title: Template, columns: Iterable[Template], rows: Iterable[Row]
) -> Table:
    words = given.words
    return Table(
        id=identity,
        title=words.say(title),
        columns=tuple(words.say(each) for each in columns),
        rows=tuple(rows),
    )


def local(when: datetime, zone: str) -> datetime:
    """Return an instant by a zone's clock, without the zone."""
    return when.astimezone(ZoneInfo(zone)).replace(tzinfo=None)


# The plan.


def _plan_rows(given: Given, found: tuple[Worked, ...]) -> Iterator[Row]:
    every = [*_work_rows(given, found), *_moment_rows(given, found), *_leg_rows(given)]
    for _, row in sorted(every, key=lambda each: each[0]):
        yield row


_Key = tuple[datetime, str, int]


def _work_rows(given: Given, found: tuple[Worked, ...]) -> Iterator[tuple[_Key, Row]]:
    words, zone = given.words, given.book.workshop.zone
    facts: dict[StepId, list[Fact]] = defaultdict(list)
    for fact in given.book.facts:
        facts[fact.step].append(fact)
    recorded = recorded_hours(given.book)
    for at, each in enumerate(found):
        placed, step = each.placed, each.step
        way = next((w for w in step.ways if w.id == placed.way), None) if not placed.part else None
        hours = way.hours if way is not None else None
        state = stands(placed, facts[step.id], is_told=False)
        yield (
            (placed.start, step.id, at),
            (
                *(each.job.name, each.what, each.stage, wording.kind(words, each.kind)),
                *(local(placed.start, zone), local(placed.end, zone), zone),
                *(_people(given, placed.people), _place(given, placed), _things(given, placed)),
                placed.round or None,
                *((hours.low, hours.likely, hours.high) if hours else (None, None, None)),
                None if placed.part else recorded.get(step.id),
                words.say(say.STATES[state]),
                step.id,
            ),
        )


def _people(given: Given, people: Iterable[PersonId]) -> str:
    return given.words.series(given.words.names.of("person", one) for one in people)


def _place(given: Given, placed: Placement) -> str:
    return given.words.names.of("place", placed.place) if placed.place else ""


def _things(given: Given, placed: Placement) -> str:
    return given.words.series(given.words.names.of("equipment", one) for one in placed.equipment)


def _moment_rows(given: Given, found: tuple[Worked, ...]) -> Iterator[tuple[_Key, Row]]:
    """Give answers, and gates at which nobody works."""
    words, zone = given.words, given.book.workshop.zone
    at_it = {id(each.placed) for each in found}
    steps = {step.id: (job, step) for job in given.book.jobs for step in job.steps}
    for at, placed in enumerate(given.plan.placements):
        job, step = steps.get(placed.step, (None, None))
        if job is None or step is None or isinstance(step, Journey) or id(placed) in at_it:
            continue
        kind = "" if isinstance(step, Stage) else wording.gate(words, step.gate)
        start, end = local(placed.start, zone), local(placed.end, zone)
        row = _bare(job, _pieces(given, step), stage_text(words, step, placed), kind, step.id)
        yield (placed.start, step.id, at), (*row[:4], start, end, zone, *row[7:])


def _pieces(given: Given, step: Stage | Gate) -> str:
    return given.words.names.pieces_of(step.id)


def _bare(job: Job, pieces: str, step: str, kind: str, identity: str) -> Row:
    """Return a row of the plan with nothing in it but names."""
    count = len(PLAN_COLUMNS) - 5
    return (job.name, pieces or job.name, step, kind, *([None] * count), identity)


def _leg_rows(given: Given) -> Iterator[tuple[_Key, Row]]:
    steps = {step.id: (job, step) for job in given.book.jobs for step in job.steps}
    for trip in given.plan.trips:
        job, step = steps.get(trip.step, (None, None))
        if job is not None and isinstance(step, Journey):
            yield from _trip_rows(given, job, step, trip)


def _trip_rows(given: Given, job: Job, step: Journey, trip: Trip) -> Iterator[tuple[_Key, Row]]:
    """Give the legs of a journey; a leg begins and ends by the clock of where it begins."""
    words, people = given.words, _people(given, step.crew)
    clocks = clocks_of(given.book, job, step.legs)
    for at, (leg, clock, times) in enumerate(zip(step.legs, clocks, trip.legs, strict=True)):
        name = leg.name or capital(wording.leg(words, leg.kind))
        row = _bare(job, job.name, name, step.name, step.id)
        start, end = local(times.start, clock.start), local(times.end, clock.start)
        yield (times.start, step.id, at), (*row[:4], start, end, clock.start, people, *row[8:])


# Hours.


def _hour_rows(given: Given, found: tuple[Worked, ...]) -> Iterator[Row]:
    """Give hours at the bench by day, person and step; the road has none of them."""
    every = [*_bench(given, found), *_besides(given)]
    order = {person.id: at for at, person in enumerate(given.book.people)}
    for day, person, row, hours in sorted(every, key=lambda e: (e[0], order.get(e[1], -1), e[2])):
        name = given.words.names.of("person", person)
        yield (day, name, *row[:4], hours.quantize(_HUNDREDTH), row[4])


_Names = tuple[str, str, str, str, str]
_Hours = tuple[date, PersonId, _Names, Decimal]


def _bench(given: Given, found: tuple[Worked, ...]) -> Iterator[_Hours]:
    for each in found:
        kind = wording.kind(given.words, each.kind)
        names = (each.job.name, each.what, each.stage, kind, str(each.step.id))
        spans = [(span.start, span.end) for span in each.spans]
        for day, hours in _by_day(given.book.workshop.zone, spans):
            for person in each.placed.people:
                yield day, person, names, hours


def _besides(given: Given) -> Iterator[_Hours]:
    there = times_there(given.book, given.plan)
    for work in given.book.other_work:
        for person in work.people:
            spans = [(s.start, s.end) for s in at_work((person,), work.start, work.end, there)]
            for day, hours in _by_day(given.book.workshop.zone, spans):
                yield day, person, ("", capital(work.name), "", "", work.id), hours


def _by_day(
    zone: str, spans: Iterable[tuple[datetime, datetime]]
) -> Iterator[tuple[date, Decimal]]:
    found: dict[date, timedelta] = defaultdict(timedelta)
    for start, end in spans:
        here = start
        while here < end:
            day = local_date(here, zone)
            until = min(end, midnight(day + _A_DAY, zone))
            found[day] += until - here
            here = until
    for day, time in found.items():
        yield day, Decimal(int(time.total_seconds())) / Decimal(int(_HOUR.total_seconds()))


# Orders.


def _order_rows(given: Given) -> Iterator[Row]:
    materials = {each.id: each for each in given.book.materials}
    for order in buying(given.book, given.plan, given.now).orders:
        yield _order(given, order, materials[order.material])


def _order(given: Given, order: Order, material: Material) -> Row:
    words, dates = given.words, order.dates
    jobs = words.series(words.names.of("job", each) for each in order.jobs)
    deposits = words.series(words.names.of("job", each) for each in order.deposit_first)
    return (
        *(dates.order_by, dates.receive_by, dates.need, dates.not_before),
        *(material.name, words.names.of("supplier", order.supplier or "")),
        *(order.quantity, ordering.unit(words, material.unit), order.packs, order.needed),
        *(jobs, order.cost, words.currency if order.cost is not None else ""),
        *(dates.overdue_days, deposits, material.id),
    )
