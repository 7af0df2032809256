"""Places, equipment and the standing floor as rooms of the problem."""

from dataclasses import replace
from decimal import Decimal

import pytest

from scheduler.problem import Use
from scheduler.reasons import Reason
from shared.book import (
    Booking,
    Closure,
    Equipment,
    EquipmentKind,
    EquipmentNeed,
    FactKind,
    Place,
    PlaceKind,
)
from shared.ids import EquipmentId, PlaceId
from tests.builders import (
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_place,
    a_segment,
    a_stage,
    a_way,
    an_other_work,
    at,
    on,
)
from tests.scheduler.normals import codes, normal_of, of_steps, position, room_of, stage_of

BAY = PlaceId("bay")
DAY = 96
FIRST_DAY = 16 * 4
"""Steps from Monday 8:00, when every small book begins, to midnight."""


def use_of(place: Place, **changes: object) -> Use:
    """Give what carving a piece of 2 m x 1 m takes of a place."""
    stage = a_stage("carve", places=("bay",), **changes)  # type: ignore[arg-type]
    book = replace(of_steps(stage), places=(place, a_floor()))
    (use,) = stage_of(normal_of(book), "carve").ways[0].uses
    return use


def test_a_piece_takes_its_length_and_width_with_room_on_every_side() -> None:
    """0.8 m on every side: common practice, no source."""
    use = use_of(a_place(slots=None, area_m2=Decimal(50)))

    assert use.units == 36 * 26


def test_the_areas_of_all_pieces_of_a_stage_add_up() -> None:
    stage = a_stage("carve", places=("bay",))
    pieces = (a_segment("left"), a_segment("right"))
    book = replace(
        of_steps(stage, segments=pieces),
        places=(a_place(slots=None, area_m2=Decimal(50)), a_floor()),
    )

    assert stage_of(normal_of(book), "carve").ways[0].uses[0].units == 2 * 36 * 26


def test_a_way_may_name_its_area_or_take_a_place_whole() -> None:
    bay = a_place(slots=None, area_m2=Decimal("50.009"))
    named = a_way(places=("bay",), area_m2=Decimal("7.001"))
    whole = a_way(places=("bay",), whole_place=True)

    assert use_of(bay, ways=(named,)).units == 701
    assert use_of(bay, ways=(whole,)).units == 5000
    assert use_of(replace(bay, whole=True)).units == 5000


def test_a_place_of_slots_gives_one_to_each_stage() -> None:
    assert use_of(a_place(slots=3)).units == 1
    assert use_of(a_place(slots=3, whole=True)).units == 3


def test_a_place_is_held_through_the_cure_and_the_clear_out() -> None:
    cleared = a_place(clear_out_minutes=50)

    assert use_of(cleared) == Use(room=0, units=1, after=4)
    assert use_of(cleared, stays=True) == Use(room=0, units=1, after=4, through_cure=True)


@pytest.mark.parametrize(
    ("places", "named", "code"),
    [
        ((a_place(slots=None, area_m2=Decimal(9)),), ("bay",), Reason.PLACE_TOO_SMALL),
        ((a_place(),), ("loft",), Reason.PLACE_UNKNOWN),
    ],
)
def test_a_step_without_a_place_that_takes_it_is_a_fact_of_its_job(
    places: tuple[Place, ...], named: tuple[str, ...], code: Reason
) -> None:
    book = replace(of_steps(a_stage("carve", places=named)), places=(*places, a_floor()))
    normal = normal_of(book)

    assert codes(normal) == [code]
    assert ("carve", code.value) in {(each.step, each.code) for each in normal.unplaced}
    assert not normal.stages


def test_a_place_too_small_falls_away_where_another_will_do() -> None:
    stage = a_stage("carve", places=("bay", "hall"))
    small = a_place(slots=None, area_m2=Decimal(9))
    normal = normal_of(replace(of_steps(stage), places=(small, a_floor())))

    assert [name.place for name in normal.ways[position(normal, "carve")]] == ["hall"]
    assert not codes(normal)


def test_a_place_is_taken_while_shut_booked_or_not_to_be_had() -> None:
    bay = a_place(
        slots=2,
        closures=(Closure(first=on("2026-01-07"), last=on("2026-01-08")),),
        bookings=(Booking(start=at("2026-01-09 10:07"), end=at("2026-01-09 11:07")),),
        usable_from=on("2026-01-06"),
        usable_until=on("2026-03-31"),
    )
    book = replace(
        of_steps(a_stage("carve")),
        places=(bay, a_floor()),
        other_work=(an_other_work(places=(BAY,)),),
    )
    normal = normal_of(book)
    horizon = normal.problem.horizon

    # 1 April begins at 23:00 UTC of the day before: British Summer Time, since 29 March.
    assert room_of(normal, "bay").busy == (
        (0, FIRST_DAY, 2),
        (FIRST_DAY + DAY, FIRST_DAY + 3 * DAY, 2),
        (FIRST_DAY + 3 * DAY + 40, FIRST_DAY + 3 * DAY + 45, 2),
        (7 * DAY, 7 * DAY + 16, 2),
        (FIRST_DAY + 85 * DAY - 4, horizon, 2),
    )


