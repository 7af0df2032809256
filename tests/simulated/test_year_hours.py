"""The year's own arithmetic of hours, worked by hand; no source."""

from datetime import date

from tests.bench.year.clock import DAY, START, Hours, at, day_of, instant, joined, quarter_up

MORNING, NOON, BACK, EVENING = 30, 48, 50, 64
"""A day from half past seven to four with half an hour at noon, in quarters."""
WEEK = Hours(
    [
        (day * DAY + first, day * DAY + last)
        for day in range(5)
        for first, last in ((MORNING, NOON), (BACK, EVENING))
    ],
    bridged=4,
)


def test_work_pauses_at_noon_and_over_night() -> None:
    assert WEEK.end(MORNING, 18) == NOON
    assert WEEK.end(MORNING, 19) == BACK + 1
    assert WEEK.end(MORNING, 33) == DAY + MORNING + 1


def test_work_of_no_length_ends_where_it_begins() -> None:
    assert WEEK.end(7, 0) == 7


def test_the_latest_begin_gives_the_end_again() -> None:
    for end in (EVENING, DAY + NOON, 4 * DAY + EVENING):
        assert WEEK.worked(WEEK.begin(end, 20), end) == 20


def test_a_shift_bridges_noon_and_no_night() -> None:
    assert WEEK.shift_end(MORNING) == EVENING
    assert WEEK.shift_end(DAY + BACK) == DAY + EVENING


def test_a_stretch_that_is_closed_opens_next_morning() -> None:
    assert WEEK.opens(NOON) == BACK
    assert WEEK.opens(EVENING) == DAY + MORNING
    assert not WEEK.is_open(NOON)


def test_who_is_away_works_later() -> None:
    ill = WEEK.without([(0, DAY)])
    assert ill.end(MORNING, 1) == DAY + MORNING + 1


def test_two_work_together_only_while_both_are_there() -> None:
    late = Hours([(day * DAY + BACK, day * DAY + EVENING) for day in range(5)], bridged=4)
    assert WEEK.common(late).end(MORNING, 15) == DAY + BACK + 1


def test_days_on_which_all_is_shut_are_no_standstill() -> None:
    ill = WEEK.without([(DAY, 3 * DAY)])
    assert ill.standstill(MORNING, 3 * DAY + NOON, ()) == 2 * DAY + DAY - EVENING + MORNING
    shut = [(DAY, 2 * DAY)]
    assert ill.standstill(MORNING, 3 * DAY + NOON, shut) == DAY + DAY - EVENING + MORNING


def test_quarters_and_instants_answer_each_other_over_the_clock_change() -> None:
    before, after = at(date(2027, 3, 27), 12), at(date(2027, 3, 28), 12)
    assert after - before == 23 * 4
    assert quarter_up(instant(after)) == after
    assert day_of(at(START, 0)) == START


def test_touching_stretches_are_one() -> None:
    assert joined([(5, 7), (1, 3), (3, 4)]) == [(1, 4), (5, 7)]
