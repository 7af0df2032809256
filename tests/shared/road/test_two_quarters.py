"""Two drivers a quarter at a time: rests that a ferry breaks, breaks of work, thirty hours."""

from itertools import pairwise

import pytest

from shared.road.law import Need
from shared.road.two import RESTED
from tests.shared.road.test_two import LAW, begun


def test_a_rest_of_both_at_sea_is_broken_twice_and_by_an_hour_at_most() -> None:
    """Art. 9(1): not more than two interruptions, which come to no more than an hour."""
    resting = begun()._replace(clock=10, resting=4)

    (once,) = LAW.interrupted(resting)
    (twice,) = LAW.interrupted(once)

    assert [(each.broken, each.lost, each.clock) for each in (once, twice)] == [
        (1, 1, 11),
        (2, 2, 12),
    ]
    assert LAW.interrupted(twice) == ()
    assert LAW.interrupted(resting._replace(broken=1, lost=4)) == ()
    assert LAW.interrupted(resting._replace(resting=0)) == ()
    assert LAW.interrupted(resting._replace(clock=RESTED)) == ()


@pytest.mark.parametrize(
    ("driving", "other", "quarters"), [(40, 40, 80), (44, 40, 84), (44, 44, 88 + 36)]
)
def test_thirty_hours_hold_twenty_one_of_both_and_then_nine_of_rest(
    driving: int, other: int, quarters: int
) -> None:
    """Art. 8(5); what one does beside the lorry is counted of both, and takes its time once."""
    assert LAW.least(begun(), Need(driving, other, 0, 0)) == quarters


@pytest.mark.parametrize(("at_stand", "quarters"), [(4, 4), (5, 5 + 36)])
def test_of_twenty_one_hours_twenty_are_gone(at_stand: int, quarters: int) -> None:
    """Art. 8(5), as above."""
    assert LAW.least(begun()._replace(clock=80), Need(0, at_stand, 0, 0)) == quarters


@pytest.mark.parametrize(("gone", "later"), [(0, 83), (60, 23), (83, 0)])
def test_the_last_quarter_of_work_begins_a_quarter_before_twenty_one_hours(
    gone: int, later: int
) -> None:
    """Art. 8(5): nine hours of rest still fit into thirty behind it, and not behind the next."""
    state = begun()._replace(clock=gone)

    assert not LAW.must_rest(state, later)
    assert LAW.must_rest(state, later + 1)


@pytest.mark.parametrize(("driving", "quarters"), [(4, 4), (5, 5 + 36)])
def test_two_who_have_begun_their_last_long_days_may_end_them(driving: int, quarters: int) -> None:
    """Art. 6(1): ten hours twice in a week; of the tenth each has two quarters left."""
    seat = begun(driven=38, worked=38, pauses=3, extensions=2).first
    state = begun()._replace(clock=76, first=seat, second=seat)

    assert LAW.least(state, Need(driving, 0, 0, 0)) == quarters


def test_two_long_days_of_both_have_one_rest_between() -> None:
    """Art. 6(1): ten hours twice, of each of the two; Art. 8(5): nine hours of rest of both."""
    assert LAW.least(begun(), Need(160, 0, 0, 0)) == 160 + 36


@pytest.mark.parametrize(("driving", "quarters"), [(80, 80), (81, 81 + 36)])
def test_a_week_that_turns_gives_each_of_two_their_long_days_anew(
    driving: int, quarters: int
) -> None:
    """Art. 6(1): twice ten hours in a week, used up in this one; then nine of rest, Art. 8(5)."""
    seat = begun(extensions=2).first
    state = begun()._replace(first=seat, second=seat)

    assert LAW.least(state, Need(driving, 0, 0, 1)) == quarters


@pytest.mark.parametrize(
    ("worked", "pauses", "enough"),
    [(24, 0, True), (25, 1, False), (25, 2, True), (36, 2, True), (37, 2, False), (37, 3, True)],
)
def test_six_hours_of_work_ask_for_half_an_hour_and_nine_for_three_quarters(
    worked: int, pauses: int, *, enough: bool
) -> None:
    """Directive 2002/15/EC Art. 5(1), of each of the two."""
    state = begun(worked=worked, pauses=pauses)

    assert LAW.may_arrive(state) == enough


@pytest.mark.parametrize(("better", "most"), [("halved", 1), ("pauses", 3), ("beside", 3)])
def test_whoever_has_had_more_of_a_break_ranks_no_worse(better: str, most: int) -> None:
    ranks = [LAW.rank(begun(**{better: had}), sea_ahead=True) for had in range(most + 1)]

    for less, more in pairwise(ranks):
        assert all(a >= b for a, b in zip(less, more, strict=True))


@pytest.mark.parametrize(("clock", "goes_on"), [(119, True), (120, False)])
def test_a_rest_that_is_long_enough_is_over_within_thirty_hours(
    clock: int, *, goes_on: bool
) -> None:
    """Art. 8(5), before a ferry as well, where the rest might go on."""
    state = begun()._replace(clock=clock, resting=40)

    assert bool(LAW.rested(state, sea_ahead=True)) == goes_on
