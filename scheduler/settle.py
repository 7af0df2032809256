"""Pulling a schedule together bit by bit: a few units are lifted and placed anew, all others stay.

Time runs backwards, so that each unit is placed as late as the others let it be; the order in
which those that were lifted come back is theirs, disturbed. What is worse is taken now and then,
less and less (annealing, by halving). Floor time counts, and a little how late everything is: room
that is cleared early is what the next move needs.

Source: ruin and recreate, Schrimpf, Schneider, Stamm-Wilbrandt and Dueck, "Record breaking
optimization results using the ruin and recreate principle", Journal of Computational Physics 159
(2000).
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from heapq import heapify, heappop, heappush
from random import Random

from scheduler.aims import Levels, levels
from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.chain import place_unit
from scheduler.grid import DAY_STEPS
from scheduler.judge import is_sound
from scheduler.later import standing
from scheduler.mirror import Mirror
from scheduler.model.departures import let_leave
from scheduler.problem import Schedule
from scheduler.regret import Alone
from scheduler.search import Spot
from scheduler.shifts import halvings
from scheduler.spots import schedule_of, stays
from scheduler.stop import WHOLE_SHARE, Stop
from scheduler.taken import Taken
from scheduler.ties import Ties

SIZES = (3, 4, 6, 8, 12)
"""So many units are lifted at once: of larger moves fewer are better, and they take longer."""
NOISES = (0, 24, 96, 192, 480, 960)
"""By so many steps the order in which they come back is disturbed."""
FLOOR_WEIGHT = 3
"""A step of floor time is worth so many steps by which stages are later."""
HOT = 100 * FLOOR_WEIGHT
QUEUE_STEPS = 3 * DAY_STEPS
"""What begins so soon after a stage, with one of its people, holds it back."""
STRAIGHT_OF_TEN = 7
MOVES_A_UNIT = 30
"""So many moves take about as long as a pass."""
TOLD_UNITS = 24
"""After so many units of effort what got better meanwhile is told."""
OnBetter = Callable[[Schedule, Levels], None]


def settle(
    index: Index, schedule: Schedule, *, seed: int, stop: Stop, on_better: OnBetter | None = None
) -> Schedule:
    """Return the schedule pulled together, or as it is where nothing better was found.

    schedule: a sound one. Nothing loads later than in it, and what is pinned or was told stays.
    Some moves together spend a unit of effort. on_better: told of better schedules now and then.
    """
    search = _Settling(index, schedule, seed)
    if not search.can_move:
        return schedule
    moves = 0
    while stop.reason() is None:
        if not moves % MOVES_A_UNIT:
            stop.spend(1)
        search.step(min(WHOLE_SHARE, stop.share()))
        moves += 1
        if not moves % (MOVES_A_UNIT * TOLD_UNITS):
            search.hand_out(on_better)
    search.hand_out(on_better)
    return search.best


class _Settling:
    """The search: a board with everything on it, time running backwards."""

    def __init__(self, index: Index, schedule: Schedule, seed: int) -> None:
        self._index, self._schedule = index, schedule
        self._draw = Random(seed)
        self._board = standing(index, schedule)
        self._hand = _Hand(index, self._board, self._draw)
        self._floor = self._cost = 0
        self._least = self._handed = (0, 0)
        self._best_spots = dict(self._board.spots)
        self.best, self._levels = schedule, levels(index.problem, schedule)
        self._taken = Taken(index, schedule)

    @property
    def can_move(self) -> bool:
        """Return whether anything on the floor may move."""
        return self._hand.has_any

    def step(self, share: int) -> None:
        """Try one move. share: of the search that is over, in thousandths."""
        units = self._hand.drawn()
        stages = [stage for unit in units for stage in self._board.net.units[unit]]
        before = {stage: self._board.spots[stage] for stage in stages}
        was = self._worth(stages)
        placed = self._moved(units, stages)
        is_ = self._worth(stages) if len(placed) == len(units) else None
        if is_ is None or not self._is_taken(was, is_, share):
            for unit in placed:
                for stage in self._board.net.units[unit]:
                    self._board.lift(stage)
            for stage, spot in before.items():
                self._board.book(stage, spot)
            return
        self._cost += is_[0] - was[0]
        self._floor += is_[1] - was[1]
        if (self._cost, self._floor) < self._least:
            self._least = (self._cost, self._floor)
            self._best_spots = dict(self._board.spots)

    def _worth(self, stages: Iterable[int]) -> tuple[int, int, int]:
        """Return what some stages cost, what floor time they make, and how early they are."""
        asked, spots = self._index.problem.stages, self._board.spots
        firsts, lasts = self._hand.firsts, self._hand.lasts
        cost = floor = early = 0
        for stage in stages:
            spot = spots[stage]
            cost += asked[stage].ways[spot.way].cost
            floor += firsts[stage] * spot.end - lasts[stage] * spot.start
            early += spot.start
        return cost, floor, early

    def _is_taken(self, was: tuple[int, int, int], is_: tuple[int, int, int], share: int) -> bool:
        if is_[0] != was[0]:
            return is_[0] < was[0]
        temperature = HOT * (WHOLE_SHARE - share) // WHOLE_SHARE
        loss = FLOOR_WEIGHT * (is_[1] - was[1]) + is_[2] - was[2]
        return loss <= temperature * halvings(self._draw)

    def _moved(self, units: Sequence[int], stages: Sequence[int]) -> list[int]:
        """Lift units and place them anew; return those that found a spot."""
        board, net, noise = self._board, self._board.net, self._draw.choice(NOISES)
        ranks = [0] * len(net.units)
        for unit in units:
            ranks[unit] = self._hand.start(unit) + self._draw.randrange(-noise, noise + 1)
        for stage in reversed(stages):
            board.lift(stage)
        queue = _Lifted(net.followers, ranks, units)
        placed: list[int] = []
        while (lifted := queue.pop()) is not None:
            if place_unit(board, net, lifted, None) is not None:
                break
            placed.append(lifted)
            queue.done(lifted)
        return placed

    def hand_out(self, on_better: OnBetter | None) -> None:
        """Take the best found so far as a schedule if it is better and sound, and tell of it."""
        if self._least >= self._handed:
            return
        self._handed = self._least
        found = self._schedule_of(self._best_spots)
        reached = levels(self._index.problem, found)
        if reached < self._levels and is_sound(self._index, self._taken, found):
            self.best, self._levels = found, reached
            if on_better is not None:
                on_better(found, reached)

    def _schedule_of(self, found: Mapping[int, Spot]) -> Schedule:
        schedule = schedule_of(found, len(self._index.problem.stages))
        back = self._index.once(Mirror).back(schedule, self._schedule.trips)
        return let_leave(self._index, back)


class _Lifted:
    """The lifted units that can come back next, by rank."""

    def __init__(
        self, followers: Sequence[Sequence[int]], ranks: Sequence[int], units: Sequence[int]
    ) -> None:
        self._followers, self._ranks = followers, ranks
        self._waits = dict.fromkeys(units, 0)
        for unit in units:
            for follower in followers[unit]:
                if follower in self._waits:
                    self._waits[follower] += 1
        self._heap = [(ranks[unit], unit) for unit in units if not self._waits[unit]]
        heapify(self._heap)

    def pop(self) -> int | None:
        return heappop(self._heap)[1] if self._heap else None

    def done(self, unit: int) -> None:
        for follower in self._followers[unit]:
            if follower in self._waits:
                self._waits[follower] -= 1
                if not self._waits[follower]:
                    heappush(self._heap, (self._ranks[follower], follower))


class _Hand:
    """Which units are lifted. firsts, lasts: by stage, how many segments begin, end with it."""

    def __init__(self, index: Index, board: Board, draw: Random) -> None:
        self._stages, self._board, self._net, self._draw = (
            index.problem.stages,
            board,
            board.net,
            draw,
        )
        self._alone = index.once(Alone).floors
        ties = index.once(Ties)
        self.firsts, self.lasts = ties.firsts, ties.lasts
        self._units = [
            unit
            for unit, stages in enumerate(self._net.units)
            if not any(self._stays(stage) for stage in stages)
        ]
        self._free = frozenset(self._units)
        self._by_job: dict[int, list[int]] = {}
        for unit in self._units:
            job = self._stages[self._net.units[unit][0]].job
            self._by_job.setdefault(job, []).append(unit)
        self._floors = {
            number: [pair for pair in job.floor if self._net.unit_of[pair[0]] in self._free]
            for number, job in enumerate(index.problem.jobs)
        }
        self._floors = {job: pairs for job, pairs in self._floors.items() if pairs}

    def _stays(self, stage: int) -> bool:
        return stays(self._stages[stage]) or self._stages[stage].under_way

    @property
    def has_any(self) -> bool:
        """Return whether anything on the floor may move."""
        return bool(self._floors)

    def start(self, unit: int) -> int:
        """Return when a unit starts, time running backwards."""
        spots = self._board.spots
        return min([spots[stage].start for stage in self._net.units[unit]])

    def drawn(self) -> list[int]:
        """Draw some units in one of several ways."""
        ways = (self._along, self._round, self._of_job, self._of_two_people, self._of_two_jobs)
        way: Callable[[int], list[int]] = self._draw.choice((*ways, self._any))
        return way(self._draw.choice(SIZES))

    def _first(self) -> tuple[int, int]:
        """Draw a job, the longer it stands about needlessly the likelier, and one first stage."""
        spots, draw = self._board.spots, self._draw
        jobs = list(self._floors)
        weights = []
        for job in jobs:
            pairs = self._floors[job]
            stands = sum([spots[first].end - spots[last].start for first, last in pairs])
            weights.append(1 + max(0, stands - self._alone[job]))
        job = draw.choices(jobs, weights)[0]
        return job, draw.choice(self._floors[job])[0]

    def _along(self, size: int) -> list[int]:
        """Return what holds a first stage back, one thing after another."""
        _, stage = self._first()
        found: list[int] = []
        seen: set[int] = set()
        while len(found) < size:
            unit = self._net.unit_of[stage]
            if unit in self._free:
                found.append(unit)
            seen.add(unit)
            holding = sorted(self._holding(unit, stage, seen), reverse=True)
            if not holding:
                break
            straight = self._draw.randrange(10) < STRAIGHT_OF_TEN
            stage = holding[0][1] if straight else self._draw.choice(holding[:4])[1]
        return found

    def _holding(self, unit: int, stage: int, seen: set[int]) -> list[tuple[int, int]]:
        """Return what a stage can't pass, time running backwards: until when, and which stage."""
        spots = self._board.spots
        if self._draw.randrange(2):
            stage = min(self._net.units[unit], key=lambda each: (spots[each].start, each))
        start, team = spots[stage].start, spots[stage].team
        found = []
        for link in self._net.ins[stage]:
            spot = spots.get(link.before)
            if link.lag is not None and spot is not None:
                ready = link.lag.of(spot.end if link.from_end else spot.start)
                if ready is not None and self._net.unit_of[link.before] not in seen:
                    found.append((ready, link.before))
        for other, spot in spots.items():
            if (
                start - QUEUE_STEPS < spot.end <= start
                and self._net.unit_of[other] not in seen
                and any(worker in team for worker in spot.team)
            ):
                found.append((spot.end, other))
        return found

    def _round(self, size: int) -> list[int]:
        """Return half as many along such a way, and what the same people do about then."""
        chosen = self._along(size // 2)
        people = self._people(chosen)
        moments = [self.start(unit) for unit in chosen]
        rest = [
            (min([abs(self.start(unit) - t) for t in moments]), unit)
            for unit in self._units
            if unit not in chosen and moments and not people.isdisjoint(self._people((unit,)))
        ]
        rest.sort()
        return [*chosen, *(unit for _, unit in rest[: size - len(chosen)])]

    def _people(self, units: Iterable[int]) -> set[int]:
        spots, of = self._board.spots, self._net.units
        return {worker for unit in units for stage in of[unit] for worker in spots[stage].team}

    def _near(self, units: Iterable[int], t: int, size: int) -> list[int]:
        ranked = sorted([(abs(self.start(unit) - t), unit) for unit in units])
        return [unit for _, unit in ranked[:size]]

    def _of_job(self, size: int) -> list[int]:
        job, first = self._first()
        return self._near(self._by_job[job], self._board.spots[first].start, size)

    def _of_two_people(self, size: int) -> list[int]:
        near = self._near(self._units, self._board.spots[self._first()[1]].start, 6 * size)
        people = sorted(self._people(near[:size]))
        two = set(self._draw.sample(people, min(2, len(people))))
        return [unit for unit in near if not two.isdisjoint(self._people((unit,)))][:size]

    def _of_two_jobs(self, size: int) -> list[int]:
        jobs = self._draw.sample(list(self._by_job), min(2, len(self._by_job)))
        t = self.start(self._draw.choice(self._by_job[jobs[0]]))
        return self._near([unit for job in jobs for unit in self._by_job[job]], t, size)

    def _any(self, size: int) -> list[int]:
        return self._draw.sample(self._units, min(size, len(self._units)))
