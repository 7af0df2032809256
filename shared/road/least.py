"""The least time that a need takes one driver, with no road in the way: a bound, not a course.

Duties are filled to the brim: so many daily rests as the driving, the work and the clock of each
duty ask for at the least, short ones first as far as there are any, and so many breaks as the
driving of fully driven duties asks for. No legal course does it in less time, since each of these
counts what every course must have, and waits of the road can only be rests that count already.
"""

from typing import TYPE_CHECKING, NamedTuple

from shared.road.law import Need
from shared.road.rules import NEVER, HoursRules

if TYPE_CHECKING:
    from shared.road.state import State


class _Duty(NamedTuple):
    """A duty that goes on: what it has used, what its next break still takes, rests to come."""

    clock: int
    unbroken: int
    next_break: int
    driven: int
    worked: int
    labour: int
    pauses: int
    short_rests: int
    long_duties: int
    begun_long: int


def least_of(rules: HoursRules, state: "State", need: Need) -> int:
    """Give quarters before which the need can't be over; NEVER if it can't be at all.

    A rest that runs is read in each way: it goes on to a daily rest, it becomes the first part of
    a split one, or it is a break, whole or the beginning of one.
    """
    if not (need.driving or need.other or need.idle):
        return 0
    long_duties = rules.extensions * (1 + need.weeks) - state.extensions
    if not state.resting:
        return _from(rules, _running(rules, state, long_duties), need)
    found = [_rested_on(rules, state, long_duties, need)]
    if not state.broken:
        found.append(_from(rules, _after_break(rules, state, long_duties), need))
        if state.resting < rules.rest_part < NEVER:
            longer = state._replace(resting=rules.rest_part)
            more = rules.rest_part - state.resting
            found.append(more + _from(rules, _after_break(rules, longer, long_duties), need))
    return min(found)


def _rested_on(rules: HoursRules, state: "State", long_duties: int, need: Need) -> int:
    """Give the least where the rest that runs goes on to a daily rest."""
    left = rules.reductions - state.reductions
    new = _fresh(left, long_duties)
    found = [max(0, rules.rest - state.resting) + _from(rules, new, need)]
    if not state.broken and state.resting < rules.reduced_rest:
        more = rules.reduced_rest - state.resting
        if state.parted:
            found.append(more + _from(rules, new, need))
        elif left > 0:
            found.append(more + _from(rules, _fresh(left - 1, long_duties), need))
    return min(found)


def _fresh(short_rests: int, long_duties: int) -> _Duty:
    return _Duty(0, 0, 0, 0, 0, 0, 0, short_rests, long_duties, 0)


def _running(rules: HoursRules, state: "State", long_duties: int) -> _Duty:
    return _Duty(
        clock=max(0, state.clock),
        unbroken=state.unbroken,
        next_break=rules.break_second if state.halved else rules.break_length,
        driven=state.driven,
        worked=state.worked,
        labour=state.labour,
        pauses=state.pauses,
        short_rests=rules.reductions - state.reductions + state.parted,
        long_duties=long_duties,
        begun_long=int(state.driven > rules.drive_daily),
    )


def _after_break(rules: HoursRules, state: "State", long_duties: int) -> _Duty:
    """Give the duty that goes on after the rest, which counts as much as it can."""
    duty, rest = _running(rules, state, long_duties), state.resting
    whole = rest >= duty.next_break
    parted = rest >= rules.rest_part and not state.parted
    return duty._replace(
        unbroken=0 if whole else duty.unbroken,
        next_break=rules.break_length if whole else duty.next_break - rest,
        labour=0,
        pauses=duty.pauses + rest,
        short_rests=duty.short_rests + parted,
    )


