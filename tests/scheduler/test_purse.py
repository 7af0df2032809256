"""Limits shared out: of what is left, and of what there was at first."""

from scheduler.model.run import Limits
from scheduler.purse import Purse


def test_shares_of_what_is_left_and_of_the_whole() -> None:
    purse = Purse(Limits(effort=1000))
    purse.spend(400)

    assert purse.left().effort == 600
    assert purse.left(500).effort == 300
    assert purse.of_whole(500).effort == 500
    assert purse.of_whole(900).effort == 600
    assert purse.part(3).effort == 200
    assert not purse.is_over()

    purse.spend(700)

    assert purse.spent == 1100
    assert purse.left().effort == purse.of_whole(900).effort == 0
    assert purse.is_over()


def test_time_is_shared_alike() -> None:
    purse = Purse(Limits(seconds=1000.0))
    left, half = purse.left().seconds, purse.of_whole(500).seconds

    assert left is not None
    assert 900 < left <= 1000
    assert half == 500


def test_nothing_is_left_once_somebody_has_had_enough() -> None:
    assert Purse(Limits(), lambda: True).is_over()
    assert not Purse(Limits(), lambda: False).is_over()
