"""Who and what is taken when by stages that are placed, and where that is too much."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from scheduler.calendar import Index
from scheduler.grid import joined
from scheduler.problem import Going, Problem
from scheduler.search import Spot
from scheduler.terms import FOREVER


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """Units taken over [start, end) by a stage or a job's journey; by neither: so given.

    against: rooms of which nobody else may have any meanwhile.
    """

    start: int
    end: int
    units: int = 1
    stage: int | None = None
    job: int | None = None
    against: tuple[int, ...] = ()

    @property
    def is_movable(self) -> bool:
        """Return whether it is no fact."""
        return self.stage is not None or self.job is not None


Takings = list[Taking]


def workers_taken(
    problem: Problem, spots: Mapping[int, Spot], goings: Iterable[tuple[int, Going]]
) -> list[tuple[Takings, Takings]]:
    """Return by worker what they do, and the rests that their journeys call for."""
    found: list[tuple[Takings, Takings]] = [
        ([Taking(start=a, end=b) for a, b in joined(worker.busy)], []) for worker in problem.workers
    ]
    for stage, spot in spots.items():
        if spot.end > spot.start:
            for worker in spot.team:
                found[worker][0].append(Taking(start=spot.start, end=spot.end, stage=stage))
    for job, going in goings:
        for worker, start, end in going.away:
            found[worker][0].append(Taking(start=start, end=end, job=job))
        for worker, start, end in going.rests:
            found[worker][1].append(Taking(start=start, end=end, job=job))
    return found


def rooms_taken(
    index: Index, spots: Mapping[int, Spot], goings: Iterable[tuple[int, Going]]
) -> list[Takings]:
    """Return by room what is taken of it.

    What stands from step 0 is given; what stands to the end of a stage that is not placed stands
    no longer than it has to.
    """
    found: list[Takings] = [
        [Taking(start=a, end=b, units=units) for a, b, units in room.busy]
        for room in index.problem.rooms
    ]
    for stage, spot in spots.items():
        for claim in index.terms.claims[stage][spot.way]:
            found[claim.room].append(
                Taking(
                    start=claim.begins(spot.start),
                    end=claim.ends(spot.end),
                    units=claim.units,
                    stage=stage,
                    against=claim.against,
                )
            )
    for stand in index.terms.stands:
        first = None if stand.first is None else spots.get(stand.first)
        last = None if stand.last is None else spots.get(stand.last)
        if stand.first is None or first is not None:
            start = 0 if first is None else first.start
            end = last.end if last is not None else start
            end = FOREVER if stand.last is None else end
            taken = Taking(start=start, end=end, units=stand.units, stage=stand.first)
            found[stand.room].append(taken)
    for job, going in goings:
        for room, start, end, units in going.takes:
            found[room].append(Taking(start=start, end=end, units=units, job=job))
    return found


def overfull(taken: Takings, capacity: int, firm: Collection[int]) -> Iterator[Taking]:
    """Yield what to take away so that no more is taken than there is, or all that is left is given.

    firm: stages that are given as well. Of those that are there together the latest goes,
    stages before journeys.
    """
    there: Takings = []
    load = 0
    for newest in sorted(taken, key=lambda each: (each.start, each.is_movable)):
        if newest.end <= newest.start or not newest.units:
            continue
        load += newest.units
        there.append(newest)
        if load <= capacity:
            continue
        there = [each for each in there if each.end > newest.start]
        load = sum(each.units for each in there)
        while load > capacity:
            movable = [at for at, each in enumerate(there) if _may_go(each, firm)]
            stages = [at for at in movable if there[at].stage is not None]
            if not movable:
                break
            gone = there.pop(stages[-1] if stages else movable[-1])
            load -= gone.units
            yield gone


def _may_go(taking: Taking, firm: Collection[int]) -> bool:
    return taking.is_movable and taking.stage not in firm


def meeting(one: Taking, taken: Sequence[Taking]) -> Iterator[Taking]:
    """Yield what shares a moment with one taking, itself left out."""
    if one.start < one.end:
        for each in taken:
            if (
                each is not one
                and each.units
                and max(one.start, each.start) < min(one.end, each.end)
            ):
                yield each
