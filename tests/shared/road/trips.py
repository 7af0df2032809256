"""Journeys in few words, for the tests of the road."""

from datetime import datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from shared.road.bans import Lorry, Road
from shared.road.countback import Trip
from shared.road.driver import Driver
from shared.road.legs import Drive, Ferry, Journey, Leg, Sailing, Work
from shared.road.rules import HoursRules, one_driver
from shared.worktime import Span

LONDON, PARIS, BERLIN = "Europe/London", "Europe/Paris", "Europe/Berlin"
AMSTERDAM, OSLO = "Europe/Amsterdam", "Europe/Oslo"
HEAVY = Lorry(tonnes=Decimal(18))


def at(zone: str, text: str) -> datetime:
    """An instant by the clock on the wall of a zone."""
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone))


def drive(quarters: int, country: str = "GB") -> Drive:
    return Drive(quarters=quarters, road=Road(country=country))


def work(quarters: int, zone: str = LONDON, *openings: tuple[str, str]) -> Work:
    spans = tuple(Span(start=at(zone, a), end=at(zone, b)) for a, b in openings)
    return Work(quarters=quarters, openings=spans or None)


def ferry(*sailings: tuple[datetime, datetime], cut_off: int = 60, bunk: bool = True) -> Ferry:
    return Ferry(
        sailings=tuple(Sailing(departs=off, arrives=there) for off, there in sailings),
        cut_off=timedelta(minutes=cut_off),
        bunk=bunk,
    )


def trip(
    driver: Driver, *legs: Leg, lorry: Lorry | None = None, rules: HoursRules | None = None
) -> Trip:
    return Trip(
        journey=Journey(legs=legs, lorry=lorry), drivers=(driver,), rules=rules or one_driver()
    )
