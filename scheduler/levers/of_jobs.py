"""Levers of the jobs themselves: answers, windows, pins, what was laid down, what holds places."""

from collections.abc import Collection, Iterator
from datetime import datetime, timedelta
from decimal import Decimal

from scheduler.levers.attendance import days_of
from scheduler.normalise.answers import answer_days, answerer
from shared.book import (
    Answer,
    Book,
    Booking,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Job,
    Journey,
    Person,
    SkillLevel,
    Stage,
    Standing,
    Step,
)
from shared.delivery.judged import is_judged
from shared.ids import JobId, SkillId, StepId
from shared.levers import Lever, LeverKind
from shared.worktime import is_working_day
from shared.worktime.zones import local_date

ANSWER_DAYS = (5, 2)
"""In so many working days a client might answer who is asked to."""
CREW_MAX = 3
"""So many people are looked at who could go with a journey for one who goes."""
_A_WEEK = timedelta(days=7)


def of_jobs(
    book: Book, now: datetime, jobs: Collection[JobId], done: Collection[StepId]
) -> Iterator[Lever]:
    """Yield what could be asked or lifted of the jobs spoken of, and of others for their sake.

    done: steps that are over, or so far gone that nothing of them can be changed.
    """
    for job in book.jobs:
        mine = job.id in jobs
        if mine:
            yield from _answers(book, job, done)
            yield from _at_once(book, job, now, done)
            yield from _windows(job, now, LeverKind.OTHER_WINDOW)
            yield from _reserves(job)
            yield from _crews(book, job, done)
        elif job.standing is not Standing.ENQUIRY:
            yield from _windows(job, now, LeverKind.RE_PROMISE)
        yield from _pins(job, done, mine=mine)


def settled(book: Book, now: datetime) -> frozenset[StepId]:
    """Return the steps that have been done or answered with yes."""
    return frozenset(fact.step for fact in book.facts if fact.at <= now and _settles(fact))


def _settles(fact: Fact) -> bool:
    if fact.kind is FactKind.ANSWER:
        return fact.answer is not Answer.NO
    return fact.kind in (FactKind.DONE, FactKind.RUNNING, FactKind.GONE)


def _answers(book: Book, job: Job, done: Collection[StepId]) -> Iterator[Lever]:
    refused = {fact.step for fact in book.facts if fact.answer is Answer.NO}
    offered = {about for offer in book.offers if _is_answer(offer.kind) for about in offer.about}
    for step in job.steps:
        if not isinstance(step, Gate) or step.gate is not GateKind.ANSWER or step.id in done:
            continue
        who = answerer(job, step)
        usual = answer_days(who, step)
        for days in ANSWER_DAYS:
            if days < usual and step.id not in offered and job.id not in offered:
                yield _of_step(LeverKind.ANSWER_SOONER, step, f":{days}", days, who.name)
        if step.allow_no and step.id not in refused:
            yield _of_step(LeverKind.ONE_ROUND, step, "", None, who.name)


def _is_answer(kind: str) -> bool:
    return kind.strip().lower() == "answer"


def _of_step(
    kind: LeverKind, step: Step, more: str = "", days: int | None = None, agrees: str = ""
) -> Lever:
    name = f"{kind.value}:{step.id}{more}"
    return Lever(kind=kind, id=name, about=(str(step.id),), days=days, agrees=agrees)


def _at_once(book: Book, job: Job, now: datetime, done: Collection[StepId]) -> Iterator[Lever]:
    today = local_date(now, book.workshop.zone)
    if job.not_before is not None and job.not_before > today:
        yield Lever(
            kind=LeverKind.START_AT_ONCE, id=f"start_at_once:{job.id}", about=(str(job.id),)
        )
    offered = {
        about
        for offer in book.offers
        if offer.kind.strip().lower() == "courier"
        for about in offer.about
    }
    for step in job.steps:
        if isinstance(step, Journey) or step.id in done:
            continue
        waits = step.not_before is not None and step.not_before > today
        if waits and step.id not in offered:
            yield _of_step(LeverKind.START_AT_ONCE, step)


