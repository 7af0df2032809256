"""A trip of a plan, from the times of its legs."""

from datetime import datetime, timedelta
from decimal import Decimal

from shared.book import Job, Journey
from shared.plan import LegTime, Trip
from shared.units import STEP_MINUTES, ceil_to_step, hours_up, minutes_up


def trip_of(
    rest_hours: Decimal, job: Job, journey: Journey, start: datetime, legs: tuple[LegTime, ...]
) -> Trip:
    """Return the trip with these legs: its vehicles back, its crew rested."""
    end = legs[-1].end if legs else start
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


def _steps(count: int) -> timedelta:
    return timedelta(minutes=STEP_MINUTES * count)
