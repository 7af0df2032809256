"""Pieces on the floor of a vehicle: rows, trips, their order, and what goes along."""

from decimal import Decimal
from fractions import Fraction
from itertools import product
from random import Random

import pytest

from shared.passing.boxes import Margins, Piece, moved, piece_of
from shared.passing.loading import Load, Room, Stow, stow
from shared.passing.masses import Mass, Weight, against, calls_for_notice, mass_of, together
from shared.passing.taking import taking
from tests.builders import a_segment
from tests.shared.passing.pieces import sized

BARE = Margins(wrap=Fraction(), skates=Fraction(), spare=Fraction())


def a_room(length: int, width: int, height: int | None = None, payload: int | None = None) -> Room:
    return Room(
        length=Fraction(length),
        width=Fraction(width),
        height=None if height is None else Fraction(height),
        payload_kg=None if payload is None else Decimal(payload),
    )


def a_load(name: str, *metres: object, kg: int | None = None, turns: str = "upright") -> Load:
    piece = piece_of(sized(*map(str, metres), segment=name, turns=(turns,)))
    assert piece is not None
    mass = None if kg is None else Mass(bare=Fraction(kg), low=Fraction(kg), high=Fraction(kg))
    return Load(piece=piece, mass=mass)


def names(found: Stow) -> list[list[str]]:
    return [[each.piece.id for each in trip.in_order] for trip in found.trips]


def test_what_is_needed_first_goes_in_last() -> None:
    loads = [a_load(name, 1, 2, 1) for name in ("head", "body", "base")]

    found = stow(loads, a_room(3000, 2000), BARE)

    assert names(found) == [["base", "body", "head"]]
    (trip,) = found.trips
    assert (int(trip.length), int(trip.area_m2)) == (3000, 6)
    assert [row.pieces[0].piece.id for row in trip.rows] == ["head", "body", "base"]


def test_two_stand_side_by_side_where_there_is_room() -> None:
    loads = [a_load(name, 1, 1, 1) for name in "abcd"]

    found = stow(loads, a_room(2000, 2000), BARE)

    assert [[len(row.pieces) for row in trip.rows] for trip in found.trips] == [[2, 2]]


def test_a_second_trip_takes_what_is_needed_later() -> None:
    loads = [a_load(name, 2, 2, 1) for name in "abc"]

    found = stow(loads, a_room(4000, 2000), BARE)

    assert names(found) == [["b", "a"], ["c"]]
    assert found.least_count == 2


def test_pieces_are_turned_on_the_floor_and_stood_up_only_if_it_helps() -> None:
    room = a_room(3000, 2500, 3000)
    flat = [a_load(name, 2, 3, 1, turns="") for name in "ab"]
    long = [a_load(name, 3, 2, 1) for name in "ab"]

    (once,) = stow(long[:1], room, BARE).trips
    assert once.rows[0].pieces[0].turn.is_as_made
    # As made 2 x 3 m take one trip each; on end or side 1 m of the width each.
    assert len(stow(long, room, BARE).trips) == 2
    assert len(stow(flat, room, BARE).trips) == 1


def test_what_does_not_go_in_is_left_and_named() -> None:
    loads = [a_load("tall", 1, 1, 3), a_load("low", 1, 1, 1)]

    found = stow(loads, a_room(4000, 2000, 2000), BARE)

    assert [piece.id for piece in found.left] == ["tall"]
    assert names(found) == [["low"]]


def test_a_trip_is_no_heavier_than_the_payload_at_the_high_end() -> None:
    loads = [a_load(name, 1, 1, 1, kg=60) for name in "abc"]

    found = stow(loads, a_room(9000, 2000, payload=120), BARE)

    assert names(found) == [["b", "a"], ["c"]]
    assert [trip.weight for trip in found.trips] == [Weight.WITHIN, Weight.WITHIN]
    assert found.least_count == 2


def test_a_piece_too_heavy_goes_alone_and_is_told() -> None:
    loads = [a_load("a", 1, 1, 1, kg=60), a_load("b", 1, 1, 1, kg=200), a_load("c", 1, 1, 1)]

    found = stow(loads, a_room(9000, 2000, payload=120), BARE)

    weights = {trip.in_order[-1].piece.id: trip.weight for trip in found.trips}
    assert weights["b"] is Weight.TOO_HEAVY
    assert weights["c"] is Weight.WEIGH


def test_nothing_to_load_takes_no_trip() -> None:
    assert stow((), a_room(1, 1), BARE) == Stow(trips=(), left=(), least_count=0)


@pytest.mark.parametrize("seed", range(60))
def test_no_cut_of_the_list_into_rows_takes_fewer_trips(seed: int) -> None:
    draw = Random(seed)
    loads = [
        a_load(f"p{at}", draw.choice(("0.8", "1.2", "2")), draw.choice(("0.6", "1", "1.9")), 1)
        for at in range(draw.randint(1, 6))
    ]
    room = a_room(draw.choice((2000, 3000, 4200)), 2000)

    found = stow(loads, room, BARE)

    assert not found.left
    assert [name for trip in names(found) for name in reversed(trip)] == [
        load.piece.id for load in loads
    ]
    for trip in found.trips:
        assert trip.length <= room.length
        assert all(_width(row.pieces) <= room.width for row in trip.rows)
        assert all(each.sides.length <= row.depth for row in trip.rows for each in row.pieces)
    assert len(found.trips) == _fewest([load.piece for load in loads], room)
    assert len(found.trips) >= found.least_count


