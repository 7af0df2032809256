"""Cuts: the fewest equal parts that pass, what decides, what they add; cuts by hand."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from random import Random
from typing import Any

import pytest

from shared.book import Book, Face, Opening, Segment
from shared.passing.boxes import Axis, margins_of, piece_of
from shared.passing.judge import Answer
from shared.passing.passages import course_of
from shared.passing.split import (
    MOST_PARTS,
    BadCut,
    ByHand,
    Counts,
    Proposal,
    Whole,
    by_hand,
    hours_of,
    propose,
)
from tests.shared.passing.pieces import (
    a_vehicle,
    an_opening,
    drawn_opening,
    drawn_piece,
    on_its_way,
    sized,
    tried,
)

Cuts = dict[Axis, tuple[Fraction, ...]]


def whole_of(book: Book, least_count: int = 1) -> Whole:
    segment = book.jobs[0].segments[0]
    piece = piece_of(segment)
    assert piece is not None
    return Whole(segment=segment, piece=piece, least_count=least_count)


def proposed(book: Book, least_count: int = 1) -> Proposal | None:
    job = book.jobs[0]
    course = course_of(book, job, job.segments[0])
    return propose(whole_of(book, least_count), course, margins_of(book.workshop))


def cut(book: Book, cuts: Cuts) -> ByHand:
    job = book.jobs[0]
    course = course_of(book, job, job.segments[0])
    return by_hand(whole_of(book), course, margins_of(book.workshop), cuts)


def through(*openings: Opening, sizes: Any = (2, 1, 1), **piece: Any) -> Book:
    return on_its_way(sized(*sizes, **piece), out=openings, legs=())


def found(book: Book, least_count: int = 1) -> Proposal:
    told = proposed(book, least_count)
    assert told is not None
    return told


def test_what_passes_is_not_cut() -> None:
    told = found(through(an_opening("door", 3, 3)))

    assert told.counts == Counts()
    assert (told.deciding, told.close) == (None, None)
    assert not told.seams_m
    assert told.hours == hours_of(Fraction(), 1)
    assert not told.hours.high


def test_a_long_piece_is_cut_once_for_a_shallow_lift() -> None:
    # 4.0 m in a lift 2.2 m deep, 2.0 m high: two of 2.0 m, 2.1 m as moved.
    told = found(through(an_opening("lift", 2, 2, "2.2"), sizes=(4, "1.5", "1.5")))

    assert told.counts == Counts(length=2)
    assert told.deciding is not None
    assert told.deciding.passage.name == "lift"
    assert told.deciding.spare_mm == 100
    # One seam of 2 x (1.5 + 1.5) m.
    assert told.seams_m == 6


def test_hours_are_those_of_flanges_joints_and_pieces() -> None:
    # Common practice: a metre of flange 0.5 + 0.4 h on both sides, of seam 0.5 + 0.5 + 0.15 h;
    # a piece more 2 + 1 h.
    assert hours_of(Fraction(6), 2).likely == Fraction("6") * Fraction("2.95") + 3
    more = hours_of(Fraction(6), 2)
    assert more.low < more.likely < more.high


def test_what_alone_calls_for_most_parts_decides() -> None:
    # The door takes it in two, the lift in three, the hall as it is.
    book = through(
        an_opening("door", 2, 2, "3.4"),
        an_opening("lift", 2, 2, "2.2"),
        an_opening("hall", 9, 9),
        sizes=(6, "1.5", "1.5"),
    )
    told = found(book)

    assert told.counts == Counts(length=3)
    assert told.deciding is not None
    assert told.deciding.passage.name == "lift"
    whole = told.whole.deciding
    assert whole is not None
    # As moved 6.1 m, and 2.2 m in the lift.
    assert (whole.passage.name, -whole.spare_mm) == ("lift", Fraction(3900))


def test_fewer_parts_that_only_just_pass_are_told_too() -> None:
    # Two of 2.0 m: 2.1 m in 2.15 m is less than 100 mm to spare; three of 1.33 m are enough.
    told = found(through(an_opening("lift", "1.8", "1.9", "2.15"), sizes=(4, "1.5", "1.5")))

    assert told.close == Counts(length=2)
    assert told.counts == Counts(length=3)


def test_a_cut_along_two_sizes_where_one_is_not_enough() -> None:
    told = found(through(an_opening("hatch", "1.3", "1.5"), sizes=(4, 2, 2)))

    # 1.0 m and its wrapping across 1.3 m, 1.0 m and skates below 1.5 m; any length goes through.
    assert told.counts.all == 4
    assert told.counts.along(Axis.LENGTH) == 1


def test_a_cut_face_is_no_finished_one() -> None:
    # It may not stand on its ends; each half has one that was cut.
    faces = (Face.LEFT, Face.RIGHT)
    sizes = (4, "1.5", "1.5")
    narrow = an_opening("lift", "1.8", "2.4", "1.8")
    upright = {"turns": ("on_end",), "finished_faces": faces}
    told = found(through(narrow, sizes=sizes, **upright))

    assert told.counts == Counts(length=2)
    assert told.passing.judged[0].turn.up is Axis.LENGTH


def test_no_cut_helps_through_what_wrapping_alone_fills() -> None:
    assert proposed(through(an_opening("letterbox", "0.1", 3))) is None


def test_the_mass_may_call_for_more() -> None:
    told = found(through(an_opening("door", 3, 3)), least_count=3)

    assert told.counts.all == 3
    assert told.is_by_mass
    assert told.deciding is None


def test_a_vehicle_decides_as_an_opening_does() -> None:
    book = on_its_way(
        sized(6, "1.5", "1.5"),
        vehicles=(a_vehicle("van", "3.4", "1.8", "2.0"),),
        out=(an_opening("roller", 5, 5),),
    )
    told = found(book)

    assert told.counts == Counts(length=2)
    assert told.deciding is not None
    assert told.deciding.passage.name == "Van"


def test_a_road_that_wants_notice_is_no_reason_to_cut() -> None:
    book = on_its_way(sized(8, 4, 2, turns=("upright",)))

    told = found(book)

    assert told.counts.all == 1
    assert told.whole.deciding is not None
    assert told.whole.deciding.answer is Answer.NOTICE


def _fewest(segment: Segment, opening: Opening) -> int:
    """Try every grid of equal parts by every way round, the finished faces of cut sides freed."""
    ends = ((Face.LEFT, Face.RIGHT), (Face.FRONT, Face.BACK), (Face.TOP, Face.BOTTOM))
    best = MOST_PARTS + 1
    for along in range(1, MOST_PARTS + 1):
        for across in range(1, MOST_PARTS // along + 1):
            for up in range(1, MOST_PARTS // (along * across) + 1):
                counts = (along, across, up)
                if along * across * up >= best:
                    continue
                sizes = (segment.length_m, segment.width_m, segment.height_m)
                parts = [
                    Fraction(size or 0) / count for size, count in zip(sizes, counts, strict=True)
                ]
                cut_faces = {
                    face for count, pair in zip(counts, ends, strict=True) if count > 1
                    for face in pair
                }  # fmt: skip
                part = replace(
                    segment,
                    length_m=_decimal(parts[0]),
                    width_m=_decimal(parts[1]),
                    height_m=_decimal(parts[2]),
                    finished_faces=tuple(set(segment.finished_faces) - cut_faces),
                )
                if tried(part, opening).at_best >= 100:
                    best = along * across * up
    return best


def _decimal(exact: Fraction) -> Decimal:
    return Decimal(exact.numerator) / Decimal(exact.denominator)


@pytest.mark.parametrize("seed", range(25))
def test_no_grid_of_fewer_parts_passes(seed: int) -> None:
    draw = Random(seed)
    segment, opening = drawn_piece(draw), drawn_opening(draw)
    told = proposed(on_its_way(segment, out=(opening,), legs=()))

    fewest = _fewest(segment, opening)

    assert (MOST_PARTS + 1 if told is None else told.counts.all) == fewest


def test_cuts_by_hand_are_judged_part_by_part() -> None:
    book = through(an_opening("lift", 2, 2, "2.2"), sizes=(4, "1.5", "1.5"))
    told = cut(book, {Axis.LENGTH: (Fraction(1500),)})

    answers = [part.deciding.answer for part in told.parts if part.deciding]
    assert told.counts == Counts(length=2)
    assert [int(part.piece.box.length) for part in told.parts] == [1500, 2500]
    assert answers == [Answer.PASSES, Answer.TOO_BIG]
    assert told.seams_m == 6
    assert told.hours == hours_of(Fraction(6), 2)


def test_cuts_by_hand_as_proposed_come_out_the_same() -> None:
    book = through(an_opening("lift", 2, 2, "2.2"), sizes=(6, "1.5", "1.5"))
    told = found(book)
    by = cut(book, {Axis.LENGTH: (Fraction(4000), Fraction(2000))})

    assert by.counts == told.counts
    assert (by.seams_m, by.hours) == (told.seams_m, told.hours)
    assert all(part.deciding and part.deciding.spare_mm == 100 for part in by.parts)


@pytest.mark.parametrize("at", [(0,), (2000,), (2500,), (-1,), (500, 500)])
def test_a_cut_that_is_none_is_refused(at: tuple[int, ...]) -> None:
    book = through(an_opening("door", 3, 3))

    with pytest.raises(BadCut) as refused:
        cut(book, {Axis.LENGTH: tuple(map(Fraction, at))})

    assert refused.value.axis is Axis.LENGTH
    assert refused.value.most_mm == 2000
    assert refused.value.at_mm in map(Fraction, at)
