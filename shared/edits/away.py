"""Somebody or something is away: written down, and one of the answers to it taken."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, time, timedelta

from shared.absence import Absence, AwayKind
from shared.book import Book, Booking, Delivery, Job, Journey, Leave, Step
from shared.edits.edited import Changed, Edited, found, label
from shared.edits.levers import pull_all
from shared.edits.lookup import person_of
from shared.edits.told import tell_plan
from shared.ids import PersonId, StepId
from shared.levers import Lever
from shared.plan import Plan
from shared.worktime.zones import local_date, local_instant

_A_DAY = timedelta(days=1)


def mark_away(book: Book, absence: Absence) -> Edited:
    """Give the book with somebody or something away; no reason is written.

    Of a delivery: what was to come in that time comes at its end, and the steps that wait for it
    begin no sooner than the next morning.

    Raises
    ------
    NoSuchThing
        If the book doesn't have it.
    """
    marks = {
        AwayKind.PERSON: _person,
        AwayKind.PLACE: _place,
        AwayKind.EQUIPMENT: _equipment,
        AwayKind.DELIVERY: _delivery,
    }
    made = marks[absence.kind](book, absence)
    new = replace(made, revision=book.revision + 1)
    changed = Changed(
        jobs=frozenset(
            new_job.id
            for old, new_job in zip(book.jobs, new.jobs, strict=True)
            if old is not new_job
        ),
        people=new.people is not book.people,
        workshop=new.places is not book.places or new.equipment is not book.equipment,
    )
    return Edited(book=new, changed=changed, label=label("mark_away", name=_name(book, absence)))


def take_answer(
    book: Book, absence: Absence, levers: Iterable[Lever], plan: Plan, now: datetime
) -> Edited:
    """Give the book with somebody or something away and an answer to it taken, as one edit.

    Where people have a sheet, the plan of the answer is what they are told from now on; else it is
    kept as the one that was made.
    """
    pulled = tuple(levers)
    made = mark_away(book, absence)
    new = pull_all(made.book, pulled).book if pulled else made.book
    told = book.told
    sheet = None if told is None else tell_plan(new, plan, now, told.told_by).book
    new = replace(new, plan=plan) if sheet is None else sheet
    changed = replace(made.changed, plan=True)
    new = replace(new, revision=book.revision + 1)
    what = label("take_answer", name=_name(book, absence))
    return Edited(book=new, changed=changed, label=what)


def _name(book: Book, absence: Absence) -> str:
    names: dict[str, str] = {each.id: each.name for each in book.materials}
    names |= {each.id: each.name for each in book.equipment}
    names |= {each.id: each.name for each in book.places}
    names |= {each.id: each.name for each in book.people}
    return names.get(absence.id, absence.id)


def _person(book: Book, absence: Absence) -> Book:
    person = person_of(book, PersonId(absence.id))
    leave = Leave(start=absence.start, end=absence.end)
    away = replace(person, leave=(*person.leave, leave))
    return replace(book, people=tuple(away if each is person else each for each in book.people))


def _place(book: Book, absence: Absence) -> Book:
    place = found(book.places, lambda each: each.id == absence.id, absence.id)
    taken = replace(place, bookings=(*place.bookings, _booking(absence)))
    return replace(book, places=tuple(taken if each is place else each for each in book.places))


def _equipment(book: Book, absence: Absence) -> Book:
    thing = found(book.equipment, lambda each: each.id == absence.id, absence.id)
    taken = replace(thing, bookings=(*thing.bookings, _booking(absence)))
    things = tuple(taken if each is thing else each for each in book.equipment)
    return replace(book, equipment=things)


def _booking(absence: Absence) -> Booking:
    return Booking(start=absence.start, end=absence.end)


def _delivery(book: Book, absence: Absence) -> Book:
    found(book.materials, lambda each: each.id == absence.id, absence.id)
    deliveries = tuple(
        replace(each, at=absence.end) if _is_late(each, absence) else each
        for each in book.deliveries
    )
    jobs = tuple(_waiting(book, job, absence) for job in book.jobs)
    return replace(book, deliveries=deliveries, jobs=jobs)


def _is_late(delivery: Delivery, absence: Absence) -> bool:
    is_meant = delivery.material == absence.id and not delivery.arrived
    return is_meant and absence.start <= delivery.at < absence.end


def _waiting(book: Book, job: Job, absence: Absence) -> Job:
    wanted = frozenset(absence.steps)
    if not any(step.id in wanted for step in job.steps):
        return job
    steps = tuple(_later(book, step, absence, wanted) for step in job.steps)
    return replace(job, steps=steps)


def _later(book: Book, step: Step, absence: Absence, wanted: frozenset[StepId]) -> Step:
    if step.id not in wanted or isinstance(step, Journey):
        return step
    zone = book.workshop.zone
    day = local_date(absence.end, zone)
    if absence.end > local_instant(day, time(0), zone, opening=True):
        day += _A_DAY
    return replace(step, not_before=max(day, step.not_before or day))
