"""Quarters before which nobody can arrive: the road and the driver walked together.

The walk goes leg by leg. Where so much has been done it is no earlier than the road alone allows
and no earlier than the driver's least from the state that is asked about; each of these is a lower
bound, and so is the greater. What opens or sails next is chosen after that time: since waiting at
a leg's end is always possible, later is never sooner. Behind each such wait the driver is taken as
rested at its end, the best that a wait can do, and counted from there as well. Breaks and rests
are never added to a wait, because they hide in it.
"""

from bisect import bisect_left
from typing import NamedTuple

from shared.road.machine import Machine
from shared.road.quarters import next_week, week_of
from shared.road.rules import NEVER
from shared.road.world import FAR, Place, Sort, Stage, World


class _Anchor(NamedTuple):
    """From here on a driver is counted: when, in which state, what was done before it."""

    at: int
    state: int
    driving: int
    other: int
    idle: int


class Bound:
    """The bound of a world for the states of a machine, for arrivals till a last quarter."""

    def __init__(self, world: World, machine: Machine, last: int) -> None:
        """Prepare for arrivals till `last`."""
        self._world, self._machine, self._last_week = world, machine, week_of(last)
        rules = machine.law.rules
        self._counts_weeks = min(rules.drive_week, rules.drive_fortnight) < NEVER
        ends = {world.goal, len(world.stages) - 1}
        self._plain_from = {upto: _plain_from(world, upto) for upto in ends}
        self._ahead = {upto: _ahead(world, upto) for upto in ends}

    def arrival(self, place: Place, state: int, quarter: int, upto: int) -> int:
        """Give a quarter before which so many legs can't be over from there; FAR if never."""
        if place.leg >= upto:
            return quarter
        # A week that begins just now is still to be turned to.
        weeks = max(0, self._last_week - week_of(quarter - 1))
        driving, other = self._ahead[upto][place.leg]
        if place.sort is Sort.DRIVE:
            driving -= place.done
        if place.leg >= self._plain_from[upto]:
            if place.sort is Sort.WORK:
                other -= place.done
            found = quarter + self._machine.least(state, driving, other, 0, weeks)
        else:
            walk = _Walk(self._machine, state, quarter, weeks)
            if self._counts_weeks:
                walk.left = self._machine.law.week_left(self._machine.states[state])
            found = walk.through(self._world, place, upto)
        if self._counts_weeks:
            left = self._machine.law.week_left(self._machine.states[state])
            if driving > left:
                # The rest of it comes after the week has turned, by who is rested at best.
                later = self._machine.least(self._machine.fresh(state), driving - left, 0, 0, weeks)
                found = max(found, next_week(quarter) + later)
        return found if found < FAR else FAR


