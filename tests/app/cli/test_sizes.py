"""Sizes typed on the command line: each trouble has its sentence with place and cure."""

from decimal import Decimal

import pytest

from app.cli.arguments import Usage
from app.cli.sizes import length_typed, size_typed
from app.words.troubles import SENTENCES, trouble
from app.words.voice import Voice
from tests.app.test_words_codes import codes_raised
from tests.house.tree import ROOT


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("2.4x2.1", "“2.4x2.1” is not length, width and height; write three lengths"),
        ("2.4x2.1x2.6yd", "“yd” in “2.4x2.1x2.6yd”, at character 12, is no unit;"),
        ("2400x2100x2600", "“2400” in “2400x2100x2600”, at character 1, is more than 100 m;"),
        ("2.4xx2", "“2.4xx2” lacks a length at character 5; write 2.4,"),
        ("2,4x2x2", "“,4” in “2,4x2x2”, from character 2 on, is no length; write 2.4 (with a"),
        ("2x0x2", "“0” in “2x0x2”, at character 3, is no size; write more than 0."),
        ("7x6x8'4\"", "“7” in “7x6x8'4\"”, at character 1, has no unit,"),
        ("8'13\"x1ftx1ft", '“13"” in “8\'13"x1ftx1ft”, at character 3, is a foot or more;'),
    ],
)
def test_a_bad_size_is_refused_with_place_and_cure(typed: str, said: str) -> None:
    with pytest.raises(Usage) as refused:
        size_typed(typed)

    assert trouble(Voice("en"), refused.value.code, **refused.value.facts).startswith(said)


def test_a_good_one_is_metres() -> None:
    assert length_typed("7ft 10in") == Decimal("2.3876")
    assert size_typed("2.4mx2100mmx2.6m") == (Decimal("2.4"), Decimal("2.1"), Decimal("2.6"))


def test_every_code_has_a_sentence() -> None:
    source = (ROOT / "shared/sizes.py").read_text(encoding="utf-8")
    codes = codes_raised(source, {"BadSize"})

    assert len(codes) == 8
    assert codes <= set(SENTENCES)
