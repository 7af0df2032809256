"""What the told plan says has happened by now and nobody has confirmed or denied.

Work whose told time is over counts as done, work under way as begun with the share of its hours
that is left. An answer, a loading and a journey are never taken as told, nor is what comes after
something that isn't over, or was told to somebody who is gone or was away.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import ROUND_DOWN, Decimal
from fractions import Fraction
from functools import cached_property
from math import ceil
from typing import TYPE_CHECKING

from shared.book import (
    NOT_BEGUN,
    Answer,
    Book,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Job,
    Journey,
    Stage,
    Step,
    Way,
)
from shared.ids import FactId, PersonId, StepId
from shared.order import afters_of
from shared.plan import Placement
from shared.units import ceil_to_step

if TYPE_CHECKING:
    from shared.worktime import WorkCalendar

_FINE = Decimal("0.000001")
_QUARTERS = 4
_QUARTER_SECONDS = 900
_YES = (Answer.YES, Answer.CHANGES)


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class AsTold(Fact):
    """A fact that only the sheet speaks for: done or running."""


def with_as_told(book: Book, now: datetime) -> Book:
    """Return a book with the facts that only the sheet speaks for, as of now."""
    found = as_told(book, now)
    return replace(book, facts=(*book.facts, *found)) if found else book


def as_told(book: Book, now: datetime) -> tuple[AsTold, ...]:
    """Return what counts as done or under way because the sheet says so, in the plan's order.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of the workshop's zone or holidays.
    """
    if book.told is None:
        return ()
    past = [each for each in book.told.plan.placements if each.start < now and not each.part]
    return tuple(_Sheet(book, now).facts(past)) if past else ()


class _Sheet:
    """The told plan beside the facts of its book."""

    def __init__(self, book: Book, now: datetime) -> None:
        self._book, self._now = book, now
        self._jobs = {job.id: job for job in book.jobs}
        self._steps = {step.id: step for job in book.jobs for step in job.steps}
        self._people = {person.id: person for person in book.people}
        self._over = {fact.step for fact in book.facts if fact.kind is FactKind.DONE}
        self._over |= {fact.step for fact in book.facts if fact.answer in _YES}
        told_of = {fact.step for fact in book.facts if fact.kind not in NOT_BEGUN}
        self._begun = self._over | told_of
        self._held = _held(book)

    def facts(self, past: list[Placement]) -> Iterator[AsTold]:
        """Give the facts of placements that have begun, each behind those it comes after."""
        for placed in sorted(past, key=lambda each: (each.start, each.end)):
            step, job = self._steps.get(placed.step), self._jobs.get(placed.job)
            if step is None or job is None or not is_work(step) or step.id in self._begun:
                continue
            if step.id in self._held and placed.start <= self._held[step.id]:
                continue
            if self._were_there(placed) and self._may_have_begun(job, step):
                yield from self._noted(step, placed)

    def _noted(self, step: Step, placed: Placement) -> Iterator[AsTold]:
        """Give when a step began, and when it ended or what is left of it."""
        begun = AsTold(
            id=FactId(f"{step.id} as told"),
            kind=FactKind.RUNNING,
            step=step.id,
            at=placed.start,
            told_by="",
            people=placed.people,
            place=placed.place,
            way=placed.way,
        )
        is_over = placed.end <= self._now
        left = None if is_over else self._left(step, placed)
        if is_over:
            self._over.add(step.id)
            yield begun
            yield replace(
                begun, id=FactId(f"{step.id} done as told"), kind=FactKind.DONE, at=placed.end
            )
        elif left is not None:
            yield replace(begun, remaining_hours=left)
        else:
            return
        self._begun.add(step.id)

    def _were_there(self, placed: Placement) -> bool:
        until = min(placed.end, self._now)
        people = [self._people.get(person) for person in placed.people]
        return all(
            person is not None
            and not any(each.start < until and each.end > placed.start for each in person.leave)
            for person in people
        )

    @cached_property
    def _afters(self) -> Mapping[StepId, tuple[tuple[StepId, bool], ...]]:
        return {
            step: tuple((after.step, after.from_start) for after in afters)
            for job in self._jobs.values()
            for step, afters in afters_of(job).items()
        }

    def _may_have_begun(self, job: Job, step: Step) -> bool:
        """Return whether all that a step of a job comes after is over, or begun where that does."""
        return all(
            before in (self._begun if from_start else self._over) or before not in self._steps
            for before, from_start in self._afters[step.id]
        )

    def _left(self, step: Step, placed: Placement) -> Decimal | None:
        """Return the person-hours that are left of what is under way.

        What it takes in all, less what was worked since it began; nobody of it was away.
        """
        ways = () if isinstance(step, Journey) else step.ways
        way = next((way for way in ways if way.id == placed.way), None)
        if way is None or not placed.people or isinstance(step, Journey):
            return None
        whole = self._needed(way, placed, in_one_go=step.in_one_go)
        done = self._worked(placed, placed.start, ceil_to_step(self._now))
        if done >= whole:
            # Something else held them meanwhile: what the sheet still has for it is left.
            left = self._worked(placed, ceil_to_step(self._now), placed.end)
            done = max(Fraction(0), whole - left)
        if not whole:
            return None
        share = (whole - done) / whole
        hours = Fraction(way.hours.likely) * share
        return (Decimal(hours.numerator) / hours.denominator).quantize(_FINE, ROUND_DOWN)

    def _needed(self, way: Way, placed: Placement, *, in_one_go: bool) -> Fraction:
        """Return the quarters that work takes its people in all, rounded up."""
        shop, hands = self._book.workshop, max(1, way.hands_count)
        paces = [Fraction(self._people[person].pace) for person in placed.people]
        bench = (1 + Fraction(shop.pair_loss_percent) / 100 * (hands - 1)) / hands
        hours = Fraction(way.hours.likely) * bench * len(paces) / sum(paces)
        if not in_one_go:
            hours *= Fraction(shop.shift_hours) / Fraction(shop.useful_hours)
        return Fraction(ceil(hours * _QUARTERS))

    def _worked(self, placed: Placement, start: datetime, end: datetime) -> Fraction:
        """Return the quarters that all people of something work, leave and other work left out."""
        from shared.worktime import Span, intersect, open_spans, subtract, total_seconds, union

        if start >= end:
            return Fraction(0)
        spans = union(Span(start=start, end=end))
        for person in dict.fromkeys(placed.people):
            spans = intersect(spans, open_spans(self._hours(person), start, end))
            held = (each for each in self._book.other_work if person in each.people)
            for each in held:
                if each.start < each.end:
                    spans = subtract(spans, union(Span(start=each.start, end=each.end)))
        return Fraction(total_seconds(spans), _QUARTER_SECONDS)

    def _hours(self, person: PersonId) -> "WorkCalendar":
        """Return the hours of a person, leave left out."""
        from shared.worktime import DateSpan, HolidayRule, Span, WorkCalendar, union

        shop, who = self._book.workshop, self._people[person]
        rule = HolidayRule(
            country=shop.country,
            subdivision=shop.subdivision,
            categories=shop.holiday_categories,
        )
        shut = (each for each in shop.closures if each.first <= each.last)
        away = (each for each in who.leave if each.start < each.end)
        extra = (each for each in who.overtime_taken if each.start < each.end)
        return WorkCalendar(
            zone=shop.zone,
            shifts=who.hours or shop.shifts,
            holidays=rule,
            closed=tuple(DateSpan(first=each.first, last=each.last) for each in shut),
            away=union(Span(start=each.start, end=each.end) for each in away),
            extra=union(Span(start=each.start, end=each.end) for each in extra),
        )


def _held(book: Book) -> dict[StepId, datetime]:
    """Return until when each step was told not to have begun, what the sheet has before is void."""
    found: dict[StepId, datetime] = {}
    for fact in book.facts:
        if fact.kind is FactKind.HELD:
            found[fact.step] = max(fact.at, found.get(fact.step, fact.at))
    return found


def is_work(step: Step) -> bool:
    """Return whether hours are what a step is about: no answer, no loading, no journey."""
    return isinstance(step, Stage) or (isinstance(step, Gate) and step.gate is GateKind.TRIAL_FIT)
