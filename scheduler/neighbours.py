"""Which stages a part sets free: those that decide what a costly job costs, or any to polish.

Each way of choosing takes the look of a schedule, a draw and a size, and gives stages by number.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence
from enum import StrEnum
from random import Random

from scheduler.calendar import Index
from scheduler.grid import DAY_STEPS
from scheduler.problem import Schedule
from scheduler.ties import Ties

QUEUE_STEPS = 4 * DAY_STEPS
"""A stage that ended so soon before another, with its people or in its room, kept it waiting."""
STRAIGHT_OF_TEN = 8


class Kind(StrEnum):
    """A way of choosing stages."""

    CHAIN = "chain"
    COSTLY_JOBS = "costly_jobs"
    TIME = "time"
    PERSON = "person"
    RANDOM = "random"
    SEGMENTS = "segments"


TARGETED = (Kind.CHAIN, Kind.COSTLY_JOBS)
POLISH = (Kind.TIME, Kind.PERSON, Kind.RANDOM, Kind.SEGMENTS)


class Look:
    """A schedule as neighbours see it. costs: by job, how much dearer it is than alone."""

    def __init__(self, index: Index, schedule: Schedule, costs: Sequence[int]) -> None:
        self.index = index
        self.ties = index.once(Ties)
        self.schedule = schedule
        self.costs = costs
        placed = (stage for stage, way in enumerate(schedule.ways) if way >= 0)
        self.by_start = sorted(placed, key=lambda stage: (schedule.starts[stage], stage))
        self._starts = [schedule.starts[stage] for stage in self.by_start]
        self.rooms = [self._rooms_of(stage) for stage in range(len(schedule.ways))]

    def _rooms_of(self, stage: int) -> frozenset[int]:
        way = self.schedule.ways[stage]
        uses = self.index.problem.stages[stage].ways[way].uses if way >= 0 else ()
        return frozenset(use.room for use in uses if use.units)

    def near(self, t: int, count: int) -> list[int]:
        """Return so many stages that start nearest to a moment."""
        at = bisect_left(self._starts, t)
        some = self.by_start[max(0, at - count) : at + count]
        return sorted(some, key=lambda stage: (abs(self.schedule.starts[stage] - t), stage))[:count]

    def between(self, first: int, last: int) -> list[int]:
        """Return the stages that start from one moment to another."""
        return self.by_start[bisect_left(self._starts, first) : bisect_right(self._starts, last)]

    def of_job(self, job: int) -> list[int]:
        """Return the placed stages of a job, by start."""
        stages = self.index.problem.stages
        return [stage for stage in self.by_start if stages[stage].job == job]

    def costly_job(self, draw: Random) -> int:
        """Draw a job, the dearer the likelier."""
        return draw.choices(range(len(self.costs)), [1 + cost for cost in self.costs])[0]


def chain(look: Look, draw: Random, size: int) -> list[int]:
    """Return what decides when a costly job loads, walked back from there, with what lies by."""
    ends = look.index.problem.jobs[look.costly_job(draw)].lasts
    walked = _walked_back(look, draw, ends, size // 2)
    return _filled(look, walked, size)


def _walked_back(look: Look, draw: Random, ends: Iterable[int], count: int) -> list[int]:
    schedule = look.schedule
    lasts = [last for last in ends if schedule.ways[last] >= 0]
    if not lasts:
        return []
    latest = max(schedule.ends[last] for last in lasts)
    found: list[int] = []
    current = draw.choice([last for last in lasts if schedule.ends[last] == latest])
    while len(found) < count:
        found.append(current)
        before = sorted(_before(look, current, set(found)), reverse=True)
        if not before:
            break
        straight = draw.randrange(10) < STRAIGHT_OF_TEN
        current = before[0][1] if straight else draw.choice(before[:4])[1]
    return found


def _before(look: Look, stage: int, seen: set[int]) -> list[tuple[int, int]]:
    """Return what a stage waited for: until when, and which stage."""
    schedule, start = look.schedule, look.schedule.starts[stage]
    found: list[tuple[int, int]] = []
    for link in look.ties.ins[stage]:
        if link.lag is not None and link.before not in seen and schedule.ways[link.before] >= 0:
            came = schedule.ends[link.before] if link.from_end else schedule.starts[link.before]
            ready = link.lag.of(came)
            if ready is not None:
                found.append((ready, link.before))
    team = set(schedule.teams[stage])
    for other in look.between(start - 3 * QUEUE_STEPS, start):
        end = schedule.ends[other]
        if other in seen or not start - QUEUE_STEPS < end <= start:
            continue
        if not team.isdisjoint(schedule.teams[other]) or look.rooms[stage] & look.rooms[other]:
            found.append((end, other))
    return found


def _filled(look: Look, chosen: Sequence[int], size: int) -> list[int]:
    """Return chosen stages with others that lie near them and share people, rooms or the job."""
    if not chosen:
        return []
    schedule, stages = look.schedule, look.index.problem.stages
    people = {worker for stage in chosen for worker in schedule.teams[stage]}
    jobs = {stages[stage].job for stage in chosen}
    starts = sorted(schedule.starts[stage] for stage in chosen)
    taken = set(chosen)
    ranked: list[tuple[int, int]] = []
    for stage in look.between(starts[0] - QUEUE_STEPS, starts[-1] + QUEUE_STEPS):
        if stage in taken:
            continue
        at = bisect_left(starts, schedule.starts[stage])
        away = min(
            abs(starts[near] - schedule.starts[stage])
            for near in (max(0, at - 1), min(at, len(starts) - 1))
        )
        is_tied = stages[stage].job in jobs or not people.isdisjoint(schedule.teams[stage])
        ranked.append((away + (0 if is_tied else 2 * DAY_STEPS), stage))
    ranked.sort()
    return [*chosen, *(stage for _, stage in ranked[: size - len(chosen)])]


def costly_jobs(look: Look, draw: Random, size: int) -> list[int]:
    """Return stages of a costly job round one of its moments, and of another job meanwhile."""
    mine = look.of_job(look.costly_job(draw))
    if not mine:
        return []
    starts = look.schedule.starts
    t = starts[draw.choice(mine)]
    own = sorted(mine, key=lambda stage: (abs(starts[stage] - t), stage))[: size * 2 // 3]
    first = min(starts[stage] for stage in own) - DAY_STEPS
    last = max(look.schedule.ends[stage] for stage in own) + DAY_STEPS
    stages = look.index.problem.stages
    others = [
        stage for stage in look.between(first, last) if stages[stage].job != stages[own[0]].job
    ]
    jobs = sorted({stages[stage].job for stage in others})
    if not jobs:
        return own
    other = draw.choice(jobs)
    rest = [stage for stage in others if stages[stage].job == other]
    rest.sort(key=lambda stage: (abs(starts[stage] - t), stage))
    return [*own, *rest[: size - len(own)]]


def slice_of_time(look: Look, draw: Random, size: int) -> list[int]:
    """Return what starts nearest to some moment."""
    return look.near(look.schedule.starts[draw.choice(look.by_start)], size)


def person(look: Look, draw: Random, size: int) -> list[int]:
    """Return what two people do round some moment."""
    teams = look.schedule.teams
    t = look.schedule.starts[draw.choice(look.by_start)]
    near = look.near(t, 6 * size)
    at_work = sorted({worker for stage in near[:size] for worker in teams[stage]})
    two = set(draw.sample(at_work, min(2, len(at_work))))
    return [stage for stage in near if not two.isdisjoint(teams[stage])][:size]


def anything(look: Look, draw: Random, size: int) -> list[int]:
    """Return any stages at all."""
    return draw.sample(look.by_start, min(size, len(look.by_start)))


def segments(look: Look, draw: Random, size: int) -> list[int]:
    """Return all that is done on some segments that are about at the same time."""
    floors = [pair for job in look.index.problem.jobs for pair in job.floor]
    if not floors:
        return slice_of_time(look, draw, size)
    starts = look.schedule.starts
    t = starts[draw.choice(floors)[0]]
    found: list[int] = []
    for first, last in sorted(floors, key=lambda pair: (abs(starts[pair[0]] - t), pair)):
        own = [
            stage
            for stage in look.ties.along(first, last)
            if look.schedule.ways[stage] >= 0 and stage not in found
        ]
        if found and len(found) + len(own) > size:
            break
        found += own
    return found[: 2 * size]


CHOOSE: dict[Kind, Callable[[Look, Random, int], list[int]]] = {
    Kind.CHAIN: chain,
    Kind.COSTLY_JOBS: costly_jobs,
    Kind.TIME: slice_of_time,
    Kind.PERSON: person,
    Kind.RANDOM: anything,
    Kind.SEGMENTS: segments,
}
