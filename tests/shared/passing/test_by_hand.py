"""Pieces on their way, each worked out by hand: what decides, in which way round, what is left.

As moved every size is 0.1 m more, and what stands upright 0.15 m more still (figures CP400 and
CP401: common practice, no source). Sizes of containers and usual vehicles: figures TR11 to TR14;
limits of roads and ferries: TR01 to TR08 and TR17.
"""

from decimal import Decimal
from typing import Any

import pytest

from shared.book import Body, Face, LegKind
from shared.passing.judge import Answer
from shared.passing.roads import Demand
from tests.shared.passing.pieces import a_vehicle, an_opening, on_its_way, passing_of, sized

A = (2, 1, 1)
"""As moved 2.1 x 1.1 m on the floor and 1.25 m high."""
B = (2, "1.5", 1)
"""As moved 2.1 x 1.6 m and 1.25 m high; on its side 1.75 m high, on its end 2.25 m."""
C = (3, "1.2", 2)
"""As moved 3.1 x 1.3 m and 2.25 m high; on its side 1.45 m high, on its end 3.25 m."""

PASSES, TURNED, MEASURE = Answer.PASSES, Answer.TURNED, Answer.MEASURE
NOTICE, TOO_BIG = Answer.NOTICE, Answer.TOO_BIG

NO_JOURNEY: dict[str, Any] = {"legs": ()}
UPRIGHT: dict[str, Any] = {"turns": ("upright",)}
SHIPPED = (LegKind.DRIVE, LegKind.SAILING, LegKind.ASSEMBLE)


def _door(*sizes: Any, **more: Any) -> dict[str, Any]:
    return {"out": (an_opening("door", *sizes, **more),), **NO_JOURNEY}


def _by(*vehicles: Any, **more: Any) -> dict[str, Any]:
    return {"vehicles": vehicles, **more}


VAN = a_vehicle("van", 4, 2, "2.2")
LORRY = a_vehicle("lorry", 7, "2.4", "2.5")
BED = a_vehicle("bed", body=Body.OPEN)
BOX_20 = a_vehicle("box", body=Body.CONTAINER_20)
BOX_40 = a_vehicle("box", body=Body.CONTAINER_40)

