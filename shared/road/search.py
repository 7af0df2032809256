"""The search: labels in the order of the earliest arrival that their bound leaves open.

A label is a state at a place in a quarter. Of two at the same place in the same quarter the one
whose rank is no worse in anything stands for both, because it can do whatever the other can, with
the same road before it. A label whose bound is too late is dropped. Nothing else is: what is left
is every legal course of quarters, so the first arrival that comes out is the earliest of all, and
nothing coming out means that there is none.
"""

from collections.abc import Callable
from heapq import heappop, heappush
from typing import NamedTuple, Optional

from shared.plan import Doing
from shared.road.bounds import Bound
from shared.road.machine import Machine
from shared.road.quarters import turns_week
from shared.road.world import Place, Sort, World

Watch = Callable[[int, int], None]
"""Told how many departures, of how many, are looked at; it raises to cancel."""

_TOLD_EVERY = 2000


class Label(NamedTuple):
    """Somebody somewhere at the end of a quarter, and how that came about."""

    quarter: int
    place: Place
    state: int
    doing: Doing | None
    wheel: int
    before: Optional["Label"]


Seen = dict[int, list[int]]
"""Ranks by quarter and place, none of them no better than another there."""

_Move = tuple[Doing, int, Place, int]
_PLACES = 1 << 16


