"""Work that must lie in a stretch of time against what can be done there, by people and by room.

For some workers: the least steps they must give, over every way and team, to stages that can only
lie in the stretch, against the steps in which they are there. For a room: the least units times
steps. Of a stage that only partly must lie there counts what can lie neither before nor after.
All in whole numbers, and nothing but rules left out: more work than there is room for is a proof.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np
from numpy.typing import NDArray

from scheduler.calendar import Index
from scheduler.countback import Times
from scheduler.fits import least_span
from scheduler.problem import Room, Spans, Use
from scheduler.spans import less, merged
from scheduler.teams import Call, Team, work_steps

Steps = NDArray[np.int64]
ALL_UNIONS_UP_TO = 6
UNIONS_MAX = 80
PARTLY_UP_TO = 160
"""Of more loads than this only those count that lie whole in a stretch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Overload:
    """A stretch in which more must be done than can be, in steps of workers or units of a room.

    workers: who would have to do it. room: where it would have to be, None for workers.
    """

    start: int
    end: int
    needed: int
    there: int
    workers: Team = ()
    room: int | None = None


class Energy:
    """What of a problem must be done, whatever the way; asked for one set of times and another."""

    def __init__(self, index: Index) -> None:
        """Work out what every stage takes at the least."""
        self._index = index
        self._problem = index.problem
        self._active = [n for n, stage in enumerate(self._problem.stages) if not stage.optional]
        self._by_call: dict[tuple[Call, Team], int] = {}
        self._spans: dict[int, int] = {}
        self._pools = self._find_pools()
        self._weights = [(pool, *self._work_of(pool)) for pool in self._pools]
        self._clocks = {worker: self._clock(worker) for pool in self._pools for worker in pool}

    def overload(self, soonest: Times, last: Times) -> Overload | None:
        """Return a stretch with too much in it if all stages keep to these times, else None."""
        windows = self._windows(soonest, last)
        for pool, stages, sizes, weights in self._weights:
            found = self._of_people(pool, stages, sizes, weights, windows)
            if found is not None:
                return found
        return next(self._of_rooms(soonest, last, windows), None)

    def _windows(self, soonest: Times, last: Times) -> tuple[Steps, Steps]:
        """Return, by stage, when it can start and must have ended."""
        horizon = self._problem.horizon
        begins = [0 if start is None else start for start in soonest.starts]
        ends = [horizon if end is None else min(end, horizon) for end in last.ends]
        return np.array(begins, dtype=np.int64), np.array(ends, dtype=np.int64)

    # People

    def _find_pools(self) -> list[Team]:
        """Return the sets of workers to ask about: who may take a place, and such sets together."""
        index, found = self._index, set[frozenset[int]]()
        for stage in self._active:
            for way in range(len(self._problem.stages[stage].ways)):
                found.update(
                    frozenset(able) for _, able in _places(index, index.call(stage, way)) if able
                )
        return [tuple(sorted(pool)) for pool in _unions(sorted(found, key=sorted))]

    def _work_of(self, pool: Team) -> tuple[Steps, Steps, Steps]:
        """Return the stages that take something of a pool, with working steps and hands of it."""
        stages, sizes, hands = [], [], []
        for stage in self._active:
            steps, count = self._least(stage, pool)
            if steps and count:
                stages.append(stage)
                sizes.append(steps)
                hands.append(count)
        made = (np.array(each, dtype=np.int64) for each in (stages, sizes, hands))
        one, two, three = made
        return one, two, three

    def _least(self, stage: int, pool: Team) -> tuple[int, int]:
        """Return the least working steps of a stage, and the least hands of a pool in any way."""
        ways = range(len(self._problem.stages[stage].ways))
        counts = [self._hands(self._index.call(stage, way), pool) for way in ways]
        if not all(counts):
            return 0, 0
        return min(self._quickest(stage, way) for way in ways), min(counts)

    def _hands(self, call: Call, pool: Team) -> int:
        """Return how many of a pool are in every team of a call."""
        found = self._by_call.get((call, pool))
        if found is None:
            inside = set(pool)
            places = sum(count for count, able in _places(self._index, call) if inside >= set(able))
            others = sum(worker not in inside for worker in self._index.eligible(call))
            asked = len(inside.intersection(call.asked))
            found = self._by_call[call, pool] = max(places, asked, call.hands_count - others)
        return found

    def _quickest(self, stage: int, way: int) -> int:
        call, workers = self._index.call(stage, way), self._problem.workers
        paces = sorted((workers[each].pace for each in self._index.eligible(call)), reverse=True)
        return work_steps(self._problem.stages[stage].ways[way].work, paces[: call.hands_count])

    def _clock(self, worker: int) -> "_Clock":
        one = self._problem.workers[worker]
        spans: Spans = ((0, self._problem.horizon),)
        if one.calendar is not None:
            spans = self._index.hours((one.calendar,)).open
        return _Clock(less(spans, merged(one.busy)) if one.busy else spans)

    def _of_people(
        self,
        pool: Team,
        stages: Steps,
        sizes: Steps,
        hands: Steps,
        windows: tuple[Steps, Steps],
    ) -> Overload | None:
        if not len(stages):
            return None
        begins, ends = windows[0][stages], windows[1][stages]
        starts, closes = np.unique(begins), np.unique(ends)
        there = self._there(pool, closes)[None, :] - self._there(pool, starts)[:, None]
        if len(stages) <= PARTLY_UP_TO:
            most = self._most_before(pool, stages, begins, ends, starts, closes)
            needed = _partly(sizes, hands, *most)
        else:
            needed = _whole(begins, ends, sizes * hands, starts, closes)
        return _worst(starts, closes, needed, there, workers=pool)

    def _there(self, pool: Team, moments: Steps) -> Steps:
        """Return how many steps those of a pool are there before each moment, all added up."""
        found = np.zeros(len(moments), dtype=np.int64)
        for worker in pool:
            found += self._clocks[worker].before(moments)
        return found

    def _most_before(
        self, pool: Team, stages: Steps, begins: Steps, ends: Steps, starts: Steps, closes: Steps
    ) -> tuple[Steps, Steps]:
        """Return how many steps of each stage can be done before each start, after each close.

        In every team some of the pool are at work, and the team works only when they do.
        """
        early = np.zeros((len(stages), len(starts)), dtype=np.int64)
        late = np.zeros((len(stages), len(closes)), dtype=np.int64)
        for worker in pool:
            clock = self._clocks[worker]
            early = np.maximum(early, clock.before(starts)[None, :] - clock.before(begins)[:, None])
            late = np.maximum(late, clock.before(ends)[:, None] - clock.before(closes)[None, :])
        return early, late

    # Rooms

    def _of_rooms(
        self, soonest: Times, last: Times, windows: tuple[Steps, Steps]
    ) -> Iterator[Overload]:
        by_room: dict[int, list[tuple[int, int, int, int]]] = {}
        for stage in self._active:
            for room, load in self._room_loads(stage, windows):
                by_room.setdefault(room, []).append(load)
        for room, load in self._stands(soonest, last):
            by_room.setdefault(room, []).append(load)
        for room, loads in sorted(by_room.items()):
            begins, ends, sizes, units = np.array(loads, dtype=np.int64).T
            found = self._of_room(room, begins, ends, sizes, units)
            if found is not None:
                yield found

    def _of_room(
        self, room: int, begins: Steps, ends: Steps, sizes: Steps, units: Steps
    ) -> Overload | None:
        starts, closes = np.unique(begins), np.unique(ends)
        free = _Free(self._problem.rooms[room])
        there = free.before(closes)[None, :] - free.before(starts)[:, None]
        if len(begins) <= PARTLY_UP_TO:
            early = np.maximum(0, starts[None, :] - begins[:, None])
            late = np.maximum(0, ends[:, None] - closes[None, :])
            needed = _partly(sizes, units, early, late)
        else:
            needed = _whole(begins, ends, sizes * units, starts, closes)
        return _worst(starts, closes, needed, there, room=room)

    def _room_loads(
        self, stage: int, windows: tuple[Steps, Steps]
    ) -> Iterator[tuple[int, tuple[int, int, int, int]]]:
        """Give each room that every way of a stage takes, with when, for how long and how much."""
        asked = self._problem.stages[stage]
        first, *others = ({use.room: use for use in way.uses} for way in asked.ways)
        for room in first:
            uses = [first[room], *(other[room] for other in others if room in other)]
            units = min(use.units for use in uses)
            if len(uses) < len(asked.ways) or not units:
                continue
            size = self._span_of(stage) + min(self._longer(stage, use) for use in uses)
            begin = int(windows[0][stage]) - max(use.before for use in uses)
            end = max(self._held_until(stage, use, int(windows[1][stage])) for use in uses)
            if size:
                yield room, (begin, end, size, units)

    def _longer(self, stage: int, use: Use) -> int:
        cure = self._problem.stages[stage].cure.least if use.through_cure else 0
        return use.before + use.after + cure

    def _held_until(self, stage: int, use: Use, end: int) -> int:
        cure = self._problem.stages[stage].cure
        ready = end + cure.least if use.through_cure else end
        if use.through_cure and cure.table is not None:
            value = cure.table.value(max(0, end))
            ready = max(ready, cure.table.values[-1] if value is None else value)
        return ready + use.after

    def _span_of(self, stage: int) -> int:
        if stage not in self._spans:
            self._spans[stage] = least_span(self._index, stage)
        return self._spans[stage]

    def _stands(
        self, soonest: Times, last: Times
    ) -> Iterator[tuple[int, tuple[int, int, int, int]]]:
        """Give what stands from the latest start of one stage to the soonest end of another."""
        for hold in self._problem.holds:
            begin = 0 if hold.first is None else last.starts[hold.first]
            end = soonest.ends[hold.last]
            if hold.units and begin is not None and end is not None and 0 <= begin < end:
                yield hold.room, (begin, end, end - begin, hold.units)