# Sizes, how it may be turned, its way; then what decides, the answer, what stands upright,
# millimetres to spare and where.
CASES: list[tuple[Any, dict[str, Any], dict[str, Any], tuple[Any, ...]]] = [
    # A door is passed with what lies across it: 2.0 - 1.1 m, though 2.1 m would not go.
    (A, {}, _door(2, "2.5"), ("door", PASSES, "height", 900, "width")),
    # Exactly 100 mm on two sides are enough.
    (A, {}, _door("1.2", "1.35"), ("door", PASSES, "height", 100, "width")),
    (A, {}, _door("1.19", "1.5"), ("door", MEASURE, "height", 90, "width")),
    (A, {}, _door("1.1", "1.25"), ("door", MEASURE, "height", 0, "width")),
    # 1.6 m across is too much; on its side 1.1 m is across and 1.75 m upright.
    (B, {}, _door("1.2", "2.4"), ("door", TURNED, "width", 100, "width")),
    (B, UPRIGHT, _door("1.2", "2.4"), ("door", TOO_BIG, "height", -400, "width")),
    (B, {"turns": ("on_end",)}, _door("1.3", "2.4"), ("door", TURNED, "length", 150, "height")),
    # Front and back are finished: not on its side, but on its end, 2.25 m upright.
    (
        B,
        {"finished_faces": (Face.FRONT, Face.BACK)},
        _door("1.2", "2.4"),
        ("door", TURNED, "length", 100, "width"),
    ),
    # Only the front is: it lies on its back.
    (
        B,
        {"finished_faces": (Face.FRONT,)},
        _door("1.2", "2.4"),
        ("door", TURNED, "width", 100, "width"),
    ),
    # All faces are: it stays as it is made.
    (
        B,
        {"finished_faces": tuple(Face)},
        _door("1.2", "2.4"),
        ("door", TOO_BIG, "height", -400, "width"),
    ),
    # The lift is 2.0 m deep: 2.1 m don't lie in it, on its end 2.25 m stand under 2.3 m.
    (A, {}, _door("1.4", "2.3", 2), ("door", MEASURE, "length", 50, "height")),
    (A, {}, _door("1.4", "2.4", 2), ("door", TURNED, "length", 150, "height")),
    (A, {}, _door("1.4", "2.2", 2), ("door", TOO_BIG, "length", -50, "height")),
    (A, {}, _door("1.4", "2.4", "2.2"), ("door", PASSES, "height", 100, "length")),
    # Crosswise into a shallow lift: 2.1 m across 2.3 m, 1.1 m in 1.2 m.
    (A, {}, _door("2.3", "2.4", "1.2"), ("door", PASSES, "height", 100, "length")),
    # The workshop's door leaves 750 mm, the site's 2.3 - 2.25 m.
    (
        C,
        {},
        {
            "out": (an_opening("roller", 3, 3),),
            "into": (an_opening("hall", "1.5", "2.3"),),
            **NO_JOURNEY,
        },
        ("hall", MEASURE, "height", 50, "height"),
    ),
    # Nobody measured the gate, however wide it is said to be.
    (
        C,
        {},
        {
            "out": (an_opening("roller", 3, 3),),
            "into": (an_opening("gate", 5, 5, measured=False),),
            **NO_JOURNEY,
        },
        ("gate", MEASURE, "height", 2750, "height"),
    ),
    (A, {}, _door(1, 1, measured=False), ("door", MEASURE, "height", -250, "height")),
    # What is measured and too small outranks what nobody measured.
    (
        A,
        {},
        {
            "out": (an_opening("hatch", 1, 1),),
            "into": (an_opening("gate", 1, 1, measured=False),),
            **NO_JOURNEY,
        },
        ("hatch", TOO_BIG, "height", -250, "height"),
    ),
    # 2.25 m under 2.2 m; on its side it is 2.1 m across 2.0 m.
    (C, {}, _by(VAN), ("Van", TOO_BIG, "height", -50, "height")),
    (C, {}, _by(VAN, skates_m=Decimal(0)), ("Van", PASSES, "height", 100, "height")),
    (
        C,
        {},
        _by(VAN, skates_m=Decimal(0), wrap_m=Decimal(0)),
        ("Van", PASSES, "height", 200, "height"),
    ),
    # Inside there are 900 mm to spare, in the door 200.
    (
        A,
        {},
        _by(a_vehicle("van", 4, 2, "2.2", door_width_m=Decimal("1.3"), door_height_m=Decimal(2))),
        ("Van", PASSES, "height", 200, "width"),
    ),
    # 20 ft: the door is 2.338 x 2.28 m; 2.15 m upright.
    ((5, 2, "1.9"), {}, _by(BOX_20), ("Box", PASSES, "height", 130, "height")),
    ((5, "2.3", "1.9"), {}, _by(BOX_20), ("Box", TOO_BIG, "height", -62, "width")),
    # 40 ft high-cube: the door is 2.585 m high, inside there are 2.693 m.
    ((5, 2, "2.3"), {}, _by(BOX_40), ("Box", MEASURE, "height", 35, "height")),
    # Either vehicle may carry it: the lorry has 2.5 - 2.25 m.
    (C, {}, _by(VAN, LORRY), ("Lorry", PASSES, "height", 250, "height")),
    # Nobody measured the vehicle: a usual van, 2.2 m high, else a trailer, 2.45 m wide.
    ((3, "1.2", "1.5"), {}, _by(a_vehicle()), ("Van", MEASURE, "height", 450, "height")),
    ((5, 2, 2), {}, _by(a_vehicle()), ("Van", MEASURE, "height", 350, "width")),
    # No vehicle is named: a usual trailer, else an open bed, on its side 2.1 m below 2.9 m wide.
    ((5, "2.9", 2), {}, {}, ("", TURNED, "width", 800, "width")),
    ((5, "2.9", 2), UPRIGHT, {}, ("", NOTICE, "height", -100, "width")),
    # 6.3 m across are above 6.1 m, which takes a special order.
    ((8, "6.2", 2), UPRIGHT, _by(BED), ("", NOTICE, "height", -200, "width")),
    # 4.95 m less the bed's 0.9 m; 3.95 m and 0.25 m upright.
    ((5, 2, "3.95"), UPRIGHT, _by(BED), ("", NOTICE, "height", -150, "height")),
    # Directive 96/53/EC: 2.55 m wide; 2.5 m across.
    ((5, "2.4", 2), UPRIGHT, _by(BED, country="NL"), ("", PASSES, "height", 50, "width")),
    # A ferry asks above 2.5 m, the road above 2.55 m; 2.6 m across.
    (
        (5, "2.5", 2),
        UPRIGHT,
        _by(BED, country="NL", legs=SHIPPED),
        ("sailing", NOTICE, "height", -100, "width"),
    ),
]