def _from(rules: HoursRules, duty: _Duty, need: Need) -> int:
    """Give the least over the number of daily rests on the way."""
    work = need.driving + need.other
    total = work + need.idle
    long_rest = _long_rest(rules)
    best = NEVER
    for rests in range(total + 2):
        short = min(rests, duty.short_rests)
        resting = rules.reduced_rest * short + long_rest * (rests - short)
        if total + resting >= best:
            break
        if need.driving > _drivable(rules, duty, rests):
            continue
        if work > rules.work_daily * (rests + 1) - duty.worked:
            continue
        breaks = _breaks(rules, duty, need.driving, work, rests)
        if total + breaks <= _room(rules, duty, rests, long_rest):
            best = min(best, total + resting + breaks)
    return best


def _long_rest(rules: HoursRules) -> int:
    """Give the length of a rest that uses up no reduction.

    A split one is longer, but its first part saves a break: what it is without that.
    """
    if rules.rest_part >= NEVER:
        return rules.rest
    saved = max(rules.break_length, rules.medium_break, rules.long_break)
    return min(rules.rest, rules.rest_part + rules.reduced_rest - saved)


def _drivable(rules: HoursRules, duty: _Duty, rests: int) -> int:
    more = min(rests + 1, duty.long_duties + duty.begun_long)
    return (
        rules.drive_daily * (rests + 1)
        - duty.driven
        + (rules.drive_extended - rules.drive_daily) * more
    )


def _room(rules: HoursRules, duty: _Duty, rests: int, long_rest: int) -> int:
    """Give the time that duties have, each with its own rest inside its clock."""
    short = min(rests + 1, duty.short_rests)
    resting = rules.reduced_rest * short + long_rest * (rests + 1 - short)
    return rules.rest_within * (rests + 1) - duty.clock - resting


def _breaks(rules: HoursRules, duty: _Duty, driving: int, work: int, rests: int) -> int:
    """Give the least of breaks: from the wheel, from work, or because of much work."""
    return max(
        _breaks_at_wheel(rules, duty, driving, rests),
        _breaks_of_labour(rules, duty, work, rests),
        _pauses(rules, duty, work, rests),
    )


def _breaks_at_wheel(rules: HoursRules, duty: _Duty, driving: int, rests: int) -> int:
    unbroken = rules.drive_unbroken
    if driving <= unbroken - duty.unbroken:
        return 0
    extended = duty.begun_long or duty.long_duties > 0
    most = (rules.drive_extended if extended else rules.drive_daily) - duty.driven
    first = max(0, min(most, unbroken - duty.unbroken))
    long_duties = min(rests, max(0, duty.long_duties))
    gains = _gains(min(driving, most - first), unbroken)
    gains += _gains(min(driving, rules.drive_extended - unbroken), unbroken) * long_duties
    gains += _gains(min(driving, rules.drive_daily - unbroken), unbroken) * (rests - long_duties)
    left = (
        driving
        - first
        - sum(
            min(each, unbroken)
            for each in [rules.drive_extended] * long_duties
            + [rules.drive_daily] * (rests - long_duties)
        )
    )
    count = 0
    for gain in sorted(gains, reverse=True):
        if left <= 0:
            break
        left -= gain
        count += 1
    if not count:
        return 0
    return count * rules.break_length - max(0, rules.break_length - duty.next_break)


def _gains(beyond: int, unbroken: int) -> list[int]:
    """Give what each further break of a duty adds to its driving."""
    whole, rest = divmod(max(0, beyond), unbroken)
    return [unbroken] * whole + ([rest] if rest else [])


def _breaks_of_labour(rules: HoursRules, duty: _Duty, work: int, rests: int) -> int:
    if rules.work_unbroken >= NEVER:
        return 0
    count = -(-(duty.labour + work) // rules.work_unbroken) - 1 - rests
    return max(0, count) * rules.break_counts


def _pauses(rules: HoursRules, duty: _Duty, work: int, rests: int) -> int:
    if rules.medium_work >= NEVER:
        return 0
    free = rules.medium_work
    if duty.pauses >= rules.medium_break:
        free = rules.long_work
    if duty.pauses >= rules.long_break:
        return 0
    excess = work - max(0, free - duty.worked) - rules.medium_work * rests
    return max(1, rules.medium_break - duty.pauses) if excess > 0 else 0
