"""The parts of a journey that the driver is needed for. Waiting is never one of them."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from shared.road.bans import Lorry, Road
from shared.worktime import Spans


class NoJourney(ValueError):  # noqa: N818 - it says what is wrong
    """A journey that can't be read: a leg without length, sailings missing or out of order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """So many quarters at the wheel on the roads of one country."""

    quarters: int
    road: Road


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """So many quarters of other work, only inside its openings; None is at any time.

    whole: from beginning to end, breaks and all, in one of them.
    """

    quarters: int
    openings: Spans | None = None
    whole: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """So many quarters elapsed from the end of the leg before; nobody is needed: rest for all."""

    quarters: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Sailing:
    """When a ship casts off and when it is alongside; whole quarters of UTC."""

    departs: datetime
    arrives: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Ferry:
    """Sailings, earliest first, and how long before one the lorry has to be at the check-in.

    Boarding takes the last quarter before it casts off, landing the first after it is alongside.
    """

    sailings: tuple[Sailing, ...]
    cut_off: timedelta
    bunk: bool


Leg = Drive | Work | Ferry | Stand


@dataclass(frozen=True, slots=True, kw_only=True)
class Journey:
    """The legs from the yard to the end, and the lorry; without one no ban is asked for.

    goal: so many legs have to be over by the time that is asked for, and the others only as early
    as they can after them; None: all.
    """

    legs: tuple[Leg, ...]
    lorry: Lorry | None = None
    goal: int | None = None

    def __post_init__(self) -> None:
        """Refuse what has no length or no order."""
        if self.goal is not None and not 1 <= self.goal <= len(self.legs):
            raise NoJourney(f"there is no leg {self.goal}")
        for leg in self.legs:
            _refuse_empty(leg)


def _refuse_empty(leg: Leg) -> None:
    if not isinstance(leg, Ferry):
        if leg.quarters < 1:
            raise NoJourney(f"a leg takes time: {leg}")
        return
    times = [each.departs for each in leg.sailings]
    if not times or times != sorted(set(times)):
        raise NoJourney("sailings must be some, and in the order of their departures")
    for each in leg.sailings:
        whole = each.departs.timestamp() % 900 == 0 == each.arrives.timestamp() % 900
        if each.departs >= each.arrives or not whole:
            raise NoJourney(f"a sailing takes whole quarters of an hour: {each}")
