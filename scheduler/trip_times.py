"""A trip of a plan, from the times of its legs."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from shared.book import Job, Journey
from shared.delivery.judged import home_from
from shared.plan import LegTime, Trip
from shared.units import STEP_MINUTES, ceil_to_step, hours_up, minutes_up

if TYPE_CHECKING:
    from shared.delivery.run import Run


def trip_of(
    rest_hours: Decimal, job: Job, journey: Journey, start: datetime, legs: tuple[LegTime, ...]
) -> Trip:
    """Return the trip with these legs: its vehicles back, its crew rested.

    It ends with the last leg before the way home, which is a leg or `back_minutes`.
    """
    home = home_from(journey)
    end = legs[min(home, len(legs)) - 1].end if legs and home else start
    if home < len(legs):
        back = ceil_to_step(legs[-1].end)
    else:
        back = ceil_to_step(end) + _steps(minutes_up(journey.back_minutes))
    return Trip(
        job=job.id,
        step=journey.id,
        start=start,
        end=end,
        back=back,
        free=back + _steps(hours_up(rest_hours)),
        legs=legs,
    )


def trip_of_run(rest_hours: Decimal, job: Job, run: "Run", means: str | None) -> Trip:
    """Return the trip of a journey that goes by drivers' hours."""
    return Trip(
        job=job.id,
        step=run.journey,
        start=run.leaves,
        end=run.end,
        back=run.back,
        free=run.back + _steps(hours_up(rest_hours)),
        legs=run.legs,
        means=means,
        stretches=run.stretches,
        travel=run.travel,
        crew_from=run.crew_from,
    )


def _steps(count: int) -> timedelta:
    return timedelta(minutes=STEP_MINUTES * count)
