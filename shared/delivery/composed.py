"""A run from its stretches: when each leg is over, when they are home, what it costs."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from shared.delivery.asked import Asked
from shared.delivery.choices import Choice, site_rules_of
from shared.delivery.judged import goal_of
from shared.delivery.lengths import home_leg_minutes
from shared.delivery.rests import first_duty_ends, with_gaps
from shared.delivery.run import Run
from shared.plan import Doing, Stretch
from shared.road.quarters import QUARTER
from shared.units import floor_to_step, minutes_up

_IDLE = frozenset({Doing.REST, Doing.STAND})


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A run as far as it is known: its stretches, its first leg at the site, when it is there."""

    leaves: datetime
    gate: datetime
    stretches: tuple[Stretch, ...]
    site: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Travel:
    """The crew's own way to the gate."""

    leaves: datetime
    stretches: tuple[Stretch, ...]
    price: Decimal


def composed(asked: Asked, choice: Choice, way: Way, travel: Travel | None) -> Run:
    """Return the run of all stretches of a journey, the crew's own way beside it."""
    ends = _ends(asked, way)
    end = ends[asked.home - 1] if asked.home else way.leaves
    back = ends[-1] if len(ends) > asked.home else end + _quarters(asked.journey.back_minutes)
    goal = goal_of(asked.journey)
    reached = ends[goal - 1] if goal else way.leaves
    done = way.stretches
    if travel is not None:
        there = (each for each in way.stretches if each.leg >= way.site)
        done = with_gaps((*travel.stretches, *there))
    return Run(
        journey=asked.journey.id,
        choice=choice,
        leaves=way.leaves,
        gate=way.gate,
        ends=ends,
        end=end,
        kept=reached <= floor_to_step(asked.window.end),
        back=back,
        stretches=way.stretches,
        travel=() if travel is None else travel.stretches,
        crew_from=None if travel is None else travel.leaves,
        price=choice.price + (Decimal(0) if travel is None else travel.price),
        first_duty_ends=first_duty_ends(done, site_rules_of(asked).rest, end, back),
    )


def _ends(asked: Asked, way: Way) -> tuple[datetime, ...]:
    """Give when each leg of the book is over; the way home follows as elapsed time."""
    over: dict[int, datetime] = {}
    for each in way.stretches:
        if each.doing not in _IDLE:
            over[each.leg] = each.end
    ends: list[datetime] = []
    at = way.leaves
    for number, leg in enumerate(asked.journey.legs):
        if number >= asked.home:
            at += _quarters(home_leg_minutes(leg, asked.workshop))
        else:
            at = over.get(number, at)
        ends.append(at)
    return tuple(ends)


def _quarters(minutes: int) -> timedelta:
    return minutes_up(minutes) * QUARTER
