"""Steps as stages: their order, lengths, waits, pins and settings."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from scheduler.reasons import Reason
from shared.book import Kind, Pin
from shared.ids import PersonId, StepId
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_segment,
    a_stage,
    a_way,
    a_workshop,
    an_after,
    at,
    on,
    some_hours,
)
from tests.scheduler.normals import aim_of, codes, edges_of, normal_of, of_steps, position, stage_of

TWO = (a_segment("left"), a_segment("right"))


def test_a_step_follows_the_nearest_earlier_step_on_each_of_its_segments() -> None:
    book = of_steps(
        a_stage("carve left", segments=("left",)),
        a_stage("carve right", segments=("right",)),
        a_stage("skin left", segments=("left",)),
        a_stage("join"),
        segments=TWO,
    )
    normal = normal_of(book)

    assert edges_of(normal, "carve left", "skin left")
    assert edges_of(normal, "skin left", "join")
    assert edges_of(normal, "carve right", "join")
    assert not edges_of(normal, "carve left", "join")
    assert not edges_of(normal, "carve right", "skin left")
    assert edges_of(normal, "join", "loading")


def test_a_step_that_names_what_it_comes_after_follows_just_that() -> None:
    book = of_steps(
        a_stage("carve"),
        a_stage("base", after=()),
        a_stage("skin", after=(an_after("carve", 5, most_hours=Decimal("9.6")),)),
    )
    normal = normal_of(book)

    (edge,) = edges_of(normal, "carve", "skin")
    assert (edge.least, edge.most) == (20, 38)
    assert not edges_of(normal, "carve", "base")


def test_a_loading_waits_for_all_before_it_even_where_steps_name_what_they_follow() -> None:
    book = of_steps(a_stage("carve"), a_stage("base", after=()), a_stage("skin", after=("carve",)))
    normal = normal_of(book)

    assert edges_of(normal, "base", "loading")
    assert edges_of(normal, "carve", "loading")


def test_waits_from_the_start_leave_cure_and_recoat_aside() -> None:
    after = an_after("coat", 2, from_start=True, most_hours=Decimal(3))
    book = of_steps(
        a_stage("coat", Kind.COAT, cure_hours=24, recoat_hours=Decimal(48)),
        a_stage("next", after=(after,)),
    )

    (edge,) = edges_of(normal_of(book), "coat", "next")

    assert edge.from_start
    assert (edge.least, edge.most) == (8, 12)


def test_a_cure_rounds_up_and_a_recoat_time_down() -> None:
    book = of_steps(
        a_stage("coat", Kind.COAT, cure_hours="24.1", recoat_hours=Decimal("48.1")),
        a_stage("second", Kind.COAT),
    )
    normal = normal_of(book)

    assert stage_of(normal, "coat").cure.least == 97
    assert edges_of(normal, "coat", "second")[0].most == 192


@pytest.mark.parametrize(
    ("hands", "in_one_go", "hours"),
    [
        (1, True, Fraction(8)),
        (2, True, Fraction(8) * Fraction(21, 20) / 2),
        (3, True, Fraction(8) * Fraction(22, 20) / 3),
        (1, False, Fraction(8) * 8 / Fraction(13, 2)),
        (2, False, Fraction(8) * Fraction(21, 20) / 2 * 8 / Fraction(13, 2)),
    ],
)
def test_bench_hours_grow_with_hands_and_where_the_work_pauses(
    hands: int, in_one_go: bool, hours: Fraction
) -> None:
    """Loss of 5 % a further pair of hands, 6.5 useful hours of 8: common practice, no source."""
    book = replace(
        of_steps(a_stage("carve", hands=hands, in_one_go=in_one_go)),
        people=tuple(a_person(name) for name in ("ana", "ben", "cem")),
    )

    (way,) = stage_of(normal_of(book), "carve").ways

    assert way.work == hours * 4
    assert way.hands_count == hands


def test_work_without_hands_runs_by_the_hours_of_the_workshop() -> None:
    book = of_steps(a_stage("wait", hands=0, hours=4), a_stage("carve"))
    normal = normal_of(book)

    (nobody,) = stage_of(normal, "wait").ways
    (somebody,) = stage_of(normal, "carve").ways
    assert nobody.calendar is not None
    assert nobody.work == Fraction(16) * 8 / Fraction(13, 2)
    assert somebody.calendar is None


@pytest.mark.parametrize(
    ("kind", "in_one_go", "own", "steps"),
    [
        (Kind.LAMINATE, True, None, 4),
        (Kind.LAMINATE, True, 20, 2),
        (Kind.LAMINATE, False, None, 0),
        (Kind.COAT, True, None, 0),
        (Kind.COAT, True, 45, 3),
    ],
)
def test_the_shift_runs_on_after_laminating(
    kind: Kind, in_one_go: bool, own: int | None, steps: int
) -> None:
    book = of_steps(a_stage("skin", kind, in_one_go=in_one_go, watch_minutes=own))

    assert stage_of(normal_of(book), "skin").watch == steps


def test_the_longest_pause_is_the_stages_else_the_workshops() -> None:
    book = of_steps(
        a_stage("own", longest_pause_days=1),
        a_stage("usual"),
        a_stage("whole", in_one_go=True),
    )
    normal = normal_of(replace(book, workshop=a_workshop(longest_pause_days=3)))

    assert stage_of(normal, "own").longest_pause == 96
    assert stage_of(normal, "usual").longest_pause == 288
    assert stage_of(normal, "whole").longest_pause is None


def test_nothing_starts_before_the_days_of_job_step_and_pin() -> None:
    book = of_steps(
        a_stage("carve", not_before=on("2026-01-07")),
        a_stage("skin", pin=Pin(not_before=at("2026-01-09 10:07"))),
        a_stage("paint"),
        not_before=on("2026-01-06"),
    )
    normal = normal_of(book)

    assert stage_of(normal, "carve").release == (2 * 24 - 8) * 4
    assert stage_of(normal, "skin").release == (4 * 24 + 2) * 4 + 1
    assert stage_of(normal, "paint").release == (24 - 8) * 4


def test_pins_nail_down_start_day_and_people() -> None:
    book = of_steps(
        a_stage("start", pin=Pin(start=at("2026-01-06 09:00"))),
        a_stage("day", pin=Pin(day=on("2026-01-08"))),
        a_stage("people", people=(PersonId("ana"),), pin=Pin(people=(PersonId("ana"),))),
    )
    normal = normal_of(book)

    assert stage_of(normal, "start").fixed_start == 25 * 4
    day = stage_of(normal, "day")
    assert (day.release, day.start_by) == ((72 - 8) * 4, (96 - 8) * 4 - 1)
    assert stage_of(normal, "people").asked == (0,)


@pytest.mark.parametrize(
    "pin", [Pin(start=at("2026-01-05 07:00")), Pin(day=on("2026-01-04"))], ids=["start", "day"]
)
def test_a_pin_in_the_past_is_never_lifted_silently(pin: Pin) -> None:
    normal = normal_of(of_steps(a_stage("carve", pin=pin)))

    assert codes(normal) == [Reason.PIN_PAST]
    left = {(each.step, each.code) for each in normal.unplaced}
    assert left == {
        ("carve", "pin_past"),
        ("loading", "follows_unplaced"),
        ("journey", "follows_unplaced"),
    }


def test_every_place_of_every_way_is_a_way() -> None:
    stage = a_stage(
        "carve",
        ways=(
            a_way("two", hands=2, places=("bay", "hall"), cost=Decimal("2.005")),
            a_way("one", hours=9),
        ),
    )
    book = replace(of_steps(stage), people=(a_person("ana"), a_person("ben")))
    normal = normal_of(book)

    names = normal.ways[position(normal, "carve")]
    assert [(name.way, name.place) for name in names] == [
        ("two", "bay"),
        ("two", "hall"),
        ("one", None),
    ]
    assert [way.cost for way in stage_of(normal, "carve").ways] == [201, 201, 0]


def test_the_moment_of_loading_is_the_last_stage_of_a_job() -> None:
    book = of_steps(a_stage("carve"))
    normal = normal_of(book)

    assert aim_of(normal, "heron").lasts == (position(normal, "loading"),)


def test_what_must_harden_before_the_journey_is_ready_at_a_moment_of_its_own() -> None:
    job = a_job(steps=(a_stage("carve", cure_hours=10), a_journey()))
    normal = normal_of(a_book(job))

    (last,) = aim_of(normal, "heron").lasts
    assert normal.stages[last].part == "ready"
    assert [edge.before for edge in normal.problem.edges if edge.after == last] == [
        position(normal, "carve")
    ]


def test_without_a_journey_loading_must_end_by_the_windows_end() -> None:
    job = a_job(steps=(a_stage("carve"), a_gate()))
    normal = normal_of(a_book(job))

    assert aim_of(normal, "heron").latest == (60 * 24 + 10) * 4
    assert aim_of(normal, "heron").trip is None


def test_a_job_waits_for_a_step_of_another() -> None:
    first = a_job("finch", steps=(a_stage("mould", after=(an_after("plug"),)), a_gate("f.load")))
    second = a_job("heron", steps=(a_stage("plug"), a_gate("h.load")))
    normal = normal_of(a_book(first, second))

    assert edges_of(normal, "plug", "mould")
    assert {name.job.id for name in normal.jobs} == {"finch", "heron"}


def test_a_step_that_names_a_ring_is_refused() -> None:
    steps = (a_stage("a", after=("b",)), a_stage("b", after=("a",)), a_gate())

    with pytest.raises(ValueError, match="ring"):
        normal_of(a_book(a_job(steps=steps)))


def test_the_wish_is_the_buffer_before_the_latest_loading_in_working_time() -> None:
    job = a_job(steps=(a_stage("carve"), a_gate()), wished_buffer_days=Decimal(1))
    normal = normal_of(a_book(job))

    # The window ends on a Friday at 18:00; a shift has 8 hours, from 7:30 to 16:00.
    assert aim_of(normal, "heron").wish == (60 * 24 - 1) * 4 + 2


def test_hours_likely_are_planned() -> None:
    way = a_way(hours=5)
    stage = a_stage("carve", in_one_go=True, ways=(replace(way, hours=some_hours(5, 2, 9)),))

    assert stage_of(normal_of(of_steps(stage)), "carve").ways[0].work == 20


def test_only_firm_still_pencilled_and_asked_jobs_are_planned() -> None:
    from shared.book import Standing

    jobs = (
        a_job("firm"),
        a_job("held", standing=Standing.PENCILLED, pencilled_until=NOW.date()),
        a_job("lapsed", standing=Standing.PENCILLED, pencilled_until=on("2026-01-04")),
        a_job("asked", standing=Standing.ENQUIRY),
        a_job("other", standing=Standing.ENQUIRY),
    )
    normal = normal_of(a_book(*jobs), asked=("asked",))

    assert set(normal.planned) == {"firm", "held", "asked"}
    assert [aim_of(normal, job).firm for job in ("firm", "held", "asked")] == [True, True, False]


def test_steps_are_named_for_the_way_back() -> None:
    normal = normal_of(of_steps(a_stage("carve")))

    assert [name.step for name in normal.stages] == [StepId("carve"), StepId("loading")]
    assert normal.origin == NOW


def test_a_piece_stands_from_the_first_of_several_beginnings() -> None:
    book = of_steps(a_stage("carve"), a_stage("base", after=()))
    normal = normal_of(book)

    (hold,) = normal.problem.holds
    assert hold.first is not None
    assert normal.stages[hold.first].part == "stands"
    behind = {edge.after for edge in normal.problem.edges if edge.before == hold.first}
    assert behind == {position(normal, "carve"), position(normal, "base")}
