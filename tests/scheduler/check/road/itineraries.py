"""Itineraries in few words, and what the replay says of them."""

from datetime import UTC, datetime, timedelta

from scheduler.check.road.replay import Breach, Wrong, replay
from scheduler.rules import Limit
from shared.plan import Doing, Stretch
from shared.road.bans import Lorry
from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from shared.road.legs import Drive, Journey, Leg
from shared.road.rules import HoursRules, rule_set
from tests.shared.road.trips import LONDON, at, drive

SIX = at(LONDON, "2027-03-15T06:00")
FRESH = Driver(as_of=SIX)
QUARTER = timedelta(minutes=15)
ONE, TWO = rule_set("eu_one_driver"), rule_set("eu_two_drivers")

Part = tuple[Doing, int, int] | tuple[Doing, int, int, int]
"""What is done, on which leg, for how many quarters, and who of two is at the wheel."""


def itinerary(*parts: Part, start: datetime = SIX) -> Itinerary:
    """Stretches one after the other."""
    found, now = [], start.astimezone(UTC)
    for doing, leg, quarters, *wheel in parts:
        end = now + quarters * QUARTER
        found.append(Stretch(doing=doing, leg=leg, start=now, end=end, wheel=sum(wheel)))
        now = end
    return Itinerary(stretches=tuple(found))


def breaches(
    found: Itinerary,
    *legs: Leg,
    drivers: tuple[Driver, ...] = (FRESH,),
    rules: HoursRules = ONE,
    lorry: Lorry | None = None,
) -> tuple[Breach, ...]:
    return replay(Journey(legs=legs, lorry=lorry), drivers, rules, found)


def wrongs(found: Itinerary, *legs: Leg, **more: object) -> set[Wrong]:
    return {each.wrong for each in breaches(found, *legs, **more)}  # type: ignore[arg-type]


def wheels(found: Itinerary) -> Drive:
    """One leg of all the driving there is."""
    driven = [each for each in found.stretches if each.doing is Doing.DRIVE]
    return drive(sum((each.end - each.start) // QUARTER for each in driven))


def limits(found: Itinerary, *drivers: Driver, rules: HoursRules = ONE) -> list[Limit | None]:
    """Whose limits are passed on a drive, in the order of the drivers."""
    told = breaches(found, wheels(found), drivers=drivers or (FRESH,), rules=rules)
    assert {each.wrong for each in told} <= {Wrong.HOURS}
    return [each.limit for each in told]