class Search:
    """Searches in one world, to have its goal reached by one quarter and its end by another."""

    def __init__(
        self,
        world: World,
        machine: Machine,
        by: int,
        end_by: int,
        told: Callable[[], None] | None = None,
    ) -> None:
        """Prepare; `told` is called again and again while a search lasts."""
        self._world, self.machine = world, machine
        self._by, self._end_by = by, end_by
        self._end = len(world.stages) - 1
        self._bound = Bound(world, machine, end_by)
        self._dead: Seen = {}
        self._good: Seen = {}
        self.told = told
        self.labels = 0

    def first(self, departure: int, state: int, end_by: int | None = None) -> Label | None:
        """Give the label that ends first when leaving at a quarter, None if none makes it.

        With `end_by`, none that ends later than that; then it is not to be asked again either.

        Labels that could not make it from a departure that was asked about before are dead from
        this one as well, and so is what is no better. That holds until one is found; then the
        search is not to be asked again.
        """
        if end_by is not None:
            self._end_by = end_by
        return self._run(departure, state, self._dead, any_will_do=False)

    def makes_it(self, departure: int, state: int) -> bool:
        """Say whether some label ends in time; may be asked of one departure after the other.

        What is dead is known from departures before, and what makes it likewise.
        """
        seen: Seen = {}
        found = self._run(departure, state, seen, any_will_do=True)
        known, label = (self._dead, None) if found is None else (self._good, found)
        while label is not None:
            rank = self.machine.ranks[label.place.sea][label.state]
            seen_here = known.setdefault(label.quarter * _PLACES + label.place.index, [])
            seen_here.append(rank)
            label = label.before
        if found is None:
            for key, ranks in seen.items():
                known.setdefault(key, []).extend(ranks)
        return found is not None

    def earliest_goal(self, departure: int, state: int) -> int:
        """Give the first quarter by which the goal can be reached in a journey that is over.

        After that the search is not to be asked again.
        """
        last, self._dead = self._by, {}
        for by in range(departure, last):
            self._by = by
            if self._run(departure, state, {}, any_will_do=False) is not None:
                return by
        return last

    def _run(self, departure: int, state: int, seen: Seen, *, any_will_do: bool) -> Label | None:
        place = self._world.entry(0, departure)
        priority = None if place is None else self._priority(place, state, departure)
        if place is None or priority is None:
            return None
        count = 0
        heap = [(priority, -departure, count, Label(departure, place, state, None, 0, None))]
        while heap:
            label = heappop(heap)[3]
            if label.place.leg == self._end:
                return label
            if label.before is not None and not self._still_best(label, seen):
                continue
            self.labels += 1
            if self.told is not None and self.labels % _TOLD_EVERY == 0:
                self.told()
            quarter = label.quarter + 1
            for doing, wheel, place, state in self._moves(label):
                if not self._keeps(seen, place, state, quarter):
                    continue
                new = Label(quarter, place, state, doing, wheel, label)
                if any_will_do and self._is_good(place, state, quarter):
                    return new
                priority = self._priority(place, state, quarter)
                if priority is not None:
                    count -= 1
                    # Where any will do, whoever has the least ahead goes first.
                    key = priority - quarter if any_will_do else priority
                    heappush(heap, (key, -quarter, count, new))
        return None

    def _still_best(self, label: Label, seen: Seen) -> bool:
        rank = self.machine.ranks[label.place.sea][label.state]
        return rank in seen[label.quarter * _PLACES + label.place.index]

    def _keeps(self, seen: Seen, place: Place, state: int, quarter: int) -> bool:
        """Add a rank where none is as good, and drop those that it is as good as."""
        if place.leg == self._end and not self.machine.may_arrive(state):
            return False
        sea = place.sea
        rank, guard = self.machine.ranks[sea][state], self.machine.guards[sea]
        key = quarter * _PLACES + place.index
        spaced = rank | guard
        if seen is not self._dead:
            for each in self._dead.get(key, ()):
                if (spaced - each) & guard == guard:
                    return False
        here = seen.get(key)
        if here is None:
            seen[key] = [rank]
            return True
        for each in here:
            if (spaced - each) & guard == guard:
                return False
        here[:] = [each for each in here if ((each | guard) - rank) & guard != guard]
        here.append(rank)
        return True

    def _is_good(self, place: Place, state: int, quarter: int) -> bool:
        """Say whether the state is as good as one that made it from here."""
        rank, guard = self.machine.ranks[place.sea][state], self.machine.guards[place.sea]
        known = self._good.get(quarter * _PLACES + place.index, ())
        return any(((each | guard) - rank) & guard == guard for each in known)

    def _priority(self, place: Place, state: int, quarter: int) -> int | None:
        """Give the bound of the end; None if it, or that of the goal, is too late."""
        world = self._world
        if (
            place.leg < world.goal < self._end
            and self._goal_bound(place, state, quarter) > self._by
        ):
            return None
        found = self._bound.arrival(place, state, quarter, self._end)
        return found if found <= self._end_by else None

    def _goal_bound(self, place: Place, state: int, quarter: int) -> int:
        return self._bound.arrival(place, state, quarter, self._world.goal)

    def _moves(self, label: Label) -> list[_Move]:
        """Give what the law and the road let be done in the next quarter, the wheel last."""
        place, quarter, state = label.place, label.quarter, label.state
        machine = self.machine
        if label.before is not None and turns_week(quarter):
            # Who leaves then has begun with the week turned.
            state = machine.turned(state)
        if place.sort is Sort.FERRY:
            return self._ferry_moves(place, state, quarter)
        rests = machine.rested(state, place.sea)
        there = self._world.onward(place, quarter + 1)
        if place.sort is Sort.STAND:
            return [(Doing.STAND, 0, there, new) for new in rests] if there is not None else []
        found: list[_Move] = [(Doing.REST, 0, place, new) for new in rests]
        if there is None or quarter in place.stage.closed:
            return found
        if place.sort is Sort.DRIVE:
            found += [(Doing.DRIVE, wheel, there, new) for wheel, new in machine.driven(state)]
        else:
            found += [(Doing.WORK, 0, there, new) for new in machine.worked(state)]
        return found

    def _ferry_moves(self, place: Place, state: int, quarter: int) -> list[_Move]:
        machine, stage = self.machine, place.stage
        if place.done:
            return self._moves_on_board(place, state, quarter)
        found: list[_Move] = [
            (Doing.REST, 0, place, new) for new in machine.rested(state, place.sea)
        ]
        for there in self._world.boardings(place, quarter):
            found += [(Doing.BOARD, 0, there, new) for new in machine.worked(state)]
            if stage.bunk:
                found += [
                    (Doing.BOARD_IN_REST, 0, there, new) for new in machine.interrupted(state)
                ]
        return found

    def _moves_on_board(self, place: Place, state: int, quarter: int) -> list[_Move]:
        machine, stage = self.machine, place.stage
        if quarter < stage.sailings[place.sailing][1]:
            if stage.bunk:
                return [(Doing.SEA_REST, 0, place, new) for new in machine.rested(state, 1)]
            return [(Doing.SEA, 0, place, new) for new in machine.available(state)]
        there = self._world.entry(place.leg + 1, quarter + 1)
        if there is None:
            return []
        found: list[_Move] = [(Doing.LAND, 0, there, new) for new in machine.worked(state)]
        if stage.bunk:
            found += [(Doing.LAND_IN_REST, 0, there, new) for new in machine.interrupted(state)]
        return found
