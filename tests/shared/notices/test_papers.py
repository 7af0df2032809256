"""Papers at sea, at borders, at the site and for the crew, and the book's own notices.

Figures: published terms of ferry lines (TR16, TR17), carnet services (TR18), UK Department for
Transport (TR19), a chamber's answers (TR20), Regulation (EU) 2016/399, Art. 6 (TR24, TR24b). What
has an id of our own is common practice.
"""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from typing import Any

import pytest

from shared.book import (
    Before,
    Body,
    Certificate,
    Counted,
    Departure,
    Kind,
    LegKind,
    Notice,
    Purpose,
    Timetable,
)
from shared.ids import StepId
from shared.notices import Due, Paper, dues
from shared.notices.listed import notice_of
from shared.plan import Doing, LegTime, Stretch
from tests.builders import (
    NOW,
    a_gate,
    a_journey,
    a_leg,
    a_person,
    a_site,
    a_stage,
    an_equipment,
    at,
    on,
)
from tests.shared.notices.deliveries import Delivered, delivered, drive, legs_of

FRANCE = a_site(zone="Europe/Paris", country="FR", subdivision=None)
SAILS = Departure(leaves=at("2026-05-11 20:00"), arrives=at("2026-05-12 03:10"), price=Decimal(400))
OVER_THE_WATER = (
    drive("GB", driving_minutes=120),
    a_leg(LegKind.BORDER, 60, country="GB", name="export"),
    a_leg(LegKind.SAILING, 0, departures=(SAILS,), name="the night boat"),
    a_leg(LegKind.BORDER, 30, country="FR", name="import"),
    drive("FR", driving_minutes=120),
    a_leg(LegKind.ASSEMBLE, 240, inside=True),
)
TIMES = legs_of(
    *("2026-05-11 14:00", "2026-05-11 16:00", "2026-05-11 18:00", "2026-05-12 03:15"),
    *("2026-05-12 04:00", "2026-05-12 06:00", "2026-05-12 12:00"),
)


def to_france(**changes: Any) -> Delivered:
    """Tue 12 May 2026 at the site in France, by an overnight sailing; Fri 8 and Thu 14 closed."""
    usual: dict[str, Any] = {"job": {"site": FRANCE}, "journey": {"crew": ("ana",)}}
    return delivered(OVER_THE_WATER, TIMES, **{**usual, **changes})


def facts(due: Due) -> dict[str, object]:
    return dict(due.because)


def test_a_plain_journey_that_says_no_more_than_its_minutes_calls_for_no_papers() -> None:
    legs = (drive(), a_leg(LegKind.UNLOAD), a_leg(LegKind.ASSEMBLE, inside=True))
    times = legs_of("2026-03-02 06:00", "2026-03-02 08:00", "2026-03-02 09:00", "2026-03-02 12:00")

    assert delivered(legs, times, journey={"crew": ("ana",)}).dues() == {}


def test_an_export_and_its_clearance_are_counted_to_the_borders() -> None:
    found = to_france().dues()
    export, clearance = found["export_declaration"], found["import_clearance"]

    # A working day before the export office, whole at the end of its leg: 17:00 to 18:00.
    assert (export.by, export.at) == (date(2026, 5, 8), at("2026-05-11 17:00"))
    assert export.country == "GB"
    assert facts(export) == {"from": "GB", "into": "FR"}
    # Clearance takes up to 48 h.
    assert (clearance.by, clearance.at) == (at("2026-05-10 03:30"), at("2026-05-12 03:30"))
    assert (clearance.counted, clearance.lead, clearance.country) == (Counted.HOURS, 48, "FR")
    assert clearance.day == date(2026, 5, 10)


def test_the_entry_declaration_is_an_hour_before_landing() -> None:
    entry = to_france().dues()["entry_declaration"]

    assert (entry.by, entry.figures) == (at("2026-05-12 02:15"), ("TR19",))
    assert not to_france().dues(at("2026-05-12 02:14"))["entry_declaration"].is_over
    assert to_france().dues(at("2026-05-12 02:15"))["entry_declaration"].is_over


def test_a_carnet_is_for_what_comes_back_so_only_a_crew_has_one() -> None:
    # Two working days before Mon 11 May: Thu 7 (Fri 8 is worked in England).
    assert to_france().dues()["carnet"].by == date(2026, 5, 7)
    assert "carnet" not in to_france(journey={}).dues()


