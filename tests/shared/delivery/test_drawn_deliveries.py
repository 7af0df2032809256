"""Deliveries drawn at random, each held against the check, which shares no code with it."""

import pytest

from scheduler.check import check
from shared.delivery.delivery import delivery_of
from tests.shared.delivery.drawn import drawn_book, planned

_LONG = {16, 36}
"""Searches of several seconds."""
_LEFT = {25, 39}
"""Searches of a minute or two: nights of work on site before a ferry, two drivers over days."""


@pytest.mark.parametrize(
    "seed",
    [
        pytest.param(n, marks=pytest.mark.slow) if n in _LONG else n
        for n in range(40)
        if n not in _LEFT
    ],
)
def test_a_drawn_delivery_is_sound_by_the_check(seed: int) -> None:
    book, journey = drawn_book(seed)
    window = book.jobs[0].windows[0]
    found = delivery_of(book, book.jobs[0], journey, window)
    for choice in found.choices:
        run = found.latest(choice)
        if run is None:
            continue
        assert run.kept
        assert run.back >= run.end
        assert [each.rule for each in check(book, planned(book, run)).breaches] == []
