"""What somebody tells of the floor: work is over, so much is left, it is held up, material came.

The sheet says who worked where and since when; a person only tells what is otherwise.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from shared.as_told import as_told, is_work
from shared.book import Book, Fact, FactKind, Gate, GateKind, Held, Step
from shared.edits.edited import Changed, Edited, Label, label
from shared.edits.lookup import step_of
from shared.edits.people import tell_fact
from shared.edits.redo import NotNow
from shared.ids import FactId, StepId
from shared.plan import Placement
from shared.worktime.zones import local_date

_NOTHING = Decimal(0)


def mark_done(
    book: Book, placed: Placement, now: datetime, by: str, at: datetime | None = None
) -> Edited:
    """Note that what is placed is over, and that it began as placed where nobody said when.

    at: when it was over; None: at its planned end, or now where that is yet to come.
    """
    over = min(placed.end, now) if at is None else at
    return _noted(book, _over(book, placed.step, over, now, by, placed))


def mark_remaining(
    book: Book,
    placed: Placement,
    hours: Decimal,
    now: datetime,
    by: str,
    held_by: Held | None = None,
) -> Edited:
    """Note that what is placed is under way with so many person-hours left from now."""
    return _noted(book, [_left(book, placed.step, hours, now, by, placed, held_by)])


def tell_done(
    book: Book,
    step_id: StepId,
    now: datetime,
    by: str,
    at: datetime | None = None,
    planned: Placement | None = None,
) -> Edited:
    """Note that a step was over at a time, as the sheet has it otherwise.

    at: None: at its end on the sheet, or now where that is yet to come or it is on none. planned:
    where it is to be of which nobody was told.

    Raises
    ------
    NotNow
        If it is yet to come, was over before, or it is an answer or began only later.
    """
    step, placed = step_of(book, step_id), placed_of(book, step_id) or planned
    if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
        raise NotNow("answer_not_done", step=step.name)
    usual = now if placed is None else min(placed.end, now)
    over = usual if at is None else at
    _check_open(book, step, over, now)
    begun = _begun_at(book, step_id)
    if begun is not None and over < begun:
        raise NotNow("done_before_begun", step=step.name, moment=begun.isoformat())
    return _noted(book, _over(book, step_id, over, now, by, placed))


def tell_left(
    book: Book,
    step_id: StepId,
    hours: Decimal,
    now: datetime,
    by: str,
    held_by: Held | None = None,
    planned: Placement | None = None,
) -> Edited:
    """Note that so many person-hours of a step are left from now, and what held it up.

    planned: as of tell_done.

    Raises
    ------
    NotNow
        If it is no work, or over.
    """
    step = _work(book, step_id, now, now)
    placed = placed_of(book, step.id) or planned
    return _noted(book, [_left(book, step.id, hours, now, by, placed, held_by)])


def tell_held(
    book: Book, step_id: StepId, held_by: Held, now: datetime, by: str, at: datetime | None = None
) -> Edited:
    """Note that a step has not begun by a time (None: by now), whatever the sheet has.

    Raises
    ------
    NotNow
        If it is no work, has begun or is over, or the time is yet to come.
    """
    step = _work(book, step_id, at or now, now)
    begun = _begun_at(book, step_id)
    if begun is not None:
        raise NotNow("begun_already", step=step.name, moment=begun.isoformat())
    fact = _fact(step_id, FactKind.HELD, at or now, now, by)
    return _noted(book, [replace(fact, held_by=held_by)])


def tell_material(
    book: Book, step_id: StepId, now: datetime, by: str, at: datetime | None = None
) -> Edited:
    """Note that all that a step takes was there at a time (None: now).

    Raises
    ------
    NotNow
        If it is no work, or over, or the time is yet to come.
    """
    step = _work(book, step_id, at or now, now)
    return _noted(book, [_fact(step.id, FactKind.MATERIAL, at or now, now, by)])


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticked:
    """A day ticked as told: the edit (None where nothing was to tick), what it marks as over.

    left: what the sheet has for that day and can't be taken for done: it comes after something
    that isn't over, somebody was away, or it was held up.
    """

    edited: Edited | None
    done: tuple[StepId, ...]
    left: tuple[StepId, ...]


def tick_as_told(book: Book, day: date, now: datetime, by: str) -> Ticked:
    """Note as over all work that the sheet has ending on a day, but what is marked already.

    Never an answer, a cure, a loading or a journey.

    Raises
    ------
    NotNow
        If nobody was told a plan, or the day is yet to come.
    """
    zone = book.workshop.zone
    if book.told is None:
        raise NotNow("nothing_told")
    if day > local_date(now, zone):
        raise NotNow("day_to_come", day=day.isoformat())
    facts = as_told(book, now)
    over = [each for each in facts if each.kind is FactKind.DONE]
    done = tuple(each.step for each in over if local_date(each.at, zone) == day)
    known = {fact.step for fact in book.facts if fact.kind is FactKind.DONE} | set(done)
    steps = {step.id: step for job in book.jobs for step in job.steps}
    left = tuple(
        each.step
        for each in book.told.plan.placements
        if not each.part
        and each.end <= now
        and local_date(each.end, zone) == day
        and each.step not in known
        and each.step in steps
        and is_work(steps[each.step])
    )
    ticked = [_confirmed(each, now, by) for each in facts if each.step in done]
    what = label("tick_as_told", day=day.isoformat(), count=len(done))
    edited = _told(book, ticked, what) if ticked else None
    return Ticked(edited=edited, done=done, left=left)


def placed_of(book: Book, step_id: StepId) -> Placement | None:
    """Return where the sheet has a step, else the plan kept in the book; None where neither."""
    plans = (book.told.plan if book.told else None, book.plan)
    placements = (each for plan in plans if plan is not None for each in plan.placements)
    return next((each for each in placements if each.step == step_id and not each.part), None)


def _work(book: Book, step_id: StepId, at: datetime, now: datetime) -> Step:
    step = step_of(book, step_id)
    if not is_work(step):
        raise NotNow("no_hours", step=step.name)
    _check_open(book, step, at, now)
    return step


def _check_open(book: Book, step: Step, at: datetime, now: datetime) -> None:
    """Refuse what is yet to come, and a step that somebody said is over."""
    if at > now:
        raise NotNow("not_yet", moment=at.isoformat(), now=now.isoformat())
    over = [each for each in book.facts if each.step == step.id and each.kind is FactKind.DONE]
    if over:
        facts = {"moment": over[-1].at.isoformat(), "who": over[-1].told_by}
        code = "done_already" if over[-1].told_by else "done_by_nobody"
        raise NotNow(code, step=step.name, **facts)


def _begun_at(book: Book, step_id: StepId) -> datetime | None:
    running = (f.at for f in book.facts if f.step == step_id and f.kind is FactKind.RUNNING)
    return min(running, default=None)


def _over(
    book: Book, step_id: StepId, at: datetime, now: datetime, by: str, placed: Placement | None
) -> list[Fact]:
    done = _fact(step_id, FactKind.DONE, at, now, by, placed)
    is_new = placed is not None and placed.start < at and _begun_at(book, step_id) is None
    if placed is None or not is_new or not is_work(step_of(book, step_id)):
        return [done]
    begun = _fact(step_id, FactKind.RUNNING, placed.start, now, by, placed)
    return [replace(begun, remaining_hours=_NOTHING), done]


def _left(
    book: Book,
    step_id: StepId,
    hours: Decimal,
    now: datetime,
    by: str,
    placed: Placement | None,
    held_by: Held | None,
) -> Fact:
    start = now if placed is None else min(placed.start, now)
    at = _begun_at(book, step_id) or start
    fact = _fact(step_id, FactKind.RUNNING, at, now, by, placed)
    return replace(fact, remaining_hours=hours, held_by=held_by)


def _fact(
    step_id: StepId,
    kind: FactKind,
    at: datetime,
    now: datetime,
    by: str,
    placed: Placement | Fact | None = None,
) -> Fact:
    return Fact(
        id=FactId(f"{step_id} {kind.value}"),
        kind=kind,
        step=step_id,
        at=at,
        told_by=by,
        told_at=now,
        people=placed.people if placed else (),
        place=placed.place if placed else None,
        way=placed.way if placed else "",
    )


def _confirmed(fact: Fact, now: datetime, by: str) -> Fact:
    """Return what only the sheet said as what somebody says."""
    made = _fact(fact.step, fact.kind, fact.at, now, by, fact)
    return replace(made, remaining_hours=_NOTHING) if made.kind is FactKind.RUNNING else made


def _noted(book: Book, facts: list[Fact]) -> Edited:
    return _told(book, facts, label("add_fact", name=step_of(book, facts[0].step).name))


def _told(book: Book, facts: Iterable[Fact], what: Label) -> Edited:
    made = book
    for fact in facts:
        made = tell_fact(made, fact).book
    steps = {fact.step for fact in made.facts[len(book.facts) :]}
    jobs = frozenset(job.id for job in book.jobs if any(s.id in steps for s in job.steps))
    new = replace(made, revision=book.revision + 1)
    return Edited(book=new, changed=Changed(jobs=jobs), label=what)