def test_inside_a_customs_area_there_are_no_declarations() -> None:
    near = to_france(job={"site": FRANCE})
    legs = tuple(replace(leg, country="FR") if leg.country else leg for leg in OVER_THE_WATER)
    home = delivered(
        legs,
        TIMES,
        job={"site": FRANCE},
        book={
            "workshop": replace(near.book.workshop, country="FR", subdivision=None),
            "equipment": near.book.equipment,
        },
    )
    codes = ("export_declaration", "import_clearance", "entry_declaration", "carnet")

    assert not set(codes) & set(home.dues())
    assert set(codes) <= set(near.dues())


def test_norway_is_outside_the_customs_of_the_union() -> None:
    # From France to Norway: an export and a clearance, but no entry into the Union.
    near = to_france()
    legs = (
        drive("FR", driving_minutes=60),
        a_leg(LegKind.BORDER, 60, country="NO"),
        drive("NO", driving_minutes=60),
        a_leg(LegKind.ASSEMBLE, inside=True),
    )
    times = legs_of(
        *("2026-04-07 06:00", "2026-04-07 08:00", "2026-04-07 09:00", "2026-04-07 10:00"),
        "2026-04-07 14:00",
    )
    found = delivered(
        legs,
        times,
        job={"site": a_site(zone="Europe/Oslo", country="NO", subdivision=None)},
        book={
            "workshop": replace(
                near.book.workshop, zone="Europe/Paris", country="FR", subdivision=None
            ),
            "equipment": near.book.equipment,
        },
    ).dues()

    # The day after Easter Monday: Fri 3 Apr is worked in France, Thu 2 in Norway is not asked.
    assert found["export_declaration"].by == date(2026, 4, 3)
    assert "import_clearance" in found
    assert "entry_declaration" not in found


def test_a_ferry_is_asked_for_an_out_of_gauge_load_two_working_days_before() -> None:
    # 2.6 m as moved; the line takes 2.5.
    found = to_france(sizes=("8", "2.5", "1")).dues()

    assert found["ferry_oversize"].by == date(2026, 5, 7)
    assert found["ferry_oversize"].figures == ("TR16", "TR17b")
    assert found["ferry_oversize"].at == SAILS.leaves
    assert facts(found["ferry_oversize"])["sailing"] == "the night boat"
    assert "ferry_oversize" not in to_france(sizes=("8", "2.4", "1")).dues()


def test_a_ferry_is_asked_for_a_heavy_lorry() -> None:
    bed = an_equipment("bed", body=Body.OPEN, gross_t=Decimal(46))
    found = to_france(book={"equipment": (bed,)}).dues()

    assert found["ferry_oversize"].figures == ("TR16", "TR17d")


@pytest.mark.parametrize("kind", [Kind.LAMINATE, Kind.PAINT, Kind.LACQUER, Kind.COAT])
def test_leftover_paint_and_resin_are_dangerous_goods_on_a_ferry(kind: Kind) -> None:
    goes = a_journey("heron-journey", OVER_THE_WATER, vehicles=("bed",))
    steps = (a_stage("heron-wet", kind), a_gate("heron-loading"), goes)
    wet = to_france(job={"site": FRANCE, "steps": steps}).dues()

    assert wet["ferry_dangerous"].by == date(2026, 5, 7)
    assert "ferry_dangerous" not in to_france().dues()


def test_a_sailing_of_a_judged_trip_is_read_from_its_stretches() -> None:
    legs = (drive("GB"), a_leg(LegKind.SAILING, 0), drive("FR"), a_leg(LegKind.ASSEMBLE))
    times = legs_of(
        *("2026-05-11 14:00", "2026-05-11 16:00", "2026-05-12 03:00", "2026-05-12 05:00"),
        "2026-05-12 09:00",
    )
    stretches = (
        Stretch(doing=Doing.REST, leg=1, start=at("2026-05-11 16:00"), end=at("2026-05-11 19:30")),
        Stretch(
            doing=Doing.SEA_REST, leg=1, start=at("2026-05-11 19:30"), end=at("2026-05-12 03:00")
        ),
    )
    goes = a_journey("heron-journey", legs, vehicles=("bed",))
    steps = (a_stage("heron-wet", Kind.PAINT), a_gate("heron-loading"), goes)
    found = delivered(
        legs, times, job={"site": FRANCE, "steps": steps}, trip={"stretches": stretches}
    ).dues()

    assert found["ferry_dangerous"].at == at("2026-05-11 19:30")


