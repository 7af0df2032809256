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
    short_rests: int
    long_duties: int
    begun_long: int


class Least:
    """The least of each need under a set of rules."""

    def __init__(self, rules: HoursRules) -> None:
        """Prepare what the rules alone decide."""
        self._rules = rules
        self._long_rest = _long_rest(rules)
        self._more = rules.drive_extended - rules.drive_daily
        self._daily_gains = divmod(
            max(0, rules.drive_daily - rules.drive_unbroken), rules.drive_unbroken
        )
        self._long_gains = divmod(
            max(0, rules.drive_extended - rules.drive_unbroken), rules.drive_unbroken
        )
        self._fresh: dict[tuple[int, int, Need], int] = {}

    def of(self, state: "State", need: Need) -> int:
        """Give quarters before which the need can't be over; NEVER if it can't be at all.

        A rest that runs is read in each way: it is a break, whole or the beginning of one, it
        becomes the first part of a split daily rest, or it goes on to a daily rest.
        """
        total = need.driving + need.other + need.idle
        if not total and not need.rests:
            return 0
        rules, rest = self._rules, state.resting
        long_duties = rules.extensions * (1 + need.weeks) - state.extensions
        if not rest:
            if state.clock < 0 and not (state.halved or state.parted):
                return self._from_fresh(rules.reductions - state.reductions, long_duties, need)
            return self._from(_running(rules, state, long_duties), need)
        best = NEVER
        if not state.broken:
            best = self._from(_after_break(rules, state, long_duties, rest), need)
            more = rules.rest_part - rest
            if more > 0 and total + more < best:
                parted = _after_break(rules, state, long_duties, rules.rest_part)
                best = min(best, more + self._from(parted, need))
        return self._rested_on(state, long_duties, need, best)

    def _rested_on(self, state: "State", long_duties: int, need: Need, best: int) -> int:
        """Give the less of a best and the least where the rest goes on to a daily rest."""
        rules, rest = self._rules, state.resting
        need = need._replace(rests=max(0, need.rests - 1))
        total = need.driving + need.other + need.idle
        left = rules.reductions - state.reductions
        if not state.broken and rest < rules.reduced_rest and (state.parted or left > 0):
            more = rules.reduced_rest - rest
            if total + more < best:
                still = left if state.parted else left - 1
                best = min(best, more + self._from_fresh(still, long_duties, need))
        more = max(0, (rules.broken_rest if state.broken else rules.rest) - rest)
        if total + more < best:
            best = min(best, more + self._from_fresh(left, long_duties, need))
        return best

    def _from_fresh(self, short_rests: int, long_duties: int, need: Need) -> int:
        key = (short_rests, long_duties, need)
        found = self._fresh.get(key)
        if found is None:
            rules = self._rules
            duty = _Duty(0, 0, rules.break_length, 0, 0, 0, short_rests, long_duties, 0)
            found = self._fresh[key] = self._from(duty, need)
        return found

    def _from(self, duty: _Duty, need: Need) -> int:
        """Give the least over the number of daily rests on the way."""
        rules, long_rest = self._rules, self._long_rest
        driving, work = need.driving, need.driving + need.other
        total = work + need.idle
        clock, short_rests = duty.clock, duty.short_rests
        more = duty.long_duties + duty.begun_long
        best = NEVER
        for rests in range(need.rests, total + 2):
            duties = rests + 1
            short = short_rests if short_rests < rests else rests
            resting = rules.reduced_rest * short + long_rest * (rests - short)
            if total + resting >= best:
                break
            long_duties = more if more < duties else duties
            if driving > rules.drive_daily * duties - duty.driven + self._more * long_duties:
                continue
            if work > rules.work_daily * duties - duty.worked:
                continue
            # The duty that is not over at the end still has its own rest inside its clock.
            last = rules.reduced_rest if short_rests > rests else long_rest
            room = rules.rest_within * duties - clock - resting - last
            if total > room:
                continue
            breaks = self._breaks(duty, driving, work, rests)
            if total + breaks <= room:
                best = min(best, total + resting + breaks)
        return best

    def _breaks(self, duty: _Duty, driving: int, work: int, rests: int) -> int:
        """Give the least of breaks: from the wheel, or from work that has gone on for long.

        What much work in a duty asks for may still come after the need.
        """
        rules = self._rules
        found = 0
        if driving > rules.drive_unbroken - duty.unbroken:
            found = self._breaks_at_wheel(duty, driving, rests)
        if work > rules.work_unbroken - duty.labour:
            count = -(-(duty.labour + work) // rules.work_unbroken) - 1 - rests
            found = max(found, count * rules.break_counts)
        return found

    def _breaks_at_wheel(self, duty: _Duty, driving: int, rests: int) -> int:
        """Give the least of breaks from driving, each duty driven to the brim.

        A duty goes on for so long without a break; each break adds as much, and the last of a
        duty what is left of it.
        """
        rules, unbroken = self._rules, self._rules.drive_unbroken
        extended = duty.begun_long or duty.long_duties > 0
        most = (rules.drive_extended if extended else rules.drive_daily) - duty.driven
        first = max(0, min(most, unbroken - duty.unbroken))
        long_duties = min(rests, max(0, duty.long_duties))
        left = driving - first - unbroken * rests
        if left <= 0:
            return 0
        whole, end = divmod(max(0, most - first), unbroken)
        wholes = whole + long_duties * self._long_gains[0]
        wholes += (rests - long_duties) * self._daily_gains[0]
        if left <= wholes * unbroken:
            count = -(-left // unbroken)
        else:
            ends = [end, *[self._long_gains[1]] * long_duties]
            ends += [self._daily_gains[1]] * (rests - long_duties)
            left -= wholes * unbroken
            count = wholes
            for gain in sorted(ends, reverse=True):
                if left <= 0:
                    break
                left -= gain
                count += 1
        return count * rules.break_length - max(0, rules.break_length - duty.next_break)


def _long_rest(rules: HoursRules) -> int:
    """Give the length of a rest that uses up no reduction.

    A split one is longer, but its first part saves a break: what it is without that.
    """
    if rules.rest_part >= NEVER:
        return rules.rest
    saved = max(rules.break_length, rules.medium_break, rules.long_break)
    return min(rules.rest, rules.rest_part + rules.reduced_rest - saved)


def _running(rules: HoursRules, state: "State", long_duties: int) -> _Duty:
    return _Duty(
        max(0, state.clock),
        state.unbroken,
        rules.break_second if state.halved else rules.break_length,
        state.driven,
        state.worked,
        state.labour,
        rules.reductions - state.reductions + state.parted,
        long_duties,
        int(state.driven > rules.drive_daily),
    )


def _after_break(rules: HoursRules, state: "State", long_duties: int, rest: int) -> _Duty:
    """Give the duty that goes on after a rest so long, which counts as much as it can."""
    next_break = rules.break_second if state.halved else rules.break_length
    whole = rest >= next_break
    parted = rest >= rules.rest_part or state.parted
    return _Duty(
        state.clock + rest - state.resting,
        0 if whole else state.unbroken,
        rules.break_length if whole else next_break - rest,
        state.driven,
        state.worked,
        0,
        rules.reductions - state.reductions + parted,
        long_duties,
        int(state.driven > rules.drive_daily),
    )
