"""Minutes, grid steps and every conversion between them and instants.

The engine's grid counts quarters of an hour of elapsed time in UTC. Durations, least waits,
openings and arrivals round up; greatest waits, closings, window ends and latest departures
round down.
"""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import NewType

Minutes = NewType("Minutes", int)
Steps = NewType("Steps", int)

STEP_MINUTES = 15
STEP_SECONDS = STEP_MINUTES * 60
STEPS_PER_HOUR = 60 // STEP_MINUTES
SQUARE_DECIMETRES_PER_M2 = 100
_STEP = timedelta(seconds=STEP_SECONDS)


def floor_to_step(instant: datetime) -> datetime:
    """Return the last whole quarter of an hour in UTC that is not after an instant."""
    whole = int(instant.timestamp()) // STEP_SECONDS * STEP_SECONDS
    return datetime.fromtimestamp(whole, UTC)


def ceil_to_step(instant: datetime) -> datetime:
    """Return the first whole quarter of an hour in UTC that is not before an instant."""
    low = floor_to_step(instant)
    return low if low >= instant else low + timedelta(seconds=STEP_SECONDS)


def steps_up(origin: datetime, instant: datetime) -> int:
    """Return the steps from the origin to an instant, rounded up (openings, arrivals)."""
    return -int((origin - instant) // _STEP)


def steps_down(origin: datetime, instant: datetime) -> int:
    """Return the steps from the origin to an instant, rounded down (closings, window ends)."""
    return int((instant - origin) // _STEP)


def instant_of(origin: datetime, step: int) -> datetime:
    """Return the instant of a step after the origin."""
    return origin + timedelta(seconds=STEP_SECONDS * step)


@lru_cache(maxsize=4096)
def hours_up(hours: Decimal | Fraction) -> int:
    """Return hours as steps, rounded up (durations, least waits)."""
    exact = Fraction(hours) * STEPS_PER_HOUR
    return -((-exact.numerator) // exact.denominator)


@lru_cache(maxsize=4096)
def hours_down(hours: Decimal | Fraction) -> int:
    """Return hours as steps, rounded down (greatest waits)."""
    exact = Fraction(hours) * STEPS_PER_HOUR
    return exact.numerator // exact.denominator


def minutes_up(minutes: int) -> int:
    """Return minutes as steps, rounded up."""
    return -(-minutes // STEP_MINUTES)


def whole_up(exact: Fraction) -> int:
    """Return the least whole number that is not below a fraction."""
    return -((-exact.numerator) // exact.denominator)


def whole_down(exact: Fraction) -> int:
    """Return the greatest whole number that is not above a fraction."""
    return exact.numerator // exact.denominator


def decimal_of(exact: Fraction, places: int = 6) -> Decimal:
    """Return a fraction as a decimal, rounded half to even at some places, without zeros behind."""
    made = Decimal(round(exact * 10**places)).scaleb(-places).normalize()
    return made.quantize(Decimal(1)) if made == made.to_integral_value() else made


@lru_cache(maxsize=1024)
def area_up(square_metres: Decimal) -> int:
    """Return a need of floor as whole square decimetres, rounded up."""
    exact = Fraction(square_metres) * SQUARE_DECIMETRES_PER_M2
    return -((-exact.numerator) // exact.denominator)


@lru_cache(maxsize=1024)
def area_down(square_metres: Decimal) -> int:
    """Return an offer of floor as whole square decimetres, rounded down."""
    exact = Fraction(square_metres) * SQUARE_DECIMETRES_PER_M2
    return exact.numerator // exact.denominator


def elapsed(hours: Decimal) -> timedelta:
    """Return hours as elapsed time, whole seconds."""
    return timedelta(seconds=int(hours * 3600))
