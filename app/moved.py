"""A window that moves, worked out: the plans without and with it, and all that differs."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from app.solved import Solved
from shared.book import Book, GateKind, Job, Journey, Window
from shared.book import Gate as GateStep
from shared.delivery.judged import AT_SEA
from shared.edits import Edited, move_window
from shared.ids import StepId
from shared.notices.calling import Call, Side, calls, side_of
from shared.notices.instants import Travelled
from shared.notices.listed import dues
from shared.notices.standing import Stands, stands
from shared.notices.values import OF_THE_DATE, Due
from shared.plan import Plan
from shared.shifting import Shifts, shifts_of

_OF_TRIP = frozenset({"departure", "sailing", "gate"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Redated:
    """An instant of a job in both plans, None where it has none.

    what: latest_loading, loading, departure, sailing or gate. name: of the journey, or of the
    sailing's leg.
    """

    what: str
    name: str
    was: datetime | None
    now: datetime | None

    @property
    def is_there(self) -> bool:
        """Return whether it happens at the site."""
        return self.what == "gate"


@dataclass(frozen=True, slots=True, kw_only=True)
class RedatedDue:
    """A notice or paper in both plans, None where one of them doesn't call for it."""

    was: Due | None
    now: Due | None

    @property
    def due(self) -> Due:
        """Return it as it is now, else as it was."""
        found = self.now or self.was
        assert found is not None
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """What a moved window comes to. undated: journeys that have no trip any more."""

    edited: Edited
    before: Solved
    after: Solved
    old: Job
    new: Job
    was: Window
    now: Window
    shifts: Shifts
    calls: tuple[Call, ...]
    redated: tuple[Redated, ...]
    dues: tuple[RedatedDue, ...]
    stands: tuple[Stands, ...]
    undated: tuple[StepId, ...]


def moving(
    book: Book, job: Job, start: datetime, end: datetime, plan: Plan, now: datetime
) -> Edited:
    """Return the book with the window moved; notices given for the old date count as not given.

    plan: of the book as it is. Raises NoSuchThing where the job holds no window.
    """
    given = (
        due.id
        for due in dues(book, job, plan, now)
        if due.done is not None and due.code in OF_THE_DATE
    )
    return move_window(book, job.id, start, end, given)


def moved(
    book: Book, job: Job, edited: Edited, solved: tuple[Solved, Solved], now: datetime
) -> Moved:
    """Work out what differs between a book's plan and that of the book with its window moved."""
    before, after = solved
    new = next(each for each in edited.book.jobs if each.id == job.id)
    was, held = job.held_window, new.held_window
    assert was is not None
    assert held is not None
    shifts = shifts_of(job, was, held.start)
    sides = (
        side_of(book, job, before.outcome.plan),
        side_of(edited.book, new, after.outcome.plan),
    )
    lost = _going(sides[0]) - _going(sides[1])
    return Moved(
        edited=edited,
        before=before,
        after=after,
        old=job,
        new=new,
        was=was,
        now=held,
        shifts=shifts,
        calls=calls(*sides, shifts, now),
        redated=tuple(_redated(sides, solved)),
        dues=_dues(*sides, now),
        stands=stands(edited.book, new, sides[0].trips, after.outcome.plan),
        undated=tuple(
            step.id for step in new.steps if isinstance(step, Journey) and step.id in lost
        ),
    )


def _going(side: Side) -> set[StepId]:
    return {trip.step for trip in side.trips}


def _redated(sides: tuple[Side, Side], solved: tuple[Solved, Solved]) -> Iterator[Redated]:
    old, new = (_instants(side, each) for side, each in zip(sides, solved, strict=True))
    going = _going(sides[1])
    for key in dict.fromkeys((*old, *new)):
        was, is_now = old.get(key), new.get(key)
        is_lost = key[0] in _OF_TRIP and key[2] not in going
        if was != is_now and not is_lost:
            yield Redated(what=key[0], name=key[1], was=was, now=is_now)


def _instants(side: Side, made: Solved) -> dict[tuple[str, str, StepId, int], datetime]:
    """Return the instants of a job in a plan, by what they are of."""
    found: dict[tuple[str, str, StepId, int], datetime] = {}
    told = made.job(side.job.id)
    if told is not None and told.latest_loading is not None:
        found["latest_loading", "", StepId(""), 0] = told.latest_loading
    for step in side.job.steps:
        if isinstance(step, GateStep) and step.gate is GateKind.LOADING:
            placed = made.placement(step.id)
            if placed is not None:
                found["loading", step.name, step.id, 0] = placed.start
        trip = next((each for each in side.trips if each.step == step.id), None)
        if not isinstance(step, Journey) or trip is None:
            continue
        on = Travelled(journey=step, trip=trip)
        found["departure", step.name, step.id, 0] = trip.start
        for index in on.legs(*AT_SEA):
            found["sailing", step.legs[index].name, step.id, index] = on.sails(index)
        found["gate", step.name, step.id, 0] = on.gate
    return found


def _dues(before: Side, after: Side, now: datetime) -> tuple[RedatedDue, ...]:
    old, new = (
        {(due.journey, due.id): due for due in dues(side.book, side.job, side.trips, now)}
        for side in (before, after)
    )
    going = _going(after)
    keys = [key for key in dict.fromkeys((*new, *old)) if key[0] in going]
    pairs = (RedatedDue(was=old.get(key), now=new.get(key)) for key in keys)
    return tuple(pair for pair in pairs if _by(pair.was) != _by(pair.now))


def _by(due: Due | None) -> date | datetime | None:
    return None if due is None else due.by
