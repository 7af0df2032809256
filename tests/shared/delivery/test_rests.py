"""Duties and rests of whoever goes, from what they do; rests of eleven hours are 44 quarters."""

from datetime import timedelta

import pytest

from shared.delivery.rests import first_duty_ends, long_rests, on_duty, with_gaps
from shared.plan import Doing, Stretch
from tests.builders import at

SIX = at("2027-03-16 06:00")
ELEVEN_HOURS = 44
QUARTER = timedelta(minutes=15)


def stretches(*parts: tuple[Doing, int, int]) -> tuple[Stretch, ...]:
    """What is done, from which quarter after six until which."""
    return tuple(
        Stretch(doing=doing, leg=0, start=SIX + first * QUARTER, end=SIX + last * QUARTER)
        for doing, first, last in parts
    )


NIGHT = stretches((Doing.WORK, 0, 8), (Doing.REST, 8, 52), (Doing.WORK, 52, 60))


@pytest.mark.parametrize(("until", "quarters"), [(8, 8), (52, -1), (60, 8)])
def test_a_duty_is_counted_from_the_end_of_the_last_long_rest(until: int, quarters: int) -> None:
    assert on_duty(NIGHT, SIX + until * QUARTER, ELEVEN_HOURS) == quarters


def test_nobody_is_on_duty_before_anything_was_done() -> None:
    assert on_duty((), SIX, ELEVEN_HOURS) == -1


def test_a_rest_that_is_a_quarter_short_ends_no_duty() -> None:
    assert on_duty(NIGHT, SIX + 60 * QUARTER, ELEVEN_HOURS + 1) == 60


def test_where_nothing_is_done_is_a_rest_and_where_nothing_lies_between_is_none() -> None:
    work = ((0, 2), (2, 4), (4, 5), (7, 9))

    found = with_gaps(stretches(*((Doing.WORK, start, end) for start, end in work)))

    assert [(each.doing, (each.end - each.start) // QUARTER) for each in found] == [
        (Doing.WORK, 2),
        (Doing.WORK, 2),
        (Doing.WORK, 1),
        (Doing.REST, 2),
        (Doing.WORK, 2),
    ]


def test_the_first_duty_ends_where_the_first_rest_behind_any_work_begins() -> None:
    waited = stretches((Doing.REST, 0, 50), (Doing.WORK, 50, 54), (Doing.REST, 54, 100))
    end, back = SIX + 100 * QUARTER, SIX + 110 * QUARTER

    assert first_duty_ends(NIGHT, ELEVEN_HOURS, end, back) == SIX + 8 * QUARTER
    assert first_duty_ends(waited, ELEVEN_HOURS, end, back) == SIX + 54 * QUARTER


@pytest.mark.parametrize(("back", "ends"), [(52, 52), (53, 20)])
def test_without_a_rest_they_come_home_if_eleven_hours_of_the_day_are_left(
    back: int, ends: int
) -> None:
    """Away from six: by 19:00, thirteen hours later, or they rest where the work ends."""
    day = stretches((Doing.WORK, 0, 20))

    found = first_duty_ends(day, ELEVEN_HOURS, SIX + 20 * QUARTER, SIX + back * QUARTER)

    assert found == SIX + ends * QUARTER


def test_a_rest_that_a_ferry_breaks_goes_from_its_first_part_to_its_last() -> None:
    parts = stretches(
        (Doing.WORK, 0, 4),
        (Doing.REST, 4, 10),
        (Doing.BOARD_IN_REST, 10, 11),
        (Doing.SEA_REST, 11, 49),
        (Doing.LAND_IN_REST, 49, 50),
        (Doing.WORK, 50, 54),
    )

    assert list(long_rests(parts, ELEVEN_HOURS)) == [(SIX + 4 * QUARTER, SIX + 50 * QUARTER)]
    assert list(long_rests(parts, ELEVEN_HOURS + 1)) == []
