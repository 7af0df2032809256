"""Amounts and moments as the program says them; the rules of rounding are the house's own."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from app.words import Words, amounts, moments
from app.words.amounts import Role
from app.words.voice import Voice

DAY = 8 * 60


@pytest.fixture(scope="module")
def voice(tmp_path_factory: pytest.TempPathFactory) -> Voice:
    return Voice("en", folder=tmp_path_factory.mktemp("nothing"))


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (0, "nothing"),
        (14, "nothing"),
        (15, "15 min"),
        (59, "45 min"),
        (60, "1 h"),
        (119, "1¾ h"),
        (120, "¼ of a day"),
        (239, "¼ of a day"),
        (240, "½ a day"),
        (360, "¾ of a day"),
        (479, "¾ of a day"),
        (480, "1 day"),
        (600, "1¼ days"),
        (960, "2 days"),
        (1200, "2½ days"),
        (4799, "9¾ days"),
        (4800, "10 days"),
        (5279, "10 days"),
        (480 * 12_345, "12,345 days"),
    ],
)
def test_what_is_to_spare_rounds_down(voice: Voice, minutes: int, said: str) -> None:
    assert amounts.days(voice, minutes, DAY, Role.SPARE) == said


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (1, "15 min"),
        (46, "1 h"),
        (61, "1¼ h"),
        (119, "2 h"),
        (120, "¼ of a day"),
        (121, "½ a day"),
        (361, "1 day"),
        (480, "1 day"),
        (481, "1¼ days"),
        (1440, "3 days"),
        (4561, "9¾ days"),
        (4681, "10 days"),
        (4801, "11 days"),
    ],
)
def test_what_is_late_rounds_up(voice: Voice, minutes: int, said: str) -> None:
    assert amounts.days(voice, minutes, DAY, Role.LATE) == said


@pytest.mark.parametrize(
    ("minutes", "said"), [(960, "2"), (480, "1"), (720, "1½"), (240, "½ a day"), (4800, "10")]
)
def test_a_wish_is_a_number_alone_from_a_day_on(voice: Voice, minutes: int, said: str) -> None:
    assert amounts.bare_days(voice, minutes, DAY) == said


def test_a_day_is_one_normal_shift_whatever_its_length(voice: Voice) -> None:
    assert amounts.days(voice, 450, 450, Role.SPARE) == "1 day"
    assert amounts.days(voice, 450, 600, Role.SPARE) == "¾ of a day"


def test_elapsed_time_is_in_hours_to_two_days(voice: Voice) -> None:
    assert amounts.elapsed(voice, 47 * 60 + 15) == "47¼ h"
    assert amounts.elapsed(voice, 48 * 60) == "2 days"
    assert amounts.elapsed(voice, 60 * 60) == "2½ days"


# The calendar of 2026 to 2028, as any almanac has it: 2 Feb 2026 is a Monday.
@pytest.mark.parametrize(
    ("when", "after", "said"),
    [
        (date(2026, 2, 2), date(2026, 12, 31), "Mon 2 Feb"),
        (date(2027, 1, 1), date(2026, 12, 31), "Fri 1 Jan 2027"),
        (date(2028, 2, 29), None, "Tue 29 Feb 2028"),
    ],
)
def test_the_year_stands_only_where_it_changes(
    voice: Voice, when: date, after: date | None, said: str
) -> None:
    assert moments.day(voice, when, after=after) == said


def test_a_time_is_by_the_clock_of_its_zone_which_is_named_if_it_is_not_the_shops(
    voice: Voice,
) -> None:
    when = datetime(2027, 3, 18, 6, 0, tzinfo=UTC)
    year = date(2027, 1, 1)

    home = moments.moment(voice, when, "Europe/London", after=year, home="Europe/London")
    away = moments.moment(voice, when, "Europe/Paris", after=year, home="Europe/London")
    same = moments.moment(voice, when, "Europe/Paris", after=year, home="Europe/Berlin")

    assert home == "Thu 18 Mar 06:00"
    assert away == "Thu 18 Mar 07:00 Paris time"
    assert same == "Thu 18 Mar 07:00"


def test_a_stretch_names_its_zone_once_and_its_year_where_it_changes(voice: Voice) -> None:
    start = datetime(2026, 12, 31, 5, 0, tzinfo=UTC)
    end = datetime(2027, 1, 2, 23, 0, tzinfo=UTC)
    said = moments.span(
        voice, start, end, "America/New_York", after=date(2026, 12, 1), home="Europe/London"
    )

    assert said == "Thu 31 Dec 00:00 to Sat 2 Jan 2027 18:00 New York time"


def test_without_a_book_the_clock_is_utc_and_the_day_eight_hours(tmp_path: Path) -> None:
    words = Words("en", folder=tmp_path)

    assert words.moment(datetime(2027, 1, 4, 7, 30, tzinfo=UTC), after=None).endswith("07:30")
    assert words.spare(480) == "1 day"
    assert words.late(481) == "1¼ days"
