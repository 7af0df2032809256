"""Pieces too big or too heavy for their way: blocked on day one, and named by the check."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest

from app.words import Words
from scheduler.check import check
from scheduler.check.sizes import too_big
from scheduler.check.world import World
from scheduler.outcome import Verdict
from scheduler.reasons import Reason
from scheduler.rules import Rule
from shared.book import Body, Book, Equipment, Face, Fact, Opening, Segment
from shared.passing.facts import TooBig, TooHeavy, kept_back
from shared.units import whole_up
from tests.builders import NOW, a_fact, a_gate, a_plan, a_stage
from tests.scheduler.normals import codes, normal_of, solved
from tests.shared.passing.pieces import (
    a_vehicle,
    an_opening,
    drawn_opening,
    drawn_piece,
    on_its_way,
    sized,
)

# As moved 2.1 x 1.1 m and 1.25 m high.
WIDE_ENOUGH = an_opening("hatch", "1.1", "1.25")
TOO_NARROW = an_opening("hatch", "1.09", "1.25")
EFFORT = 2


def through(*openings: Opening, **more: object) -> Book:
    return on_its_way(sized(2, 1, 1), out=openings, **more)  # type: ignore[arg-type]


def with_facts(book: Book, *facts: Fact) -> Book:
    return replace(book, facts=facts)


def test_a_millimetre_decides_whether_a_job_can() -> None:
    fits, cannot = (
        solved(through(WIDE_ENOUGH), effort=EFFORT),
        solved(through(TOO_NARROW), effort=EFFORT),
    )

    assert fits.verdict in (Verdict.FITS, Verdict.TIGHT)
    assert cannot.verdict is Verdict.CANNOT
    assert fits.check.sound
    assert cannot.check.sound
    (reason,) = {reason.code: reason for reason in cannot.jobs[0].reasons}.values()
    assert dict(reason.facts) == {
        "segment": "torso",
        "opening": "hatch",
        "over_mm": 10,
        "dimension": "width",
    }
    assert {each.code for each in cannot.plan.unplaced} >= {Reason.TOO_BIG}


def test_it_is_said_with_the_opening_and_by_how_much() -> None:
    book = through(TOO_NARROW)
    outcome = solved(book, effort=EFFORT)

    assert Words("en", book=book).clash(outcome.jobs[0].reasons[0]) == (
        "Torso is too big for hatch: whichever way round it may be turned, as it is moved it is "
        "at least 10 mm too wide."
    )


def test_what_nobody_measured_keeps_nothing_back() -> None:
    narrow = replace(TOO_NARROW, measured=False)

    assert codes(normal_of(through(narrow))) == []
    assert codes(normal_of(through(into=(narrow,)))) == []
    assert codes(normal_of(through(vehicles=(a_vehicle(body=Body.VAN),)))) == []


@pytest.mark.parametrize(
    "vehicle",
    [
        a_vehicle("van", 1, 1, 1),
        a_vehicle(door_width_m=Decimal(1), door_height_m=Decimal(2)),
        a_vehicle(inside_height_m=Decimal("1.2")),
    ],
)
def test_a_measured_vehicle_blocks_as_an_opening_does(vehicle: Equipment) -> None:
    assert codes(normal_of(through(vehicles=(vehicle,)))) == [Reason.TOO_BIG]


def test_one_vehicle_that_takes_it_is_enough() -> None:
    small, large = a_vehicle("van", 1, 1, 1), a_vehicle("lorry", 3, 2, 2)

    assert codes(normal_of(through(vehicles=(small, large)))) == []


def test_a_container_is_as_its_standard_has_it() -> None:
    wide = on_its_way(sized(3, 3, 3), vehicles=(a_vehicle(body=Body.CONTAINER_20),))

    assert codes(normal_of(wide)) == [Reason.TOO_BIG]


def test_a_piece_heavier_at_the_least_than_the_payload_is_blocked() -> None:
    # 40 to 60 kg, bare.
    light, heavy = a_vehicle(payload_kg=Decimal(40)), a_vehicle(payload_kg=Decimal("39.5"))
    book = through(vehicles=(heavy,))

    assert codes(normal_of(through(vehicles=(light,)))) == []
    assert codes(normal_of(book)) == [Reason.TOO_HEAVY]
    assert Words("en", book=book).clash(solved(book, effort=EFFORT).jobs[0].reasons[0]) == (
        "Torso is too heavy for Van: 40 kg at least without frame and fixings, and it carries "
        "39.5 kg."
    )


def test_only_the_piece_that_is_too_big_is_blocked() -> None:
    small = sized(1, "0.5", "0.5", segment="ear")
    book = on_its_way(sized(2, 1, 1), small, out=(TOO_NARROW,))
    steps = (a_stage("carve", segments=("torso",)), a_stage("trim", segments=("ear",)))
    book = replace(book, jobs=(replace(book.jobs[0], steps=(*steps, a_gate())),))

    normal = normal_of(book)

    assert {one.step for one in normal.unplaced} == {"carve", "loading"}


def test_each_piece_that_is_too_big_is_named() -> None:
    other = sized(2, 1, "1.2", segment="ear", turns=("upright",))
    book = on_its_way(sized(2, 1, 1), other, out=(TOO_NARROW,))

    reasons = solved(book, effort=EFFORT).jobs[0].reasons

    assert [dict(each.facts)["segment"] for each in reasons] == ["ear", "torso"]
    assert [dict(each.facts)["over_mm"] for each in reasons] == [200, 10]


def test_what_is_loaded_has_passed() -> None:
    book = with_facts(through(TOO_NARROW), a_fact("a", step="carve"), a_fact("b", step="loading"))
    outcome = solved(book, effort=EFFORT)

    assert outcome.verdict is not Verdict.CANNOT
    assert outcome.check.sound


def test_the_check_names_work_on_a_piece_that_never_gets_out() -> None:
    outcome = solved(through(WIDE_ENOUGH), effort=EFFORT)
    found = check(through(TOO_NARROW), outcome.plan)

    (size,) = [breach for breach in found.breaches if breach.rule == Rule.SIZE]
    told = dict(size.facts)
    assert size.where == "carve"
    assert (told["segment"], told["opening"]) == ("Torso", "hatch")
    assert (told["over_mm"], told["dimension"]) == (10, "width")
    assert Words("en").breach(size) == (
        "Heron: Carve: Torso is too big for hatch; whichever way round it may be turned, as it is "
        "moved it is at least 10 mm too wide."
    )


def drawn_book(seed: int) -> Book:
    """Draw a way: two openings, now and then a measured vehicle or two, some containers."""
    draw = Random(seed)
    return on_its_way(
        drawn_piece(draw),
        out=tuple(drawn_opening(draw, name) for name in ("door", "lift")[: draw.randint(0, 2)]),
        vehicles=tuple(_drawn_vehicles(draw)),
        into=tuple(drawn_opening(draw, name) for name in ("hall",)[: draw.randint(0, 1)]),
        wrap_m=draw.choice((None, Decimal(0), Decimal("0.03"))),
        skates_m=draw.choice((None, Decimal(0), Decimal("0.2"))),
    )


def _drawn_vehicles(draw: Random) -> Iterator[Equipment]:
    for name in ("van", "lorry")[: draw.randint(0, 2)]:
        sizes = [Decimal(draw.randint(100, 600)) / 100 for _ in range(3)]
        inside = sizes if draw.random() < 0.6 else sizes[: draw.randint(0, 2)]
        door = {"door_width_m": Decimal(draw.randint(80, 300)) / 100}
        yield a_vehicle(
            name,
            *inside,
            body=draw.choice((None, None, *Body)),
            payload_kg=draw.choice((None, Decimal(30), Decimal(50), Decimal(1000))),
            **(door if draw.random() < 0.3 else {}),
        )


def by_engine(book: Book) -> tuple[int | None, bool]:
    """Give by how much the only piece is too big, and whether it is too heavy."""
    (job,) = book.jobs
    found = list(kept_back(book, job))
    over = [whole_up(-each.judged.spare_mm) for each in found if isinstance(each, TooBig)]
    return (over[0] if over else None), any(isinstance(each, TooHeavy) for each in found)


def by_check(book: Book) -> int | None:
    """Give the same size, as the check tries it."""
    world = World(book, a_plan(book, placements=(), trips=()), int(NOW.timestamp()))
    (job,) = book.jobs
    over = too_big(world, job, job.segments[0])
    return None if over is None else whole_up(over.mm)


DRAWN = 300


@pytest.mark.parametrize("seed", range(DRAWN))
def test_engine_and_check_agree_on_what_is_too_big(seed: int) -> None:
    book = drawn_book(seed)

    assert by_engine(book)[0] == by_check(book)


def test_both_kinds_are_drawn() -> None:
    found = [by_engine(drawn_book(seed)) for seed in range(DRAWN)]

    assert {over is None for over, _ in found} == {True, False}
    assert any(heavy for _, heavy in found)


@pytest.mark.parametrize("seed", range(15))
def test_a_drawn_way_is_planned_or_blocked_and_the_check_says_the_same(seed: int) -> None:
    book = drawn_book(seed)
    over, heavy = by_engine(book)

    outcome = solved(book, effort=EFFORT)

    reasons = {reason.code for reason in outcome.jobs[0].reasons}
    assert (Reason.TOO_BIG in reasons) is (over is not None)
    assert (Reason.TOO_HEAVY in reasons) is heavy
    assert outcome.check.breaches == ()
    open_plan = solved(_opened(book), effort=EFFORT).plan
    broken = {breach.rule for breach in check(book, open_plan).breaches}
    assert (Rule.SIZE in broken) is (over is not None)
    assert (Rule.MASS in broken) is (heavy or _is_heavy(book))


def _opened(book: Book) -> Book:
    """Give the same book without anything to pass."""
    job = book.jobs[0]
    equipment = tuple(a_vehicle(each.id) for each in book.equipment)
    return replace(
        book,
        workshop=replace(book.workshop, openings=()),
        jobs=(replace(job, site=replace(job.site, openings=())),),
        equipment=equipment,
    )


def _is_heavy(book: Book) -> bool:
    """Return whether all vehicles carry less than 40 kg, however big the piece is."""
    payloads = [each.payload_kg for each in book.equipment]
    return bool(payloads) and all(each is not None and each < 40 for each in payloads)


@pytest.mark.parametrize(
    ("turns", "told"),
    [((), False), (("upright", "lying"), False), (("lying",), True), (("on_end",), True)],
)
def test_floor_goes_by_pieces_as_they_are_made_and_that_is_said(
    turns: tuple[str, ...], told: bool
) -> None:
    book = on_its_way(sized(2, 1, 1, turns=turns))

    assert (Rule.TURNS in normal_of(book).not_honoured) is told


def test_the_last_way_round_left_is_as_it_is_made() -> None:
    piece: Segment = sized(2, 1, 1, finished_faces=tuple(Face))

    assert codes(normal_of(on_its_way(piece, out=(WIDE_ENOUGH,)))) == []
    assert codes(normal_of(on_its_way(piece, out=(TOO_NARROW,)))) == [Reason.TOO_BIG]
