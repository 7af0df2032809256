"""What an earlier schedule says about an edited book: places, people and departures by their names.

Two normalised books number their stages, ways and workers each in their own way, and count steps
from their own now; only the names are the same.
"""

from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from scheduler.aims import levels, missed_jobs
from scheduler.normalise import Normal, WayName
from scheduler.normalise.names import JobName
from scheduler.problem import Schedule
from scheduler.search import Spot
from shared.ids import JobId
from shared.units import STEP_SECONDS


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """A book as it was normalised, and the schedule that was found for it."""

    normal: Normal
    schedule: Schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """An earlier schedule in the numbers of another problem, unquestioned.

    spots: by stage, where it was, with a way and people that there still are. starts: by stage,
    when it began, whoever did it. trips: by job, the option it left with. missed: the jobs that
    missed their windows, jobs: those that it had. levels: the first three of what it reached.
    """

    spots: dict[int, Spot]
    starts: dict[int, int]
    trips: dict[int, int]
    jobs: frozenset[int] = frozenset()
    missed: frozenset[int] = frozenset()
    levels: tuple[int, int, int] = (0, 0, 0)


def carried(normal: Normal, before: Before) -> Carried:
    """Return what an earlier schedule says about a book normalised since."""
    shift = _steps_between(before.normal, normal)
    old, was = before.normal, before.schedule
    positions = {name: at for at, name in _named(old)}
    workers = {person: at for at, person in enumerate(normal.workers)}
    workers_now = [workers.get(person) for person in old.workers]
    spots: dict[int, Spot] = {}
    starts: dict[int, int] = {}
    for stage, name in _named(normal):
        at = positions.get(name)
        if at is None or was.ways[at] < 0:
            continue
        starts[stage] = was.starts[at] + shift
        way = _way_now(old.ways[at], was.ways[at], normal.ways[stage])
        team = [workers_now[worker] for worker in was.teams[at]]
        known = tuple(sorted(worker for worker in team if worker is not None))
        if way is not None and len(known) == len(team):
            end = was.ends[at] + shift
            spots[stage] = Spot(start=starts[stage], end=end, way=way, team=known)
    return Carried(
        spots=spots,
        starts=starts,
        trips=_trips(normal, before, shift),
        jobs=_those(normal, (name.job.id for name in old.jobs)),
        missed=_those(normal, (old.jobs[at].job.id for at in missed_jobs(old.problem, was))),
        levels=levels(old.problem, was)[:3],
    )


def _those(normal: Normal, jobs: Iterable[JobId]) -> frozenset[int]:
    """Return the positions of some jobs."""
    wanted = frozenset(jobs)
    return frozenset(at for at, name in enumerate(normal.jobs) if name.job.id in wanted)


def _steps_between(old: Normal, new: Normal) -> int:
    return round((old.origin - new.origin).total_seconds()) // STEP_SECONDS


def _named(normal: Normal) -> Iterator[tuple[int, Hashable]]:
    """Give every stage's position and name; those with the same name are counted."""
    met: dict[Hashable, int] = {}
    for at, name in enumerate(normal.stages):
        key = (name.job, name.step, name.part, name.round)
        met[key] = met.get(key, 0) + 1
        yield at, (*key, met[key])


def _way_now(old: Sequence[WayName], way: int, new: Sequence[WayName]) -> int | None:
    """Return the position of the same way, the one at the same position before others."""
    wanted = old[way]
    if way < len(new) and new[way] == wanted:
        return way
    return next((at for at, name in enumerate(new) if name == wanted), None)


def _trips(normal: Normal, before: Before, shift: int) -> dict[int, int]:
    """Return the option of each job that leaves when its old one did, by the same means."""
    taken = {
        name.job.id: (name, option)
        for name, option in zip(before.normal.jobs, before.schedule.trips, strict=True)
        if option >= 0
    }
    found: dict[int, int] = {}
    for job, name in enumerate(normal.jobs):
        if name.job.id not in taken:
            continue
        old, option = taken[name.job.id]
        wanted = _departure(old, option, shift)
        trip = normal.problem.jobs[job].trip
        for now in _options(name) if trip is not None else ():
            if _departure(name, now, 0) == wanted:
                found[job] = now
                break
    return found


def _options(name: JobName) -> Iterable[int]:
    return range(len(name.options))


def _departure(name: JobName, option: int, shift: int) -> Hashable:
    """Return when each journey leaves and by which means."""
    rides = name.options[option].rides
    return tuple((step, found.means, found.ride.leaves + shift) for step, found in rides)
