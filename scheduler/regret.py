"""What the book costs a job: how much worse it fares in it than alone in an empty workshop."""

from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.aims import levels, loading_end
from scheduler.calendar import Index
from scheduler.justify import justify
from scheduler.model.alone import alone
from scheduler.place import Unfit, place
from scheduler.problem import JobAim, Schedule
from scheduler.terms import terms_of
from scheduler.urgency import countback_order

WINDOW_COST, LATE_COST, SHORT_COST = 1_000_000, 1_000, 25


@dataclass(frozen=True, slots=True, kw_only=True)
class Fare:
    """How a job fares: whether its window is missed, steps late, steps short of the wish."""

    missed: bool
    late_steps: int
    short_steps: int

    @property
    def cost(self) -> int:
        """Return it as one figure, for choosing by."""
        missed = WINDOW_COST if self.missed else 0
        return missed + LATE_COST * self.late_steps + SHORT_COST * self.short_steps


def fare_of(aim: JobAim, end: int, *, is_in_time: bool) -> Fare:
    """Return how a job fares whose loading ends then. is_in_time: its journey makes the window."""
    late = 0 if aim.latest is None else max(0, end - aim.latest)
    short = 0 if aim.wish is None else max(0, end - aim.wish)
    return Fare(
        missed=aim.latest is None or late > 0 or not is_in_time,
        late_steps=late,
        short_steps=short,
    )


class Alone:
    """How each job fares alone, by one placement pass each; made once for each index.

    floors: by job, its floor time then, pulled together. A plan and no proof: it may fare better.
    """

    def __init__(self, index: Index) -> None:
        found = [_alone(index, job) for job in range(len(index.problem.jobs))]
        self.fares = [fare for fare, _ in found]
        self.floors = [floor for _, floor in found]


def _alone(index: Index, job: int) -> tuple[Fare, int]:
    aim = index.problem.jobs[job]
    problem = alone(index.problem, job)
    own = index.excerpt(problem, terms_of(problem))
    found = place(own, countback_order(own))
    if isinstance(found, Unfit):
        return fare_of(aim, 0, is_in_time=True), 0
    fare = fare_of(aim, loading_end(problem.jobs[0], found), is_in_time=True)
    return fare, levels(problem, justify(own, found))[-1]


def regrets(index: Index, schedule: Schedule) -> Sequence[int]:
    """Return by job what it costs more in a schedule than alone."""
    found = []
    for job, alone_ in zip(fares(index, schedule), index.once(Alone).fares, strict=True):
        found.append(max(0, job.cost - alone_.cost))
    return found


def fares(index: Index, schedule: Schedule) -> list[Fare]:
    """Return how each job fares in a schedule."""
    return [
        fare_of(aim, loading_end(aim, schedule), is_in_time=_is_in_time(aim, option))
        for aim, option in zip(index.problem.jobs, schedule.trips, strict=True)
    ]


def _is_in_time(aim: JobAim, option: int) -> bool:
    trip = aim.trip
    return trip is None or not trip.makes_window or trip.is_in_time(option)
