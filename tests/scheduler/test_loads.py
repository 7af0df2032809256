"""Booth loads: which are proposed, what they save, and a book that only a load brings in."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.load_effects import Trials
from scheduler.loads import Load, booth_minutes, proposals, take
from scheduler.outcome import Verdict
from shared.book import Act, Book, Kind, Pin, Place, PlaceKind, Stage, Standing, Temperature
from shared.edits import take_load
from shared.ids import PlaceId, StepId
from shared.plan import Plan
from tests.books.plain import small
from tests.builders import (
    NOW,
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_segment,
    a_shift,
    a_stage,
    a_told,
    a_way,
    a_window,
    a_workshop,
    at,
    on,
)
from tests.scheduler.normals import job_of, placed, solved

PIECES = ("fin", "tail", "crest", "claw")


def a_booth(**changes: Any) -> Place:
    return replace(a_place("booth", PlaceKind.BOOTH), **{"slots": None, "whole": True, **changes})


def a_coat(piece: str, hours: int = 3, **changes: Any) -> Stage:
    """Give a coat in one go that stays in the booth for its twelve hours."""
    way = a_way("gun", hours=hours, skill="paint", places=("booth",), setup_hours=Decimal(1))
    usual = a_stage(
        f"{piece}-coat", Kind.PAINT, segments=(piece,), ways=(way,), in_one_go=True, stays=True
    )
    return replace(usual, **{"name": "coat", "cure_hours": Decimal(12), **changes})


def of_coats(*coats: Any, booth: Place | None = None, **changes: Any) -> Book:
    """Give a book of coats on pieces of two metres by one, to be loaded by a Tuesday noon."""
    pieces = tuple(dict.fromkeys(piece for coat in coats for piece in coat.segments))
    job = a_job(
        segments=tuple(a_segment(piece) for piece in pieces),
        steps=(*coats, a_gate()),
        windows=(a_window(end="2026-01-06 12:00"),),
    )
    return a_book(replace(job, **changes), places=(booth or a_booth(), a_floor()))


def found(book: Book, pieces_most: int | None = None) -> list[tuple[str, ...]]:
    return [each.segments for each in proposals(book, NOW, pieces_most=pieces_most)]


def the_load(book: Book, plan: Plan | None = None) -> Load:
    """Give the only load that is proposed."""
    (proposal,) = proposals(book, NOW, plan=plan)
    (load,) = proposal.loads
    return load


# A book that only a load brings in, and one in which it may not be.


def test_a_load_keeps_a_window_that_two_goes_miss() -> None:
    book = of_coats(a_coat("fin"), a_coat("tail"))
    before = solved(book)
    (proposal,) = proposals(book, NOW)

    after = solved(take(book, proposal))

    assert before.verdict is not Verdict.FITS
    assert job_of(after, "heron").verdict in {Verdict.FITS, Verdict.TIGHT}
    coat = placed(after, "fin-coat")
    # Three hours and three, one of the two hours of set-up left out; half an hour of break.
    assert (coat.start, coat.end) == (at("2026-01-05 08:00"), at("2026-01-05 13:30"))
    assert after.check.sound


def test_where_the_area_of_the_booth_forbids_it_the_window_is_missed() -> None:
    # 2 x 1 m with 0.8 m of working room on every side: 3.6 x 2.6 = 9.36 m2 a piece.
    wide, narrow = a_booth(area_m2=Decimal("18.72")), a_booth(area_m2=Decimal("18.71"))
    coats = (a_coat("fin"), a_coat("tail"))

    assert found(of_coats(*coats, booth=wide)) == [("fin", "tail")]
    assert found(of_coats(*coats, booth=narrow)) == []
    assert job_of(solved(of_coats(*coats, booth=narrow)), "heron").verdict is not Verdict.FITS


def test_a_load_that_is_taken_against_the_area_is_no_plan() -> None:
    book = of_coats(a_coat("fin"), a_coat("tail"), booth=a_booth(area_m2=Decimal(10), whole=False))
    taken = take_load(book, [StepId("fin-coat"), StepId("tail-coat")]).book

    assert [clash.code for clash in job_of(solved(taken), "heron").reasons] == ["place_too_small"]


# What is proposed.


def test_the_number_goes_by_what_is_asked_then_slots_then_the_usual() -> None:
    coats = [a_coat(piece, hours=2) for piece in PIECES]

    assert found(of_coats(*coats)) == [("fin", "tail", "crest")]
    assert found(of_coats(*coats), pieces_most=2) == [("fin", "tail"), ("crest", "claw")]
    assert found(of_coats(*coats), pieces_most=9) == [PIECES]
    assert found(of_coats(*coats, booth=a_booth(slots=2, whole=False))) == [
        ("fin", "tail"),
        ("crest", "claw"),
    ]
    assert found(of_coats(*coats, booth=a_booth(area_m2=Decimal(100)))) == [PIECES]
    assert found(of_coats(*coats), pieces_most=1) == []


def test_a_load_in_one_go_fits_a_shift_of_somebody_who_can() -> None:
    book = of_coats(a_coat("fin", hours=5), a_coat("tail", hours=4))
    longer = (a_shift("07:30", "16:15"),)

    # Five and four hours less one of set-up are eight: the shift has eight, half an hour less.
    assert found(book) == [("fin", "tail")]
    assert found(of_coats(a_coat("fin", hours=5), a_coat("tail", hours=5))) == []
    late = replace(book, people=(a_person(hours=(a_shift("09:00", "16:00"),)),))
    assert found(late) == []
    only = replace(late, people=(*late.people, a_person("bo", ("pack",), hours=longer)))
    assert found(only) == []
    assert found(replace(only, people=(*only.people, a_person("cy", hours=longer)))) == [
        ("fin", "tail")
    ]


def test_a_long_break_parts_a_shift_and_nights_are_one() -> None:
    book = of_coats(a_coat("fin", hours=4), a_coat("tail", hours=3))
    parted = a_shift(breaks=(replace(a_shift().breaks[0], end=at("2026-01-05 14:00").time()),))
    nightly = a_shift("22:00", "06:00")

    assert found(replace(book, people=(a_person(hours=(parted,)),))) == []
    assert found(replace(book, people=(a_person(hours=(nightly,)),))) == [("fin", "tail")]


def test_of_two_coats_of_a_piece_first_go_with_first() -> None:
    coats = [
        replace(a_coat(piece), id=StepId(f"{piece}-{number}"))
        for piece in ("fin", "tail")
        for number in (1, 2)
    ]
    book = of_coats(*coats)
    (proposal,) = proposals(book, NOW)

    assert [load.steps for load in proposal.loads] == [("fin-1", "tail-1"), ("fin-2", "tail-2")]
    steps = take(book, proposal).jobs[0].steps
    assert [step.id for step in steps] == ["fin-1", "fin-2", "loading"]


def test_all_coats_of_the_same_pieces_are_loads_as_far_as_each_has_room() -> None:
    """The gloss of three takes too long for a shift: the third piece goes alone, in all coats."""
    glosses = [
        replace(a_coat(piece, hours=4), id=StepId(f"{piece}-gloss"), name="gloss")
        for piece in PIECES[:3]
    ]
    coats = [a_coat(piece, hours=2) for piece in PIECES[:3]]
    book = of_coats(*coats, *glosses)

    (proposal,) = proposals(book, NOW)

    assert proposal.segments == ("fin", "tail")
    assert [load.name for load in proposal.loads] == ["coat", "gloss"]
    assert found(of_coats(*coats)) == [PIECES[:3]]


def test_pieces_with_other_coats_are_not_sprayed_together() -> None:
    gloss = replace(a_coat("crest"), id=StepId("crest-gloss"), name="gloss")
    book = of_coats(a_coat("fin"), a_coat("crest"), gloss, a_coat("tail"))

    assert found(book) == [("fin", "tail")]


def test_loads_that_would_wait_for_each_other_are_not_proposed() -> None:
    # On the fin the colour comes first, on the tail the lacquer.
    lacquers = [
        replace(a_coat(piece), id=StepId(f"{piece}-gloss"), kind=Kind.LACQUER, name="gloss")
        for piece in ("fin", "tail")
    ]
    book = of_coats(a_coat("fin"), lacquers[0], lacquers[1], a_coat("tail"))

    assert found(book) == []


ODD: dict[str, dict[str, Any]] = {
    "pinned": {"pin": Pin(day=on("2026-01-06"))},
    "on the whole job": {"segments": ()},
    "not sprayed": {"does": (Act.WET,)},
    "in a bay": {"ways": (a_way("gun", hours=3, skill="paint", places=("bay",)),)},
    "in no place": {"ways": (a_way("gun", hours=3, skill="paint"),)},
    "in a booth or elsewhere": {
        "ways": (a_way("gun", hours=3, skill="paint", places=("booth", "hall")),)
    },
    "without a way": {"ways": ()},
}


@pytest.mark.parametrize("changes", ODD.values(), ids=ODD)
def test_what_is_not_sprayed_in_a_booth_is_in_no_load(changes: dict[str, Any]) -> None:
    fin, tail = (replace(a_coat(piece), **changes) for piece in ("fin", "tail"))
    job = a_job(segments=(a_segment("fin"), a_segment("tail")), steps=(fin, tail, a_gate()))
    assert found(a_book(job, places=(a_booth(), a_place(), a_floor()))) == []


def test_begun_stages_and_jobs_that_are_not_planned_are_in_no_load() -> None:
    book = of_coats(a_coat("fin"), a_coat("tail"))
    told = replace(book, facts=(a_fact(step="tail-coat"),))

    assert found(told) == []
    assert found(of_coats(a_coat("fin"), a_coat("tail"), standing=Standing.ENQUIRY)) == []


def test_pieces_of_unknown_size_go_by_number_but_not_by_area() -> None:
    book = of_coats(a_coat("fin"), a_coat("tail"))
    (job,) = book.jobs
    unknown = replace(job, segments=(replace(job.segments[0], length_m=None), job.segments[1]))
    by_area = (a_booth(area_m2=Decimal(90)), a_floor())

    assert found(replace(book, jobs=(unknown,))) == [("fin", "tail")]
    assert found(replace(book, jobs=(unknown,), places=by_area)) == []


def test_a_kind_of_place_will_do_where_all_of_it_are_booths() -> None:
    way = a_way("gun", hours=3, skill="paint", place_kinds=(PlaceKind.BOOTH,))
    fin, tail = (replace(a_coat(piece), ways=(way,)) for piece in ("fin", "tail"))
    small_, large = a_booth(area_m2=Decimal(10)), a_booth(area_m2=Decimal(30))
    second = replace(large, id=PlaceId("second"))
    book = replace(of_coats(fin, tail), places=(small_, second, a_floor()))

    assert found(book) == [("fin", "tail")]
    assert the_load(book).place == "second"


# What they save.


def test_booth_time_saved_is_set_ups_clearances_and_cures() -> None:
    book = of_coats(*(a_coat(piece) for piece in PIECES[:3]), booth=a_booth(clear_out_minutes=45))
    load = the_load(book)

    # Two set-ups of an hour, two clearances, two cures of twelve hours in the booth.
    assert (load.work_minutes, load.clearance_minutes, load.cure_minutes) == (120, 90, 24 * 60)
    assert load.booth_minutes == 120 + 90 + 24 * 60


def test_a_cure_in_the_booth_is_as_long_as_it_is_reckoned_in_the_plan() -> None:
    """In ten degrees twelve hours at twenty take twenty-four (factor 2, figure PL07)."""
    cold = Temperature(
        months=tuple(range(1, 13)), day_celsius=Decimal(10), night_celsius=Decimal(10)
    )
    coats = (a_coat(piece, cure_celsius=Decimal(20)) for piece in ("fin", "tail"))
    book = replace(of_coats(*coats), workshop=a_workshop(temperatures=(cold,)))
    plan = solved(book).plan

    written, load = the_load(book), the_load(book, plan)

    assert (written.cure_minutes, load.cure_minutes) == (12 * 60, 24 * 60)
    work = sum((each.end - each.start for each in plan.placements if each.place), timedelta(0))
    # Their cures besides, and half an hour of clearing each.
    assert booth_minutes(book, plan) == work / timedelta(minutes=1) + 2 * (24 * 60 + 30)


def test_a_booth_without_a_measured_time_clears_for_half_an_hour() -> None:
    # HSE, COSHH essentials for motor vehicle repair: half an hour where it is not measured.
    outside = (a_coat("fin", stays=False), a_coat("tail", stays=False))
    load = the_load(of_coats(*outside))

    assert (load.clearance_minutes, load.cure_minutes) == (30, 0)


def test_two_work_less_long_than_one_by_their_loss_together() -> None:
    # Person-hours x 1.05 / 2, rounded up to quarters: 3 h are 1.75 h, 5 h are 2.75 h.
    pair = a_way("gun", hours=3, hands=2, skill="paint", places=("booth",), setup_hours=Decimal(1))
    coats = [replace(a_coat(piece), ways=(pair,)) for piece in ("fin", "tail")]
    assert the_load(of_coats(*coats)).work_minutes == 2 * 105 - 165


def test_the_effect_is_read_from_two_plans() -> None:
    book = of_coats(a_coat("fin"), a_coat("tail"), booth=a_booth(clear_out_minutes=30))
    (proposal,) = proposals(book, NOW)

    told = Trials(book, NOW).of((proposal,))
    before, after = solved(book), solved(take(book, proposal))

    assert told is not None
    first, last = job_of(before, "heron").loading_end, job_of(after, "heron").loading_end
    assert first is not None
    assert last is not None
    assert told.earlier_minutes == (first - last).total_seconds() / 60 > 0
    assert (told.missed_count, told.placed_count) == (1, 0)
    # The load runs over half an hour of break, which neither coat did.
    less = booth_minutes(book, before.plan) - booth_minutes(take(book, proposal), after.plan)
    assert less == proposal.booth_minutes - 30


def test_what_was_told_for_tomorrow_stands_without_loads_too() -> None:
    pin = Pin(start=at("2026-01-06 12:30"))
    told = solved(of_coats(a_coat("fin", pin=pin), a_coat("tail")))
    book = of_coats(a_coat("fin"), a_coat("tail"))
    plan = Trials(replace(book, told=a_told(told.plan)), NOW).plan

    assert plan is not None
    assert placed(told, "fin-coat").start == pin.start
    assert placed(told, "fin-coat") in plan.placements


def test_where_some_step_fits_nowhere_nothing_is_known_of_days() -> None:
    """No window of any shift is as long as the coat in one go."""
    book = of_coats(a_coat("fin"), a_coat("tail"), a_coat("crest", hours=30))
    (proposal,) = proposals(book, NOW)
    trials = Trials(book, NOW)

    assert trials.plan is None
    assert trials.of((proposal,)) is None


def test_of_several_jobs_no_loading_is_named() -> None:
    book = of_coats(a_coat("fin"), a_coat("tail"))
    orbs = [a_coat("orb"), a_coat("base")]
    moon = a_job(
        "moon", segments=(a_segment("orb"), a_segment("base")), steps=(*orbs, a_gate("go"))
    )
    book = replace(book, jobs=(*book.jobs, moon))
    both = proposals(book, NOW)
    told = Trials(book, NOW).of(both)

    assert [each.job for each in both] == ["heron", "moon"]
    assert told is not None
    assert told.earlier_minutes is None
    assert told.floor_minutes > 0


def test_loads_of_a_sample_save_floor_time() -> None:
    book = small()
    assert book.as_of is not None
    every = proposals(book, book.as_of)
    told = Trials(book, book.as_of).of(every)

    assert every
    assert told is not None
    assert told.floor_minutes > 0
    assert told.missed_count == 0


# A stage on several pieces.


def test_halves_are_joined_and_painted_over_the_joint_as_one_stage() -> None:
    """Both halves are ready for it, it is in both rows, and each goes on after it."""
    lay = [a_stage(f"lay-{half}", Kind.LAMINATE, segments=(half,)) for half in ("left", "right")]
    join = a_stage("join", Kind.LAMINATE, segments=("left", "right"), hours=6, cure_hours=20)
    over = a_stage("over", Kind.PAINT, segments=("left", "right"), hours=3)
    packs = [a_stage(f"pack-{half}", Kind.PACK, segments=(half,)) for half in ("left", "right")]
    job = a_job(
        segments=(a_segment("left"), a_segment("right")),
        steps=(*lay, join, over, *packs, a_gate()),
    )
    outcome = solved(a_book(job, places=(a_place(), a_floor())))

    at_work = {str(each.step): each for each in outcome.plan.placements}
    ends = [at_work["lay-left"].end, at_work["lay-right"].end]
    assert at_work["join"].start >= max(ends)
    assert at_work["over"].start >= at_work["join"].end + timedelta(hours=20)
    for half in ("left", "right"):
        assert at_work[f"pack-{half}"].start >= at_work["over"].end
    assert outcome.check.sound
