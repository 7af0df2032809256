"""The buffer that is proposed: a published sum, a chain worked out beside us, and a small plan.

Three steps with safe and likely durations 9 and 6, 6 and 4, 3 and 2 come to 3.742: university
teaching text on root-squared-error buffers; "Buffer sizing for the critical chain project
management method", South African Journal of Industrial Engineering 19(1), 2008. The twelve
stages are of our own, worked out by drawing two million durations of each.
"""

import pytest

from scheduler.why.proposed_buffer import root_of_overruns, root_of_squares
from shared.book import Hours
from tests.builders import some_hours

TWELVE = (
    *((30, 40, 64), (24, 32, 52), (4, 5, 8), (40, 52, 80), (30, 40, 60), (30, 45, 90)),
    *((20, 30, 60), (6, 8, 12), (16, 24, 44), (8, 10, 16), (6, 8, 12), (6, 8, 14)),
)
"""Low, likely and high hours: carve twice, barrier, laminate twice, fair twice, flow coat, sand,
colour, lacquer, pack."""


def hours(low: int, likely: int, high: int) -> Hours:
    return some_hours(likely, low=low, high=high)


def test_the_published_sum() -> None:
    assert root_of_squares((9 - 6, 6 - 4, 3 - 2)) == pytest.approx(3.742, abs=0.0005)


def test_twelve_stages_ask_for_33_8_hours() -> None:
    found = root_of_overruns((1.0, hours(*each)) for each in TWELVE)

    assert found == pytest.approx(33.8, abs=0.05)


def test_hours_without_a_range_ask_for_nothing() -> None:
    assert root_of_overruns([(1.0, some_hours(8))]) == 0


def test_what_the_hours_stand_for_scales_the_buffer() -> None:
    one = root_of_overruns([(1.0, hours(30, 40, 64))])

    assert root_of_overruns([(60.0, hours(30, 40, 64))]) == pytest.approx(60 * one)
