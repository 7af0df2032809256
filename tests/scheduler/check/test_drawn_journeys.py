"""Journeys as the delivery finds them, held against the check: two readings of one book.

Drawn over nights on which clocks change, Sundays with bans and holidays of one country only.
Whether who goes has rested before is for whoever plans their bench; it is left out here.
"""

import pytest

from scheduler.check import check
from scheduler.rules import Rule
from tests.scheduler.check.drawn import Drawn

SLOW = {2, 4, 5, 9, 12, 13, 15, 16, 17, 21, 22, 25, 26, 28, 29, 32, 34, 35, 37}
QUICK = sorted(set(range(40)) - SLOW)


@pytest.mark.parametrize("number", QUICK)
def test_what_the_delivery_finds_breaks_nothing(number: int) -> None:
    drawn = Drawn(number)
    runs = list(drawn.runs())

    assert runs
    for run in runs:
        broken = {each.rule for each in check(drawn.book, drawn.plan(run)).breaches}
        assert broken <= {Rule.ONE_DAY.value}
