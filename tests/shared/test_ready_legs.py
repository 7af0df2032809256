"""Ready-made legs: on disk as written, every number a figure's; written into a job and taken back.

Usual lengths of what is done on site: common practice, no source.
"""

import json
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

import shared.journeys
from shared.book import (
    Arrangement,
    ArrangementState,
    Book,
    EquipmentKind,
    Gate,
    GateKind,
    Journey,
    LegKind,
    Means,
)
from shared.edits import NoSuchThing, take_legs
from shared.examine import examine
from shared.ids import EquipmentId
from shared.journeys import (
    PROGRAM_LEGS,
    Blank,
    BlankKind,
    ReadyLegs,
    blanks_of,
    known_legs,
    ready_legs,
    sources_of_legs,
)
from shared.trade import figure
from tests.books.legs import READY, legs_sources_text, legs_text
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_segment,
    a_site,
    a_stage,
    a_way,
    an_equipment,
)

FOLDER = Path(shared.journeys.__file__).parent
NOT_TIMES = {"drivers"}


def the(word: str) -> ReadyLegs:
    ready = ready_legs(word)
    assert ready is not None
    return ready


def journeys(book: Book) -> list[Journey]:
    return [step for step in book.jobs[0].steps if isinstance(step, Journey)]


def written(book: Book, word: str) -> Book:
    return take_legs(book, book.jobs[0].id, the(word)).book


def a_book_of_two(*, is_driven: bool = True) -> Book:
    """Two pieces, loaded together, driven to a site in another country."""
    steps = (
        a_stage("carve", segments=("heron-torso",)),
        a_gate("heron-loading", ways=(a_way(),)),
        *((a_journey("heron-ship"),) if is_driven else ()),
    )
    pieces = (a_segment("heron-torso"), a_segment("heron-neck"))
    site = replace(a_site(), zone="Europe/Oslo", country="NO")
    return a_book(a_job(steps=steps, segments=pieces, site=site))


@pytest.mark.parametrize("word", PROGRAM_LEGS)
def test_what_lies_on_disk_is_what_its_recipe_makes(word: str) -> None:
    assert list(READY) == list(PROGRAM_LEGS)
    assert (FOLDER / f"{word}.json").read_text(encoding="utf-8") == legs_text(READY[word]())
    assert the(word) == READY[word]()
    assert (FOLDER / "sources.csv").read_text(encoding="utf-8") == legs_sources_text()


@pytest.mark.parametrize("word", PROGRAM_LEGS)
def test_every_length_is_a_figure_of_the_trade(word: str) -> None:
    told = {(one.step, one.field): one for one in sources_of_legs(word)}
    seen = set()
    for journey in the(word).journeys:
        for at, leg in enumerate(journey.legs):
            if leg.minutes:
                key = (str(journey.id), f"legs.{at}.minutes")
                seen.add(key)
                assert Decimal(told[key].number) == leg.minutes
                assert figure(told[key].figures).amount == leg.minutes
    assert seen == set(told)


def test_no_leg_is_named_twice_and_each_journey_counts_against_the_window() -> None:
    for ready in known_legs():
        for journey in ready.journeys:
            assert any(leg.inside for leg in journey.legs)
            names = [leg.name for leg in journey.legs]
            assert len(names) == len(set(names))


def test_legs_take_the_place_of_those_of_the_journey_and_the_rest_stays() -> None:
    before = a_book_of_two()
    book = written(before, "crossing")
    made = journeys(book)[0]

    assert book.revision == before.revision + 1
    assert (made.id, made.name, made.crew) == ("heron-ship", "Heron-ship", ())
    assert [leg.kind for leg in made.legs] == [leg.kind for leg in the("crossing").journeys[0].legs]
    home, away = before.workshop, before.jobs[0].site
    assert [leg.country for leg in made.legs[:2]] == [home.country] * 2
    assert [leg.zone for leg in made.legs if leg.kind is LegKind.BORDER] == [home.zone, away.zone]
    assert made.legs[4].country == "NO"
    assert [means.drivers for means in made.means] == [1, 2]


def test_a_leg_of_a_kind_of_which_there_are_as_many_stays_as_it_was() -> None:
    book = a_book_of_two()
    old = journeys(book)[0]
    made = journeys(written(book, "local-van"))[0]
    drive, assemble = made.legs[0], next(x for x in made.legs if x.kind is LegKind.ASSEMBLE)
    assert (drive.minutes, drive.country) == (old.legs[0].minutes, book.workshop.country)
    assert assemble == old.legs[1]


def test_a_job_without_a_journey_gets_one() -> None:
    book = written(a_book_of_two(is_driven=False), "collected")
    made = journeys(book)[0]
    assert made.id == "heron.collect"
    assert [leg.kind for leg in made.legs] == [LegKind.INSPECT, LegKind.SIGN_OFF]
    assert (made.means, made.vehicles, made.back_minutes) == ((), (), 0)


