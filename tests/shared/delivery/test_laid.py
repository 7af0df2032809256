"""How many legs of the road are over once some of the book's are: waits for a cure are not."""

import pytest

from shared.delivery.laid import Laid, Part
from shared.road.bans import Road
from shared.road.legs import Drive, Stand, Work

LAID = Laid(
    # The book's first leg is a drive cut in two, its second work that cures, its third more work.
    legs=(
        Drive(quarters=4, road=Road(country="NL")),
        Drive(quarters=4, road=Road(country="DE")),
        Work(quarters=4),
        Stand(quarters=8),
        Work(quarters=4),
    ),
    parts=(Part(leg=0), Part(leg=0), Part(leg=1), Part(leg=1), Part(leg=2)),
)


@pytest.mark.parametrize(("leg", "over"), [(0, 0), (1, 2), (2, 3), (3, 5)])
def test_a_cure_behind_the_last_of_them_need_not_be_over(leg: int, over: int) -> None:
    assert LAID.until(leg) == over


@pytest.mark.parametrize(("goal", "wanted"), [(None, None), (0, None), (3, 3), (5, None)])
def test_a_goal_is_told_only_where_legs_follow_it(goal: int | None, wanted: int | None) -> None:
    assert LAID.journey(goal=goal).goal == wanted
