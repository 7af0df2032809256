"""Journeys as the delivery finds them, held against the check: two readings of one book.

Drawn over nights on which clocks change, Sundays with bans and holidays of one country only.
Whether who goes has rested before is for whoever plans their bench; it is left out here.
"""

import pytest

from scheduler.check import check
from scheduler.rules import Rule
from tests.scheduler.check.drawn import Drawn

QUICK = (0, 1, 3, 6, 7, 8, 10, 11, 14, 18, 19, 20, 23, 24, 27, 30, 31, 33, 36, 38, 39, 43)
QUICK += (45, 47, 48, 52, 53, 56, 58, 60, 61, 71)


@pytest.mark.parametrize("number", QUICK)
def test_what_the_delivery_finds_breaks_nothing(number: int) -> None:
    drawn = Drawn(number)
    runs = list(drawn.runs())

    assert runs
    for run in runs:
        broken = {each.rule for each in check(drawn.book, drawn.plan(run)).breaches}
        assert broken <= {Rule.ONE_DAY.value}
