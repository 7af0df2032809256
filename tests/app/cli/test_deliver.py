"""`countback deliver`: back from the window, forwards to it, by every clock, with its reasons.

Check-in, sailing and hours of one driver by hand from Regulation (EC) 561/2006, Art. 6 to 9: four
hours to a port, a night on board with a berth, three hours on the other side.
"""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from app.cli.console import Console
from app.cli.run import STOPPED, run
from shared.book import (
    Book,
    Booking,
    Departure,
    EquipmentKind,
    Journey,
    Leg,
    LegKind,
    Means,
)
from shared.ids import EquipmentId
from tests.app.cli.shell import Said, Terminal, a_file, countback
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_site,
    a_stage,
    a_way,
    a_window,
    an_equipment,
    at,
)

SLOT = Booking(start=at("2026-03-06 10:30"), end=at("2026-03-06 12:30"), name="road closed")


def a_sailing(**changes: Any) -> Leg:
    sails = Departure(
        leaves=at("2026-03-05 20:30"), arrives=at("2026-03-06 07:15"), check_in_minutes=60
    )
    usual = Leg(kind=LegKind.SAILING, name="night ship", departures=(sails,), bunk=True)
    return replace(usual, **changes)


def means(word: str, price: int, drivers: int = 1) -> Means:
    return Means(
        id=word,
        name=word.replace("-", " "),
        vehicles=(EquipmentId("lorry"),),
        drivers=drivers,
        own_account=False,
        price=Decimal(price),
    )


def a_crossing(**changes: Any) -> Journey:
    legs = (
        a_leg(minutes=0, driving_minutes=240, country="GB", name="to the port"),
        a_sailing(),
        a_leg(minutes=0, driving_minutes=180, country="NL", name="to the site"),
        a_leg(LegKind.SIGN_OFF, 90, inside=True, name="sign off", slots=(SLOT,)),
    )
    usual = a_journey(
        "heron-ship",
        legs,
        means=(means("two-drivers", 400, 2), means("one-driver", 300)),
        reserve_minutes=0,
        longest_days=Decimal(1),
    )
    return replace(usual, **changes)


def a_delivered_book(journey: Journey | None = None, **changes: Any) -> Book:
    steps = (
        a_stage("heron-carve"),
        a_gate("heron-loading", ways=(a_way(hours=2),)),
        a_crossing() if journey is None else journey,
    )
    site = a_site(name="The quay", zone="Europe/Amsterdam", country="NL", subdivision=None)
    held = a_window(start="2026-03-06 08:00", end="2026-03-06 13:00")
    lorry = an_equipment("lorry", kind=EquipmentKind.VEHICLE, gross_t=Decimal(18))
    return a_book(a_job(steps=steps, site=site, windows=(held,)), equipment=(lorry,), **changes)


def delivered(folder: Path, book: Book, *more: str) -> Said:
    return countback("deliver", a_file(folder, book), "--seconds", "1", "--json", *more)


def with_legs(change: Any) -> Book:
    journey = a_crossing()
    return a_delivered_book(replace(journey, legs=change(journey.legs)))


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> Said:
    return delivered(tmp_path_factory.mktemp("crossing"), a_delivered_book())


def test_the_departure_is_the_last_that_is_at_the_check_in(said: Said) -> None:
    told = said.last["deliveries"][0]
    assert said.code == 0, said.err
    # 19:30 at the check-in, less four hours at the wheel.
    assert told["latest_departure"] == "2026-03-05T15:30:00Z"
    assert told["planned"]["leaves"] == "2026-03-05T15:30:00Z"
    assert told["departures"][-1]["end"] == "2026-03-05T15:45:00Z"
    assert told["is_judged"]
    assert told["is_met"]


def test_every_instant_is_by_the_clock_of_where_it_happens(said: Said) -> None:
    lines = said.out.splitlines()
    forth = lines.index("Forwards, as planned")
    text = [" ".join(line.split()) for line in lines[forth + 1 : forth + 12]]
    assert text[0] == "London time"
    assert text[1] == "Thu 5 Mar 15:30 to 19:30 to the port, 4 h at the wheel"
    sea = "at sea, resting in a berth, alongside Fri 6 Mar 08:15 Amsterdam time"
    assert sea in " ".join(text)
    there = text[text.index("Amsterdam time") :]
    assert there[1] == "Fri 6 Mar 08:15 to 08:30 off the ship"
    assert there[2] == "08:30 to 11:30 to the site, 3 h at the wheel"


