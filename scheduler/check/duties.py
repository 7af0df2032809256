"""Journeys of one job that somebody goes on one after another: one duty, or with a rest between.

They are one duty where each begins once they are home from the one before and all are over, ways
home included, within a day less a daily rest (DR15a): a van that goes twice on one day with the
same people. Else the workshop's rest lies between. Whoever of the workshop is at the wheel again
has had a break since (DR01b), and all they drove and did counts together; of a way home, and of a
journey that is not held to drivers' hours, every minute counts as driven.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from scheduler.check.clock import DAY, QUARTER, hours, iso, seconds
from scheduler.check.means import leaving, means_of
from scheduler.check.road.acts import RESTS
from scheduler.check.sailed import IDLE
from scheduler.check.tell import of_step
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Limit, Rule
from shared.book import Job, Journey
from shared.ids import PersonId, StepId
from shared.plan import Doing, Trip
from shared.trade import figure

if TYPE_CHECKING:
    from shared.road.rules import HoursRules


class Away(NamedTuple):
    """A journey that somebody goes on: from which second they are away until which."""

    leaves: int
    back: int
    step: StepId


def duty_of(world: World, person: PersonId, step: StepId) -> list[Away]:
    """Return the journeys of the duty in which a person goes on one, in their order."""
    mine = sorted(
        Away(leaves=at[person], back=seconds(trip.back), step=journey.id)
        for journey, trip in world.trips_of(world.trips[step][0])
        if person in (at := leaving(journey, trip))
    )
    longest = DAY - hours(figure("DR15a").amount)
    duty: list[Away] = []
    for each in mine:
        follows = duty and each.leaves >= duty[-1].back
        if follows and each.back - duty[0].leaves <= longest:
            duty.append(each)
        elif any(one.step == step for one in duty):
            break
        else:
            duty = [each]
    return duty


def is_later_of_duty(world: World, person: PersonId, step: StepId) -> bool:
    """Return whether a person goes on a journey after another on the same duty."""
    return duty_of(world, person, step)[0].step != step


def leaves_again(world: World, person: PersonId, step: StepId) -> int | None:
    """Return the second at which a person goes on with their duty after a journey, if they do."""
    duty = duty_of(world, person, step)
    at = next(number for number, each in enumerate(duty) if each.step == step)
    return duty[at + 1].leaves if at + 1 < len(duty) else None


def at_the_wheel_again(
    world: World, job: Job, journey: Journey, trip: Trip, rules: "HoursRules"
) -> Iterator[Breach]:
    """Give the limits that people of the workshop pass at the wheel, going again on a duty."""
    means = means_of(journey, trip)
    for person in means.driven_by if means else ():
        duty = duty_of(world, person, journey.id)
        at = next(number for number, each in enumerate(duty) if each.step == journey.id)
        if at:
            known = world.people.get(person)
            for limit in _passed(world, duty[: at + 1], rules):
                yield of_step(
                    Rule.DRIVING,
                    job,
                    journey,
                    driver=known.name if known else person,
                    start=iso(duty[at].leaves),
                    limit=limit.value,
                    rules=rules.id,
                    figure="DR01b" if limit is Limit.UNBROKEN_DRIVING else None,
                )


def _passed(world: World, duty: list[Away], rules: "HoursRules") -> Iterator[Limit]:
    minutes = figure("DR01b").amount
    if duty[-1].leaves - duty[-2].back < minutes * 60:
        yield Limit.UNBROKEN_DRIVING
    driven = sum(_driven(world, each) for each in duty)
    if driven > max(rules.drive_daily, rules.drive_extended):
        yield Limit.DAILY_DRIVING
    if sum(_worked(world, each) for each in duty) > rules.work_daily:
        yield Limit.DAILY_WORK


def _driven(world: World, away: Away) -> int:
    """Return the quarters at the wheel, the way home as all of it."""
    return _at(world, away, frozenset({Doing.DRIVE}))


def _worked(world: World, away: Away) -> int:
    return _at(world, away, frozenset(Doing) - IDLE - RESTS)


def _at(world: World, away: Away, counted: frozenset[Doing]) -> int:
    _, _, trip = world.trips[away.step]
    if not trip.stretches:
        return (away.back - away.leaves) // QUARTER
    told = [each for each in trip.stretches if each.doing in counted]
    done = sum(seconds(each.end) - seconds(each.start) for each in told)
    return (done + away.back - seconds(trip.end)) // QUARTER