def test_vehicles_of_the_book_are_taken_by_their_names() -> None:
    van = an_equipment("van", kind=EquipmentKind.VEHICLE)
    book = replace(a_book_of_two(), equipment=(van,))
    assert journeys(written(book, "local-van"))[0].vehicles == ("van",)
    assert journeys(written(a_book_of_two(), "local-van"))[0].vehicles == ()


def test_vehicles_and_means_that_are_there_stay() -> None:
    own = a_journey("heron-ship", vehicles=("truck",))
    book = a_book_of_two()
    job = replace(book.jobs[0], steps=(*book.jobs[0].steps[:-1], own))
    made = journeys(written(replace(book, jobs=(job,)), "crossing"))[0]
    assert (made.vehicles, made.means) == (("truck",), ())

    means = (Means(id="train", vehicles=(EquipmentId("truck"),)),)
    job = replace(job, steps=(*job.steps[:-1], replace(own, vehicles=(), means=means)))
    assert journeys(written(replace(book, jobs=(job,)), "crossing"))[0].means == means


def test_several_trips_share_out_the_pieces_and_the_loading() -> None:
    book = written(a_book_of_two(), "trips")
    first, last = journeys(book)
    assert (first.segments, last.segments) == (("heron-torso",), ("heron-neck",))
    assert (first.id, last.id) == ("heron-ship", "heron-ship-2")
    assert (first.name, last.name) == ("first trip", "last trip")
    loadings = [
        step
        for step in book.jobs[0].steps
        if isinstance(step, Gate) and step.gate is GateKind.LOADING
    ]
    assert [step.segments for step in loadings] == [("heron-torso",), ("heron-neck",)]
    hours = [Fraction(step.ways[0].hours.likely) for step in loadings]
    assert hours == [Fraction(a_way().hours.likely) / 2] * 2
    assert not {"several_loadings", "several_journeys"} & {each.code for each in examine(book)}


def test_one_piece_is_not_shared_out() -> None:
    book = a_book(a_job())
    with pytest.raises(NoSuchThing):
        written(book, "trips")


def test_cranes_and_sailings_are_to_be_asked_for_and_what_was_booked_stays() -> None:
    book = written(a_book_of_two(), "crossing")
    made = book.jobs[0].arrangements
    assert [(each.what, each.leg, each.state) for each in made] == [
        ("sailing", 3, ArrangementState.TO_ASK),
        ("crane", 8, ArrangementState.TO_ASK),
    ]
    hotel = Arrangement(id="inn", what="hotel", journey=journeys(book)[0].id)
    booked = replace(made[1], state=ArrangementState.BOOKED, reference="Q-1")
    job = replace(book.jobs[0], arrangements=(hotel, made[0], booked))
    again = written(replace(book, jobs=(job,)), "domestic-lorry").jobs[0].arrangements
    assert again == (hotel, replace(booked, leg=4))


def test_what_only_the_planner_knows_is_to_be_filled_in() -> None:
    made = journeys(written(a_book_of_two(), "crossing"))[0]
    assert [(blank.kind, blank.leg) for blank in blanks_of(made)] == [
        (BlankKind.WAY, 1),
        (BlankKind.OPENS, 2),
        (BlankKind.TIMETABLE, 3),
        (BlankKind.OPENS, 4),
        (BlankKind.WAY, 5),
        (BlankKind.CRANE, 8),
        (BlankKind.VEHICLE, None),
        (BlankKind.CREW, None),
    ]


def test_what_is_filled_in_is_asked_for_no_more() -> None:
    drive = a_leg(minutes=0, distance_km=Decimal(40))
    on = a_journey("ship", legs=(drive, a_leg(LegKind.SIGN_OFF, inside=True)), vehicles=("van",))
    assert blanks_of(on) == (Blank(kind=BlankKind.COUNTRIES, leg=1, name="drive"),)
    there = replace(drive, country="NO")
    assert blanks_of(replace(on, legs=(there, on.legs[1]))) == ()


@pytest.mark.parametrize(
    ("kind", "wanted"), [(LegKind.ARRIVE, False), (LegKind.ASSEMBLE, True), (LegKind.LIFT, False)]
)
def test_who_works_on_site_is_asked_where_something_is_put_up(
    kind: LegKind, *, wanted: bool
) -> None:
    legs = (a_leg(country="NO"), a_leg(kind, inside=True))
    made = a_journey("lorry", legs=legs, vehicles=("van",), crew=())

    assert (BlankKind.CREW in {blank.kind for blank in blanks_of(made)}) is wanted


def test_counts_are_left_out_of_the_sources_alone() -> None:
    tree = json.loads((FOLDER / "crossing.json").read_bytes())
    means = tree["journeys"][0]["means"]
    whole = {key for each in means for key, value in each.items() if isinstance(value, int)}
    assert whole <= {"drivers", "price"}
    assert all(each["price"] == 0 for each in means)
