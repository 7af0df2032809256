"""`countback move`: tried, taken, refused; dates, calls and costs as they are printed."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from app.words import Words
from app.words import move as say
from shared.book import (
    Arrangement,
    ArrangementState,
    Body,
    Book,
    Booking,
    Counted,
    Departure,
    Journey,
    LegKind,
    Notice,
)
from shared.files.disk import load
from shared.files.read import read_book
from shared.ids import StepId
from shared.notices import Call, Calling
from tests.app.cli.shell import Said, a_file, countback
from tests.builders import (
    a_book,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_place,
    a_segment,
    a_shift,
    a_stage,
    a_window,
    an_equipment,
    at,
    on,
)

WEEKS = (-1, 0, 3)
BOAT = tuple(
    Departure(
        leaves=at("2026-03-03 20:00") + timedelta(weeks=weeks),
        arrives=at("2026-03-04 05:00") + timedelta(weeks=weeks),
        price=Decimal(400),
    )
    for weeks in WEEKS
)
SLOT = Booking(start=at("2026-03-04 13:00"), end=at("2026-03-04 15:00"), name="gate two")
CRANE = Arrangement(
    id="crane",
    what="crane",
    name="the big crane",
    state=ArrangementState.BOOKED,
    reference="K 17",
    with_whom="Lifters",
    call="01 234",
    journey=StepId("heron-journey"),
    leg=4,
    start=SLOT.start,
    end=SLOT.end,
    free_until=at("2026-02-20 12:00"),
    cost_after=Decimal(350),
)
GIVEN = Notice(
    id="road_notice",
    name="",
    lead=2,
    counted=Counted.CLEAR_WORKING_DAYS,
    country="GB",
    subdivision="ENG",
    done=on("2026-01-02"),
)


def a_moving_book(**job: Any) -> Book:
    """A piece of 3 m on an open bed, over the water to a site whose gate is booked."""
    legs = (
        a_leg(minutes=180),
        a_leg(LegKind.SAILING, 0, departures=BOAT, name="the night boat"),
        a_leg(minutes=120),
        a_leg(LegKind.LIFT, 60, inside=True, name="over the wall", slots=(SLOT,), by="the site"),
        a_leg(LegKind.ASSEMBLE, 300, inside=True),
    )
    usual: dict[str, Any] = {
        "segments": (
            a_segment("heron-torso", length_m=Decimal(8), width_m=Decimal(3), turns=("upright",)),
        ),
        "windows": (a_window("held", access=(a_shift("08:00", "18:00", breaks=()),)),),
        "steps": (
            a_stage("heron-carve"),
            a_gate("heron-loading"),
            a_journey("heron-journey", legs, crew=("ana",), vehicles=("bed",)),
        ),
        "arrangements": (CRANE,),
        "notices": (GIVEN,),
    }
    made = a_job(**{**usual, **job})
    bed = an_equipment("bed", body=Body.OPEN)
    places = (a_place(area_m2=Decimal(200), slots=None), a_floor())
    return replace(a_book(made, equipment=(bed,), places=places), revision=3)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_moving_book())


def run(path: Path, start: str, end: str, *more: str) -> Said:
    return countback("move", path, "heron", start, end, "--seconds", "1", "--json", *more)


def read(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


LATER = ("2026-03-23T08:00", "2026-03-27T18:00")


@pytest.fixture(scope="module")
def later(tmp_path_factory: pytest.TempPathFactory) -> tuple[Said, Path]:
    """The window moved three weeks on, the day after the crane was free to change."""
    path = a_file(tmp_path_factory.mktemp("later"), a_moving_book())
    return run(path, *LATER, "--now", "2026-02-21T10:00"), path


def test_a_later_window_is_tried_and_dates_everything_anew(later: tuple[Said, Path]) -> None:
    said, path = later
    text = " ".join(said.out.split())

    assert (said.code, said.err) == (0, "")
    assert text.startswith(
        "The window of Heron moves from Mon 2 Mar 2026 08:00 to Fri 6 Mar 18:00 to Mon 23 Mar"
    )
    assert "Before: Heron fits" in text
    assert "After: Heron fits" in text
    assert "Heron-journey, leaving: Tue 3 Mar 17:00, now Tue 24 Mar 17:00." in text
    assert "The night boat, sailing: Tue 3 Mar 20:00, now Tue 24 Mar 20:00." in text
    # Two clear working days before Tue 3 Mar and Tue 24 Mar, no holiday near.
    assert (
        "Notice of the abnormal load to police and road authorities: Thu 26 Feb, now Thu 19 Mar."
        in text
    )
    assert "Meanwhile Heron-torso stands at Hall, Tue 3 Mar 17:00 to Tue 24 Mar 17:00." in text
    assert "This was tried; nothing is written." in text
    assert read(path) == a_moving_book()


def test_each_call_has_whom_number_and_what_it_costs(later: tuple[Said, Path]) -> None:
    said, _ = later
    text = " ".join(said.out.split())

    assert (
        "Change crane (the big crane): Wed 4 Mar 13:00 to Wed 4 Mar 15:00, now Wed 25 Mar 13:00 to"
    ) in text
    assert "Lifters, 01 234. Reference K 17. It costs 350 EUR, free only until Fri 20 Feb" in text
    assert "Ask for sailing (the night boat): Tue 24 Mar 20:00" in text
    assert "Have slot (gate two) moved: Wed 4 Mar 13:00 to Wed 4 Mar 15:00, now Wed 25 Mar" in text
    assert "Give anew: notice of the abnormal load" in text
    assert "Changing what is booked costs 350 EUR." in text
    told = said.last
    assert told["cost"] == 350.0
    assert {call["calling"] for call in told["calls"]} == {"change", "ask", "slot", "notice"}


def test_programs_get_the_same(later: tuple[Said, Path]) -> None:
    told = later[0].last
    (notice,) = [each for each in told["dues"] if each["due"]["id"] == "road_notice"]

    assert list(told) == [
        *("taken", "revision", "job", "window", "shifted", "stands", "undated"),
        *("redated", "dues", "calls", "cost", "before", "after"),
    ]
    assert (notice["was"], notice["now"]) == ("2026-02-26", "2026-03-19")
    assert notice["due"]["done"] is None
    assert told["stands"] == [
        {
            "place": "hall",
            "start": "2026-03-03T17:00:00Z",
            "end": "2026-03-24T17:00:00Z",
            "segments": ["heron-torso"],
            "others": [],
        }
    ]
    assert [each["leg"] for each in told["shifted"]] == [4]
    assert {each["what"] for each in told["redated"]} >= {"latest_loading", "departure", "sailing"}


def test_an_earlier_window_says_whether_it_fits(path: Path) -> None:
    fits = run(path, "2026-02-23T08:00", "2026-02-27T18:00")
    without_a_boat = run(path, "2026-01-12T08:00", "2026-01-16T18:00")

    assert (fits.code, fits.last["after"]["verdict"]) == (0, "fits")
    assert fits.last["stands"] == []
    assert without_a_boat.code == 3
    assert without_a_boat.last["before"]["verdict"] == "fits"
    assert without_a_boat.last["after"]["jobs"][0]["reason"]
    assert without_a_boat.last["undated"] == ["heron-journey"]
    (crane,) = [c for c in without_a_boat.last["calls"] if c["what"] == "crane"]
    assert crane["now"] == {"start": None, "end": None}
    assert "for when is not known yet" in " ".join(without_a_boat.out.split())


def test_a_moved_window_is_taken_and_taken_back(path: Path) -> None:
    said = run(path, *LATER, "--take")
    book = read(path)
    (job,) = book.jobs
    journey = job.steps[-1]
    assert isinstance(journey, Journey)

    assert (said.code, said.last["taken"], said.last["revision"]) == (0, True, 4)
    assert (job.windows[0].start, job.windows[0].end) == (
        at("2026-03-23 08:00"),
        at("2026-03-27 18:00"),
    )
    assert journey.legs[3].slots[0].start == at("2026-03-25 13:00")
    assert job.notices[0].done is None
    assert job.arrangements == (CRANE,)
    assert countback("undo", path).code == 0
    assert replace(read(path), revision=3) == a_moving_book()


def test_instants_are_by_the_clock_of_the_site(tmp_path: Path) -> None:
    usual = a_moving_book().jobs[0].site
    paris = replace(usual, zone="Europe/Paris", country="FR", subdivision=None)
    path = a_file(tmp_path, a_moving_book(site=paris, notices=()))
    told = run(path, *LATER).last

    assert told["window"]["now"]["start"] == "2026-03-23T07:00:00Z"


def test_what_makes_no_sense_is_refused_and_nothing_is_written(path: Path) -> None:
    data = path.read_bytes()
    backwards = run(path, "2026-03-27T18:00", "2026-03-23T08:00", "--take")
    nobody = countback("move", path, "otter", *LATER)
    no_instant = countback("move", path, "heron", "soon", "later")

    assert backwards.code == nobody.code == no_instant.code == 2
    assert (backwards.last["taken"], bool(backwards.last["findings"])) == (False, True)
    assert path.read_bytes() == data


def test_a_move_that_calls_nobody_says_so(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book())
    said = run(path, "2026-03-03T08:00", "2026-03-07T18:00")

    assert said.code == 0
    assert "Nobody has to be called that the book knows of." in " ".join(said.out.split())


@pytest.mark.parametrize("calling", list(Calling))
def test_every_call_has_a_sentence_without_gaps(calling: Calling) -> None:
    call = Call(
        calling=calling,
        what="road_notice" if calling is Calling.NOTICE else "crane",
        name="",
        was=(at("2026-03-03 08:00"), at("2026-03-03 09:00")),
        now=(at("2026-03-10 08:00"), None),
        given=on("2026-02-01"),
    )
    (line,) = say.call_lines(Words("en"), call, "UTC", on("2026-01-05"))

    assert "…" not in line
    assert "Tue 3 Mar" in line or calling is Calling.ASK
