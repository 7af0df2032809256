"""Person-hours that were recorded: of stages told as begun and as done, and by whom."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from shared.book import Book, Fact, FactKind, Person, Stage
from shared.ids import StepId
from shared.units import decimal_of

_SECONDS_PER_HOUR = 3600
_PERCENT = 100
_PLACES = 2


def recorded_hours(book: Book) -> Mapping[StepId, Decimal]:
    """Return the person-hours of stages that were told as begun, as done, and by whom.

    They are the workshop's working time from the one to the other, turned into person-hours as the
    plan turns those into working time: by paces, the loss of hands together, and useful hours of a
    shift where the stage pauses. A stage of which only the end was told has none.
    """
    pairs = _pairs(book.facts)
    if not pairs:
        return {}
    stages = {s.id: s for job in book.jobs for s in job.steps if isinstance(s, Stage)}
    people = {person.id: person for person in book.people}
    found = {}
    for step, (begun, done) in pairs.items():
        names = done.people or begun.people
        team = [people[name] for name in names if name in people]
        if step in stages and team and begun.at < done.at:
            found[step] = _person_hours(book, stages[step], team, begun.at, done.at)
    return found


def ends_before_beginning(book: Book) -> tuple[StepId, ...]:
    """Return the stages that were told as done no later than they were told as begun."""
    stages = {s.id for job in book.jobs for s in job.steps if isinstance(s, Stage)}
    pairs = _pairs(book.facts).items()
    return tuple(step for step, (begun, done) in pairs if step in stages and done.at <= begun.at)


def _pairs(facts: Sequence[Fact]) -> dict[StepId, tuple[Fact, Fact]]:
    """Give by step the first fact that it ran and the last that it was done."""
    begun: dict[StepId, Fact] = {}
    done: dict[StepId, Fact] = {}
    for fact in facts:
        if fact.kind is FactKind.RUNNING:
            known = begun.get(fact.step)
            begun[fact.step] = fact if known is None or fact.at < known.at else known
        elif fact.kind is FactKind.DONE and fact.answer is None:
            done[fact.step] = fact
    return {step: (begun[step], done[step]) for step in begun if step in done}


def _person_hours(
    book: Book, stage: Stage, team: Sequence[Person], start: datetime, end: datetime
) -> Decimal:
    workshop = book.workshop
    hours = Fraction(_worked_seconds(book, start, end), _SECONDS_PER_HOUR)
    if not stage.in_one_go:
        hours *= Fraction(workshop.useful_hours) / Fraction(workshop.shift_hours)
    loss = 1 + Fraction(workshop.pair_loss_percent) / _PERCENT * (len(team) - 1)
    paces = sum((Fraction(person.pace) for person in team), Fraction(0))
    return decimal_of(hours * paces / loss, _PLACES)


def _worked_seconds(book: Book, start: datetime, end: datetime) -> int:
    # Only who has such facts pays for calendars.
    from shared.worktime import DateSpan, HolidayRule, WorkCalendar, working_seconds

    workshop = book.workshop
    calendar = WorkCalendar(
        zone=workshop.zone,
        shifts=workshop.shifts,
        holidays=HolidayRule(
            country=workshop.country,
            subdivision=workshop.subdivision,
            categories=workshop.holiday_categories,
        ),
        closed=tuple(DateSpan(first=shut.first, last=shut.last) for shut in workshop.closures),
    )
    return working_seconds(calendar, start, end)
