"""A rest that boarding broke is one block, whose parts are counted apart."""

from datetime import timedelta
from itertools import pairwise

from scheduler.check.road.acts import Act, acts_of, blocks_of
from shared.plan import Doing
from tests.builders import at
from tests.scheduler.check.haul import laid

SIX = at("2027-03-16 06:00")


def test_blocks_end_a_quarter_after_their_last_one_begins() -> None:
    stretches = laid(
        "2027-03-16 06:00",
        (Doing.DRIVE, 0, 2, 0),
        (Doing.REST, 1, 4, 0),
        (Doing.BOARD_IN_REST, 1, 1, 0),
        (Doing.SEA_REST, 1, 8, 0),
        (Doing.LAND_IN_REST, 1, 1, 0),
        (Doing.WORK, 2, 1, 0),
    )

    found = list(blocks_of(acts_of(stretches, 1, 1)))

    hours = [(each.start - SIX, each.end - SIX) for each in found]
    marks = [timedelta(minutes=15 * quarters) for quarters in (0, 2, 16, 17)]
    assert hours == list(pairwise(marks))
    assert [each.sort for each in found] == [Act.DRIVE, Act.REST, Act.WORK]
    assert (found[1].net, found[1].broken) == (12, 2)