class _Walk:
    """A walk from a state at a quarter; `now` is no later than anybody can be there."""

    def __init__(self, machine: Machine, state: int, quarter: int, weeks: int) -> None:
        """Start there."""
        self._machine, self._weeks = machine, weeks
        self._fresh = machine.fresh(state)
        self._driving = self._other = self._idle = 0
        self._anchors = [_Anchor(quarter, state, 0, 0, 0)]
        self._turn = next_week(quarter)
        self.left = NEVER
        self.now = quarter

    def through(self, world: World, place: Place, upto: int) -> int:
        """Give when so many legs are over at the earliest."""
        self._leg(place.stage, place.done, place.sailing)
        for stage in world.stages[place.leg + 1 : upto]:
            if self.now >= FAR:
                return FAR
            self._leg(stage, 0, 0 if stage.sort is Sort.FERRY else -1)
        return self.now

    def _leg(self, stage: Stage, done: int, sailing: int) -> None:
        if stage.sort is Sort.FERRY:
            self._ferry(stage, done, sailing)
        elif stage.sort is Sort.STAND:
            self._wait_until(self.now + stage.quarters - done)
        elif stage.openings:
            self._whole(stage, stage.quarters - done, sailing)
        else:
            self._do(stage, stage.quarters - done)

    def _do(self, stage: Stage, wanted: int) -> None:
        """Drive or work outside of the closures, which stand between what is done before and after.

        Before each no more can be done than the driver can do till then.
        """
        for closes, opens in stage.closures:
            if opens <= self.now:
                continue
            done = self._most(stage, min(wanted, closes - self.now), closes)
            if done == wanted:
                break
            self._count(stage, done)
            wanted -= done
            self._wait_until(opens)
        self._count(stage, wanted)
        self.now = self._if_rested(max(self.now + wanted, self._least()))

    def _most(self, stage: Stage, room: int, closes: int) -> int:
        """Give how much of the room before a closure can be used."""
        if self._least_with(stage, room) <= closes:
            return max(0, room)
        low, high = -1, room - 1
        while low < high:
            middle = (low + high + 1) // 2
            if middle < 0 or self._least_with(stage, middle) <= closes:
                low = middle
            else:
                high = middle - 1
        return max(0, low)

    def _whole(self, stage: Stage, wanted: int, opening: int) -> None:
        if opening >= 0:
            self._count(stage, wanted)
            done = self._if_rested(max(self.now + wanted, self._least()))
            self.now = done if done <= stage.openings[opening][1] else FAR
            return
        done = max(self.now + wanted, self._least_with(stage, wanted))
        for opens, closes in stage.openings:
            if max(opens + wanted, done) <= closes:
                break
        else:
            self.now = FAR
            return
        self._anchor(max(opens, self.now))
        self._count(stage, wanted)
        self.now = self._if_rested(max(opens + wanted, done, self._least()))

    def _ferry(self, stage: Stage, done: int, sailing: int) -> None:
        if done:
            arrives = stage.sailings[sailing][1]
            sea = arrives - self.now
        else:
            ready = self.now + stage.ready if self._moved() else self.now + 1
            first = bisect_left(stage.sailings, (ready,), lo=sailing)
            if first == len(stage.sailings):
                self.now = FAR
                return
            arrives, sea = stage.soonest[first], stage.shortest[first]
            if not stage.bunk:
                # Nobody boards but by work, so at best rested, and at sea there is no rest.
                boards = self._if_rested(stage.sailings[first][0])
                first = bisect_left(stage.sailings, (boards,), lo=first)
                if first == len(stage.sailings):
                    self.now = FAR
                    return
                arrives, sea = stage.soonest[first], stage.shortest[first]
                self._anchor(stage.sailings[first][0] - 1)
        if stage.bunk:
            self._idle += 1 if done else 2
        else:
            self._other += 1 if done else 2
            self._idle += sea
        if stage.bunk:
            self._wait_until(arrives + 1)
        else:
            self.now = self._if_rested(max(arrives + 1, self._least()))

    def _moved(self) -> bool:
        return self.now > self._anchors[0].at or self._driving + self._other + self._idle > 0

    def _wait_until(self, quarter: int) -> None:
        self.now = max(quarter, self._least())
        self._anchor(self.now)

    def _anchor(self, quarter: int) -> None:
        """Count from here on as well, from the best state that anybody can have."""
        anchor = _Anchor(quarter, self._fresh, self._driving, self._other, self._idle)
        self._anchors.append(anchor)

    def _if_rested(self, quarter: int) -> int:
        """Give when a quarter of work can end that ends no sooner than a quarter.

        Where the duty at the start of the walk can't last till then a daily rest is over before.
        """
        start = self._anchors[0]
        if not self._machine.must_rest(start.state, quarter - 1 - start.at):
            return quarter
        least = self._machine.least(
            start.state, self._driving, self._other, self._idle, self._weeks, 1
        )
        return max(quarter, start.at + least)

    def _count(self, stage: Stage, quarters: int) -> None:
        if stage.sort is Sort.DRIVE:
            self._driving += quarters
        else:
            self._other += quarters

    def _least(self) -> int:
        return self._least_of(self._driving, self._other)

    def _least_with(self, stage: Stage, more: int) -> int:
        drives = stage.sort is Sort.DRIVE
        driving = self._driving + (more if drives else 0)
        return self._least_of(driving, self._other + (0 if drives else more))

    def _least_of(self, driving: int, other: int) -> int:
        by_driver = self._by_driver(driving, other)
        if driving <= self.left:
            return by_driver
        # The rest of it comes after the week has turned, by who is rested at best.
        later = self._machine.least(self._fresh, driving - self.left, 0, 0, self._weeks)
        return max(by_driver, self._turn + later)

    def _by_driver(self, driving: int, other: int) -> int:
        latest, idle, weeks, least = 0, self._idle, self._weeks, self._machine.least
        for at, state, drove, worked, waited in self._anchors:
            found = at + least(state, driving - drove, other - worked, idle - waited, weeks)
            if found > latest:
                latest = found
        return latest


def _plain_from(world: World, upto: int) -> int:
    """Give the first leg from which on nothing closes, sails or stands."""
    plain = upto
    while plain:
        stage = world.stages[plain - 1]
        if stage.closures or stage.openings or stage.sort in {Sort.FERRY, Sort.STAND}:
            break
        plain -= 1
    return plain


def _ahead(world: World, upto: int) -> list[tuple[int, int]]:
    """Give for each leg the driving and the other work, ferries apart, from its beginning on."""
    sums = [(0, 0)]
    for stage in reversed(world.stages[:upto]):
        driving, other = sums[-1]
        if stage.sort is Sort.DRIVE:
            driving += stage.quarters
        elif stage.sort is Sort.WORK:
            other += stage.quarters
        sums.append((driving, other))
    return sums[::-1]