def test_equipment_is_counted_and_idle_after_its_test_is_due() -> None:
    saw = Equipment(
        id=EquipmentId("saw"),
        name="Saw",
        kind=EquipmentKind.TOOL,
        count=2,
        test_due=on("2026-01-06"),
        usable_until=on("2026-01-31"),
    )
    needs = (EquipmentNeed(equipment=EquipmentId("saw"), count=2),)
    stage = a_stage("carve", ways=(a_way(equipment=needs),))
    normal = normal_of(replace(of_steps(stage), equipment=(saw,)))

    room = room_of(normal, "saw")
    assert (room.capacity, room.busy[0][0]) == (2, FIRST_DAY + DAY)
    assert [use.units for use in stage_of(normal, "carve").ways[0].uses] == [2]
    assert normal.ways[0][0].equipment == ("saw", "saw")


@pytest.mark.parametrize("count", [1, 0])
def test_too_few_of_an_equipment_is_a_fact_of_the_job(count: int) -> None:
    saw = Equipment(id=EquipmentId("saw"), name="Saw", kind=EquipmentKind.TOOL, count=count)
    needs = (EquipmentNeed(equipment=EquipmentId("saw"), count=2),)
    book = of_steps(a_stage("carve", ways=(a_way(equipment=needs),)))

    assert codes(normal_of(replace(book, equipment=(saw,)))) == [Reason.EQUIPMENT_TOO_FEW]


def test_a_piece_waits_on_the_floor_from_its_first_stage_to_the_end_of_loading() -> None:
    """0.2 m on every side: common practice, no source."""
    normal = normal_of(of_steps(a_stage("carve"), a_stage("skin")))

    (hold,) = normal.problem.holds
    assert hold.units == 24 * 14
    assert normal.rooms[hold.room].place == "hall"
    assert (hold.first, hold.last) == (position(normal, "carve"), position(normal, "loading"))
    assert normal.problem.jobs[0].floor == ((hold.first, hold.last),)


def test_a_piece_may_wait_in_a_place_of_its_own_or_elsewhere() -> None:
    yard = a_place("yard", PlaceKind.YARD, slots=4)
    pieces = (
        a_segment("left", stands=PlaceId("yard")),
        a_segment("right", stored_elsewhere=True),
    )
    book = of_steps(a_stage("carve"), segments=pieces)
    normal = normal_of(replace(book, places=(a_place(), yard, a_floor())))

    (hold,) = normal.problem.holds
    assert (normal.rooms[hold.room].place, hold.units) == ("yard", 1)


def test_a_piece_begun_stands_there_already_and_one_loaded_no_longer() -> None:
    book = of_steps(a_stage("carve"), a_stage("skin"))
    begun = normal_of(replace(book, facts=(a_fact(step="carve"),)))
    loaded = normal_of(replace(book, facts=(a_fact(step="loading"),)))

    assert [hold.first for hold in begun.problem.holds] == [None]
    assert not loaded.problem.holds


def test_a_piece_larger_than_its_floor_is_a_fact_of_its_job() -> None:
    book = of_steps(a_stage("carve"))
    normal = normal_of(replace(book, places=(a_floor(area_m2=3),)))

    assert codes(normal) == [Reason.FLOOR_TOO_SMALL]
    assert {each.step for each in normal.unplaced} == {"carve", "loading", "journey"}


def test_a_stage_that_is_done_holds_its_place_through_what_is_left_of_its_cure() -> None:
    stage = a_stage("carve", places=("bay",), cure_hours=5, stays=True)
    fact = a_fact(
        step="carve", kind=FactKind.DONE, at=at("2026-01-05 07:00"), place=BAY, way="bench"
    )
    book = replace(
        of_steps(stage), facts=(fact,), places=(a_place(clear_out_minutes=30), a_floor())
    )

    assert room_of(normal_of(book), "bay").busy == ((0, 18, 1),)


def test_without_a_standing_place_nothing_is_held() -> None:
    job = a_job(steps=(a_stage("carve"), a_gate(), a_journey()))
    normal = normal_of(a_book(job, places=(a_place(),)))

    assert not normal.problem.holds
    assert normal.problem.jobs[0].floor