@pytest.mark.parametrize(("sizes", "piece", "way", "wanted"), CASES)
def test_what_decides_is_what_was_worked_out(
    sizes: Any, piece: dict[str, Any], way: dict[str, Any], wanted: tuple[Any, ...]
) -> None:
    found = passing_of(on_its_way(sized(*sizes, **piece), **way)).deciding

    assert found is not None
    told = (found.passage.name, found.answer, found.turn.up, found.spare_mm, found.dimension)
    assert told == wanted


def test_there_are_thirty_and_each_answer_is_among_them() -> None:
    assert len(CASES) >= 30
    assert {wanted[1] for *_, wanted in CASES} == set(Answer)


@pytest.mark.parametrize(
    ("width", "country", "legs", "demand"),
    [
        ("2.9", "GB", (LegKind.DRIVE,), Demand.NOTICE),
        ("5.0", "GB", (LegKind.DRIVE,), Demand.FORM),
        ("6.1", "GB", (LegKind.DRIVE,), Demand.ORDER),
        ("2.6", "NO", (LegKind.DRIVE,), Demand.PERMIT),
        ("2.9", "GB", (LegKind.SAILING,), Demand.REQUEST),
    ],
)
def test_a_wide_load_calls_for_what_the_tables_say(
    width: str, country: str, legs: tuple[LegKind, ...], demand: Demand
) -> None:
    # As moved 0.1 m more than the limit or nearly so: TR03a, TR04, TR05a, TR01a, TR17b.
    book = on_its_way(
        sized(8, width, 1, turns=("upright",)), vehicles=(BED,), country=country, legs=legs
    )
    found = passing_of(book).deciding

    assert found is not None
    assert found.limit is not None
    assert (found.answer, found.limit.demand) == (Answer.NOTICE, demand)


def test_a_long_load_calls_for_notice_and_an_order() -> None:
    # TR06a: 18.65 m; TR05d: 30 m.
    found = [
        passing_of(on_its_way(sized(length, 1, 1, turns=("upright",)), vehicles=(BED,))).deciding
        for length in ("18.5", "18.6", "29.9", "30")
    ]

    demands = [each.limit.demand if each and each.limit else None for each in found]
    assert demands == [None, Demand.NOTICE, Demand.NOTICE, Demand.ORDER]


def test_a_way_without_openings_decides_nothing() -> None:
    passing = passing_of(on_its_way(sized(*A), **NO_JOURNEY))

    assert (passing.judged, passing.carrier, passing.deciding) == ((), None, None)


def test_passages_come_in_the_order_of_the_way() -> None:
    book = on_its_way(
        sized(*A),
        out=(an_opening("roller", 3, 3), an_opening("lift", 3, 3, 3)),
        vehicles=(BOX_20,),
        into=(an_opening("gate", 3, 3), an_opening("hall", 3, 3)),
        legs=SHIPPED,
    )

    assert [each.passage.name for each in passing_of(book).judged] == [
        *("roller", "lift"),
        *("Box", "Box"),
        *("gate", "hall"),
    ]


def test_the_usual_sizes_are_named_where_nobody_measured() -> None:
    van = passing_of(on_its_way(sized(*A), vehicles=(a_vehicle(),))).judged[0].passage
    box = passing_of(on_its_way(sized(*A), vehicles=(BOX_20,))).judged[1].passage

    assert getattr(van, "figures", ()) == ("TR14a", "TR14b", "TR14c")
    assert getattr(box, "figures", ()) == ("TR11c", "TR11b")


@pytest.mark.parametrize(
    ("height", "answer", "spare"), [("1.3", MEASURE, 50), ("2", MEASURE, 750), ("1", TOO_BIG, -250)]
)
def test_a_vehicle_measured_in_part_is_measured_before_it_is_trusted(
    height: str, answer: Answer, spare: int
) -> None:
    van = a_vehicle(inside_height_m=Decimal(height))
    found = passing_of(on_its_way(sized(*A), vehicles=(van,))).deciding

    assert found is not None
    assert found.answer is answer
    assert found.spare_mm == spare
