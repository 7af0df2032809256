"""A delivery as its user has it: planned, checked and told, the same to the minute.

The sample goes over the sea by night to a site with a slot of two hours; its hours by hand: a
berth and nine and a half hours at sea after 3¾ h at the wheel, from the check-in an hour before
the ship (Regulation (EC) 561/2006, Art. 6 to 9).
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from shared.book import Book, Booking, Journey, Leg, LegKind
from shared.files.write import digest, write_book
from shared.plan import Plan, Trip
from tests.books.crossing import crossing
from tests.journeys.test_command_line import book_of, countback, last_object, plan_of

pytestmark = pytest.mark.journey

HERON = 0
"""Which of the sample's jobs goes over the sea."""
TOLD = ("--seconds", "1", "--json")


def with_legs(book: Book, change: Callable[[Leg], Leg]) -> Book:
    """Give the book with other legs of the journey over the sea."""
    job = book.jobs[HERON]
    steps = tuple(
        replace(step, legs=tuple(change(leg) for leg in step.legs))
        if isinstance(step, Journey)
        else step
        for step in job.steps
    )
    return replace(book, jobs=(replace(job, steps=steps), *book.jobs[HERON + 1 :]))


def shorter(minutes: int) -> Callable[[Leg], Leg]:
    """Let the slot of a leg end so much sooner."""

    def change(leg: Leg) -> Leg:
        slots = tuple(_cut(slot, minutes) for slot in leg.slots)
        return replace(leg, slots=slots)

    return change


def _cut(slot: Booking, minutes: int) -> Booking:
    return replace(slot, end=slot.end - timedelta(minutes=minutes))


def only(book: Book) -> Book:
    """Give the book with that job alone, which plans sooner."""
    return replace(book, jobs=book.jobs[: HERON + 1])


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path, Any]:
    """The sample with its plan in it, the plan beside it, and what `deliver` says of both."""
    folder = tmp_path_factory.mktemp("crossing")
    assert countback("sample", "crossing", folder).returncode == 0
    path, plan = folder / "crossing.countback", folder / "crossing.plan"
    done = countback("plan", path, "--out", plan, "--seconds", "1", "--json")
    assert done.returncode == 0, done.stderr
    book = book_of(path)
    assert plan_of(plan).made_from.digest == digest(book)
    path.write_bytes(write_book(replace(book, plan=plan_of(plan))))
    said = countback("deliver", path, "--json")
    assert said.returncode == 0, said.stderr
    return path, plan, last_object(said.stdout)


def trips(plan: Plan) -> dict[str, Trip]:
    return {trip.job: trip for trip in plan.trips}


def test_the_plan_stands_up_to_the_check(planned: tuple[Path, Path, Any]) -> None:
    path, plan, _ = planned
    checked = countback("check", path, plan, "--json")
    assert checked.returncode == 0, checked.stdout
    assert last_object(checked.stdout)["sound"]


def test_plan_and_deliver_agree_to_the_minute(planned: tuple[Path, Path, Any]) -> None:
    _, plan_path, said = planned
    plan = plan_of(plan_path)
    assert said["is_kept"]
    assert [told["job"] for told in said["deliveries"]] == ["heron", "owl"]
    for told in said["deliveries"]:
        trip = trips(plan)[told["job"]]
        made = told["planned"]
        assert made["leaves"] == text_of(trip.start)
        assert made["end"] == text_of(trip.end)
        assert made["free"] == text_of(trip.free)
        legs = [(text_of(leg.start), text_of(leg.end)) for leg in trip.legs]
        assert [(leg["start"], leg["end"]) for leg in made["legs"]] == legs
        loading = next(p for p in plan.placements if p.step == f"{told['job']}.loading")
        assert told["loading"] == {"start": text_of(loading.start), "end": text_of(loading.end)}


def text_of(when: Any) -> str:
    return str(when.strftime("%Y-%m-%dT%H:%M:%SZ"))


