"""The least time that a need takes two drivers, with no road in the way: a bound, not a course."""

from shared.road.law import Need
from shared.road.pair import Pair, Seat
from shared.road.rules import NEVER, HoursRules


def least_of_two(rules: HoursRules, state: Pair, need: Need) -> int:
    """Give quarters before which the need can't be over; NEVER if it can't be at all.

    Counted are as many rests of both as their driving, their work and the clock ask for at the
    least; no breaks, since each may have theirs while the other drives.
    """
    total = need.driving + need.other + need.idle
    if not total and not need.rests:
        return 0
    for rests in range(need.rests, total + 2):
        if _fits(rules, state, need, rests):
            had = min(state.resting, rules.rest) if rests else 0
            return total + rests * rules.rest - had
    return NEVER


def _fits(rules: HoursRules, state: Pair, need: Need, rests: int) -> bool:
    """Say whether so many rests on the way, and the one that must still fit, leave enough room."""
    total = need.driving + need.other + need.idle
    room = (rules.rest_within - rules.rest) * (rests + 1) - max(0, state.clock)
    # A rest that runs now lies in the clock already, as the rest or as a break.
    room += state.resting
    seats = (state.first, state.second)
    worked = state.first.worked + state.second.worked
    work = need.driving + 2 * need.other
    return (
        total <= room
        and need.driving <= sum(_drivable(rules, each, need, rests) for each in seats)
        and work <= 2 * rules.work_daily * (rests + 1) - worked
    )


def _drivable(rules: HoursRules, seat: Seat, need: Need, rests: int) -> int:
    left = rules.extensions * (1 + need.weeks) - seat.extensions
    begun = int(seat.driven > rules.drive_daily)
    longer = (rules.drive_extended - rules.drive_daily) * min(rests + 1, max(0, left) + begun)
    return rules.drive_daily * (rests + 1) - seat.driven + longer
