"""What the law asks to be remembered of two drivers of one lorry, and what a quarter makes of it.

Regulation (EC) 561/2006 Art. 8(5): both rest at once, complete within thirty hours. Art. 7 and
Directive 2002/15/EC Art. 5 hold for each: time beside the other is availability, and long enough
it is a break. Other work is counted for both, the stricter reading.
"""

from typing import NamedTuple

from shared.road.driver import Driver
from shared.road.law import RANK_MOST, Need, as_they_are, paused
from shared.road.least_two import least_of_two
from shared.road.pair import RESTED, Pair, Seat
from shared.road.rules import NEVER, HoursRules

__all__ = ["RESTED", "Pair", "Seat", "TwoDrivers"]


class UnequalRests(ValueError):  # noqa: N818 - it says what is wrong
    """Rules for two drivers with a reduced rest: of both at once there is one length only."""


class _Counts(NamedTuple):
    """What the rules ask for, as factors of 0 or 1, and the most that is worth counting."""

    driven: int
    unbroken: int
    labour: int
    week: int
    pauses: int
    worked: int
    resting: int


class TwoDrivers:
    """The hours of two drivers who take turns at the wheel."""

    def __init__(self, rules: HoursRules) -> None:
        """Count what these rules ask for, and nothing else.

        Raises
        ------
        UnequalRests
            If they know a reduced rest.
        """
        if rules.rest != rules.reduced_rest:
            raise UnequalRests(rules.id)
        self.rules = rules
        self._counts = _counts(rules)

    def begin(self, drivers: tuple[Driver, ...], quarter: int) -> Pair:
        """Give the state of two drivers whose duty begins at a quarter."""
        first, second = (self._seated(driver, quarter) for driver in drivers)
        return _in_order(Pair(0, 0, 0, 0, first, second, 0))

    def turned(self, state: Pair) -> Pair:
        """Give the state with a new fixed week begun."""
        return _in_order(
            state._replace(
                first=state.first._replace(week_before=state.first.week, week=0, extensions=0),
                second=state.second._replace(week_before=state.second.week, week=0, extensions=0),
            )
        )

    def rested(self, state: Pair, *, sea_ahead: bool) -> tuple[Pair, ...]:
        """Give what a quarter of rest of both makes: the daily rest ended if it may, and going on.

        A rest may also go on as a mere break where breaks are missing.
        """
        if state.clock == RESTED:
            return (state,)
        rules = self.rules
        longer = state._replace(
            clock=state.clock + 1,
            resting=min(self._counts.resting, state.resting + 1),
            first=state.first._replace(beside=0),
            second=state.second._replace(beside=0),
        )
        over = longer.resting >= (rules.broken_rest if longer.broken else rules.rest)
        breaks = self._breaks_taken(longer)
        found: list[Pair] = []
        if over and breaks and longer.clock <= rules.rest_within:
            found.append(_ended(longer))
        if not over or sea_ahead or not breaks:
            found += self._if_rest_fits(longer)
        return tuple(_in_order(each) for each in found)

    def driven(self, state: Pair) -> tuple[tuple[int, Pair], ...]:
        """Give what a quarter of driving makes, by the one and by the other."""
        up = self._resumed(state)
        if up is None:
            return ()
        found = []
        for swap in (0, 1):
            wheel, beside = (up.second, up.first) if swap else (up.first, up.second)
            drove = self._drove(wheel)
            if drove is None:
                continue
            rode = self._rode(beside)
            first, second = (rode, drove) if swap else (drove, rode)
            new = up._replace(clock=up.clock + 1, first=first, second=second)
            found += [(1 + (up.swapped ^ swap), each) for each in self._if_rest_fits(new)]
        if up.first == up.second:
            # Whoever of two that are alike drives, the same is left: the first named one does.
            found = [each for each in found if each[0] == 1]
        return tuple((wheel, _in_order(new)) for wheel, new in found)

    def worked(self, state: Pair) -> tuple[Pair, ...]:
        """Give what a quarter of other work of both makes."""
        up = self._resumed(state)
        if up is None:
            return ()
        first, second = self._worked(up.first), self._worked(up.second)
        if first is None or second is None:
            return ()
        new = up._replace(
            clock=up.clock + 1,
            first=first._replace(beside=0),
            second=second._replace(beside=0),
        )
        return tuple(_in_order(each) for each in self._if_rest_fits(new))

    def available(self, state: Pair) -> tuple[Pair, ...]:
        """Give what a quarter at sea without a bunk makes: neither rest nor work."""
        up = self._resumed(state)
        if up is None:
            return ()
        new = up._replace(
            clock=up.clock + 1,
            first=up.first._replace(beside=0),
            second=up.second._replace(beside=0),
        )
        return tuple(_in_order(each) for each in self._if_rest_fits(new))

    def interrupted(self, state: Pair) -> tuple[Pair, ...]:
        """Give what boarding or landing inside a rest of both makes."""
        rules = self.rules
        if state.clock == RESTED or not state.resting or state.lost >= rules.interrupted:
            return ()
        most = max(state.first.worked, state.second.worked)
        if state.broken >= rules.interruptions or most >= rules.work_daily:
            return ()
        new = state._replace(
            clock=state.clock + 1,
            broken=state.broken + 1,
            lost=state.lost + 1,
            first=self._toiled(state.first),
            second=self._toiled(state.second),
        )
        return tuple(_in_order(each) for each in self._if_rest_fits(new))

    def may_arrive(self, state: Pair) -> bool:
        """Say whether a journey may end so: no broken rest left open, breaks taken."""
        return state.clock == RESTED or (not state.broken and self._breaks_taken(state))

    def is_rested(self, state: Pair) -> bool:
        """Say whether no duty runs."""
        return state.clock == RESTED

    def rank(self, state: Pair, *, sea_ahead: bool) -> tuple[int, ...]:
        """Give what each rule bounds, the better the less, seat by seat.

        A long duty that has begun is an advantage of its own: it asks for no other one when a new
        week begins. With a ferry ahead, rested and not rested are not compared.
        """
        rested = state.clock == RESTED
        found = (
            state.clock + 1,
            self._counts.resting - state.resting,
            state.broken,
            state.lost,
            *self._rank_of(state.first),
            *self._rank_of(state.second),
        )
        return (*found, int(rested), 1 - rested) if sea_ahead else found

    def least(self, state: Pair, need: Need) -> int:
        """Give quarters before which the need can't be over, with no road in the way."""
        return least_of_two(self.rules, state, need)

    def for_least(self, state: Pair) -> tuple[int, ...]:
        """Give what `least` looks at, whoever of the two it is counted of."""
        worked = state.first.worked + state.second.worked
        seats = sorted((each.driven, each.extensions) for each in (state.first, state.second))
        return (state.clock, state.resting, worked, *seats[0], *seats[1])

    def must_rest(self, state: Pair, elapsed: int) -> bool:
        """Say whether a daily rest ends before any work that begins so many quarters later."""
        if state.clock == RESTED:
            return False
        return state.clock + elapsed + 1 + self.rules.rest > self.rules.rest_within

    def fresh(self, state: Pair) -> Pair:
        """Give the state rested, with long duties that are used up kept."""
        new = _ended(state)
        return _in_order(
            new._replace(
                first=new.first._replace(week=0, week_before=0),
                second=new.second._replace(week=0, week_before=0),
            )
        )

    def week_left(self, state: Pair) -> int:
        """Give the driving that is left to both in this fixed week."""
        if not self._counts.week:
            return RANK_MOST
        rules = self.rules
        return sum(
            max(0, min(rules.drive_week, rules.drive_fortnight - each.week_before) - each.week)
            for each in (state.first, state.second)
        )

    def after_weekly_rest(self, state: Pair) -> Pair:
        """Give the state as it is: no reduced rests are counted of two."""
        return state

    def with_short_rests(self, state: Pair) -> Pair:
        """Give the state as it is: all rests of two are of the short kind."""
        return state

    def _seated(self, driver: Driver, quarter: int) -> Seat:
        extensions, week, before = as_they_are(driver, quarter)
        if not self._counts.week:
            week, before = 0, 0
        return Seat(0, 0, 0, 0, 0, 0, 0, extensions, week, before)

    def _if_rest_fits(self, state: Pair) -> tuple[Pair, ...]:
        least = self.rules.broken_rest if state.broken else self.rules.rest
        still = max(0, least - state.resting)
        return (state,) if state.clock + still <= self.rules.rest_within else ()

    def _breaks_taken(self, state: Pair) -> bool:
        rules = self.rules
        for each in (state.first, state.second):
            due = rules.medium_break if each.worked > rules.medium_work else 0
            due = rules.long_break if each.worked > rules.long_work else due
            if each.pauses < due:
                return False
        return True

    def _resumed(self, state: Pair) -> Pair | None:
        """Give the state with its rest closed as a break, or begun as a duty; None if not."""
        if state.clock == RESTED:
            return state._replace(clock=0)
        if state.broken:
            return None
        rest = state.resting
        if not rest:
            return state
        first, second = self._paused(state.first, rest), self._paused(state.second, rest)
        return state._replace(resting=0, first=first, second=second)

    def _paused(self, seat: Seat, rest: int) -> Seat:
        rules = self.rules
        unbroken, halved = paused(rules, rest, seat.unbroken, seat.halved)
        counts = rest >= rules.break_counts
        return seat._replace(
            unbroken=unbroken,
            halved=halved,
            labour=0 if counts else seat.labour,
            pauses=min(self._counts.pauses, seat.pauses + (rest if counts else 0)),
        )

    def _rode(self, seat: Seat) -> Seat:
        """Give a driver after a quarter beside the other, who drives."""
        most = self.rules.passenger_break
        if seat.beside + 1 < most:
            return seat._replace(beside=seat.beside + 1)
        more = most if seat.beside < most else 1
        pauses = min(self._counts.pauses, seat.pauses + more)
        return seat._replace(unbroken=0, halved=0, labour=0, pauses=pauses, beside=most)

    def _drove(self, seat: Seat) -> Seat | None:
        rules = self.rules
        if seat.unbroken >= rules.drive_unbroken or seat.driven >= rules.drive_extended:
            return None
        if seat.week >= min(rules.drive_week, rules.drive_fortnight - seat.week_before):
            return None
        extensions = seat.extensions
        if seat.driven == rules.drive_daily:
            if extensions >= rules.extensions:
                return None
            extensions += 1
        return self._worked(
            seat._replace(
                unbroken=seat.unbroken + self._counts.unbroken,
                driven=seat.driven + self._counts.driven,
                week=seat.week + self._counts.week,
                extensions=extensions,
                beside=0,
            )
        )

    def _worked(self, seat: Seat) -> Seat | None:
        if seat.labour >= self.rules.work_unbroken or seat.worked >= self.rules.work_daily:
            return None
        return self._toiled(seat)._replace(labour=seat.labour + self._counts.labour)

    def _toiled(self, seat: Seat) -> Seat:
        return seat._replace(worked=min(self._counts.worked, seat.worked + 1))

    def _rank_of(self, seat: Seat) -> tuple[int, ...]:
        passenger = min(self.rules.passenger_break, RANK_MOST)
        return (
            seat.unbroken,
            1 - seat.halved,
            seat.driven,
            seat.worked,
            seat.labour,
            self._counts.pauses - seat.pauses,
            passenger - min(passenger, seat.beside),
            seat.extensions,
            int(seat.driven <= self.rules.drive_daily),
            seat.week,
            seat.week_before,
        )


