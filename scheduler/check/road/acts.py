"""What each driver does in each quarter of an itinerary, and the stretches on end of one sort.

Of two drivers the one at the wheel drives and the other rides; all else they do together.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import Enum, auto

from shared.plan import Doing, Stretch

QUARTER = timedelta(minutes=15)
RESTS = {Doing.REST, Doing.SEA_REST, Doing.STAND}
BREAKS_REST = {Doing.BOARD_IN_REST, Doing.LAND_IN_REST}


class Act(Enum):
    """What the law calls it: driving, other work, rest, what breaks one, at sea, riding along."""

    DRIVE = auto()
    WORK = auto()
    REST = auto()
    BROKEN = auto()
    SEA = auto()
    RIDE = auto()


Acts = tuple[tuple[datetime, Act], ...]
"""Quarters by the instant they begin, and what is done in each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Quarters of one sort on end: a rest with what broke it, or one act."""

    sort: Act
    acts: Acts

    @property
    def start(self) -> datetime:
        """Return when it begins."""
        return self.acts[0][0]

    @property
    def end(self) -> datetime:
        """Return when it is over."""
        return self.acts[-1][0] + QUARTER

    @property
    def net(self) -> int:
        """Count the quarters of rest alone."""
        return sum(act is Act.REST for _, act in self.acts)

    @property
    def broken(self) -> int:
        """Count the quarters that broke the rest; no boarding or landing takes more than one."""
        return sum(act is Act.BROKEN for _, act in self.acts)


def acts_of(stretches: Sequence[Stretch], driver: int, count: int) -> Acts:
    """Give what a driver, 1 or 2 of so many, does quarter by quarter."""
    found: list[tuple[datetime, Act]] = []
    for each in stretches:
        act = _act(each, driver, count)
        now = each.start
        while now < each.end:
            found.append((now, act))
            now += QUARTER
    return tuple(found)


def _act(each: Stretch, driver: int, count: int) -> Act:
    if each.doing is Doing.DRIVE:
        return Act.DRIVE if count == 1 or each.wheel == driver else Act.RIDE
    if each.doing in RESTS:
        return Act.REST
    if each.doing in BREAKS_REST:
        return Act.BROKEN
    return Act.SEA if each.doing is Doing.SEA else Act.WORK


def blocks_of(acts: Acts) -> Iterator[Block]:
    """Give the blocks of some quarters, in order."""
    running: list[tuple[datetime, Act]] = []
    for at, act in acts:
        if running and _sort(act) is not _sort(running[0][1]):
            yield Block(sort=_sort(running[0][1]), acts=tuple(running))
            running = []
        running.append((at, act))
    if running:
        yield Block(sort=_sort(running[0][1]), acts=tuple(running))


def _sort(act: Act) -> Act:
    return Act.REST if act is Act.BROKEN else act
