"""Extra hours against the law: daily and weekly rest, the average, the young.

Working Time Regulations 1998 (SI 1998/1833): reg. 4 (48 hours on average over 17 weeks), reg. 10
(11 hours of rest in each 24), reg. 11 (24 hours in each 7 days). Directive 2003/88/EC: Art. 3 (11
hours), Art. 5 (24 hours, and the 11 besides), Art. 6 (48 hours). Directive 94/33/EC, under 18:
Art. 8 (8 hours a day, 40 a week), Art. 9 (not by night), Art. 10 (12 hours, two days).
"""

from dataclasses import replace

import pytest

from scheduler.levers.law import Week
from shared.book import Book, ExtraHours, Person
from shared.worktime import Span
from tests.builders import a_book, a_person, a_shift, a_workshop, at

# The week of Monday 12 January 2026; the usual shifts are Monday to Friday 07:30 to 16:00.
EVENING = ("2026-01-14 16:00", "2026-01-14 18:30")
LATE_EVENING = ("2026-01-14 17:00", "2026-01-14 20:45")
SATURDAY = ("2026-01-17 08:00", "2026-01-17 13:00")
SUNDAY = ("2026-01-18 08:00", "2026-01-18 13:00")
NIGHT = ("2026-01-14 22:00", "2026-01-15 02:00")


def span(pair: tuple[str, str]) -> Span:
    return Span(start=at(pair[0]), end=at(pair[1]))


def extra(pair: tuple[str, str]) -> ExtraHours:
    return ExtraHours(start=at(pair[0]), end=at(pair[1]))


def forbids(
    person: Person, hours: tuple[str, str], book: Book | None = None, *besides: Span
) -> str | None:
    book = replace(book or a_book(), people=(person,))
    return Week(book, person, besides).forbids(span(hours))


@pytest.mark.parametrize("hours", [EVENING, SATURDAY, SUNDAY])
def test_what_leaves_every_rest_is_allowed(hours: tuple[str, str]) -> None:
    assert forbids(a_person(), hours) is None


def test_thirteen_hours_from_the_first_to_the_last_are_the_most_in_a_day() -> None:
    until = ("2026-01-14 16:00", "2026-01-14 20:30")

    assert forbids(a_person(), until) is None
    assert forbids(a_person(), LATE_EVENING) == "daily_rest"


def test_a_night_between_two_shifts_leaves_no_rest() -> None:
    assert forbids(a_person(), NIGHT) == "daily_rest"


def test_a_week_without_a_day_off_leaves_no_weekly_rest() -> None:
    both = a_person(overtime_taken=(extra(SATURDAY),))
    abroad = a_book(workshop=a_workshop(country="DE", subdivision="BY", zone="Europe/Berlin"))
    afternoon = ("2026-01-18 16:00", "2026-01-18 18:00")

    assert forbids(both, SUNDAY) == "weekly_rest"
    # Abroad 35 hours: to Sunday 08:00 there are 41 since Friday, to 16:00 27 since Saturday.
    assert forbids(a_person(), SUNDAY, abroad) is None
    assert forbids(both, afternoon, abroad) == "weekly_rest"
    assert forbids(both, afternoon) is None


def test_forty_eight_hours_on_average_are_the_most_and_the_road_counts() -> None:
    # Ten hours on each of five days are fifty a week in all seventeen weeks.
    long = a_person(hours=(a_shift("07:00", "17:30"),))
    # Nine and a half are 47.5; an evening of two and a half is 2.5 / 17 more in the mean.
    nearly = a_person(hours=(a_shift("07:00", "17:00"),))
    # Ten Saturdays on the road of five hours each bring the mean above 48.
    road = [
        Span(start=at(f"2026-{month:02}-{day:02} 08:00"), end=at(f"2026-{month:02}-{day:02} 13:00"))
        for month, day in ((1, 24), (1, 31), (2, 7), (2, 14), (2, 21), (2, 28), (3, 7))
    ]

    assert forbids(long, ("2026-01-17 08:00", "2026-01-17 09:00")) == "average"
    assert forbids(nearly, SATURDAY) is None
    assert forbids(nearly, SATURDAY, None, *road) == "average"


def test_the_young_have_limits_of_their_own() -> None:
    young = a_person(under_18=True)
    part_time = a_person(under_18=True, hours=(a_shift("08:00", "14:30", days=(0, 1, 2, 3)),))
    afternoon, evening = (
        ("2026-01-14 14:30", "2026-01-14 16:30"),
        ("2026-01-14 21:00", "2026-01-14 22:30"),
    )

    assert forbids(young, EVENING) == "day"
    assert forbids(young, SATURDAY) == "weekly_rest"
    assert forbids(part_time, afternoon) is None
    assert forbids(part_time, evening) == "daily_rest"
    assert forbids(part_time, ("2026-01-14 14:30", "2026-01-14 17:30")) == "day"
    # Free on Friday, Saturday and Sunday: a night alone breaks nothing but the night itself.
    assert forbids(part_time, ("2026-01-16 21:00", "2026-01-16 22:30")) == "night"


def test_forty_hours_a_week_are_the_most_of_the_young() -> None:
    # 8 h on four days, and 6 h on Friday: 38 h; three more on Friday would be 9 in a day, ...
    hours = (a_shift("07:30", "16:00", days=(0, 1, 2, 3)), a_shift("08:00", "14:30", days=(4,)))
    young = a_person(under_18=True, hours=hours)

    assert forbids(young, ("2026-01-16 14:30", "2026-01-16 16:30")) is None
    longer = replace(young, hours=(a_shift("07:30", "16:00", days=(0, 1, 2, 3, 4)),))
    assert forbids(longer, ("2026-01-12 06:30", "2026-01-12 07:30")) == "day"