def test_the_site_has_its_papers_before_the_gate_and_the_lift() -> None:
    legs = (
        drive(),
        a_leg(LegKind.UNLOAD, 60),
        a_leg(LegKind.LIFT, 60, inside=True, name="over the wall"),
        a_leg(LegKind.INSPECT, 30, inside=True),
    )
    times = legs_of(
        *("2026-03-05 20:00", "2026-03-06 08:00", "2026-03-06 09:00", "2026-03-09 10:00"),
        "2026-03-10 09:00",
    )
    found = delivered(legs, times, journey={"crew": ("ana",)}).dues()

    # The lift is whole at the end of its leg, on Mon 9; the gate is reached on Fri 6.
    assert found["lifting_plan"].at == at("2026-03-09 09:00")
    assert found["lifting_plan"].by == date(2026, 3, 2)
    assert found["inspection_booking"].by == date(2026, 2, 24)
    assert found["method_statement"].by == found["insurance"].by == date(2026, 2, 20)
    assert found["crew_names"].by == found["passes"].by == date(2026, 2, 27)
    assert found["inductions"].by == date(2026, 3, 4)
    assert {due.figures[0] for due in found.values()} == {
        *("CP650", "CP651", "CP652", "CP653", "CP654", "CP655", "CP656"),
    }
    assert [due.id for due in found.values() if due.is_legal] == ["lifting_plan"]


def test_a_lead_that_the_workshop_knows_better_takes_the_place_of_the_usual() -> None:
    from shared.book import OwnFigure

    legs = (drive(driving_minutes=60), a_leg(LegKind.ASSEMBLE, inside=True))
    times = legs_of("2026-03-06 06:00", "2026-03-06 08:00", "2026-03-06 12:00")
    usual = delivered(legs, times)
    own = (OwnFigure(figure="CP650", value=Decimal(3)),)
    book = replace(usual.book, workshop=replace(usual.book.workshop, figures=own))
    changed = Delivered(book, usual.job, usual.trips)

    assert usual.dues()["method_statement"].by == date(2026, 2, 20)
    assert changed.dues()["method_statement"].by == date(2026, 3, 3)


def test_a_fire_test_is_twelve_weeks_ahead_where_the_job_is_fire_tested() -> None:
    # The longer end of six to twelve weeks (common practice).
    legs = (drive(), a_leg(LegKind.ASSEMBLE, inside=True))
    times = legs_of("2026-06-05 06:00", "2026-06-05 08:00", "2026-06-05 12:00")
    found = delivered(legs, times, job={"purposes": (Purpose.FIRE_TESTED,)}).dues()

    assert set(found) == {"fire_test"}
    assert found["fire_test"].by == date(2026, 3, 13)
    assert found["fire_test"].figures == ("HS19", "HS18")
    assert delivered(legs, times, job={"purposes": (Purpose.PLAYGROUND,)}).dues() == {}


def with_passport(expires: str | None) -> Delivered:
    held = Certificate(certificate="passport", expires=None if expires is None else on(expires))
    ana = a_person(certificates=(held,))
    return to_france(book={"people": (ana,), "equipment": to_france().book.equipment})


def test_a_passport_is_good_three_months_after_coming_back() -> None:
    # Back on 12 May 2026.
    assert "passport" not in with_passport("2026-08-12").dues()
    due = with_passport("2026-08-11").dues()["passport"]

    assert facts(due) == {"until": "2026-08-12", "ending": "ana", "unknown": ""}
    assert due.by == date(2026, 3, 30)
    assert facts(with_passport(None).dues()["passport"])["unknown"] == "ana"
    assert facts(to_france().dues()["passport"])["unknown"] == "ana"


def test_days_of_stay_add_up_over_the_trips_of_a_plan() -> None:
    once = to_france()
    earlier = replace(
        once.trips[0],
        step=StepId("otter-journey"),
        start=at("2026-04-01 06:00"),
        end=at("2026-04-10 06:00"),
        back=at("2026-04-10 18:00"),
    )
    other = replace(
        once.job,
        id=type(once.job.id)("otter"),
        steps=(replace(once.job.steps[-1], id=StepId("otter-journey")),),
    )
    book = replace(once.book, jobs=(once.job, other))
    twice = Delivered(book, once.job, (*once.trips, earlier))
    long_ago = replace(
        earlier,
        start=at("2025-10-01 06:00"),
        end=at("2025-11-14 06:00"),
        back=at("2025-11-14 06:00"),
    )

    assert facts(once.dues()["stay"]) == {"days": 2, "most": 90}
    assert facts(twice.dues()["stay"])["days"] == 2 + 10
    # Of 12 May, 14 Nov is the first of 180 days.
    ago = Delivered(book, once.job, (*once.trips, long_ago))
    assert facts(ago.dues()["stay"])["days"] == 2 + 1


