"""What the law asks to be remembered of a driver, and what one more quarter makes of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from shared.road.quarters import floor_quarter, turns_week, week_of
from shared.road.rules import HoursRules

RESTED = -1
"""The duty clock of who has ended a daily rest and begun nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """One driver as they are, rested, at `as_of`; driving in quarters.

    Attributes
    ----------
    as_of: a moment in the fixed week that the figures speak of.
    reductions, extensions: reduced rests since the last weekly rest, long duties this week.
    week, week_before: driven in this fixed week and the one before.
    weekly_rest_ended: when the last weekly rest ended; None where that can't matter.
    clock: quarters since the duty began when the journey does; RESTED where it begins with the
        first work of the journey.
    """

    as_of: datetime
    reductions: int = 0
    extensions: int = 0
    week: int = 0
    week_before: int = 0
    weekly_rest_ended: datetime | None = None
    clock: int = 0


class State(NamedTuple):
    """A driver between two quarters; all but `halved` and `parted` in quarters or counts.

    clock: since the duty began, RESTED before. unbroken: driven since the break. halved: the
    first part of a split break is taken. driven, worked: in the duty. labour: since work was
    last broken. pauses: breaks in the duty. resting: the rest that runs. broken, lost: how
    often and how long it was interrupted. reductions, extensions, week, week_before: as of the
    driver. parted: the first part of a split daily rest is taken.
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


def at_departure(driver: Driver, quarter: int) -> State:
    """Give the state of a driver who sets out at a quarter, fixed weeks turned till then."""
    extensions, week, before = driver.extensions, driver.week, driver.week_before
    turned = week_of(quarter) - week_of(floor_quarter(driver.as_of))
    if turned > 0:
        extensions, week, before = 0, 0, week if turned == 1 else 0
    return State(
        driver.clock, 0, 0, 0, 0, 0, 0, 0, 0, 0, driver.reductions, extensions, week, before, 0
    )


def turned(state: State, quarter: int) -> State:
    """Give the state with a new fixed week begun, if one begins at this quarter."""
    if not turns_week(quarter):
        return state
    return state._replace(week_before=state.week, week=0, extensions=0)


def rested(state: State, rules: HoursRules, *, sea_ahead: bool) -> Iterator[State]:
    """Give what one more quarter of rest makes: the daily rest ended if it may, and going on.

    With a ferry ahead a rest that could end may also go on, to be broken by boarding.
    """
    if state.clock == RESTED:
        yield state
        return
    longer = state._replace(clock=state.clock + 1, resting=min(rules.rest, state.resting + 1))
    if longer.clock <= rules.rest_within and _breaks_taken(longer, rules):
        if longer.resting >= rules.rest:
            yield _ended(longer, longer.reductions)
        elif longer.resting == rules.reduced_rest and not longer.broken:
            if longer.parted:
                yield _ended(longer, longer.reductions)
            elif longer.reductions < rules.reductions:
                yield _ended(longer, longer.reductions + 1)
    if longer.resting < rules.rest or sea_ahead:
        fits = _if_rest_fits(longer, rules)
        if fits is not None:
            yield fits


def driven(state: State, rules: HoursRules) -> State | None:
    """Give what a quarter at the wheel makes, or None if it is not allowed."""
    new = _resumed(state, rules)
    if new is None or new.unbroken >= rules.drive_unbroken:
        return None
    if new.week >= rules.drive_week or new.week + new.week_before >= rules.drive_fortnight:
        return None
    extensions = new.extensions
    if new.driven >= rules.drive_extended:
        return None
    if new.driven == rules.drive_daily:
        if extensions >= rules.extensions:
            return None
        extensions += 1
    new = new._replace(
        unbroken=new.unbroken + 1,
        driven=new.driven + 1,
        week=new.week + 1,
        extensions=extensions,
    )
    return _worked(new, rules)


def worked(state: State, rules: HoursRules) -> State | None:
    """Give what a quarter of other work makes, or None if it is not allowed."""
    new = _resumed(state, rules)
    return None if new is None else _worked(new, rules)


def available(state: State, rules: HoursRules) -> State | None:
    """Give what a quarter at sea without a bunk makes: neither rest nor work, the clock runs."""
    new = _resumed(state, rules)
    if new is None:
        return None
    return _if_rest_fits(new._replace(clock=new.clock + 1), rules)


def interrupted(state: State, rules: HoursRules) -> State | None:
    """Give what boarding or landing inside a rest makes, or None if it is not allowed."""
    if state.clock == RESTED or not state.resting or state.lost >= rules.interrupted:
        return None
    if state.broken >= rules.interruptions or state.worked >= rules.work_daily:
        return None
    new = state._replace(
        clock=state.clock + 1,
        worked=state.worked + 1,
        broken=state.broken + 1,
        lost=state.lost + 1,
    )
    return _if_rest_fits(new, rules)


def may_arrive(state: State, rules: HoursRules) -> bool:
    """Say whether a journey may end so: no broken rest left open, breaks taken."""
    return state.clock == RESTED or (not state.broken and _breaks_taken(state, rules))


def no_worse(a: State, b: State, rules: HoursRules, *, sea_ahead: bool) -> bool:
    """Say whether `a` can do whatever `b` can.

    Of two with a ferry ahead, one rested and one not, neither is: only a rest that still runs
    can be broken by boarding. A long duty that `b` has begun and `a` has not counts for `a`.
    """
    if sea_ahead and a.clock == RESTED != b.clock:
        return False
    begun = a.driven <= rules.drive_daily < b.driven
    return (
        a.clock <= b.clock
        and a.unbroken <= b.unbroken
        and a.driven <= b.driven
        and a.worked <= b.worked
        and a.labour <= b.labour
        and a.reductions <= b.reductions
        and a.extensions + begun <= b.extensions
        and a.week <= b.week
        and a.week_before <= b.week_before
        and a.broken <= b.broken
        and a.lost <= b.lost
        and a.halved >= b.halved
        and a.pauses >= b.pauses
        and a.resting >= b.resting
        and a.parted >= b.parted
    )


def _ended(state: State, reductions: int) -> State:
    return State(
        RESTED, 0, 0, 0, 0, 0, 0, 0, 0, 0,
        reductions, state.extensions, state.week, state.week_before, 0,
    )  # fmt: skip


def _still(state: State, rules: HoursRules) -> int:
    """Give the least rest still to come before the daily rest can end."""
    short = state.parted or state.reductions < rules.reductions
    if short and not state.broken and state.resting < rules.reduced_rest:
        return rules.reduced_rest - state.resting
    # A rest that was not ended at the reduced length goes on to the full one.
    return max(0, rules.rest - state.resting)


def _if_rest_fits(state: State, rules: HoursRules) -> State | None:
    return state if state.clock + _still(state, rules) <= rules.rest_within else None


def _breaks_taken(state: State, rules: HoursRules) -> bool:
    if state.worked > rules.long_work:
        return state.pauses >= rules.long_break
    return state.worked <= rules.medium_work or state.pauses >= rules.medium_break


def _resumed(state: State, rules: HoursRules) -> State | None:
    """Give the state with its rest closed as a break, or begun as a duty; None if it may not."""
    if state.clock == RESTED:
        return state._replace(clock=0)
    if state.broken:
        return None
    rest = state.resting
    if not rest:
        return state
    unbroken, halved = state.unbroken, state.halved
    if rest >= rules.break_length or (halved and rest >= rules.break_second):
        unbroken, halved = 0, 0
    elif rules.break_part and rest >= rules.break_part:
        halved = 1
    counts = rest >= rules.break_counts
    return state._replace(
        unbroken=unbroken,
        halved=halved,
        labour=0 if counts else state.labour,
        pauses=min(rules.long_break, state.pauses + (rest if counts else 0)),
        resting=0,
        parted=1 if rest >= rules.rest_part else state.parted,
    )


def _worked(state: State, rules: HoursRules) -> State | None:
    if state.labour >= rules.work_unbroken or state.worked >= rules.work_daily:
        return None
    new = state._replace(clock=state.clock + 1, worked=state.worked + 1, labour=state.labour + 1)
    return _if_rest_fits(new, rules)
