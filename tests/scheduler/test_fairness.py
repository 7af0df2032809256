"""Extra hours of eight weeks: counted by hand, and offered first to who has fewest."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from scheduler.morning import Coming, extra_hours
from scheduler.morning.fairness import as_few, fewest_first
from shared.book import Book, ExtraHours, Leave
from shared.ids import PersonId
from tests.builders import NOW, a_book, a_person, at

ANA, BEN, CID = PersonId("ana"), PersonId("ben"), PersonId("cid")


def extra(day: str, start: str, end: str) -> ExtraHours:
    return ExtraHours(start=at(f"{day} {start}"), end=at(f"{day} {end}"))


EVENING = extra("2025-12-16", "16:00", "19:00")
SATURDAY = extra("2025-12-06", "08:00", "12:00")
LONG_AGO = extra("2025-11-08", "08:00", "12:00")
AHEAD = extra("2026-01-08", "16:00", "18:00")
OFFERED = extra("2026-01-09", "16:00", "18:00")


def a_crew() -> Book:
    """Nine hours and two free days were Ana's, of which four and one lie over eight weeks back."""
    away = Leave(start=at("2025-12-16 00:00"), end=at("2025-12-17 00:00"), reason="")
    people = (
        replace(a_person("ana"), overtime_taken=(LONG_AGO, SATURDAY, EVENING)),
        replace(a_person("ben"), overtime_offered=(OFFERED,)),
        replace(a_person("cid"), overtime_taken=(EVENING, AHEAD), leave=(away,)),
        a_person("dot"),
    )
    return replace(a_book(), people=people)


def test_extra_hours_of_eight_weeks_are_as_counted_by_hand() -> None:
    found = [
        (e.person, e.hours, e.free_days, e.ahead, e.offers) for e in extra_hours(a_crew(), NOW)
    ]
    assert found == [
        (BEN, Decimal(0), 0, Decimal(0), True),
        (CID, Decimal(0), 0, Decimal(2), False),
        (ANA, Decimal(7), 1, Decimal(0), False),
    ]


def test_what_lies_within_a_shift_is_no_extra() -> None:
    across = extra("2025-12-16", "14:00", "18:00")
    book = replace(a_book(), people=(replace(a_person("ana"), overtime_taken=(across,)),))
    # The shift ends at 16:00.
    assert [each.hours for each in extra_hours(book, NOW)] == [Decimal(2)]


def test_who_has_fewest_with_the_offer_comes_first() -> None:
    offered = {ANA: OFFERED, BEN: OFFERED, CID: extra("2026-01-09", "16:00", "21:00")}
    assert fewest_first(a_crew(), offered) == [
        (BEN, Decimal(2)),
        (CID, Decimal(7)),
        (ANA, Decimal(9)),
    ]
    # Seven weeks later what was worked in December no longer counts.
    later = {name: _later(each) for name, each in offered.items()}
    assert [name for name, _ in fewest_first(a_crew(), later)] == [ANA, BEN, CID]


def _later(each: ExtraHours) -> ExtraHours:
    weeks = timedelta(weeks=7)
    return ExtraHours(start=each.start + weeks, end=each.end + weeks)


@pytest.mark.parametrize(
    ("gains", "people"),
    [
        ({(BEN,): 9, (BEN, CID): 9, (BEN, CID, ANA): 9}, (BEN,)),
        ({(BEN,): 4, (BEN, CID): 9, (BEN, CID, ANA): 9}, (BEN, CID)),
        ({(BEN, CID, ANA): 9}, (BEN, CID, ANA)),
        ({(BEN,): 9}, None),
    ],
)
def test_as_few_are_asked_as_win_what_all_would(
    gains: dict[tuple[PersonId, ...], int], people: tuple[PersonId, ...] | None
) -> None:
    def won(names: tuple[PersonId, ...]) -> Coming | None:
        gain = gains.get(names)
        return Coming(people=names, start=NOW, gain=gain) if gain else None

    found = as_few((BEN, CID, ANA), won, 1)
    assert (found.people if found else None) == people
