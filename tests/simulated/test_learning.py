"""Estimates that are off by kind come right by half of what they are off, and right ones stay.

A short form of ``python -m tests.bench learning``, whose seeds are others and jobs more.
"""

import pytest

from tests.bench.learning import result_of

SEEDS = (41, 42)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_was_off_by_kind_falls_after_a_dozen_jobs(seed: int) -> None:
    found = result_of(seed, 12, biased=True)
    assert found.left_out
    assert found.taken >= 3
    assert found.systematic[0] > 0.1
    assert found.fall > 0.5


@pytest.mark.parametrize("seed", SEEDS)
def test_what_was_right_stays_so(seed: int) -> None:
    found = result_of(seed, 12, biased=False)
    assert found.records > 200
    assert found.growth < 0.02
