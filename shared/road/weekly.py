"""Any law with the regular weekly rest counted as well: when it is due, and that it was had.

Only for journeys in which one is due or fits; every other search does without.
"""

from collections.abc import Hashable
from typing import Any, NamedTuple

from shared.road.driver import Driver
from shared.road.law import Law, Need
from shared.road.quarters import floor_quarter
from shared.road.rules import HoursRules


class Weekly(NamedTuple):
    """A state of the law, quarters since the last weekly rest ended, and of unbroken rest."""

    state: Hashable
    since: int
    run: int


def weekly_rest_ended(driver: Driver, departure: int) -> int:
    """Give the quarter at which a driver's last weekly rest ended.

    Nothing told means: when the duty began in which the journey does.
    """
    if driver.weekly_rest_ended is None:
        return departure - max(0, driver.clock)
    return floor_quarter(driver.weekly_rest_ended)


class WeeklyLaw:
    """A law in which a weekly rest begins in time, is had in full, and gives reductions anew.

    Only the regular one is known, unbroken; a journey that needs a reduced one is refused.
    """

    def __init__(self, law: Law[Any]) -> None:
        """Count weekly rests on top of a law."""
        self._law = law
        self._after, self._length = law.rules.weekly_rest_after, law.rules.weekly_rest

    @property
    def rules(self) -> HoursRules:
        """Return the rules in numbers."""
        return self._law.rules

    def begin(self, drivers: tuple[Driver, ...], quarter: int) -> Weekly:
        """Give the state at a departure; of two drivers the one counts who is due first."""
        since = max(quarter - weekly_rest_ended(each, quarter) for each in drivers)
        return Weekly(self._law.begin(drivers, quarter), max(0, since), 0)

    def turned(self, state: Weekly) -> Weekly:
        """Give the state with a new fixed week begun."""
        return state._replace(state=self._law.turned(state.state))

    def rested(self, state: Weekly, *, sea_ahead: bool) -> tuple[Weekly, ...]:
        """Give what a quarter of rest makes; once it is long enough, a weekly rest had."""
        run, since = min(self._length, state.run + 1), state.since + 1
        found = []
        for new in self._law.rested(state.state, sea_ahead=sea_ahead):
            if run >= self._length and self._law.is_rested(new):
                found.append(Weekly(self._law.after_weekly_rest(new), 0, run))
            elif since - run <= self._after:
                found.append(Weekly(new, since, run))
        return tuple(found)

    def driven(self, state: Weekly) -> tuple[tuple[int, Weekly], ...]:
        """Give what a quarter at the wheel makes."""
        if state.since >= self._after:
            return ()
        news = self._law.driven(state.state)
        return tuple((wheel, Weekly(new, state.since + 1, 0)) for wheel, new in news)

    def worked(self, state: Weekly) -> tuple[Weekly, ...]:
        """Give what a quarter of other work makes."""
        return self._on_duty(state, self._law.worked(state.state))

    def available(self, state: Weekly) -> tuple[Weekly, ...]:
        """Give what a quarter at sea without a bunk makes."""
        return self._on_duty(state, self._law.available(state.state))

    def interrupted(self, state: Weekly) -> tuple[Weekly, ...]:
        """Give what boarding or landing inside a daily rest makes."""
        return self._on_duty(state, self._law.interrupted(state.state))

    def may_arrive(self, state: Weekly) -> bool:
        """Say whether a journey may end so."""
        return self._law.may_arrive(state.state)

    def is_rested(self, state: Weekly) -> bool:
        """Say whether nobody's duty runs."""
        return self._law.is_rested(state.state)

    def rank(self, state: Weekly, *, sea_ahead: bool) -> tuple[int, ...]:
        """Give the rank of the law, and how near the next weekly rest is, and how far this one."""
        rank = self._law.rank(state.state, sea_ahead=sea_ahead)
        return (*rank, state.since, self._length - state.run)

    def least(self, state: Weekly, need: Need) -> int:
        """Give the law's least; where a weekly rest is due before that is over, with one.

        A course with one has rests of any kind, each counted as a short one, and is longer by
        what the weekly rest is longer than that.
        """
        short = self._law.with_short_rests(state.state)
        longer = self._length - max(self.rules.reduced_rest, state.run)
        with_one = self._law.least(short, need) + max(0, longer)
        without = self._law.least(state.state, need)
        return min(without, with_one) if state.since + without <= self._after else with_one

    def for_least(self, state: Weekly) -> Weekly:
        """Give the state without what `least` never looks at."""
        return state._replace(state=self._law.for_least(state.state))

    def must_rest(self, state: Weekly, elapsed: int) -> bool:
        """Say whether a daily rest ends before any work that begins so many quarters later."""
        return self._law.must_rest(state.state, elapsed)

    def fresh(self, state: Weekly) -> Weekly:
        """Give the state after a weekly rest, the best that any wait could make."""
        fresh = self._law.after_weekly_rest(self._law.fresh(state.state))
        return Weekly(fresh, 0, self._length)

    def week_left(self, state: Weekly) -> int:
        """Give the driving of all that is left in this fixed week."""
        return self._law.week_left(state.state)

    def after_weekly_rest(self, state: Weekly) -> Weekly:
        """Give the state with a weekly rest ended."""
        return Weekly(self._law.after_weekly_rest(state.state), 0, self._length)

    def with_short_rests(self, state: Weekly) -> Weekly:
        """Give the state with reduced rests without number, for `least`."""
        return state._replace(state=self._law.with_short_rests(state.state))

    def _on_duty(self, state: Weekly, news: tuple[Any, ...]) -> tuple[Weekly, ...]:
        if state.since >= self._after:
            return ()
        return tuple(Weekly(new, state.since + 1, 0) for new in news)
