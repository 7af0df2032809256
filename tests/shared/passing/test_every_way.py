"""Answers against trying every way round, for drawn pieces and openings."""

from decimal import Decimal
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.book import Face, Opening, Segment
from shared.passing.boxes import TURNS, Axis, turns_of
from shared.passing.judge import Answer
from tests.shared.passing.pieces import (
    drawn_opening,
    drawn_piece,
    on_its_way,
    passing_of,
    sized,
    tried,
)

SEEDS = range(400)


def wanted(segment: Segment, opening: Opening) -> tuple[Answer, object]:
    found = tried(segment, opening)
    if found.as_made is not None and found.as_made >= 100:
        answer, spare = Answer.PASSES, found.as_made
    elif found.at_best >= 100:
        answer, spare = Answer.TURNED, found.at_best
    else:
        answer = Answer.MEASURE if found.at_best >= 0 else Answer.TOO_BIG
        spare = found.at_best
    return (answer if opening.measured else Answer.MEASURE), spare


def given_by(segment: Segment, opening: Opening) -> tuple[Answer, object]:
    found = passing_of(on_its_way(segment, out=(opening,), legs=())).deciding
    assert found is not None
    return found.answer, found.spare_mm


@pytest.mark.parametrize("seed", SEEDS)
def test_the_answer_is_that_of_trying_every_way_round(seed: int) -> None:
    draw = Random(seed)
    segment, opening = drawn_piece(draw), drawn_opening(draw)

    assert given_by(segment, opening) == wanted(segment, opening)


def test_all_answers_are_drawn() -> None:
    drawn = set[Answer]()
    for seed in SEEDS:
        draw = Random(seed)
        drawn.add(wanted(drawn_piece(draw), drawn_opening(draw))[0])

    assert drawn == set(Answer) - {Answer.NOTICE}


@pytest.mark.parametrize(
    ("words", "faces", "upright"),
    [
        ((), (), "length width height"),
        (("upright",), (), "height"),
        (("lying",), (), "length width"),
        (("on_side",), (), "width"),
        (("on_end", "upright"), (), "length height"),
        (("sideways",), (), "length width height"),
        (("sideways", "on_end"), (), "length"),
        ((), (Face.TOP, Face.BOTTOM), "length width"),
        ((), (Face.TOP, Face.FRONT, Face.LEFT), "length width height"),
        (("on_end",), (Face.LEFT, Face.RIGHT), ""),
        ((), tuple(Face), ""),
    ],
)
def test_words_and_faces_rule_ways_round_out(
    words: tuple[str, ...], faces: tuple[Face, ...], upright: str
) -> None:
    found = turns_of(words, faces)

    assert {turn.up.value for turn in found} == set(upright.split())
    assert len(found) == 2 * len(upright.split())


def test_six_ways_round_are_all_there_are() -> None:
    assert len({(turn.up, turn.along, turn.across) for turn in TURNS}) == 6
    assert all({turn.up, turn.along, turn.across} == set(Axis) for turn in TURNS)


sizes = st.decimals(Decimal("0.1"), Decimal(5), places=3)


@given(sizes, sizes, sizes, st.integers(0, 2**32))
def test_a_smaller_piece_never_fares_worse(
    length: Decimal, width: Decimal, height: Decimal, seed: int
) -> None:
    opening = drawn_opening(Random(seed))
    whole = sized(length, width, height)
    less = sized(length, width / 2, height)

    ranks = [_rank(piece, opening) for piece in (less, whole)]

    assert ranks[0] <= ranks[1]


def _rank(segment: Segment, opening: Opening) -> int:
    found = passing_of(on_its_way(segment, out=(opening,), legs=())).deciding
    assert found is not None
    return found.rank


def test_the_one_who_tries_sees_a_way_that_was_not_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take one way round away: some drawn piece must then come out otherwise."""
    monkeypatch.setattr("shared.passing.boxes.TURNS", TURNS[:-1])
    others = 0
    for seed in SEEDS:
        draw = Random(seed)
        segment, opening = drawn_piece(draw), drawn_opening(draw)
        others += given_by(segment, opening) != wanted(segment, opening)

    assert others
