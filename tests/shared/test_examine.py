"""What a book means: each contradiction is found, told with its place, and none is invented."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings

from shared.book import (
    Abrade,
    Act,
    Answer,
    Book,
    Engaged,
    EngagementState,
    EquipmentNeed,
    FactKind,
    GateKind,
    Kind,
    LegKind,
    Pin,
    PlaceKind,
    Standing,
)
from shared.examine import examine, take_in
from shared.examine.steps import rings
from shared.files.write import write_book
from shared.findings import Fact, Finding
from shared.findings_codes import CODES
from shared.ids import EquipmentId
from tests.builders import (
    a_book,
    a_break,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_place,
    a_route,
    a_segment,
    a_shift,
    a_stage,
    a_way,
    a_workshop,
    an_equipment,
    at,
    on,
)
from tests.shared.examine_books import departs, sailing, with_leg, with_step, with_workshop
from tests.shared.examine_cases import CASES as BOOK_CASES
from tests.shared.examine_climate_cases import CASES as CLIMATE_CASES
from tests.shared.examine_climate_cases import FINE as FINE_CLIMATES
from tests.shared.examine_job_cases import CASES as JOB_CASES
from tests.shared.examine_journey_cases import CASES as JOURNEY_CASES
from tests.shared.examine_journey_cases import FINE as FINE_JOURNEYS
from tests.shared.examine_journey_cases import WRONG_IN_MANY
from tests.shared.examine_material_cases import CASES as MATERIAL_CASES
from tests.shared.examine_material_cases import FINE as FINE_MATERIALS
from tests.shared.examine_passing_cases import CASES as PASSING_CASES
from tests.shared.examine_passing_cases import DOOR, out_and_in
from tests.shared.examine_passing_cases import FINE as FINE_PASSING
from tests.shared.examine_route_cases import FINE as FINE_ROUTES
from tests.strategies import books

CASES = [
    *BOOK_CASES,
    *CLIMATE_CASES,
    *JOB_CASES,
    *JOURNEY_CASES,
    *MATERIAL_CASES,
    *PASSING_CASES,
]


def found_in(book: Book, code: str) -> list[Finding]:
    return [each for each in examine(book) if each.code == code]


@pytest.mark.parametrize(
    ("code", "book", "path", "facts"), CASES, ids=[f"{i}-{case[0]}" for i, case in enumerate(CASES)]
)
def test_what_does_not_hold_together_is_told_with_its_place(
    code: str, book: Book, path: tuple[str | int, ...], facts: dict[str, Fact]
) -> None:
    found = found_in(book, code)
    assert path in [each.path for each in found], examine(book)
    (here,) = [each for each in found if each.path == path]
    assert facts.items() <= dict(here.facts).items()
    assert here.stops is CODES[code].stops


def test_every_code_about_books_has_a_case_here() -> None:
    codes = list(CODES)
    of_books = codes[codes.index("id_empty") :]
    assert sorted(set(of_books) - {case[0] for case in CASES}) == []


@pytest.mark.parametrize("book", FINE_CLIMATES)
def test_temperatures_that_are_only_near_to_wrong_are_not_told(book: Book) -> None:
    told = {case[0] for case in CLIMATE_CASES} - {"temperature_unknown"}

    assert not told & {each.code for each in examine(book)}


@pytest.mark.parametrize("book", FINE_MATERIALS)
def test_material_and_dates_that_are_only_near_to_wrong_are_not_told(book: Book) -> None:
    assert not {case[0] for case in MATERIAL_CASES} & {each.code for each in examine(book)}


@pytest.mark.parametrize("book", FINE_ROUTES)
def test_figures_of_ones_own_that_are_in_order_have_no_findings(book: Book) -> None:
    assert examine(book) == ()


@pytest.mark.parametrize("book", FINE_JOURNEYS)
def test_journeys_that_are_only_near_to_wrong_are_not_told(book: Book) -> None:
    assert examine(book) == ()


def test_all_that_is_wrong_with_a_journey_is_found_at_once() -> None:
    found = {each.code for each in examine(WRONG_IN_MANY)}

    assert found >= {
        "unknown_zone", "unknown_weekday", "season_over", "leg_without_country", "unknown_rules",
        "return_not_last", "travel_leg_on_site", "ends_before_start", "drivers_count", "id_empty",
        "unknown_country", "unknown_id", "below_zero", "not_above_zero",
    }  # fmt: skip


@pytest.mark.parametrize("book", FINE_PASSING)
def test_pieces_that_pass_or_never_will_are_not_told(book: Book) -> None:
    assert not {case[0] for case in PASSING_CASES} & {each.code for each in examine(book)}


def test_of_what_has_left_no_opening_is_told() -> None:
    book = out_and_in((replace(DOOR, measured=False),), ())
    gone = a_fact(step="heron-journey", kind=FactKind.GONE)

    assert found_in(book, "opening_not_measured")
    assert not found_in(replace(book, facts=(gone,)), "opening_not_measured")
    assert not found_in(replace(book, facts=(gone,)), "way_in_unknown")


def test_the_usual_book_has_no_finding() -> None:
    assert examine(a_book()) == ()


@pytest.mark.parametrize(
    "book",
    [
        a_book(a_job(windows=())),
        with_leg(kind=LegKind.WAIT, minutes=0, zone="Europe/Paris", opens=(a_shift(),)),
        sailing(departs("2026-02-20 09:00", "2026-02-20 19:00")),
        with_workshop(shifts=(a_shift("22:00", "06:00", breaks=(a_break("02:00", "02:30"),)),)),
        with_workshop(shifts=(a_shift("00:00", "00:00"),)),
        a_book(people=(a_person(), a_person("bo", freelance=True, engaged=(
            Engaged(first=on("2026-02-02"), last=on("2026-02-02"),
                    state=EngagementState.CONFIRMED),)))),
        with_step(a_stage(pin=Pin(day=on("2026-01-05"), not_before=at("2026-01-05 09:00")))),
        a_book(places=(a_place(), a_place("yard", PlaceKind.YARD, slots=None, area_m2=Decimal(9)))),
        a_book(a_job(segments=(a_segment("heron-a", length_m=None, stored_elsewhere=True),))),
        with_workshop(country="DE", subdivision="BY", holiday_categories=("catholic",)),
        a_book(a_job("heron"), a_job("otter"), routes=(a_route(), a_route("cast"))),
    ],
)  # fmt: skip
def test_what_is_sound_is_left_alone(book: Book) -> None:
    assert [each.code for each in examine(book)] in ([], ["job_without_window"])


def test_the_changes_that_a_yes_asked_for_can_be_told_to_be_done() -> None:
    gate = a_gate("heron-answer", GateKind.ANSWER, changes=Abrade(ways=(a_way(),)))
    done = a_fact(step="heron-answer")
    yes = a_fact("yes", step="heron-answer", kind=FactKind.ANSWER, answer=Answer.CHANGES)

    assert not found_in(replace(with_step(gate), facts=(yes, done)), "fact_fits_not")
    assert found_in(replace(with_step(gate), facts=(done,)), "fact_fits_not")


def test_the_nearest_named_thing_is_named() -> None:
    (found,) = found_in(with_step(a_stage(cure_hours="-1")), "below_zero")
    assert found.name == "Carve"
    (found,) = found_in(with_workshop(watch_minutes=-1), "below_zero")
    assert found.name == "Hall Seven"


def test_everything_is_found_at_once() -> None:
    book = with_step(
        a_stage(cure_hours="-1", segments=("none",), people=("nobody",)),
        workshop=a_workshop(zone="Nowhere", shifts=()),
        people=(a_person(pace=Decimal(0)),),
    )
    codes = {each.code for each in examine(book)}
    assert {"below_zero", "unknown_id", "unknown_zone", "no_shifts", "not_above_zero"} <= codes


def test_rings_are_found_apart_and_only_where_there_are_some() -> None:
    assert rings({"a": [], "b": ["a"], "c": ["a", "b"]}) == []
    before = {"a": ["b"], "b": ["a"], "c": ["d", "a"], "d": ["e"], "e": ["c"], "f": ["f"]}
    assert [set(ring) for ring in rings(before)] == [{"a", "b"}, {"c", "d", "e"}, {"f"}]
    assert rings({"a": ["b", "c"], "b": ["a"], "c": ["a"]}) == [("a", "b")]
    long = {str(i): [str(i + 1)] for i in range(50_000)} | {"50000": ["0"]}
    assert len(rings(long)[0]) == 50_001


@given(books())
@settings(max_examples=30)
def test_any_book_that_a_file_can_hold_is_examined_to_the_end(book: Book) -> None:
    for found in examine(book):
        assert found.stops is CODES[found.code].stops
        str(found).encode()


@given(books())
@settings(max_examples=20)
def test_the_whole_parts_of_any_book_hold_together(book: Book) -> None:
    read = take_in(write_book(book))
    assert (read.book is None) == any(found.stops for found in read.findings)
    if read.whole is not None:
        assert not any(found.stops for found in examine(read.whole))


def _codes(data: bytes) -> list[tuple[str, tuple[str | int, ...]]]:
    return [(each.code, each.path) for each in take_in(data).findings]


def test_reading_goes_on_to_the_meaning_of_the_whole_parts() -> None:
    book = a_book(
        a_job("heron"), a_job("otter", windows=()), a_job("snail", standing=Standing.FIRM)
    )
    data = write_book(book).replace(b'"kind": "foam"', b'"kind": "foem"', 1)
    assert _codes(data) == [
        ("unknown_word", ("jobs", 0, "steps", 0, "kind")),
        ("job_without_window", ("jobs", 1, "windows")),
    ]
    read = take_in(data)
    assert read.whole is not None
    assert [job.name for job in read.whole.jobs] == ["Snail"]
    assert read.left_out == (("jobs", 0), ("jobs", 1))


def test_what_needs_a_left_out_part_is_left_out_too_but_not_blamed() -> None:
    steps = (a_stage("heron-carve", places=("booth",)), a_gate(), a_journey())
    book = a_book(
        a_job("heron", steps=steps),
        a_job("otter"),
        places=(a_place("booth"), a_floor()),
        facts=(a_fact(),),
    )
    data = write_book(book).replace(b'"kind": "bay"', b'"kind": "bey"', 1)
    read = take_in(data)
    assert [each.code for each in read.findings] == ["unknown_word"]
    assert read.whole is not None
    assert [job.name for job in read.whole.jobs] == ["Otter"]
    assert read.left_out == (("places", 0), ("jobs", 0), ("facts", 0))


def test_nothing_is_left_of_a_book_whose_workshop_does_not_hold() -> None:
    read = take_in(write_book(with_workshop(shifts=())))
    assert (read.book, read.whole, read.left_out) == (None, None, ())


def test_a_sound_file_is_taken_in_with_what_it_tells() -> None:
    book = a_book(a_job(standing=Standing.FIRM, pencilled_until=on("2026-02-04")))
    read = take_in(write_book(book))
    assert read.book == book
    assert [each.code for each in read.findings] == ["date_but_not_pencilled"]


@pytest.mark.parametrize(
    ("changes", "mass_kg", "is_told"),
    [
        ({}, 26, True),
        ({}, 25, False),
        ({"hands": 2}, 26, False),
        ({"equipment": (EquipmentNeed(equipment=EquipmentId("crane")),)}, 26, False),
        ({"hands": 0}, 26, True),
    ],
)
def test_who_lifts_alone_what_is_heavy_is_told(
    changes: dict[str, Any], mass_kg: int, is_told: bool
) -> None:
    """Over 25 kg: a regulator's manual handling guidance, from memory."""
    way = a_way(skill="pack", **changes)
    stage = a_stage("heron-turn", Kind.PACK, does=(Act.LIFT,), ways=(way,))
    piece = a_segment("heron-torso", mass_low_kg=Decimal(20), mass_high_kg=Decimal(mass_kg))
    book = with_step(stage, equipment=(an_equipment("crane"),))
    book = replace(book, jobs=(replace(book.jobs[0], segments=(piece,)),))

    assert bool(found_in(book, "lifted_alone")) is is_told
    other = replace(stage, does=(Act.DUST,))
    harmless = replace(book, jobs=(replace(book.jobs[0], steps=(other,)),))
    assert not found_in(harmless, "lifted_alone")
