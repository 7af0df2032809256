"""What cells mean, in the ways of several countries, and what is not guessed."""

from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from decimal import Decimal

import pytest

from app.exchange.bring.cells import Cell
from app.exchange.bring.values import LONGEST, Bad, clock, day, moment, number, text, weekdays, yes


@pytest.mark.parametrize(
    ("cell", "wanted"),
    [
        ("12.5", "12.5"),
        ("12,5", "12.5"),
        ("1.234,5", "1234.5"),
        ("1,234.5", "1234.5"),
        ("1.234.567", "1234567"),
        ("1 234", "1234"),
        ("0.125", "0.125"),
        ("0,125", "0.125"),
        ("-3", "-3"),
        ("−3", "-3"),
        (7, "7"),
        (0.1, "0.1"),
        ("1.25", "1.25"),
    ],
)
def test_numbers(cell: Cell, wanted: str) -> None:
    assert number(cell) == Decimal(wanted)


@pytest.mark.parametrize(
    ("cell", "code"),
    [
        ("1.234", "two_ways"),
        ("1,234", "two_ways"),
        ("1.2.3", "not_a_number"),
        ("1e5", "not_a_number"),
        ("NaN", "not_a_number"),
        ("Infinity", "not_a_number"),
        (True, "not_a_number"),
        (float("nan"), "not_a_number"),
        ("", "not_a_number"),
        ("12 h", "not_a_number"),
        ("١٢", "not_a_number"),
    ],
)
def test_no_numbers(cell: Cell, code: str) -> None:
    with pytest.raises(Bad) as refused:
        number(cell)

    assert refused.value.code == code


@pytest.mark.parametrize(
    ("cell", "wanted"),
    [
        ("2027-04-03", date(2027, 4, 3)),
        ("3.4.2027", date(2027, 4, 3)),
        ("03. 04. 2027", date(2027, 4, 3)),
        ("13/4/2027", date(2027, 4, 13)),
        ("4/13/2027", date(2027, 4, 13)),
        ("5/5/2027", date(2027, 5, 5)),
        (date(2027, 4, 3), date(2027, 4, 3)),
        (datetime(2027, 4, 3), date(2027, 4, 3)),
    ],
)
def test_days(cell: Cell, wanted: date) -> None:
    assert day(cell) == wanted


@pytest.mark.parametrize("cell", ["3/4/2027", "30.2.2027", "2027", "1.1.27", 46000, "13/13/2027"])
def test_no_days(cell: Cell) -> None:
    with pytest.raises(Bad):
        day(cell)


def test_times_moments_and_words() -> None:
    assert clock("7:30") == clock("07.30") == clock("7h30") == clock("07:30 Uhr") == time(7, 30)
    assert clock(timedelta(hours=7, minutes=30)) == time(7, 30)
    wanted = datetime(2027, 4, 3, 7, 30)
    for word in ("2027-04-03 07:30", "2027-04-03T07:30", "3.4.2027 7.30", "3.4.2027, 07:30 Uhr"):
        assert moment(word) == wanted
    assert moment(wanted) == wanted
    assert weekdays("Mo, Mi; Fr.") == weekdays("mon+wed+friday") == (1, 3, 5)
    assert weekdays("täglich") == tuple(range(1, 8))
    assert yes("Ja") is yes(True) is True
    assert yes("") is yes("nein") is False


@pytest.mark.parametrize("read", [number, day, clock, moment, text])
@pytest.mark.parametrize("filling", ["1", " ", "x ", "(", "1.", "T"])
def test_nothing_is_looked_for_in_a_cell_that_is_too_long(
    read: Callable[[Cell], object], filling: str
) -> None:
    with pytest.raises(Bad) as bad:
        read("7" + filling * LONGEST + "7")

    assert bad.value.code in ("too_long", "not_text")


@pytest.mark.parametrize("cell", [float("inf"), float("-inf"), float("nan")])
def test_what_is_no_number_of_a_workbook_is_a_text_that_says_so(cell: float) -> None:
    assert text(cell) == str(cell)
    with pytest.raises(Bad):
        number(cell)
