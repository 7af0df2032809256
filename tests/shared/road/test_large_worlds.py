"""A quick sample of ``python -m tests.bench worlds``: the replay finds nothing wrong."""

from collections import Counter

import pytest

from tests.bench.worlds import wrong_in

SAMPLE = (*range(106, 121), *range(122, 125))
LONG = 60.0
"""Seconds in which each of these is done many times over."""


@pytest.mark.parametrize("number", SAMPLE)
def test_no_itinerary_of_a_large_world_breaks_a_rule(number: int) -> None:
    counts, odd = wrong_in(number, most=LONG)

    assert odd == []
    assert (counts["broken"], counts["left after too long"]) == (0, 0)


def test_most_of_the_sample_is_made() -> None:
    counts: Counter[str] = Counter()
    for number in SAMPLE:
        counts.update(wrong_in(number, most=LONG)[0])

    assert counts["departures"] >= len(SAMPLE) // 2
    assert counts["itineraries"] > counts["departures"]
