"""Sizes as they are typed, in metres and in feet and inches, and what is said of bad ones."""

from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.sizes import BadSize, length_of, size_of

# The international inch is 25.4 mm exactly: agreement of 1959; NIST Handbook 44, appendix C.
LENGTHS = {
    "2.4": "2.4",
    " 2.4 m ": "2.4",
    "2400mm": "2.4",
    "240 cm": "2.4",
    "1 metre": "1",
    "8ft": "2.4384",
    "8'": "2.4384",
    "8 feet": "2.4384",
    "7ft 10in": "2.3876",
    "7ft10": "2.3876",
    "7'10\"": "2.3876",
    "7’ 10”": "2.3876",
    "7\u203210″": "2.3876",
    "7' 10''": "2.3876",
    "7FT 10IN": "2.3876",
    "94in": "2.3876",
    '94"': "2.3876",
    '94 1/2"': "2.4003",
    "10-1/2in": "0.2667",
    "1/2in": "0.0127",
    "7ft 10 1/2in": "2.4003",
    "7ft 0in": "2.1336",
    "0ft 10in": "0.254",
}


@pytest.mark.parametrize("text", LENGTHS)
def test_a_length_is_read_exactly(text: str) -> None:
    assert length_of(text) == Decimal(LENGTHS[text])


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("2.4x2.1x2.6", "2.4 2.1 2.6"),
        ("2.4 X 2.1 × 2.6", "2.4 2.1 2.6"),
        ("2.4*2.1*2.6m", "2.4 2.1 2.6"),
        ("2400x2100x2600mm", "2.4 2.1 2.6"),
        ("240mmx2.1mx2600mm", "0.24 2.1 2.6"),
        ("8x7x4ft", "2.4384 2.1336 1.2192"),
        ("7'10\"x6'x8'4\"", "2.3876 1.8288 2.54"),
        ("96in x 48in x 24in", "2.4384 1.2192 0.6096"),
    ],
)
def test_a_size_is_length_width_and_height(text: str, metres: str) -> None:
    assert size_of(text) == tuple(map(Decimal, metres.split()))


@pytest.mark.parametrize(
    ("text", "code", "word", "at"),
    [
        ("", "empty_size", "", 1),
        ("  ", "empty_size", "", 1),
        ("tall", "not_a_size", "tall", 1),
        ("2,4", "not_a_size", ",4", 2),
        ("2.4.1", "not_a_size", "2.4.1", 1),
        ("-2", "not_a_size", "-2", 1),
        ("٣", "not_a_size", "٣", 1),
        ("2.4 yd", "unknown_unit", "yd", 5),
        ("0", "no_size", "0", 1),
        ("2400", "too_long", "2400", 1),
        ("7ft 12in", "inches_over", "12in", 5),
        ("7m 10in", "not_a_size", "10in", 4),
        ("7ft 10mm", "not_a_size", "10mm", 5),
        ("7ft 1in 2in", "not_a_size", "2in", 9),
        ("1/3in", "not_a_size", "1/3in", 1),
    ],
)
def test_a_bad_length_is_told_with_its_place(text: str, code: str, word: str, at: int) -> None:
    with pytest.raises(BadSize) as refused:
        length_of(text)

    assert (refused.value.code, refused.value.word, refused.value.at) == (code, word, at)


@pytest.mark.parametrize(
    ("text", "code", "word", "at"),
    [
        ("", "empty_size", "", 1),
        ("2.4x2.1", "wrong_count", "2.4x2.1", 1),
        ("2x2x2x2", "wrong_count", "2x2x2x2", 1),
        ("2.4xx2.6", "empty_size", "", 5),
        ("2.4x2.1x", "empty_size", "", 9),
        ("2.4x2.1yx2.6", "unknown_unit", "y", 8),
        ("7x6x8'4\"", "unit_missing", "7", 1),
        ("2400mmx2.1x260cm", "unit_missing", "2.1", 8),
        ("240x2.1mx2600mm", "unit_missing", "240", 1),
        ("2.4x0x2.6", "no_size", "0", 5),
        ("2400x2100x2600", "too_long", "2400", 1),
    ],
)
def test_a_bad_size_is_told_with_its_place(text: str, code: str, word: str, at: int) -> None:
    with pytest.raises(BadSize) as refused:
        size_of(text)

    assert (refused.value.code, refused.value.word, refused.value.at) == (code, word, at)


def place_of_trouble(read: Callable[[str], object], text: str) -> int:
    try:
        read(text)
    except BadSize as refused:
        return refused.at
    return 1


@given(st.text() | st.text("0123456789.xX/'\" ftincm-"))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (length_of, size_of):
        assert 1 <= place_of_trouble(read, text) <= len(text) + 1


@given(st.integers(0, 300), st.integers(0, 11))
def test_feet_and_inches_are_so_many_inches(feet: int, inches: int) -> None:
    wanted = (12 * feet + inches) * Decimal("0.0254")
    if wanted:
        assert length_of(f"{feet}ft {inches}in") == wanted
        assert length_of(f"{feet}'{inches}\"") == wanted