def _places(index: Index, call: Call) -> Iterator[tuple[int, Team]]:
    """Give the places of a call, alike ones together, each with those who may take it."""
    workers = index.problem.workers
    able = index.eligible(call)
    for need in call.needs:
        if need.can:
            yield need.can, tuple(each for each in able if need.skill in workers[each].can)
        if need.helps:
            yield (
                need.helps,
                tuple(
                    each for each in able if need.skill in workers[each].can | workers[each].helps
                ),
            )


def _unions(sets: Sequence[frozenset[int]]) -> list[frozenset[int]]:
    """Return the sets and unions of them: all if they are few, else of two, and of everything."""
    found = dict.fromkeys(sets)
    most = len(sets) if len(sets) <= ALL_UNIONS_UP_TO else 2
    for count in range(2, most + 1):
        for chosen in combinations(sets, count):
            found.setdefault(frozenset[int]().union(*chosen))
            if len(found) >= UNIONS_MAX:
                break
    found.setdefault(frozenset[int]().union(*sets))
    return [each for each in found if each]


def _partly(sizes: Steps, units: Steps, early: Steps, late: Steps) -> Steps:
    """Return, by start and close, how much must lie between."""
    needed = np.zeros((early.shape[1], late.shape[1]), dtype=np.int64)
    for at in range(len(sizes)):
        rest = sizes[at] - np.maximum(0, early[at])[:, None] - np.maximum(0, late[at])[None, :]
        needed += units[at] * np.maximum(0, rest)
    return needed


