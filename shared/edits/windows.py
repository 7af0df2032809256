"""Edits of a window that moves, of what is arranged with others, and of notices given."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime

from shared.book import (
    Arrangement,
    ArrangementState,
    Book,
    Booking,
    Job,
    Journey,
    Leg,
    Notice,
    Step,
)
from shared.edits.edited import (
    Edited,
    NoSuchThing,
    fresh_id,
    job_of,
    label,
    of_job,
)
from shared.edits.edited import found as found_of
from shared.ids import JobId
from shared.shifting import Shifted, shifts_of


def move_window(
    book: Book,
    job_id: JobId,
    start: datetime,
    end: datetime,
    given_anew: Iterable[str] = (),
) -> Edited:
    """Move the window that a job holds; its access hours stay.

    Slots and other trades' stretches inside it shift with it by the site's clock (`shifts_of`
    tells which). given_anew: ids of notices that name the old date: they count as not given.

    Raises
    ------
    NoSuchThing
        If there is no such job, or it holds no window.
    """
    job = job_of(book, job_id)
    held = job.held_window
    if held is None:
        raise NoSuchThing(job_id)
    shifts = shifts_of(job, held, start)
    moved = replace(held, start=start, end=end, blocked=_with(held.blocked, shifts.blocked))
    anew = frozenset(given_anew)
    changed = replace(
        job,
        windows=tuple(moved if window is held else window for window in job.windows),
        steps=tuple(_shifted(step, shifts.slots) for step in job.steps),
        notices=tuple(_not_given(notice, anew) for notice in job.notices),
    )
    return of_job(book, changed, label("move_window", name=job.name))


def _with(stretches: tuple[Booking, ...], shifted: tuple[Shifted, ...]) -> tuple[Booking, ...]:
    new = {id(each.old): each.new for each in shifted}
    return tuple(new.get(id(each), each) for each in stretches)


def _shifted(step: Step, slots: tuple[Shifted, ...]) -> Step:
    if not isinstance(step, Journey):
        return step
    mine = tuple(each for each in slots if each.journey == step.id)
    if not mine:
        return step
    legs = tuple(_leg(leg, number, mine) for number, leg in enumerate(step.legs, 1))
    return replace(step, legs=legs)


def _leg(leg: Leg, number: int, slots: tuple[Shifted, ...]) -> Leg:
    mine = tuple(each for each in slots if each.leg == number)
    return replace(leg, slots=_with(leg.slots, mine)) if mine else leg


def _not_given(notice: Notice, anew: frozenset[str]) -> Notice:
    return replace(notice, done=None) if notice.id in anew and notice.done else notice


def add_arrangement(book: Book, job_id: JobId, arrangement: Arrangement) -> Edited:
    """Write down what is to be arranged for a job; an id that is taken gets a number."""
    job = job_of(book, job_id)
    taken = (each.id for each in job.arrangements)
    made = replace(arrangement, id=fresh_id(arrangement.id, taken))
    changed = replace(job, arrangements=(*job.arrangements, made))
    what = made.name or made.what
    return of_job(book, changed, label("add_arrangement", name=job.name, what=what))


def set_arrangement(
    book: Book,
    job_id: JobId,
    arrangement_id: str,
    state: ArrangementState,
    reference: str | None = None,
    times: tuple[datetime, datetime] | None = None,
) -> Edited:
    """Set how far something is arranged, its reference and what it is for; None: as it was.

    Raises
    ------
    NoSuchThing
        If there is no such job or arrangement.
    """
    job = job_of(book, job_id)
    old = found_of(job.arrangements, lambda each: each.id == arrangement_id, arrangement_id)
    start, end = (old.start, old.end) if times is None else times
    new = replace(
        old,
        state=state,
        reference=old.reference if reference is None else reference,
        start=start,
        end=end,
    )
    changed = _arranged(job, old, new)
    facts = {"name": job.name, "what": new.name or new.what, "state": str(state)}
    return of_job(book, changed, label("set_arrangement", **facts))


def _arranged(job: Job, old: Arrangement, new: Arrangement) -> Job:
    made = tuple(new if each is old else each for each in job.arrangements)
    return replace(job, arrangements=made)


def give_notice(book: Book, job_id: JobId, notice: Notice, day: date | None) -> Edited:
    """Write down the day on which a notice was given; None: not given after all.

    notice: the book's own, or a derived due as a notice (`notice_of`), which is written then.

    Raises
    ------
    NoSuchThing
        If there is no such job.
    """
    job = job_of(book, job_id)
    given = replace(notice, done=day)
    known = [each for each in job.notices if _same(each, notice)]
    if known:
        notices = tuple(given if each is known[0] else each for each in job.notices)
    else:
        notices = (*job.notices, given)
    changed = replace(job, notices=notices)
    return of_job(book, changed, label("give_notice", name=job.name, what=notice.name or notice.id))


def _same(one: Notice, other: Notice) -> bool:
    return (one.id, one.journey) == (other.id, other.journey)