def _counts(rules: HoursRules) -> _Counts:
    bounds = [each for each in (rules.medium_work, rules.long_work) if each < NEVER]
    return _Counts(
        driven=int(min(rules.drive_daily, rules.drive_extended) < NEVER),
        unbroken=int(rules.drive_unbroken < NEVER),
        labour=int(rules.work_unbroken < NEVER),
        week=int(min(rules.drive_week, rules.drive_fortnight) < NEVER),
        pauses=max(rules.medium_break, rules.long_break),
        # Beyond its last bound more work changes nothing.
        worked=rules.work_daily if rules.work_daily < NEVER else max(bounds, default=-1) + 1,
        resting=max(rules.rest, rules.broken_rest),
    )


def _ended(state: Pair) -> Pair:
    """Give the state with the daily rest ended."""
    return Pair(RESTED, 0, 0, 0, _fresh(state.first), _fresh(state.second), state.swapped)


def _fresh(seat: Seat) -> Seat:
    return Seat(0, 0, 0, 0, 0, 0, 0, seat.extensions, seat.week, seat.week_before)


def _in_order(state: Pair) -> Pair:
    """Give the state with the more used-up driver first: who is who is told by `swapped`."""
    if state.first >= state.second:
        return state
    return state._replace(first=state.second, second=state.first, swapped=1 - state.swapped)