def _width(pieces: object) -> Fraction:
    assert isinstance(pieces, tuple)
    return sum((each.sides.width for each in pieces), Fraction())


def _fewest(pieces: list[Piece], room: Room) -> int:
    """Try every way round of every piece, and every cut of the list into rows and trips."""
    fewest = len(pieces)
    for turns in product(*(piece.turns for piece in pieces)):
        sides = [moved(piece.box, turn, BARE) for piece, turn in zip(pieces, turns, strict=True)]
        for cuts in product((0, 1, 2), repeat=len(pieces) - 1):
            # Behind each piece: 0 the same row, 1 a new row, 2 a new trip.
            trips = [[[sides[0]]]]
            for cut, each in zip(cuts, sides[1:], strict=True):
                if cut == 2:
                    trips.append([[]])
                elif cut == 1:
                    trips[-1].append([])
                trips[-1][-1].append(each)
            rows = [row for trip in trips for row in trip]
            fits = all(sum(each.width for each in row) <= room.width for row in rows) and all(
                sum(max(each.length for each in row) for row in trip) <= room.length
                for trip in trips
            )
            fewest = min(fewest, len(trips)) if fits else fewest
    return fewest


def test_a_mass_is_a_range_with_frame_fixings_and_gear() -> None:
    # 100 to 200 kg; frame 5 to 30 %, fixings 1 to 5 %, gear 10 to 60 kg: common practice.
    mass = mass_of(a_segment(mass_low_kg=Decimal(100), mass_high_kg=Decimal(200)))

    assert mass == Mass(bare=Fraction(100), low=Fraction(116), high=Fraction(330))


@pytest.mark.parametrize(("low", "high", "bare"), [(None, 50, 50), (40, None, 40), (40, 50, 40)])
def test_one_end_of_a_mass_stands_for_the_other(
    low: int | None, high: int | None, bare: int
) -> None:
    made = [None if each is None else Decimal(each) for each in (low, high)]
    mass = mass_of(a_segment(mass_low_kg=made[0], mass_high_kg=made[1]))

    assert mass is not None
    assert mass.bare == bare


def test_nobody_knows_the_mass_of_several_if_not_of_each() -> None:
    known = Mass(bare=Fraction(1), low=Fraction(2), high=Fraction(3))

    assert mass_of(a_segment(mass_low_kg=None, mass_high_kg=None)) is None
    assert together((known, None)) is None
    assert together((known, known)) == Mass(bare=Fraction(2), low=Fraction(4), high=Fraction(6))


@pytest.mark.parametrize(
    ("payload", "weight"),
    [
        (None, Weight.WITHIN),
        (330, Weight.WITHIN),
        (329, Weight.WEIGH),
        (100, Weight.WEIGH),
        (99, Weight.TOO_HEAVY),
    ],
)
def test_a_mass_is_held_against_a_payload_at_its_high_end(
    payload: int | None, weight: Weight
) -> None:
    mass = Mass(bare=Fraction(100), low=Fraction(116), high=Fraction(330))

    assert against((mass,), None if payload is None else Decimal(payload)) is weight


def test_a_piece_of_unknown_mass_is_weighed() -> None:
    heavy = Mass(bare=Fraction(2000), low=Fraction(2000), high=Fraction(2000))

    assert against((None,), Decimal(1000)) is Weight.WEIGH
    assert against((None, heavy), Decimal(1000)) is Weight.TOO_HEAVY
    assert against((None,), None) is Weight.WITHIN


def test_what_alone_is_more_than_a_lorry_may_weigh_calls_for_notice() -> None:
    # TR07b: 44 t.
    known = Mass(bare=Fraction(1), low=Fraction(1), high=Fraction(44_000))
    more = Mass(bare=Fraction(1), low=Fraction(1), high=Fraction(44_001))

    assert [calls_for_notice(each) for each in (None, known, more)] == [False, False, True]


def test_each_joint_is_between_two() -> None:
    # 3 m at each of two pieces are one joint of 3 m: 300 ml of 310 ml cartridges, 12 bolts.
    two = [a_segment(name, joints_m=Decimal(3)) for name in ("a", "b")]
    found = taking(two)

    assert found.joints_m == 3
    assert (found.sealant_ml, found.cartridges, found.bolts) == (300, 1, 12)
    assert not found.is_estimated


def test_joints_that_nobody_wrote_down_are_estimated_and_one_piece_has_none() -> None:
    # 2 x 1 x 1 m: a girth of 4 m at each.
    found = taking([a_segment("a"), a_segment("b")])
    alone = taking([a_segment("a")])

    assert found.joints_m == 4
    assert found.is_estimated
    assert not any((alone.joints_m, alone.bolts, alone.cartridges, alone.is_estimated))
