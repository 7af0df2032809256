"""The calls that a moved window makes necessary: to whom, what it was for and is for now, its cost.

Two plans are held against each other: the one of the book as it was, and the one with the window
moved. What costs nothing to change until an instant costs its fee after it.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from shared.book import ArrangementState, Book, Job
from shared.notices.arrangements import Wanted, wanted
from shared.notices.listed import dues
from shared.notices.values import OF_THE_DATE, Due
from shared.plan import Plan, Trip
from shared.shifting import Shifts

When = tuple[datetime | None, datetime | None]


class Calling(StrEnum):
    """What a call is for.

    change: asked or booked for other instants. cancel: no longer needed. ask: needed, and nobody
    has asked. slot: a booked stretch at the site that shifted with the window. blocked: other
    trades' stretch that shifted with it. notice: given already, for the old date.
    """

    CHANGE = "change"
    CANCEL = "cancel"
    ASK = "ask"
    SLOT = "slot"
    BLOCKED = "blocked"
    NOTICE = "notice"


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One call to make.

    what: of an arrangement, or the code of a notice. name: as the book has it. whom, number: "" if
    the book doesn't say. was, now: what it was for and is for; None where it isn't said. given: of
    a notice. free_until: None where no day is named. cost: of changing it now. price: of what is
    asked for.
    """

    calling: Calling
    what: str
    name: str = ""
    whom: str = ""
    number: str = ""
    reference: str = ""
    was: When = (None, None)
    now: When = (None, None)
    given: date | None = None
    free_until: datetime | None = None
    cost: Decimal = Decimal(0)
    price: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """A job in one of two plans."""

    book: Book
    job: Job
    trips: tuple[Trip, ...]


def side_of(book: Book, job: Job, plan: Plan | Sequence[Trip]) -> Side:
    """Return a job with its trips in a plan."""
    trips = plan.trips if isinstance(plan, Plan) else plan
    return Side(book=book, job=job, trips=tuple(trips))


def calls(before: Side, after: Side, shifts: Shifts, now: datetime) -> tuple[Call, ...]:
    """Return the calls that a moved window makes necessary, those about arrangements first.

    before: the job as it was, with what was told in its book; after: with the window moved. A
    journey that has no trip there any more: what is asked or booked for it changes, and nobody
    knows yet for when.
    """
    return (
        *_of_arrangements(before, after, now),
        *_of_shifts(shifts),
        *_of_notices(before, after, now),
    )


def total_cost(found: Iterable[Call]) -> Decimal:
    """Return what all calls come to, prices of what is newly asked for not counted."""
    return sum((each.cost for each in found), Decimal(0))


def _of_arrangements(before: Side, after: Side, now: datetime) -> Iterator[Call]:
    going = {trip.step for trip in after.trips}
    needs = wanted(before.book, before.job, before.trips)
    lost = [each for each in needs if each.journey is not None and each.journey not in going]
    for each in lost:
        if each.state is not ArrangementState.TO_ASK:
            yield _made(Calling.CHANGE, each, _was(each, each), (None, None), now)
    kept = {each.arrangement.id for each in lost if each.arrangement is not None}
    old = _keyed([each for each in needs if each not in lost])
    new = _keyed(wanted(after.book, after.job, after.trips))
    for key in dict.fromkeys((*old, *new)):
        call = _call(old.get(key), new.get(key), now)
        if call is not None and not (key[0] == "arrangement" and key[1] in kept):
            yield call


def _keyed(found: Sequence[Wanted]) -> dict[tuple[object, ...], Wanted]:
    seen: Counter[tuple[object, ...]] = Counter()
    keyed = {}
    for each in found:
        seen[each.key] += 1
        keyed[(*each.key, seen[each.key])] = each
    return keyed


def _call(old: Wanted | None, new: Wanted | None, now: datetime) -> Call | None:
    """Return the call about something that was or is needed, None where nobody has to be told."""
    known = new or old
    assert known is not None
    was, is_for = _was(known, old), _times(new)
    is_agreed = known.state is not ArrangementState.TO_ASK
    if new is None or not new.is_needed:
        if not is_agreed or old is None or not old.is_needed:
            return None
        return _made(Calling.CANCEL, known, was, (None, None), now)
    if not is_agreed:
        return _made(Calling.ASK, new, was, is_for, now)
    if new.is_moved or (old is not None and _times(old) != is_for):
        return _made(Calling.CHANGE, new, was, is_for, now)
    return None


def _was(known: Wanted, old: Wanted | None) -> When:
    """Return what something is arranged for, else what it was needed for."""
    arrangement = known.arrangement
    if arrangement is not None and arrangement.start is not None:
        return (arrangement.start, arrangement.end)
    return _times(old)


def _times(found: Wanted | None) -> When:
    if found is None or not found.is_needed:
        return (None, None)
    return (found.start, found.end)


def _made(calling: Calling, of: Wanted, was: When, is_for: When, now: datetime) -> Call:
    arrangement = of.arrangement
    return Call(
        calling=calling,
        what=of.what,
        name=of.name,
        whom=arrangement.with_whom if arrangement else "",
        number=arrangement.call if arrangement else "",
        reference=of.reference,
        was=was,
        now=is_for,
        free_until=arrangement.free_until if arrangement else None,
        cost=Decimal(0) if calling is Calling.ASK else _cost(of, now),
        price=of.price,
    )


def _cost(of: Wanted, now: datetime) -> Decimal:
    """Return what it costs to change something now: its fee, unless it is booked and still free."""
    arrangement = of.arrangement
    if arrangement is None or of.state is not ArrangementState.BOOKED:
        return Decimal(0)
    is_free = arrangement.free_until is not None and now <= arrangement.free_until
    return Decimal(0) if is_free else arrangement.cost_after


def _of_shifts(shifts: Shifts) -> Iterator[Call]:
    slots: dict[tuple[str, datetime, datetime], Call] = {}
    for each in shifts.slots:
        call = Call(
            calling=Calling.SLOT,
            what="slot",
            name=each.old.name or each.name,
            whom=each.by,
            was=(each.old.start, each.old.end),
            now=(each.new.start, each.new.end),
        )
        key = (call.name, each.old.start, each.old.end)
        # Legs that share a slot are one call, to whoever is known.
        if key not in slots or not slots[key].whom:
            slots[key] = call
    yield from slots.values()
    for block in shifts.blocked:
        yield Call(
            calling=Calling.BLOCKED,
            what="blocked",
            name=block.old.name,
            was=(block.old.start, block.old.end),
            now=(block.new.start, block.new.end),
        )


def _of_notices(before: Side, after: Side, now: datetime) -> Iterator[Call]:
    going = {trip.step for trip in after.trips}
    new = {(due.journey, due.id): due for due in dues(after.book, after.job, after.trips, now)}
    for due in dues(before.book, before.job, before.trips, now):
        if due.done is None or due.code not in OF_THE_DATE or due.journey not in going:
            continue
        other = new.get((due.journey, due.id))
        if other is None or other.at != due.at:
            yield _notice_call(due, other)


def _notice_call(due: Due, other: Due | None) -> Call:
    return Call(
        calling=Calling.NOTICE,
        what=str(due.code),
        name=due.name,
        whom=due.office,
        was=(due.at, None),
        now=(None if other is None else other.at, None),
        given=due.done,
    )