def _whole(begins: Steps, ends: Steps, sizes: Steps, starts: Steps, closes: Steps) -> Steps:
    """Return, by start and close, how much of what can only lie between them there is."""
    needed = np.zeros((len(starts), len(closes)), dtype=np.int64)
    np.add.at(needed, (np.searchsorted(starts, begins), np.searchsorted(closes, ends)), sizes)
    # Whoever begins later than a start and ends sooner than a close counts there too.
    return np.cumsum(np.cumsum(needed[::-1], axis=0)[::-1], axis=1)


def _worst(
    starts: Steps,
    closes: Steps,
    needed: Steps,
    there: Steps,
    *,
    workers: Team = (),
    room: int | None = None,
) -> Overload | None:
    """Return the stretch in which most is too much."""
    over = np.where(closes[None, :] > starts[:, None], needed - there, 0)
    at = int(np.argmax(over))
    row, column = divmod(at, over.shape[1])
    if over[row, column] <= 0:
        return None
    return Overload(
        start=int(starts[row]),
        end=int(closes[column]),
        needed=int(needed[row, column]),
        there=int(there[row, column]),
        workers=workers,
        room=room,
    )


class _Clock:
    """How many steps of some spans lie before a moment, for many moments at once."""

    def __init__(self, spans: Iterable[tuple[int, int]]) -> None:
        pairs = np.array(list(spans), dtype=np.int64).reshape(-1, 2)
        self._opens, self._closes = pairs[:, 0], pairs[:, 1]
        self._done = np.concatenate(([0], np.cumsum(self._closes - self._opens)))

    def before(self, moments: Steps) -> Steps:
        """Return the steps before each moment."""
        if not len(self._opens):
            return np.zeros(len(moments), dtype=np.int64)
        at = np.searchsorted(self._opens, moments, side="right") - 1
        inside = np.minimum(moments, self._closes[at]) - self._opens[at]
        found: Steps = np.where(at < 0, 0, self._done[at] + inside)
        return found


class _Free:
    """How many units times steps of a room are free before a moment."""

    def __init__(self, room: Room) -> None:
        self._capacity = room.capacity
        self._clocks: list[tuple[int, _Clock]] = []
        cuts = sorted({moment for start, end, _ in room.busy for moment in (start, end)})
        taken: dict[int, list[tuple[int, int]]] = {}
        for start, end in pairwise(cuts):
            units = sum(n for a, b, n in room.busy if a <= start < b)
            if units:
                taken.setdefault(min(units, room.capacity), []).append((start, end))
        self._clocks = [(units, _Clock(spans)) for units, spans in taken.items()]

    def before(self, moments: Steps) -> Steps:
        """Return what is free from step 0 to each moment, less than nothing before step 0."""
        free = self._capacity * moments
        for units, clock in self._clocks:
            free = free - units * clock.before(moments)
        return free
