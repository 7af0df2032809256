"""A journey in time: where the lorry and its crew are once it leaves, counted leg by leg."""

from dataclasses import dataclass
from datetime import timedelta

from shared.book import Job, Journey
from shared.ids import JobId, PersonId
from tests.bench.year.clock import DAY, at, day_of, quarter_down, quarter_up

REST = 44
"""Eleven hours off the bench after a day on the road and at the site, in quarters."""
ACCESS_HOURS = (7, 20)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ride:
    """When a job leaves, when it is signed off, back, and its crew at the bench again."""

    job: JobId
    crew: tuple[PersonId, ...]
    leaves: int
    end: int
    back: int
    free: int
    legs: tuple[tuple[int, int], ...] = ()
    in_time: bool = True


def journey_of(job: Job) -> Journey:
    """Return the journey of a job."""
    return next(step for step in job.steps if isinstance(step, Journey))


def ride(job: Job, leaves: int) -> Ride:
    """Return the ride that leaves at a quarter; each leg at the site lies in its access hours."""
    journey, window = journey_of(job), job.windows[0]
    opens, shuts = quarter_up(window.start), quarter_down(window.end)
    now, legs = leaves, []
    for leg in journey.legs:
        begins, length = now, -(-leg.minutes // 15)
        now = _at_site(max(now, opens), length) if leg.inside else now + length
        legs.append((begins, now))
    back = now + journey.back_minutes // 15
    return Ride(
        job=job.id, crew=journey.crew, leaves=leaves, end=now, back=back, free=back + REST,
        legs=tuple(legs), in_time=now <= shuts,
    )  # fmt: skip


def _at_site(now: int, length: int) -> int:
    """Return the end of so many quarters of access."""
    while True:
        day = day_of(now)
        first, last = (at(day, hour) for hour in ACCESS_HOURS)
        begins = max(now, first)
        if begins < last:
            done = min(length, last - begins)
            now, length = begins + done, length - done
            if not length:
                return now
        now = at(day + timedelta(days=1), ACCESS_HOURS[0])


def latest_leave(job: Job) -> int:
    """Return the latest quarter at which a job can leave and make its window."""
    leaves = quarter_down(job.windows[0].end)
    while not ride(job, leaves).in_time:
        leaves -= 1
    return leaves


def soonest_leave(job: Job) -> int:
    """Return the soonest departure by hand: there when the window opens."""
    first = next(leg for leg in journey_of(job).legs if not leg.inside)
    return quarter_up(job.windows[0].start) - first.minutes // 15


def by_hand(job: Job, now: int) -> int:
    """Return when somebody who plans by hand leaves with a job that is loaded now.

    At once if it is done on the same day, else in the morning; never before the window.
    """
    soonest = max(now, soonest_leave(job))
    for days in range(8):
        leaves = soonest if not days else at(day_of(soonest) + timedelta(days=days), 6)
        if ride(job, leaves).end - leaves < DAY // 2 and day_of(leaves).weekday() < 5:
            return leaves
    raise AssertionError("a journey that no day is long enough for")
