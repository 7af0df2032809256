"""What people were last told, as a schedule to begin from: little of it changes that needn't."""

from collections.abc import Mapping
from datetime import datetime

from scheduler.edited import Carried
from scheduler.normalise import Normal, StageName
from scheduler.search import Spot
from shared.ids import PersonId
from shared.plan import Placement, Plan
from shared.units import STEP_SECONDS

UNKNOWN = 10**9
"""What a told plan missed is not asked: whatever follows it may miss as much."""


def carried_plan(normal: Normal, plan: Plan) -> Carried:
    """Return what a plan says about a book, in the numbers of its problem, unquestioned.

    Moments that are no step of the book begin with the step that they belong to.
    """
    placed = {(each.step, each.round, each.part): each for each in plan.placements}
    positions = {person: at for at, person in enumerate(normal.workers)}
    spots: dict[int, Spot] = {}
    starts: dict[int, int] = {}
    for at, name in enumerate(normal.stages):
        told = placed.get((name.step, name.round, name.part if name.is_told else ""))
        if told is None:
            continue
        starts[at] = max(0, _step(normal, told.start))
        spot = _spot(normal, at, name, told, positions) if name.is_told else None
        if spot is not None:
            spots[at] = spot
    return Carried(
        spots=spots,
        starts=starts,
        trips=told_trips(normal, plan),
        jobs=frozenset(
            at for at, name in enumerate(normal.jobs) if name.job.id in frozenset(plan.jobs)
        ),
        levels=(UNKNOWN, UNKNOWN, UNKNOWN),
    )


def _step(normal: Normal, instant: datetime) -> int:
    return int((instant - normal.origin).total_seconds()) // STEP_SECONDS


def _spot(
    normal: Normal, at: int, name: StageName, told: Placement, positions: Mapping[PersonId, int]
) -> Spot | None:
    ways = normal.ways[at]
    way = next(
        (n for n, one in enumerate(ways) if (one.way, one.place) == (told.way, told.place)), None
    )
    if way is None or name.begun is not None or any(one not in positions for one in told.people):
        return None
    work = normal.problem.stages[at].ways[way].work
    team = tuple(sorted(positions[one] for one in told.people)) if work else ()
    start, end = _step(normal, told.start), _step(normal, told.end)
    is_moment = not work
    return Spot(start=start, end=start if is_moment else end, way=way, team=team)


def told_trips(normal: Normal, plan: Plan) -> dict[int, int]:
    """Return the option of each job that leaves when it was told, by the same means."""
    told = {trip.step: (_step(normal, trip.start), trip.means) for trip in plan.trips}
    found: dict[int, int] = {}
    for job, name in enumerate(normal.jobs):
        for at, option in enumerate(name.options):
            if all(told.get(step) == (each.ride.leaves, each.means) for step, each in option.rides):
                found[job] = at
                break
    return found
