"""Who follows whom in rooms: units handed on, and acts that may not meet in one air."""

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.terms import FOREVER, Claim
from scheduler.why.order_values import Arc, Bar, Held, Spots

_AT_ONCE = Held(tail=None, more=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Item:
    """Units of a room from begin to end. first, last: the stages it goes by (None: fixed).

    before, held: what lies between its begin and the start of `first`, the end of `last` and its
    end. job: whose journey takes it.
    """

    begin: int
    end: int
    units: int
    first: int | None = None
    last: int | None = None
    before: int = 0
    held: Held = _AT_ONCE
    job: int | None = None
    stands: bool = False

    @property
    def key(self) -> tuple[int, int, int, int]:
        first = -1 if self.first is None else self.first
        return self.begin, self.end, first, self.units


def room_arcs(spots: Spots) -> Iterator[Arc | Bar]:
    """Give the order of every room that stages take, and of what may not meet in one air."""
    by_room = _by_room(spots)
    for room, items in sorted(by_room.items()):
        if any(item.first is not None or item.last is not None for item in items):
            capacity = spots.index.problem.rooms[room].capacity
            yield from _handed_on(room, capacity, sorted(items, key=lambda item: item.key))
    yield from _apart(spots, by_room)


def _by_room(spots: Spots) -> dict[int, list[_Item]]:
    found: dict[int, list[_Item]] = {}
    for room, item in (*_claimed(spots), *_standing(spots), *_fixed(spots)):
        if item.units and item.end > item.begin:
            found.setdefault(room, []).append(item)
    return found


def _claimed(spots: Spots) -> Iterator[tuple[int, _Item]]:
    """Give what stages take for themselves; all of one room counts over the same stretch."""
    schedule, claims = spots.schedule, spots.index.terms.claims
    for stage in spots.placed:
        if stage in spots.left.rooms:
            continue
        for claim in claims[stage][schedule.ways[stage]]:
            yield claim.room, _item(spots, stage, claim)


def _item(spots: Spots, stage: int, claim: Claim) -> _Item:
    schedule = spots.schedule
    return _Item(
        begin=claim.begins(schedule.starts[stage]),
        end=claim.ends(schedule.ends[stage]),
        units=claim.units,
        first=stage,
        last=stage,
        before=claim.before,
        held=Held(tail=claim.tail, more=claim.after),
    )


def _standing(spots: Spots) -> Iterator[tuple[int, _Item]]:
    schedule = spots.schedule
    for stand in spots.index.terms.stands:
        first, last = stand.first, stand.last
        if first is not None and (schedule.ways[first] < 0 or first in spots.left.rooms):
            continue
        if last is not None and (schedule.ways[last] < 0 or last in spots.left.rooms):
            continue
        yield (
            stand.room,
            _Item(
                begin=0 if first is None else schedule.starts[first],
                end=FOREVER if last is None else schedule.ends[last],
                units=stand.units,
                first=first,
                last=last,
                stands=True,
            ),
        )


def _fixed(spots: Spots) -> Iterator[tuple[int, _Item]]:
    for number, room in enumerate(spots.index.problem.rooms):
        for start, end, units in () if number in spots.left.booked else room.busy:
            yield number, _Item(begin=start, end=end, units=units)
    for job, going in sorted(spots.goings.items()):
        for number, start, end, units in going.takes:
            if number not in spots.left.booked:
                yield number, _Item(begin=start, end=end, units=units, job=job)


def _handed_on(room: int, capacity: int, items: list[_Item]) -> Iterator[Arc | Bar]:
    """Give from whom each takes over its units: from those that came free first."""
    free: list[tuple[int, int, _Item | None]] = [(-1, capacity, None)]
    for item in items:
        wanted, left = item.units, []
        for since, units, giver in sorted(free, key=lambda one: one[0]):
            if wanted and since <= item.begin:
                taken = min(units, wanted)
                wanted, units = wanted - taken, units - taken
                if giver is not None:
                    yield from _after(room, giver, item)
            if units:
                left.append((since, units, giver))
        free = [*left, (item.end, item.units, item)]


def _after(room: int, giver: _Item, item: _Item) -> Iterator[Arc | Bar]:
    if giver.last is not None and item.first is not None:
        if giver.last != item.first:
            yield Arc(
                kind="room",
                before=giver.last,
                after=item.first,
                lag=Held(tail=giver.held.tail, more=giver.held.more + item.before),
                room=room,
                stands=giver.stands or item.stands,
            )
    elif item.first is not None:
        low = giver.end + item.before
        yield _bar(room, item, item.first, giver, low=low)
    elif giver.last is not None:
        high = giver.held.inverse(item.begin)
        if high is not None:
            yield _bar(room, giver, giver.last, item, high=high)


def _bar(
    room: int, mine: _Item, stage: int, fixed: _Item, *, low: int = 0, high: int = FOREVER
) -> Bar:
    return Bar(
        kind="room",
        stage=stage,
        low=low,
        high=high,
        room=room,
        job=fixed.job,
        stands=mine.stands,
    )


def _apart(spots: Spots, by_room: dict[int, list[_Item]]) -> Iterator[Arc | Bar]:
    """Give which of two that may not meet comes first."""
    schedule, claims = spots.schedule, spots.index.terms.claims
    for stage in spots.placed:
        for claim in claims[stage][schedule.ways[stage]]:
            mine = _item(spots, stage, claim)
            for room in claim.against if mine.end > mine.begin else ():
                for other in by_room.get(room, ()):
                    yield from _one_then_other(room, mine, other)


def _one_then_other(room: int, mine: _Item, other: _Item) -> Iterator[Arc | Bar]:
    if other.first == mine.first:
        return
    pair = (mine, other) if mine.end <= other.begin else (other, mine)
    if pair[0].end > pair[1].begin:
        return
    for found in _after(room, *pair):
        yield (
            Bar(kind="air", stage=found.stage, low=found.low, high=found.high, room=room)
            if isinstance(found, Bar)
            else Arc(kind="air", before=found.before, after=found.after, lag=found.lag, room=room)
        )
