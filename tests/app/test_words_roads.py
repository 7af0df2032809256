"""Why hours hold and what is to be looked up about bans has its sentence, each of them."""

from datetime import date

import pytest

from app.words import Words, roads
from shared.road.bans import BanDoubt, BanNote, areas
from shared.road.regime import Regime, RegimeBecause
from tests.app.catalogue import facts_of

WORDS = Words("en")
STRICTER = "Under the stricter rules"


def test_every_reason_doubt_and_area_has_words() -> None:
    assert set(roads.REGIMES) == set(RegimeBecause)
    assert set(roads.DOUBTS) == set(BanDoubt)
    assert set(roads.AREAS) == set(areas())


@pytest.mark.parametrize("because", RegimeBecause)
def test_what_is_not_known_is_said_to_be_the_stricter_and_nothing_else_is(
    because: RegimeBecause,
) -> None:
    found = Regime(rules_id="stricter", because=because, figures=("DR11a", "DR11b"))
    text = roads.regime(WORDS, found)

    assert text.startswith(STRICTER) == found.is_stricter
    if "figures" in facts_of(roads.REGIMES[because]):
        assert "(DR11a, DR11b)" in text


@pytest.mark.parametrize(
    ("note", "text"),
    [
        (
            BanNote(doubt=BanDoubt.LISTED_ROADS, country="DE", day=date(2026, 7, 4), rule="DR17c"),
            "Germany, Sat 4 Jul 2026: lorries are banned that day on listed roads (DR17c), and "
            "the book doesn’t say whether this is one. Look it up.",
        ),
        (
            BanNote(
                doubt=BanDoubt.AREA,
                country="GB",
                day=date(2027, 6, 14),
                rule="TR09a",
                area="london",
            ),
            "United Kingdom, Mon 14 Jun 2027: lorries are banned that day in London, with a load "
            "that the police is told of (TR09a), and the book doesn’t say whether the road goes "
            "there. Look it up.",
        ),
        (
            BanNote(doubt=BanDoubt.COUNTRY, country="IT"),
            "Lorry bans of Italy are not known. Look them up.",
        ),
    ],
)
def test_a_doubt_is_told_with_its_day_and_figure(note: BanNote, text: str) -> None:
    assert roads.doubt(WORDS, note) == text