def test_posting_is_seen_to_where_the_site_is_in_another_country() -> None:
    due = to_france().dues()["posting"]

    # Five working days before Tue 12 May in France, where Fri 8 is closed.
    assert (due.by, due.country) == (date(2026, 5, 4), "FR")


def test_nobody_of_the_workshop_abroad_needs_no_passport() -> None:
    found = to_france(journey={}).dues()

    assert not {"passport", "stay", "posting", "crew_names"} & set(found)


CLEAR = {
    "CW05 France": ("FR", None, "2026-04-08", "2026-04-02", 2),
    "CW05 Alsace": ("FR", "Alsace-Moselle", "2026-04-08", "2026-04-01", 2),
    "CW06": ("FR", None, "2026-05-18", "2026-05-06", 5),
    "CW07": ("NO", None, "2026-04-07", "2026-03-30", 2),
    "CW08": ("NO", None, "2027-05-18", "2027-05-12", 2),
    "CW09": ("DE", "BY", "2026-06-08", "2026-06-02", 2),
    "CW10": ("DE", "BY", "2027-01-08", "2027-01-04", 2),
}


@pytest.mark.parametrize("row", CLEAR)
def test_own_notices_are_counted_by_the_days_of_whoever_receives_them(row: str) -> None:
    # Counted out by hand on the public holidays of each country's laws (tests of the calendars).
    country, part, day, by, days = CLEAR[row]
    notice = Notice(
        id="town", name="Tell the town", lead=days, counted=Counted.CLEAR_WORKING_DAYS,
        country=country, subdivision=part,
    )  # fmt: skip
    legs = (drive(), a_leg(LegKind.ASSEMBLE, inside=True))
    there = legs_of(f"{day} 06:00", f"{day} 08:00", f"{day} 12:00")
    found = delivered(legs, there, job={"notices": (notice,)}).dues()

    assert found["town"].by == date.fromisoformat(by)
    assert (found["town"].code, found["town"].name) == ("own", "Tell the town")


def test_the_day_of_a_move_is_the_day_of_the_office() -> None:
    # 23:30 UTC on Tue 12 Jan is Wed 13 Jan in Oslo.
    legs = (drive(), a_leg(LegKind.ASSEMBLE, inside=True))
    there = legs_of("2027-01-12 23:30", "2027-01-13 03:00", "2027-01-13 08:00")
    days = {}
    for zone, country in (("Europe/London", "GB"), ("Europe/Oslo", "NO")):
        notice = Notice(
            id="town", name="", lead=1, counted=Counted.DAYS, country=country, zone=zone
        )
        days[zone] = delivered(legs, there, job={"notices": (notice,)}).dues()["town"].by

    assert days == {"Europe/London": date(2027, 1, 11), "Europe/Oslo": date(2027, 1, 12)}


@pytest.mark.parametrize(
    ("before", "moment"),
    [
        (Before.DEPARTURE, "2026-05-11 14:00"),
        (Before.BORDER, "2026-05-11 17:00"),
        (Before.SAILING, "2026-05-11 20:00"),
        (Before.SITE, "2026-05-12 06:00"),
    ],
)
def test_a_notice_is_ahead_of_what_it_says(before: Before, moment: str) -> None:
    notice = Notice(id="x", name="X", lead=3, counted=Counted.HOURS, before=before)
    due = to_france(job={"site": FRANCE, "notices": (notice,)}).dues()["x"]

    assert (due.at, due.before) == (at(moment), before)
    assert (at(moment) - due.by).total_seconds() == 3 * 3600  # type: ignore[operator]


def test_a_notice_before_what_the_journey_has_not_is_before_the_departure_and_says_so() -> None:
    notice = Notice(id="x", name="X", lead=3, counted=Counted.DAYS, before=Before.LIFT)
    due = to_france(job={"site": FRANCE, "notices": (notice,)}).dues()["x"]

    assert (due.at, due.before) == (at("2026-05-11 14:00"), Before.DEPARTURE)
    assert facts(due) == {"instead_of": "lift"}