def test_from_the_window_back_to_the_loading(said: Said) -> None:
    lines = [" ".join(line.split()) for line in said.out.splitlines()]
    title = "Back from the window, by the way that leaves last: two drivers"
    back = lines[lines.index(title) + 1 : lines.index("Forwards, as planned") - 1]
    assert back[:2] == ["Amsterdam time", "Fri 6 Mar 14:00 the window shuts"]
    assert "12:00 the latest to be at the site" in back
    assert back[-2:] == ["15:30 leave, loaded", "13:00 begin to load"]


def test_a_wait_names_what_it_waits_for(said: Said) -> None:
    stretches = said.last["deliveries"][0]["planned"]["stretches"]
    waits = [(one["because"], one["zone"]) for one in stretches if one["because"]]
    assert ("sailing", "Europe/London") in waits
    assert "waits 45 min for the ship" in said.out


def test_ways_are_told_with_prices_and_why_one_is_taken(said: Said) -> None:
    ways = said.last["deliveries"][0]["ways"]
    assert [(way["means"], way["price"], way["is_taken"]) for way in ways] == [
        ("two-drivers", 400.0, False),
        ("one-driver", 300.0, True),
    ]
    assert "The plan goes by one driver" in " ".join(said.out.split())
    assert "the cheapest that is in time" in " ".join(said.out.split())


def test_a_slot_that_is_too_short_is_the_reason(tmp_path: Path) -> None:
    short = replace(SLOT, end=at("2026-03-06 11:45"))
    book = with_legs(lambda legs: (*legs[:3], replace(legs[3], slots=(short,))))
    found = delivered(tmp_path, book)
    told = found.last["deliveries"][0]
    assert found.code == 3
    assert told["latest_departure"] is None
    assert {way["trouble"] for way in told["ways"]} == {"site_too_short"}
    assert "doesn’t fit into its hours and slots" in " ".join(found.out.split())


def test_a_ship_that_lands_too_late_is_the_reason(tmp_path: Path) -> None:
    late = Departure(
        leaves=at("2026-03-06 20:30"), arrives=at("2026-03-07 07:15"), check_in_minutes=60
    )
    book = with_legs(lambda legs: (legs[0], a_sailing(departures=(late,)), *legs[2:]))
    found = delivered(tmp_path, book)
    assert found.code == 3
    assert {way["trouble"] for way in found.last["deliveries"][0]["ways"]} == {"no_sailing"}
    assert "no ship leaves in time" in " ".join(found.out.split())


def test_legs_that_are_broken_are_found_with_their_place_and_cure(tmp_path: Path) -> None:
    book = with_legs(lambda legs: (legs[0], a_sailing(departures=()), *legs[2:]))
    found = delivered(tmp_path, book)
    assert found.code == 2
    assert found.last["deliveries"] == []
    one = next(f for f in found.last["findings"] if f["code"] == "sailing_without_departures")
    assert one["path"] == "jobs[0].steps[2].legs[1].departures"
    assert one["cure"]
    assert one["cure"] in " ".join(found.out.split())


def test_a_journey_without_hours_says_that_they_are_as_written(tmp_path: Path) -> None:
    plain = a_journey("heron-ship", longest_days=Decimal(1))
    found = delivered(tmp_path, a_delivered_book(plain))
    told = found.last["deliveries"][0]
    assert found.code == 0
    assert not told["is_judged"]
    assert told["ways"] == []
    assert told["latest_departure"] == "2026-03-06T09:00:00Z"
    assert "Hours are as they are written" in found.out


def test_a_job_is_asked_for_by_name_and_refused_where_there_is_none(tmp_path: Path) -> None:
    book = a_delivered_book(a_journey("heron-ship"))
    assert delivered(tmp_path, book, "Heron").code == 0
    refused = countback("deliver", tmp_path / "book.countback", "egret")
    assert refused.code == 2
    assert "there are heron" in refused.err


def test_ctrl_c_ends_it_and_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import app.cli.deliver as verb

    def pressed(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(verb, "delivered", pressed)
    path = a_file(tmp_path, a_delivered_book(a_journey("heron-ship")))
    before = path.read_bytes()
    out, err = Terminal(), Terminal()
    assert run(["deliver", str(path), "--seconds", "1"], Console(out, err)) == STOPPED
    assert path.read_bytes() == before


def test_the_plan_in_the_book_is_gone_by(tmp_path: Path) -> None:
    from scheduler.request import SolveRequest
    from scheduler.solve import solve

    book = a_delivered_book()
    plan = solve(SolveRequest(book=book, now=NOW, effort=1)).plan
    found = delivered(tmp_path, replace(book, plan=plan))
    assert found.last["is_kept"]
    assert "By the plan that the book holds." in found.out