def _windows(job: Job, now: datetime, kind: LeverKind) -> Iterator[Lever]:
    held = job.held_window
    for window in job.windows:
        if window is held or window.end <= now:
            continue
        dearer = window.price - (held.price if held is not None else Decimal(0))
        yield Lever(
            kind=kind,
            id=f"{kind.value}:{job.id}:{window.id}",
            about=(str(job.id), str(window.id)),
            price=max(Decimal(0), dearer),
            start=window.start,
            end=window.end,
            agrees=job.client.name,
            only_helps=False,
        )


def _reserves(job: Job) -> Iterator[Lever]:
    for step in job.steps:
        if isinstance(step, Journey) and is_judged(step) and step.reserve_minutes != 0:
            yield _of_step(LeverKind.NO_RESERVE, step)


def _crews(book: Book, job: Job, done: Collection[StepId]) -> Iterator[Lever]:
    """Yield who could go with a journey for whom; they share most that the other can do."""
    people = {person.id: person for person in book.people}
    for step in job.steps:
        if not isinstance(step, Journey) or step.id in done:
            continue
        driving = {driver for means in step.means for driver in means.driven_by}
        others = [each for each in book.people if each.id not in step.crew and _may_go(each)]
        for stays in step.crew:
            if stays not in people or stays in driving:
                continue
            like = sorted(others, key=lambda each: -_shared(each, people[stays]))
            for goes in like[:CREW_MAX]:
                if _shared(goes, people[stays]):
                    yield Lever(
                        kind=LeverKind.CREW,
                        id=f"crew:{step.id}:{stays}:{goes.id}",
                        about=(str(step.id), str(stays), str(goes.id)),
                        agrees=goes.name,
                        only_helps=False,
                    )


def _may_go(person: Person) -> bool:
    return not person.under_18 and not person.freelance


def _shared(one: Person, other: Person) -> int:
    return len(_does(one) & _does(other))


def _does(person: Person) -> frozenset[SkillId]:
    return frozenset(each.skill for each in person.skills if each.level is not SkillLevel.HELPS)


def _pins(job: Job, done: Collection[StepId], *, mine: bool) -> Iterator[Lever]:
    for step in job.steps:
        if isinstance(step, Journey) or step.id in done:
            continue
        if step.pin is not None:
            yield _of_step(LeverKind.LIFT_PIN, step)
        if isinstance(step, Stage) and mine:
            if step.people:
                yield _of_step(LeverKind.LIFT_NAMES, step)
            if step.same_people_as is not None:
                yield _of_step(LeverKind.LIFT_SAME, step)


def of_bookings(book: Book, now: datetime, until: datetime) -> Iterator[Lever]:
    """Yield what holds people and places from outside, to be done by whole weeks later."""
    for work in book.other_work:
        if now < work.start < until:
            start, end = _later(book, work.start, work.end, until)
            yield Lever(
                kind=LeverKind.PUT_OFF,
                id=f"put_off:{work.id}",
                about=(str(work.id),),
                start=start,
                end=end,
                facts=(("name", work.name),),
            )
    held = [(str(place.id), place.bookings) for place in book.places]
    held += [(str(thing.id), thing.bookings) for thing in book.equipment]
    for thing, bookings in held:
        for booking in bookings:
            if now < booking.end and booking.start < until:
                yield _freed(book, thing, booking, now, until)


def _freed(book: Book, thing: str, booking: Booking, now: datetime, until: datetime) -> Lever:
    # What has begun may be cleared today; it goes on after all that is spoken of.
    start, end = _later(book, max(booking.start, now), booking.end, until)
    return Lever(
        kind=LeverKind.FREE_PLACE,
        id=f"free_place:{thing}:{booking.start.isoformat()}",
        about=(thing,),
        start=start,
        end=end,
        facts=(("name", booking.name), ("was", booking.start.isoformat())),
        agrees=booking.name,
    )


def _later(
    book: Book, start: datetime, end: datetime, until: datetime
) -> tuple[datetime, datetime]:
    """Return a stretch so many weeks later that it begins after all that is spoken of."""
    zone, days = book.workshop.zone, days_of(book)
    weeks = 1
    while start + weeks * _A_WEEK < until or not is_working_day(
        days, local_date(start + weeks * _A_WEEK, zone)
    ):
        weeks += 1
        if start + weeks * _A_WEEK >= until + 8 * _A_WEEK:
            break
    return start + weeks * _A_WEEK, end + weeks * _A_WEEK
