"""The standing floor: moves, foam in stock, packed pieces, five carved pieces and the sixth."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from scheduler.check import check
from scheduler.outcome import Outcome, Verdict
from scheduler.reasons import Reason
from shared.book import (
    Answer,
    Book,
    Booking,
    Closure,
    FactKind,
    GateKind,
    Job,
    Kind,
    Leave,
    Pin,
    Place,
    PlaceKind,
)
from shared.ids import PlaceId, StepId
from tests.builders import (
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_place,
    a_segment,
    a_stage,
    a_way,
    a_window,
    an_after,
    at,
    on,
)
from tests.scheduler.check.change import moved, named
from tests.scheduler.normals import (
    codes,
    edges_of,
    job_of,
    normal_of,
    of_steps,
    placed,
    position,
    room_of,
    solved,
)

STORE = PlaceId("store")
PIECE_M2 = Decimal("3.36")
"""What a piece of 2 m x 1 m takes as it waits, with 0.2 m on every side."""


def a_store(area_m2: object = 100, **changes: object) -> Place:
    usual = Place(
        id=STORE,
        name="Store",
        kind=PlaceKind.STORE,
        area_m2=Decimal(str(area_m2)),
        standing=True,
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def a_move(step: str = "move", to: str = "store", **changes: object) -> object:
    return a_stage(step, Kind.PACK, hours=1, moves_to=PlaceId(to), **changes)  # type: ignore[arg-type]


def moving(*steps: object, **changes: object) -> Book:
    book = of_steps(*steps, **changes)
    return replace(book, places=(a_place(), a_floor(), a_store()))


def holds(book: Book) -> list[tuple[str | None, str | None, str]]:
    """Give each hold as its place and the steps from which and to which it lasts."""
    normal = normal_of(book)
    names = [name.step for name in normal.stages]
    return [
        (
            normal.rooms[hold.room].place,
            None if hold.first is None else names[hold.first],
            names[hold.last],
        )
        for hold in normal.problem.holds
    ]


def test_a_piece_that_is_moved_holds_both_floors_during_the_move() -> None:
    book = moving(a_stage("carve"), a_move(), a_stage("skin"))

    assert holds(book) == [("hall", "carve", "move"), ("store", "move", "loading")]


def test_a_move_that_is_done_or_under_way_counts_from_now() -> None:
    book = moving(a_stage("carve"), a_move(), a_stage("skin"))
    carved = a_fact("carved", step="carve", at=at("2026-01-05 06:00"))
    done = replace(book, facts=(carved, a_fact(step="move")))
    fact = a_fact(step="move", kind=FactKind.RUNNING, remaining_hours=Decimal(1))
    running = replace(book, facts=(carved, fact))

    assert holds(done) == [("store", None, "loading")]
    assert holds(running) == [("hall", None, "move"), ("store", None, "loading")]


def test_a_piece_from_elsewhere_takes_floor_once_it_is_moved_here() -> None:
    piece = a_segment(stored_elsewhere=True)
    book = moving(a_stage("carve"), a_move(), segments=(piece,))

    assert holds(book) == [("store", "move", "loading")]


def test_a_move_to_where_a_piece_stands_is_none() -> None:
    assert holds(moving(a_stage("carve"), a_move(to="hall"))) == [("hall", "carve", "loading")]


def test_a_piece_is_moved_once_at_a_time() -> None:
    """Moves that nothing puts in an order get one."""
    first = a_move("out", after=("carve",))
    second = a_move("back", to="hall", after=("carve",))
    normal = normal_of(moving(a_stage("carve"), first, second))

    assert len(edges_of(normal, "out", "back")) == 1
    assert holds(moving(a_stage("carve"), first, second)) == [
        ("hall", "carve", "out"),
        ("store", "out", "back"),
        ("hall", "back", "loading"),
    ]


def test_a_piece_too_large_for_where_it_is_moved_is_a_fact_of_its_job() -> None:
    book = moving(a_stage("carve"), a_move())
    book = replace(book, places=(a_place(), a_floor(), a_store("3.35")))

    assert codes(normal_of(book)) == [Reason.FLOOR_TOO_SMALL]


def test_foam_in_stock_takes_only_its_area() -> None:
    """A booking without an area takes the whole place, one with an area only that."""
    foam = Booking(start=at("2026-01-05 08:00"), end=at("2026-01-06 08:00"), area_m2=PIECE_M2)
    whole = Booking(start=at("2026-01-07 08:00"), end=at("2026-01-08 08:00"))
    floor = a_floor(bookings=(foam, whole))
    slots = a_place(bookings=(foam,))
    normal = normal_of(a_book(places=(slots, floor)))

    assert room_of(normal, "hall").busy == ((0, 96, 336), (192, 288, 10000))
    assert room_of(normal, "bay").busy == ((0, 96, 1),)


def test_a_piece_waits_until_foam_in_stock_leaves_it_floor() -> None:
    """On 6 m2 there is room for 3.36 m2 of foam or for the piece, which takes as much."""
    foam = Booking(start=at("2026-01-05 08:00"), end=at("2026-01-07 10:00"), area_m2=PIECE_M2)
    book = of_steps(a_stage("carve"))
    small = replace(book, places=(a_place(), a_floor(area_m2=6, bookings=(foam,))))
    large = replace(book, places=(a_place(), a_floor(area_m2="6.72", bookings=(foam,))))
    late, soon = solved(small), solved(large)

    assert placed(late, "carve").start >= at("2026-01-07 10:00")
    early = moved(late.plan, "carve", start=at("2026-01-07 09:45"))
    assert ("standing_full", "carve") in named(small, early)
    assert ("standing_full", "carve") not in named(large, early)
    assert soon.check.sound


def test_what_is_booked_later_is_held_against_what_the_plan_has_put_there() -> None:
    foam = Booking(start=at("2026-01-08 08:00"), end=at("2026-01-09 08:00"), area_m2=PIECE_M2)
    book = of_steps(a_stage("carve"))
    plan = solved(book).plan
    early = moved(plan, "loading", start=at("2026-01-12 09:00"), end=at("2026-01-12 09:00"))
    small = replace(book, places=(a_place(), a_floor(area_m2=6, bookings=(foam,))))

    assert ("standing_full", "carve") in named(small, early)
    assert ("standing_full", "carve") not in named(book, early)


def _begun(*names: str, floor: Place) -> Book:
    """Give jobs whose pieces are carved, and one more that is not begun."""
    steps = [
        (a_stage(f"{name}-carve"), a_stage(f"{name}-pack", Kind.PACK), a_gate(f"{name}-loading"))
        for name in (*names, "otter")
    ]
    jobs = (a_job(name, steps=each) for name, each in zip((*names, "otter"), steps, strict=True))
    facts = tuple(a_fact(name, f"{name}-carve") for name in names)
    pair = (a_person("ana"), a_person("ben"))
    return a_book(*jobs, places=(a_place(slots=3), floor), people=pair, facts=facts)


def test_no_plan_is_blamed_for_what_is_too_much_already() -> None:
    """Two pieces stand where there is room for one: the next comes when both have left."""
    book = _begun("heron", "wren", floor=a_floor(area_m2=4))
    outcome = solved(book)
    left = [placed(outcome, f"{name}-loading").end for name in ("heron", "wren")]

    assert placed(outcome, "otter-carve").start >= max(left)
    assert outcome.check.not_judged == ("crowded",)
    early = moved(outcome.plan, "otter-carve", start=max(left) - timedelta(minutes=15))
    assert {where for rule, where in named(book, early) if rule == "standing_full"} == {
        "otter-carve"
    }
    assert not check(replace(book, places=(a_place(slots=3), a_floor())), outcome.plan).not_judged


def test_what_is_booked_twice_is_no_crowd_around_a_piece_that_has_left() -> None:
    foam = Booking(start=at("2026-01-06 08:00"), end=at("2026-01-06 12:00"), area_m2=Decimal(3))
    book = _begun("heron", floor=a_floor(area_m2=4, bookings=(foam, foam)))
    facts = (a_fact(step, f"heron-{step}") for step in ("carve", "pack", "loading"))

    assert solved(replace(book, facts=tuple(facts))).check.sound


@pytest.mark.parametrize(
    ("end", "verdict"), [("2026-01-06 10:00", Verdict.TIGHT), ("2026-01-06 09:45", Verdict.CANNOT)]
)
def test_what_is_too_much_already_is_no_reason_why_a_job_cannot_be(
    end: str, verdict: Verdict
) -> None:
    """Packing both takes to Tuesday 10:00, whatever stands there."""
    pieces = (a_segment("left"), a_segment("right"))
    carved = [a_stage(f"carve-{piece.id}", segments=(piece.id,)) for piece in pieces]
    packed = [a_stage(f"pack-{piece.id}", Kind.PACK, segments=(piece.id,)) for piece in pieces]
    window = a_window(start="2026-01-01 00:00", end=end)
    job = a_job(segments=pieces, steps=(*carved, *packed, a_gate()), windows=(window,))
    facts = tuple(a_fact(stage.id, stage.id) for stage in carved)
    pair = (a_person("ana"), a_person("ben"))
    book = a_book(job, places=(a_place(slots=3), a_floor(area_m2=4)), people=pair, facts=facts)

    assert job_of(solved(book, effort=200), "heron").verdict is verdict


def test_no_plan_is_blamed_for_what_stands_where_it_is_shut() -> None:
    """Nobody can carry out what stands there before the day; what is not begun stays away."""
    shut = Closure(first=on("2026-01-05"), last=on("2026-01-07"))
    book = _begun("heron", floor=a_floor(closures=(shut,)))
    outcome = solved(book)

    assert placed(outcome, "otter-carve").start >= at("2026-01-08 00:00")
    assert outcome.check.not_judged == ("crowded",)
    early = moved(outcome.plan, "otter-carve", start=at("2026-01-07 15:00"))
    assert {where for rule, where in named(book, early) if rule == "place_shut"} == {"otter-carve"}


def test_a_way_may_name_kinds_of_places() -> None:
    way = a_way(places=("hall",), place_kinds=(PlaceKind.BAY, PlaceKind.STORE))
    book = moving(a_stage("carve", ways=(way,)))
    normal = normal_of(book)

    assert [name.place for name in normal.ways[position(normal, "carve")]] == [
        "hall",
        "bay",
        "store",
    ]
    plan = solved(book).plan
    assert ("place", "carve") not in named(book, moved(plan, "carve", place=STORE))


def test_a_kind_of_place_that_is_not_named_is_no_place_for_it() -> None:
    way = a_way(place_kinds=(PlaceKind.BAY,))
    book = moving(a_stage("carve", ways=(way,)))
    outcome = solved(book)

    assert placed(outcome, "carve").place == "bay"
    assert ("place", "carve") in named(book, moved(outcome.plan, "carve", place=STORE))
    assert ("place", "carve") in named(book, moved(outcome.plan, "carve", place=None))


def test_a_step_whose_kind_of_place_is_nowhere_is_a_fact_of_its_job() -> None:
    book = moving(a_stage("carve", ways=(a_way(place_kinds=(PlaceKind.YARD,)),)))

    assert codes(normal_of(book)) == [Reason.NO_PLACE_OF_KIND]
    assert job_of(solved(book), "heron").verdict is Verdict.CANNOT


def test_a_packed_piece_stands_until_it_is_loaded() -> None:
    """It is packed on Wednesday and loaded on Friday: only then the next piece finds floor."""
    first = a_job(
        "heron",
        steps=(
            a_stage("heron-carve"),
            a_stage("heron-pack", Kind.PACK, hours=1, pin=Pin(day=on("2026-01-07"))),
            a_gate("heron-loading", not_before=on("2026-01-09"), ways=(a_way(hours=1),)),
            a_journey("heron-journey"),
        ),
    )
    other = a_job("otter", not_before=on("2026-01-06"))
    floor = a_floor(area_m2=4)
    pair = (a_person("ana"), a_person("ben"))
    outcome = solved(a_book(first, other, places=(a_place(slots=2), floor), people=pair))
    loading, carve = placed(outcome, "heron-loading"), placed(outcome, "otter-carve")

    assert placed(outcome, "heron-pack").end <= at("2026-01-09 00:00") <= loading.start
    assert carve.start >= loading.end


FIVE = Decimal(5) * PIECE_M2


def _five_and_a_sixth(area_m2: Decimal) -> Book:
    """Give five pieces that wait for a yes before they are moved out, and a sixth of its own.

    Each is carved in a day; the answer is due on the second working day after the pictures.
    """
    names = ("one", "two", "three", "four", "five")
    carved = [a_stage(f"carve-{name}", segments=(name,), places=("bay",)) for name in names]
    gate = a_gate("approve", GateKind.ANSWER, answer_days=2)
    out = [a_move(f"out-{name}", segments=(name,)) for name in names]
    ended = (a_gate("heron-loading"), a_journey("heron-journey"))
    herons: Job = a_job(
        segments=tuple(a_segment(name) for name in names),
        steps=(*carved, gate, *out, *ended),  # type: ignore[arg-type]
    )
    places = (a_place(slots=6), a_floor(area_m2=area_m2), a_store())
    people = tuple(a_person(name) for name in ("ana", "ben", "cleo", "dan", "eve", "fay"))
    return a_book(herons, a_job("otter"), places=places, people=people)


def _answered(outcome: Outcome) -> object:
    return placed(outcome, "approve", 1).end


def test_five_carved_pieces_that_wait_for_the_yes_block_the_sixth() -> None:
    """Only the first piece moved out after the yes makes room; with floor for six none waits."""
    book = _five_and_a_sixth(FIVE)
    outcome = solved(book)
    sixth = placed(outcome, "otter-carve")
    heron = [placed(outcome, f"carve-{name}").start for name in ("one", "two", "three")]
    assert max(heron) < sixth.start
    outs = [placed(outcome, f"out-{name}").end for name in ("one", "two", "three", "four", "five")]
    assert sixth.start >= min(outs) > _answered(outcome)  # type: ignore[operator]

    early = moved(outcome.plan, "otter-carve", start=outs[0] - (sixth.end - sixth.start))
    assert ("standing_full", "otter-carve") in named(book, early)
    roomy = _five_and_a_sixth(FIVE + PIECE_M2)
    assert ("standing_full", "otter-carve") not in named(roomy, early)


def test_with_floor_for_six_the_sixth_is_carved_beside_the_five() -> None:
    outcome = solved(_five_and_a_sixth(FIVE + PIECE_M2))

    assert placed(outcome, "otter-carve").start < _answered(outcome)  # type: ignore[operator]


def test_six_pieces_of_one_yes_never_fit_on_a_floor_for_five() -> None:
    """The yes waits for the sixth, and the sixth for the floor that only the yes gives free."""
    names = ("one", "two", "three", "four", "five", "six")
    carved = [a_stage(f"carve-{name}", segments=(name,), places=("bay",)) for name in names]
    job = a_job(
        segments=tuple(a_segment(name) for name in names),
        steps=(*carved, a_gate("approve", GateKind.ANSWER), a_gate(), a_journey()),
    )
    people = tuple(a_person(name) for name in ("ana", "ben", "cleo"))
    places = (a_place(slots=6), a_floor(area_m2=FIVE))
    outcome = solved(a_book(job, places=places, people=people))

    assert job_of(outcome, "heron").verdict in (Verdict.CANNOT, Verdict.NOT_FOUND)
    assert outcome.plan.unplaced
    fits = solved(
        a_book(job, places=(a_place(slots=6), a_floor(area_m2=FIVE + PIECE_M2)), people=people)
    )
    assert job_of(fits, "heron").verdict is Verdict.FITS


@pytest.mark.parametrize("area_m2", ["3.36", "3.35"])
def test_the_check_follows_a_piece_from_floor_to_floor(area_m2: str) -> None:
    """The second piece comes to a store for one while the first is there."""
    steps = (
        a_stage("carve-left", segments=("left",)),
        a_stage("carve-right", segments=("right",)),
        a_move("left-out", segments=("left",)),
        a_move("right-out", segments=("right",)),
    )
    pieces = (a_segment("left"), a_segment("right"))
    book = moving(*steps, segments=pieces)
    plan = solved(book).plan
    one = replace(book, places=(a_place(), a_floor(), a_store(Decimal(area_m2))))

    found = {where for rule, where in named(one, plan) if rule == "standing_full"}
    assert found == ({"right-out"} if area_m2 == "3.36" else {"left-out", "right-out"})
    assert not check(book, plan).breaches


def test_moves_may_be_named_after_each_other() -> None:
    first = a_move("out", after=("carve",))
    second = a_move("back", to="hall", after=(an_after("out"),))
    normal = normal_of(moving(a_stage("carve"), first, second))

    assert len(edges_of(normal, "out", "back")) == 1
    assert normal.stages[0].step == StepId("carve")


def test_a_piece_that_is_loaded_stands_nowhere_whatever_was_not_told() -> None:
    """Nobody told that it was moved: it is placed anew, but the piece has left."""
    book = moving(a_stage("carve"), a_move(), a_stage("skin"))
    facts = tuple(a_fact(step, step) for step in ("carve", "skin", "loading"))
    book = replace(book, facts=facts, places=(a_place(), a_floor(area_m2=4), a_store("3.36")))
    other = a_job("otter")
    outcome = solved(replace(book, jobs=(*book.jobs, other)))

    assert placed(outcome, "otter-carve").start == at("2026-01-05 08:00")
    assert placed(outcome, "move")


def test_what_is_over_keeps_no_moves_in_order() -> None:
    """The answer came before the carving that it was for: both moves are in an order again."""
    gate = a_gate("approve", GateKind.ANSWER)
    book = moving(a_move("out"), gate, a_move("back", to="hall"))
    told = a_fact("yes", "approve", kind=FactKind.ANSWER, answer=Answer.YES)
    book = replace(book, facts=(told,))

    assert len(edges_of(normal_of(book), "out", "back")) == 1
    outcome = solved(book)
    assert placed(outcome, "back").start >= placed(outcome, "out").end


def test_what_nobody_is_named_on_holds_its_place_once_it_goes_on() -> None:
    """Its only carver is away until Wednesday; until then somebody else is carved in the bay."""
    away = Leave(start=at("2026-01-05 08:00"), end=at("2026-01-07 00:00"))
    fact = a_fact(step="heron-carve", kind=FactKind.RUNNING, remaining_hours=Decimal(2))
    herons = a_job(steps=(a_stage("heron-carve", places=("bay",)), a_gate("heron-loading")))
    carver = a_job(
        "otter",
        steps=(
            a_stage("otter-fill", Kind.FILL, places=("bay",), pin=Pin(day=on("2026-01-05"))),
            a_gate("otter-loading"),
        ),
    )
    people = (a_person("ana", ("carve",), leave=(away,)), a_person("ben", ("fill",)))
    outcome = solved(a_book(herons, carver, people=people, facts=(fact,)))

    assert placed(outcome, "otter-fill").start == at("2026-01-05 08:00")
    assert placed(outcome, "heron-carve").end == at("2026-01-07 10:00")
