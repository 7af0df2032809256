"""Deliveries drawn at random, each held against the check, which shares no code with it."""

from datetime import timedelta

import pytest

from scheduler.check import check
from shared.delivery.delivery import delivery_of
from tests.shared.delivery.drawn import drawn_book, planned

_QUARTER = timedelta(minutes=15)


@pytest.mark.parametrize("seed", range(60))
def test_a_drawn_delivery_is_sound_and_none_leaves_later(seed: int) -> None:
    book, journey = drawn_book(seed)
    window = book.jobs[0].windows[0]
    found = delivery_of(book, book.jobs[0], journey, window)
    for choice in found.choices:
        run = found.latest(choice)
        if run is None:
            assert found.trouble(choice) is not None
            continue
        assert found.trouble(choice) is None
        assert run.kept
        assert run.ends[-1] == run.back or run.back > run.end
        assert [each.rule for each in check(book, planned(book, run)).breaches] == []
        later = [found.leaving(choice, run.leaves + hop * _QUARTER) for hop in (1, 2, 7)]
        assert not any(each.kept for each in later if each is not None)
        for each in later:
            if each is not None:
                breaches = check(book, planned(book, each)).breaches
                assert {one.rule for one in breaches} <= {"window"}
