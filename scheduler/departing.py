"""Which departure a job takes whose own is gone: one in time for which few have to make way."""

from collections.abc import Iterator, Mapping

from scheduler.problem import Going, JobAim, Problem, Trip
from scheduler.search import Spot

TRIED_MAX = 12
Spots = Mapping[int, Spot]


def departures(problem: Problem, spots: Spots, trips: Mapping[int, int]) -> dict[int, int]:
    """Return an option in time for each job without one whose loading is placed.

    trips: by job, the option that it leaves with. Of those that are soonest after loading, the one
    is taken with which the fewest stages clash.
    """
    found: dict[int, int] = {}
    for job, aim in enumerate(problem.jobs):
        if aim.trip is not None and job not in trips and all(last in spots for last in aim.lasts):
            option = _fewest_clashes(aim, aim.trip, spots)
            if option is not None:
                found[job] = option
    return found


def _fewest_clashes(aim: JobAim, trip: Trip, spots: Spots) -> int | None:
    """Return the option to take, None where there is none."""
    options = sorted(_in_time(aim, trip, spots), key=lambda at: (trip.options[at].leaves, at))
    soon = options[:TRIED_MAX]
    return min(soon, key=lambda at: _clash_count(trip.options[at], spots), default=None)


def _in_time(aim: JobAim, trip: Trip, spots: Spots) -> Iterator[int]:
    if not all(load in spots for load in aim.loads):
        return
    ready = max((spots[last].end for last in aim.lasts), default=0)
    loaded = max((spots[load].end for load in aim.loads), default=0)
    for option, going in enumerate(trip.options):
        if going.in_time and trip.may_leave(option, ready, loaded):
            yield option


def _clash_count(going: Going, spots: Spots) -> int:
    """Return how many stages are done by somebody who would be away or at rest."""
    gone = going.absences
    return sum(
        any(worker in spot.team and a < spot.end and b > spot.start for worker, a, b in gone)
        for spot in spots.values()
    )