def test_a_notice_of_the_book_takes_the_place_of_the_derived_one() -> None:
    notice = Notice(
        id="carnet", name="Carnet at the chamber", lead=1, counted=Counted.WORKING_DAYS,
        office="Chamber", office_closes=time(12), country="GB", subdivision="ENG",
        done=on("2026-05-06"),
    )  # fmt: skip
    found = to_france(job={"site": FRANCE, "notices": (notice,)}).dues(at("2026-05-09 09:00"))
    due = found["carnet"]

    assert (due.code, due.name, due.office) == ("carnet", "Carnet at the chamber", "Chamber")
    assert (due.by, due.done, due.is_over) == (date(2026, 5, 8), date(2026, 5, 6), False)
    assert facts(due) == {"from": "GB", "into": "FR"}
    assert [each for each in found if each.startswith("carnet")] == ["carnet"]


def test_a_derived_due_made_a_notice_keeps_its_date() -> None:
    for due in to_france(sizes=("8", "3", "1")).dues().values():
        job = {"site": FRANCE, "notices": (notice_of(due),)}
        again = to_france(sizes=("8", "3", "1"), job=job).dues()
        assert again[due.id].by == due.by, due.id


def test_unknown_holidays_are_told_and_only_weekends_are_closed() -> None:
    notice = Notice(id="x", name="X", lead=2, counted=Counted.WORKING_DAYS, country="XX")
    due = to_france(job={"site": FRANCE, "notices": (notice,)}).dues()["x"]

    assert facts(due) == {"holidays": "unknown"}
    assert due.by == date(2026, 5, 7)


def test_without_a_trip_nothing_is_due() -> None:
    once = to_france()

    assert Delivered(once.book, once.job, ()).dues() == {}


def test_they_come_the_soonest_first() -> None:
    found = list(to_france(sizes=("8", "3", "1")).dues().values())
    days = [due.day for due in found]

    assert days == sorted(days)
    assert len({due.id for due in found}) == len(found) > 10
    assert all(isinstance(due.at.tzinfo, object) and due.journey for due in found)
    assert LegTime in {type(leg) for leg in to_france().trips[0].legs}


def test_a_sailing_of_a_timetable_leaves_by_the_clock_of_its_port() -> None:
    # 20:10 in London is 19:10 UTC in May; putting to sea is rounded down, landing up.
    boat = Timetable(
        weekdays=(1, 2, 3, 4, 5),
        leaves=time(20, 10),
        arrives=time(6, 20),
        zone="Europe/London",
        arrives_zone="Europe/Paris",
        days_later=1,
    )
    legs = (drive("GB"), a_leg(LegKind.SAILING, 0, timetable=(boat,)), drive("FR"))
    judged = legs_of(
        *("2026-05-11 14:00", "2026-05-11 16:00", "2026-05-12 04:45", "2026-05-12 06:00")
    )
    written = legs_of(
        *("2026-05-11 14:00", "2026-05-11 16:00", "2026-05-12 04:30", "2026-05-12 06:00")
    )
    sea = Stretch(
        doing=Doing.SEA_REST, leg=1, start=at("2026-05-11 19:00"), end=at("2026-05-12 04:30")
    )
    notice = Notice(id="x", name="X", lead=1, counted=Counted.HOURS, before=Before.SAILING)
    job = {"site": FRANCE, "notices": (notice,)}

    for times, stretches in ((judged, (sea,)), (written, ())):
        due = delivered(legs, times, job=job, trip={"stretches": stretches}).dues()["x"]
        assert due.at == at("2026-05-11 19:10")


def test_a_job_of_several_trips_has_some_papers_once() -> None:
    once = to_france()
    goes = once.job.steps[-1]
    second = replace(goes, id=StepId("heron-again"))
    later = replace(once.trips[0], step=StepId("heron-again"), start=at("2026-05-18 14:00"))
    job = replace(once.job, steps=(*once.job.steps, second))
    both = Delivered(replace(once.book, jobs=(job,)), job, (later, *once.trips))
    found = dues(both.book, both.job, both.trips, NOW)
    codes = [due.code for due in found]

    assert codes.count(Paper.METHOD_STATEMENT) == codes.count(Paper.INSURANCE) == 1
    assert codes.count(Paper.CREW_NAMES) == codes.count(Paper.EXPORT_DECLARATION) == 2