def test_the_stretches_are_without_a_gap_and_end_with_the_work_on_site(
    planned: tuple[Path, Path, Any],
) -> None:
    made = planned[2]["deliveries"][HERON]["planned"]
    ends = [one["end"] for one in made["stretches"]]
    starts = [one["start"] for one in made["stretches"]]
    assert starts[0] == made["leaves"]
    assert starts[1:] == ends[:-1]
    assert ends[-1] == made["done"]


def test_the_planned_way_leaves_when_it_leaves_at_the_latest(
    planned: tuple[Path, Path, Any],
) -> None:
    """At the check-in at 19:00, cleared from 18:30 on, 3¾ h on the road: 14:45 in London."""
    told = planned[2]["deliveries"][HERON]
    way = next(way for way in told["ways"] if way["is_taken"])
    assert (way["means"], way["price"]) == ("one-driver", 1650 + 610.0)
    assert way["latest_departure"] == "2027-05-10T13:45:00Z"
    assert told["planned"]["leaves"] == way["latest_departure"]
    assert way["departures"][-1]["end"] == "2027-05-10T14:00:00Z"
    # Two drivers make the fast ship at 23:00, for which one has no hours left behind it.
    assert told["latest_departure"] == "2027-05-10T16:45:00Z"
    by = told["latest_departure"]
    assert [w["means"] for w in told["ways"] if w["latest_departure"] == by] == ["two-drivers"]


def test_a_slot_shorter_by_a_quarter_is_still_enough(tmp_path: Path) -> None:
    path = tmp_path / "book.countback"
    path.write_bytes(write_book(only(with_legs(crossing(), shorter(15)))))
    said = countback("deliver", path, *TOLD)
    assert said.returncode == 0, said.stdout
    assert last_object(said.stdout)["deliveries"][HERON]["is_met"]


def test_a_slot_too_short_for_what_is_done_in_it_is_said_to_be_the_reason(
    tmp_path: Path,
) -> None:
    """Signing in, unloading and lifting take 1¾ h: an hour and a half holds the first two only."""
    path = tmp_path / "book.countback"
    path.write_bytes(write_book(only(with_legs(crossing(), shorter(30)))))

    planned = countback("plan", path, *TOLD)
    verdicts = [job["verdict"] for job in last_object(planned.stdout)["jobs"]]
    assert (planned.returncode, verdicts) == (3, ["cannot"]), planned.stdout

    said = countback("deliver", path, *TOLD)
    told = last_object(said.stdout)["deliveries"][HERON]
    assert said.returncode == 3
    assert (told["is_met"], told["latest_departure"]) == (False, None)
    assert {way["trouble"] for way in told["ways"]} == {"site_too_short"}
    words = " ".join(said.stdout.split())
    assert "doesn’t fit into its hours and slots" in words
    assert "holds 1½ h; sign in, unsheet, unload and lift over the wall take 1¾ h" in words


def _no_ships(leg: Leg) -> Leg:
    return replace(leg, timetable=()) if leg.kind is LegKind.SAILING else leg


def _nowhere(leg: Leg) -> Leg:
    if leg.kind is not LegKind.DRIVE or not leg.shares:
        return leg
    return replace(leg, shares=(), country=None)


def _unknown_clock(leg: Leg) -> Leg:
    tables = tuple(replace(table, zone="Europe/Sandhaven") for table in leg.timetable)
    return replace(leg, timetable=tables)


@pytest.mark.parametrize(
    ("change", "code", "place"),
    [
        (_no_ships, "sailing_without_departures", "legs[2].departures"),
        (_nowhere, "leg_without_country", "legs[4]"),
        (_unknown_clock, "unknown_zone", "legs[2].timetable[0].zone"),
    ],
)
def test_a_book_broken_in_its_legs_is_refused_with_place_and_cure(
    tmp_path: Path, change: Callable[[Leg], Leg], code: str, place: str
) -> None:
    path = tmp_path / "book.countback"
    path.write_bytes(write_book(with_legs(crossing(), change)))
    said = countback("deliver", path, "--json")
    told = last_object(said.stdout)
    assert said.returncode == 2
    assert told["deliveries"] == []
    found = next(each for each in told["findings"] if each["code"] == code)
    assert place in found["path"]
    assert found["stops"]
    assert found["cure"]
