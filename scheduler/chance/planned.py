"""A plan as the pools read it: in which order stages are served, by whom and where as planned."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from scheduler.calendar import Index
from scheduler.lags import Fixed
from scheduler.normalise import Normal
from scheduler.problem import Going
from scheduler.terms import Link
from shared.plan import Placement, Plan
from shared.units import steps_down, steps_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """order: every stage that is served, so that what comes before it does. ins: the links to each.

    starts, ends: by stage, as planned, or as soon as what is before allows for a moment that stands
    for no step. ways, teams: as planned, -1 and () where nothing is. trips: by job, the option that
    leaves as planned, None where there is none. inserted: optional stages that are in the plan.
    """

    order: tuple[int, ...]
    ins: tuple[tuple[Link, ...], ...]
    starts: tuple[int, ...]
    ends: tuple[int, ...]
    ways: tuple[int, ...]
    teams: tuple[tuple[int, ...], ...]
    trips: tuple[Going | None, ...]
    inserted: frozenset[int] = frozenset()


def planned_of(normal: Normal, index: Index, plan: Plan) -> Planned:
    """Return how a plan of a normalised book is served."""
    placed = {_key(each): each for each in plan.placements}
    problem = normal.problem
    count = len(problem.stages)
    starts, ends = [-1] * count, [-1] * count
    ways = [-1] * count
    teams: list[tuple[int, ...]] = [()] * count
    people = {person: at for at, person in enumerate(normal.workers)}
    for stage, name in enumerate(normal.stages):
        found = placed.get((name.job, name.step, name.round, name.part)) if name.is_told else None
        if found is None:
            continue
        starts[stage] = max(0, steps_down(normal.origin, found.start))
        # Of an answer, the pictures: the stage is the moment at which they go out.
        is_answer = bool(name.round) and not name.part
        ends[stage] = max(0, steps_up(normal.origin, found.start if is_answer else found.end))
        ways[stage] = _way_of(normal, stage, found)
        if problem.stages[stage].ways[ways[stage]].work:
            teams[stage] = tuple(sorted(people[one] for one in found.people))
    inserted = frozenset(
        stage for stage, one in enumerate(problem.stages) if one.optional and starts[stage] >= 0
    )
    active = [
        stage for stage, one in enumerate(problem.stages) if not one.optional or stage in inserted
    ]
    ins = _ins(index.terms.links, set(active), inserted, count)
    order = _served(active, ins, starts, ends)
    return Planned(
        order=order,
        ins=ins,
        starts=tuple(starts),
        ends=tuple(ends),
        ways=tuple(ways),
        teams=tuple(teams),
        trips=tuple(_trip(normal, job, plan) for job in range(len(problem.jobs))),
        inserted=inserted,
    )


def _key(each: Placement) -> Hashable:
    return each.job, each.step, each.round, each.part


def _way_of(normal: Normal, stage: int, found: Placement) -> int:
    names = normal.ways[stage]
    wanted = (found.way, found.place, found.equipment)
    alike = (at for at, n in enumerate(names) if (n.way, n.place, n.equipment) == wanted)
    return next(alike, 0)


def _ins(
    links: Sequence[Link], active: set[int], inserted: frozenset[int], count: int
) -> tuple[tuple[Link, ...], ...]:
    """Return the links to each stage; a stage that is inserted comes between two others."""
    found: list[list[Link]] = [[] for _ in range(count)]
    no_wait = Fixed(steps=0)
    for link in links:
        if link.before not in active or link.after not in active:
            continue
        found[link.after].append(link)
        if link.insert in inserted and link.insert is not None:
            found[link.insert].append(Link(before=link.before, after=link.insert, lag=no_wait))
            found[link.after].append(Link(before=link.insert, after=link.after, lag=no_wait))
    return tuple(map(tuple, found))


def _served(
    active: Sequence[int],
    ins: Sequence[Sequence[Link]],
    starts: list[int],
    ends: list[int],
) -> tuple[int, ...]:
    """Return the stages by their planned starts, each behind all that it waits for.

    Moments that stand for no step get their times on the way.
    """
    waits = {stage: {link.before for link in ins[stage] if _waits(link)} for stage in active}
    followers: dict[int, list[int]] = {}
    for stage, befores in waits.items():
        for before in befores:
            followers.setdefault(before, []).append(stage)
    left = {stage: len(befores) for stage, befores in waits.items()}

    def place(stage: int) -> tuple[int, int, int]:
        if starts[stage] < 0:
            ready = [_ready(link, starts, ends) for link in ins[stage] if _waits(link)]
            starts[stage] = ends[stage] = max([0, *ready])
        return starts[stage], ends[stage], stage

    queue = [place(stage) for stage in active if not left[stage]]
    heapify(queue)
    order: list[int] = []
    while queue:
        stage = heappop(queue)[2]
        order.append(stage)
        for after in followers.get(stage, ()):
            left[after] -= 1
            if not left[after]:
                heappush(queue, place(after))
    known = set(order)
    # Stages that wait for each other in a ring follow by their planned starts.
    ring = sorted(place(stage) for stage in active if stage not in known)
    return (*order, *(stage for _, _, stage in ring))


def _waits(link: Link) -> bool:
    lag = link.lag
    return lag is not None and not (isinstance(lag, Fixed) and lag.steps < 0)


def _ready(link: Link, starts: Sequence[int], ends: Sequence[int]) -> int:
    came = ends[link.before] if link.from_end else starts[link.before]
    ready = None if link.lag is None else link.lag.of(came)
    return came if ready is None else ready


def _trip(normal: Normal, job: int, plan: Plan) -> Going | None:
    """Return the departure of a job that the plan has."""
    trip, name = normal.problem.jobs[job].trip, normal.jobs[job]
    if trip is None:
        return None
    leaves = {each.step: each.start for each in plan.trips if each.job == name.job.id}
    for option, going in zip(name.options, trip.options, strict=True):
        if all(
            step in leaves and ridden.ride.leaves == steps_down(normal.origin, leaves[step])
            for step, ridden in option.rides
        ):
            return going
    return None
