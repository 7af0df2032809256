"""What a search asks of drivers' hours: states of whoever drives, and what a quarter makes of them.

A law knows nothing of roads and nothing of particular drivers. A state is any hashable value;
equal states go on alike.
"""

from collections.abc import Hashable
from typing import NamedTuple, Protocol, TypeVar

from shared.road.driver import Driver
from shared.road.quarters import floor_quarter, week_of
from shared.road.rules import HoursRules

S = TypeVar("S", bound=Hashable)

RANK_MOST = 2**15 - 1
"""The greatest number that a rank may have."""


class Need(NamedTuple):
    """What is still to be done: quarters of driving, other work, and at sea without a bunk.

    weeks: how many fixed weeks may at most begin before it is over. rests: so many daily rests at
    the least are over before its end.
    """

    driving: int
    other: int
    idle: int
    weeks: int
    rests: int = 0


class Law(Protocol[S]):
    """The hours of the people at the wheel of one lorry, as a machine of states.

    Each function gives what one more quarter may make of a state; nothing, if it is not allowed.
    Whether a fixed week begins is said by the search, which calls `turned` before the quarter.
    """

    @property
    def rules(self) -> HoursRules:
        """Return the rules in numbers."""
        ...

    def begin(self, drivers: tuple[Driver, ...], quarter: int) -> S:
        """Give the state of drivers whose duty begins at a quarter, fixed weeks turned till then.

        `as_they_are` turns them.
        """
        ...

    def turned(self, state: S) -> S:
        """Give the state with a new fixed week begun."""
        ...

    def rested(self, state: S, *, sea_ahead: bool) -> tuple[S, ...]:
        """Give what a quarter of rest of all makes; the daily rest ended, and going on.

        sea_ahead: a ferry with a bunk is still to come (or this one is at sea), so that a rest
        that could end may also go on, to be broken by boarding or landing.
        """
        ...

    def driven(self, state: S) -> tuple[tuple[int, S], ...]:
        """Give what a quarter of driving makes, each with who is at the wheel: 0, or 1 or 2."""
        ...

    def worked(self, state: S) -> tuple[S, ...]:
        """Give what a quarter of other work makes."""
        ...

    def available(self, state: S) -> tuple[S, ...]:
        """Give what a quarter at sea without a bunk makes: neither rest nor work."""
        ...

    def interrupted(self, state: S) -> tuple[S, ...]:
        """Give what boarding or landing inside a rest makes."""
        ...

    def may_arrive(self, state: S) -> bool:
        """Say whether a journey may end so."""
        ...

    def is_rested(self, state: S) -> bool:
        """Say whether nobody's duty runs: such a state may wait for as long as it likes."""
        ...

    def rank(self, state: S, *, sea_ahead: bool) -> tuple[int, ...]:
        """Give numbers from 0 to RANK_MOST, the better the less, always as many.

        Where none of a state's numbers is greater than another's, it can do whatever the other
        can. Ranks with a sea ahead are only compared with each other.
        """
        ...

    def least(self, state: S, need: Need) -> int:
        """Give quarters before which the need can't be over, with no road in the way: a bound.

        The limits of fixed weeks are not counted. A need that is more never gives less.
        """
        ...

    def for_least(self, state: S) -> Hashable:
        """Give what `least` looks at of a state: where that is equal, so is the least."""
        ...

    def must_rest(self, state: S, elapsed: int) -> bool:
        """Say whether a daily rest ends before any work that begins so many quarters later."""
        ...

    def fresh(self, state: S) -> S:
        """Give the best state that any wait could make of this one, for `least`."""
        ...

    def week_left(self, state: S) -> int:
        """Give the driving of all that is left in this fixed week; RANK_MOST where none counts."""
        ...

    def after_weekly_rest(self, state: S) -> S:
        """Give the state with a weekly rest ended, for a state that is rested."""
        ...

    def with_short_rests(self, state: S) -> S:
        """Give the state with reduced daily rests without number, for `least` alone."""
        ...


def as_they_are(driver: Driver, quarter: int) -> tuple[int, int, int]:
    """Give a driver's extensions, week and week before at a quarter, fixed weeks turned."""
    turns = week_of(quarter) - week_of(floor_quarter(driver.as_of))
    if turns <= 0:
        return driver.extensions, driver.week, driver.week_before
    return 0, 0, driver.week if turns == 1 else 0


def paused(rules: HoursRules, rest: int, unbroken: int, halved: int) -> tuple[int, int]:
    """Give driving since the break, and whether its first part is taken, after so much rest."""
    if rest >= rules.break_length or (halved and rest >= rules.break_second):
        return 0, 0
    return unbroken, 1 if rules.break_part and rest >= rules.break_part else halved
