"""Journeys of one job that share people or vehicles: when the next may leave, and what is one duty.

What is shared has to be back first. People then go on at once where all they do until they are
home again lies within a day less a daily rest (DR15a), else once the workshop's rest has passed.
Who of the workshop drives again has had a break since (DR01b), and all they drove and did counts
together; of a way home, and of a journey without drivers' hours, every minute counts as driven.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from scheduler.grid import DAY_STEPS
from scheduler.normalise.frame import Frame
from scheduler.normalise.goers import Goer
from scheduler.normalise.names import Ridden
from scheduler.normalise.one_day import least_rest
from shared.ids import StepId
from shared.plan import Doing
from shared.trade import figure
from shared.units import hours_up, minutes_up

_CORRECTED_MAX = 3
_AT_WORK = frozenset({Doing.WORK, Doing.DRIVE, Doing.BOARD, Doing.LAND})
_AT_WORK_IN_REST = frozenset({Doing.BOARD_IN_REST, Doing.LAND_IN_REST, Doing.SEA})
_DRIVES = frozenset({Doing.DRIVE})


@cache
def _least_break() -> int:
    return minutes_up(int(figure("DR01b").amount))


@dataclass(frozen=True, slots=True, kw_only=True)
class Outing:
    """One journey of a person: from when to when they are away, and by which way to go."""

    leaves: int
    back: int
    ridden: Ridden
    goer: Goer


def outings(worker: int, rides: Iterable[tuple[Goer, Ridden]]) -> list[Outing]:
    """Return the journeys that a person goes on, in the order in which they leave."""
    found = [
        Outing(leaves=_leaves(goer, one, worker), back=one.ride.back, ridden=one, goer=goer)
        for goer, one in rides
        if worker in goer.crew
    ]
    return found if len(found) == 1 else sorted(found, key=lambda each: (each.leaves, each.back))


def duties(mine: Iterable[Outing]) -> list[list[Outing]]:
    """Return the journeys of a person by duty."""
    found: list[list[Outing]] = []
    for each in mine:
        duty = found[-1] if found else []
        follows = bool(duty) and each.leaves >= duty[-1].back
        if follows and each.back - duty[0].leaves <= DAY_STEPS - least_rest():
            duty.append(each)
        else:
            found.append([each])
    return found


def _leaves(goer: Goer, found: Ridden, worker: int) -> int:
    """Return when somebody leaves: with the lorry, or on their own way."""
    if found.crew_from is not None and worker not in goer.drivers:
        return found.crew_from
    return found.ride.leaves


class Turns:
    """When a journey leaves after those of its job that share something with it."""

    def __init__(self, frame: Frame, goers: Mapping[StepId, Sequence[Goer]]) -> None:
        """Look up what there is too little of for all the journeys at once."""
        self._free = hours_up(frame.book.workshop.rest_hours)
        held: dict[int, int] = {}
        for ways in goers.values():
            for room in {room for goer in ways for room in _rooms(goer)}:
                held[room] = held.get(room, 0) + 1
        self._scarce = {
            room for room, count in held.items() if count > frame.rooms.made[room].capacity
        }
        self._goers = goers

    def share(self, one: Iterable[StepId], other: Iterable[StepId]) -> bool:
        """Return whether some journeys and some others may have to wait for each other."""
        theirs = [goer for step in other for goer in self._goers[step]]
        return any(
            self._shared(goer, each)
            for step in one
            for goer in self._goers[step]
            for each in theirs
        )

    def leaving(self, goer: Goer, at: int, before: Sequence[tuple[Goer, Ridden]]) -> Ridden | None:
        """Return the ride that leaves from a step on, as soon as what it shares is back."""
        shared = [each for each in before if self._shared(goer, each[0])]
        if not shared:
            return goer.leaving(at)
        for rest in (0, self._free):
            found = self._from(goer, at, shared, rest)
            if found is not None and self._fits(goer, found, before):
                return found
        return None

    def _shared(self, one: Goer, other: Goer) -> bool:
        return bool(set(one.crew) & set(other.crew)) or bool(
            self._scarce & set(_rooms(one)) & set(_rooms(other))
        )

    def _from(
        self, goer: Goer, at: int, shared: Sequence[tuple[Goer, Ridden]], rest: int
    ) -> Ridden | None:
        """Return the first ride for which all is back, and the people have rested so long."""
        for _ in range(_CORRECTED_MAX):
            found = goer.leaving(at)
            if found is None:
                return None
            lacks = max(self._lacks(goer, found, shared, rest))
            if lacks <= 0:
                return found
            at += lacks
        return None

    def _lacks(
        self, goer: Goer, found: Ridden, shared: Sequence[tuple[Goer, Ridden]], rest: int
    ) -> Iterator[int]:
        """Give by how much a ride is too soon for each thing and person shared."""
        yield 0
        own = found.ride.leaves if found.crew_from is None else found.crew_from
        for other, ridden in shared:
            back = ridden.ride.back
            for room in self._scarce & set(_rooms(goer)) & set(_rooms(other)):
                yield back - (found.ride.leaves if room in goer.vehicles else own)
            for worker in set(goer.crew) & set(other.crew):
                drives = goer.is_judged and worker in goer.drivers
                pause = max(rest, _least_break()) if drives else rest
                yield back + pause - _leaves(goer, found, worker)

    def _fits(self, goer: Goer, found: Ridden, before: Sequence[tuple[Goer, Ridden]]) -> bool:
        """Return whether everybody goes on within their duty, or has rested."""
        return all(
            self._is_legal(worker, goer, outings(worker, [*before, (goer, found)]))
            for worker in goer.crew
        )

    def _is_legal(self, worker: int, goer: Goer, mine: Sequence[Outing]) -> bool:
        by_duty = duties(mine)
        rested = all(
            later[0].leaves - sooner[-1].back >= self._free for sooner, later in pairwise(by_duty)
        )
        duty = by_duty[-1]
        if not rested or len(duty) == 1 or worker not in goer.drivers or not goer.is_judged:
            return rested
        return _is_within(duty)


def _is_within(duty: Sequence[Outing]) -> bool:
    """Return whether all that a driver does in a duty of several journeys is within one's hours."""
    run = duty[-1].ridden.run
    if run is None:
        return True
    rules = run.choice.rules
    driven = sum(_spent(each, _DRIVES) for each in duty)
    worked = sum(_spent(each, _AT_WORK | _AT_WORK_IN_REST) for each in duty)
    return (
        duty[-1].leaves - duty[-2].back >= _least_break()
        and driven <= rules.drive_daily
        and worked <= rules.work_daily
    )


def _spent(each: Outing, counted: frozenset[Doing]) -> int:
    """Return the steps of what is counted, and of the way home."""
    run = each.ridden.run
    if run is None:
        return each.back - each.leaves
    told = (one.end - one.start for one in run.stretches if one.doing in counted)
    minutes = sum(int(one.total_seconds()) // 60 for one in told)
    return minutes_up(minutes) + each.back - each.ridden.ride.end


def _rooms(goer: Goer) -> tuple[int, ...]:
    return (*goer.vehicles, *goer.travel_vehicles)
