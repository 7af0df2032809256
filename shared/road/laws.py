"""Which machine of states counts a set of rules."""

from functools import lru_cache
from typing import Any

from shared.road.driver import Driver
from shared.road.law import Law
from shared.road.rules import HoursRules
from shared.road.state import OneDriver
from shared.road.two import TwoDrivers
from shared.road.weekly import WeeklyLaw


class WrongCrew(ValueError):  # noqa: N818 - it says what is wrong
    """Rules for another number of drivers than there are."""


def law_of(
    rules: HoursRules, drivers: tuple[Driver, ...], *, weekly_rests: bool = False
) -> Law[Any]:
    """Give the law that counts these rules for so many drivers, with weekly rests if wanted.

    Raises
    ------
    WrongCrew
        If the rules are for another number of drivers.
    """
    if len(drivers) != rules.drivers:
        raise WrongCrew(f"{rules.id} is for {rules.drivers} at the wheel, not {len(drivers)}")
    return _weekly(rules) if weekly_rests else _law(rules)


@lru_cache(maxsize=32)
def _law(rules: HoursRules) -> Law[Any]:
    return TwoDrivers(rules) if rules.drivers > 1 else OneDriver(rules)


@lru_cache(maxsize=32)
def _weekly(rules: HoursRules) -> Law[Any]:
    return WeeklyLaw(_law(rules))
