"""What the law asks to be remembered of one driver, and what one more quarter makes of it."""

from typing import NamedTuple

from shared.road.driver import Driver
from shared.road.law import RANK_MOST, Need, as_they_are, paused
from shared.road.least import Least
from shared.road.rules import NEVER, HoursRules

__all__ = ["RESTED", "Driver", "OneDriver", "State"]

RESTED = -1
"""The duty clock of who has ended a daily rest and begun nothing."""


class State(NamedTuple):
    """A driver between two quarters; all but `halved` and `parted` in quarters or counts.

    clock: since the duty began, RESTED before. unbroken: driven since the break. halved: the
    first part of a split break is taken. driven, worked: in the duty. labour: since work was
    last broken. pauses: breaks in the duty. resting: the rest that runs. broken, lost: how
    often and how long it was interrupted. reductions, extensions, week, week_before: as of the
    driver. parted: the first part of a split daily rest is taken.

    What no rule asks for stays 0, so that states which go on alike are equal.
    """

    clock: int
    unbroken: int
    halved: int
    driven: int
    worked: int
    labour: int
    pauses: int
    resting: int
    broken: int
    lost: int
    reductions: int
    extensions: int
    week: int
    week_before: int
    parted: int


class OneDriver:
    """The hours of one driver, or of one person who works on site."""

    def __init__(self, rules: HoursRules) -> None:
        """Count what these rules ask for, and nothing else."""
        self.rules = rules
        self._least = Least(rules)
        self._clock = int(rules.rest_within < NEVER)
        self._unbroken = int(rules.drive_unbroken < NEVER)
        self._driven = int(min(rules.drive_daily, rules.drive_extended) < NEVER)
        self._labour = int(rules.work_unbroken < NEVER)
        self._week = int(min(rules.drive_week, rules.drive_fortnight) < NEVER)
        self._most_rest = max(rules.rest, rules.broken_rest if rules.interruptions else 0)
        self._most_pauses = max(rules.medium_break, rules.long_break)
        bounds = [each for each in (rules.medium_work, rules.long_work) if each < NEVER]
        # Beyond its last bound more work changes nothing.
        self._most_worked = (
            rules.work_daily if rules.work_daily < NEVER else max(bounds, default=-1) + 1
        )

    def begin(self, drivers: tuple[Driver, ...], quarter: int) -> State:
        """Give the state of a driver whose duty begins at a quarter."""
        (driver,) = drivers
        extensions, week, before = as_they_are(driver, quarter)
        if not self._week:
            week, before = 0, 0
        clock = driver.clock
        return State(
            clock, 0, 0, 0, 0, 0, 0, 0, 0, 0, driver.reductions, extensions, week, before, 0
        )

    def turned(self, state: State) -> State:
        """Give the state with a new fixed week begun."""
        return state._replace(week_before=state.week, week=0, extensions=0)

    def rested(self, state: State, *, sea_ahead: bool) -> tuple[State, ...]:
        """Give what a quarter of rest makes: the daily rest ended if it may, and going on."""
        if state.clock == RESTED:
            return (state,)
        rules = self.rules
        longer = state._replace(
            clock=state.clock + self._clock, resting=min(self._most_rest, state.resting + 1)
        )
        full = rules.broken_rest if longer.broken else rules.rest
        found: list[State] = []
        if longer.clock <= rules.rest_within and self._breaks_taken(longer):
            if longer.resting >= full:
                found.append(_ended(longer, longer.reductions))
            elif longer.resting == rules.reduced_rest and not longer.broken:
                if longer.parted:
                    found.append(_ended(longer, longer.reductions))
                elif longer.reductions < rules.reductions:
                    found.append(_ended(longer, longer.reductions + 1))
        if longer.resting < full or sea_ahead:
            found += self._if_rest_fits(longer)
        return tuple(found)

    def driven(self, state: State) -> tuple[tuple[int, State], ...]:
        """Give what a quarter at the wheel makes; there is only one who can be there."""
        rules = self.rules
        new = self._resumed(state)
        if new is None or new.unbroken >= rules.drive_unbroken:
            return ()
        if new.week >= rules.drive_week or new.week + new.week_before >= rules.drive_fortnight:
            return ()
        extensions = new.extensions
        if new.driven >= rules.drive_extended:
            return ()
        if new.driven == rules.drive_daily:
            if extensions >= rules.extensions:
                return ()
            extensions += 1
        new = new._replace(
            unbroken=new.unbroken + self._unbroken,
            driven=new.driven + self._driven,
            week=new.week + self._week,
            extensions=extensions,
        )
        return tuple((0, each) for each in self._worked(new))

    def worked(self, state: State) -> tuple[State, ...]:
        """Give what a quarter of other work makes."""
        new = self._resumed(state)
        return () if new is None else self._worked(new)

    def available(self, state: State) -> tuple[State, ...]:
        """Give what a quarter at sea without a bunk makes: neither rest nor work."""
        new = self._resumed(state)
        return (
            () if new is None else self._if_rest_fits(new._replace(clock=new.clock + self._clock))
        )

    def interrupted(self, state: State) -> tuple[State, ...]:
        """Give what boarding or landing inside a rest makes."""
        rules = self.rules
        if state.clock == RESTED or not state.resting or state.lost >= rules.interrupted:
            return ()
        if state.broken >= rules.interruptions or state.worked >= rules.work_daily:
            return ()
        new = state._replace(
            clock=state.clock + self._clock,
            worked=min(self._most_worked, state.worked + 1),
            broken=state.broken + 1,
            lost=state.lost + 1,
        )
        return self._if_rest_fits(new)

    def may_arrive(self, state: State) -> bool:
        """Say whether a journey may end so: no broken rest left open, breaks taken."""
        return state.clock == RESTED or (not state.broken and self._breaks_taken(state))

    def is_rested(self, state: State) -> bool:
        """Say whether no duty runs."""
        return state.clock == RESTED

    def rank(self, state: State, *, sea_ahead: bool) -> tuple[int, ...]:
        """Give what each rule bounds, the better the less.

        A long duty that has begun is an advantage of its own: it asks for none of the week's,
        nor of the next week's if that begins before the duty is over. With a ferry ahead, rested
        and not rested are not compared: only a rest that still runs can be broken by boarding.
        """
        begun = state.driven > self.rules.drive_daily
        rested = state.clock == RESTED
        found = (
            state.clock + 1,
            state.unbroken,
            state.driven,
            state.worked,
            state.labour,
            state.reductions,
            state.extensions,
            1 - begun,
            state.week,
            state.week_before,
            state.broken,
            state.lost,
            1 - state.halved,
            self._most_pauses - state.pauses,
            self._most_rest - state.resting,
            1 - state.parted,
        )
        return (*found, int(rested), 1 - rested) if sea_ahead else found

    def least(self, state: State, need: Need) -> int:
        """Give quarters before which the need can't be over, with no road in the way."""
        return self._least.of(state, need)

    def for_least(self, state: State) -> State:
        """Give the state without what `least` never looks at."""
        rest, broken = state.resting, state.broken
        reductions, extensions = state.reductions, state.extensions
        if rest and broken:
            return State(0, 0, 0, 0, 0, 0, 0, rest, 1, 0, reductions, extensions, 0, 0, 0)
        worked = state.worked if self.rules.work_daily < NEVER else 0
        return State(
            state.clock, state.unbroken, state.halved, state.driven, worked,
            0 if rest else state.labour,
            0, rest, 0, 0, reductions, extensions, 0, 0, state.parted,
        )  # fmt: skip

    def must_rest(self, state: State, elapsed: int) -> bool:
        """Say whether a daily rest ends before any work that begins so many quarters later."""
        if state.clock == RESTED or not self._clock:
            return False
        return state.clock + elapsed + 1 + self.rules.reduced_rest > self.rules.rest_within

    def fresh(self, state: State) -> State:
        """Give the state rested, with what is used up of reductions and long duties kept.

        And with all that a wait in a duty may give besides: breaks taken, the first part of a
        break and of a daily rest.
        """
        return _ended(state._replace(week=0, week_before=0), state.reductions)._replace(
            halved=int(self.rules.break_part > 0),
            pauses=self._most_pauses,
            parted=int(self.rules.rest_part < NEVER),
        )

    def week_left(self, state: State) -> int:
        """Give the driving that is left in this fixed week."""
        if not self._week:
            return RANK_MOST
        rules = self.rules
        most = min(rules.drive_week, rules.drive_fortnight - state.week_before)
        return max(0, most - state.week)

    def after_weekly_rest(self, state: State) -> State:
        """Give the state with no reduced rest used up."""
        return state._replace(reductions=0)

    def with_short_rests(self, state: State) -> State:
        """Give the state with reduced rests without number, for `least` alone."""
        return state._replace(reductions=-NEVER)

    def _still(self, state: State) -> int:
        """Give the least rest still to come before the daily rest can end."""
        rules = self.rules
        short = state.parted or state.reductions < rules.reductions
        if short and not state.broken and state.resting < rules.reduced_rest:
            return rules.reduced_rest - state.resting
        # A rest that was not ended at the reduced length goes on to the full one.
        full = rules.broken_rest if state.broken else rules.rest
        return max(0, full - state.resting)

    def _if_rest_fits(self, state: State) -> tuple[State, ...]:
        return (state,) if state.clock + self._still(state) <= self.rules.rest_within else ()

    def _breaks_taken(self, state: State) -> bool:
        rules = self.rules
        if state.worked > rules.long_work:
            return state.pauses >= rules.long_break
        return state.worked <= rules.medium_work or state.pauses >= rules.medium_break

    def _resumed(self, state: State) -> State | None:
        """Give the state with its rest closed as a break, or begun as a duty; None if not."""
        if state.clock == RESTED:
            return state._replace(clock=0)
        if state.broken:
            return None
        rules, rest = self.rules, state.resting
        if not rest:
            return state
        unbroken, halved = paused(rules, rest, state.unbroken, state.halved)
        counts = rest >= rules.break_counts
        return state._replace(
            unbroken=unbroken,
            halved=halved,
            labour=0 if counts else state.labour,
            pauses=min(self._most_pauses, state.pauses + (rest if counts else 0)),
            resting=0,
            parted=1 if rest >= rules.rest_part else state.parted,
        )

    def _worked(self, state: State) -> tuple[State, ...]:
        rules = self.rules
        if state.labour >= rules.work_unbroken or state.worked >= rules.work_daily:
            return ()
        new = state._replace(
            clock=state.clock + self._clock,
            worked=min(self._most_worked, state.worked + 1),
            labour=state.labour + self._labour,
        )
        return self._if_rest_fits(new)


def _ended(state: State, reductions: int) -> State:
    return State(
        RESTED, 0, 0, 0, 0, 0, 0, 0, 0, 0,
        reductions, state.extensions, state.week, state.week_before, 0,
    )  # fmt: skip
