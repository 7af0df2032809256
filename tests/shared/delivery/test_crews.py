"""Those who work on site: riding along, on their own way, helped by a hired driver; by hand.

Rules by their figures: eleven hours of rest in twenty-four (DR15, DR16), domestic duty (DR13).
"""

from datetime import timedelta

from shared.book import LegKind
from shared.delivery.asked import asked_of
from shared.delivery.crew import Crew
from shared.delivery.delivery import Delivery
from shared.delivery.run import Run
from shared.ids import EquipmentId, PersonId
from shared.plan import Because, Doing
from tests.builders import a_book, a_job
from tests.shared.delivery.journeys import (
    LONDON,
    at,
    delivery,
    drive,
    inside,
    journey,
    latest,
    only,
    shift,
    window,
    worked,
)

ANA = PersonId("ana")
DAY = window(LONDON, "2027-03-18T08:00", "2027-03-18T18:00", shift("08:00", "18:00"))
TWO_DAYS = window(LONDON, "2027-03-17T08:00", "2027-03-18T18:00", shift("08:00", "18:00"))


def thursday(hour: str) -> object:
    return at(LONDON, f"2027-03-18T{hour}")


def ride(crew: tuple[PersonId, ...]) -> Delivery:
    """Eight hours at the wheel, five on site."""
    legs = (drive(480), inside(LegKind.ASSEMBLE, 300))
    return delivery(journey(*legs, crew=crew), TWO_DAYS)


def test_without_people_on_board_the_site_has_a_fresh_day() -> None:
    """There by 13:00; eight hours and a break of 45 minutes before: 04:15."""
    run = latest(ride(()))

    assert (run.leaves, run.gate) == (thursday("04:15"), thursday("13:00"))


def test_who_rides_along_is_on_duty_while_the_lorry_rolls() -> None:
    """8.75 h of road and 5 h of site are more than the 13 h before a rest: one lies on the way.

    Then all keep the driver's hours: 8 h at the wheel with 11 h of rest in between, and half an
    hour of break in the work after the rest, on the road or at the site: 24.5 h before 18:00.
    """
    run = latest(ride((ANA,)))

    assert run.leaves == at(LONDON, "2027-03-17T17:30")
    assert run.end == thursday("18:00")
    assert run.gate in {thursday("12:30"), thursday("13:00")}
    (rest,) = [each for each in run.stretches if each.because is Because.DAILY_REST]
    assert rest.end - rest.start == timedelta(hours=11)
    assert run.first_duty_ends == rest.start


def test_who_is_late_on_board_rests_at_the_gate() -> None:
    """Left at 03:45, there at 12:30 after 8.75 h: 4.25 h are left of the duty, to 16:45.

    The rest of 11 h then ends at 03:45, the work at 08:00 to 08:45.
    """
    found = ride((ANA,))

    run = found.leaving(only(found), at(LONDON, "2027-03-18T03:45"))

    assert run is not None
    assert not run.kept
    assert worked(run.stretches, 1) == [
        (thursday("12:30"), thursday("16:45")),
        (at(LONDON, "2027-03-19T08:00"), at(LONDON, "2027-03-19T08:45")),
    ]


def own_way(minutes: int) -> Run:
    """The crew drives two hours in a van of its own to so much work before 18:00."""
    asked = journey(
        drive(180),
        inside(LegKind.ASSEMBLE, minutes),
        crew=(ANA,),
        travel=(drive(120),),
        travel_vehicles=(EquipmentId("van"),),
    )
    return latest(delivery(asked, TWO_DAYS))


def test_the_crew_on_its_own_way_is_there_when_work_begins() -> None:
    """Four hours of work from 14:00; two of driving before, by domestic hours: 12:00."""
    run = own_way(240)

    assert run.leaves == thursday("11:00")
    assert run.crew_from == thursday("12:00")
    assert [(each.doing, each.start, each.end) for each in run.travel] == [
        (Doing.DRIVE, thursday("12:00"), thursday("14:00"))
    ]
    assert run.first_duty_ends == run.back


def test_a_gate_that_only_has_to_be_open_takes_the_crew_a_quarter_as_well() -> None:
    """There at 14:30, past the gate in the quarter after; two hours of driving before: 12:30."""
    gate = inside(LegKind.WAIT, 0, opens=(shift("08:00", "18:00"),))
    asked = journey(
        drive(180),
        inside(LegKind.ARRIVE, 15),
        gate,
        inside(LegKind.ASSEMBLE, 180),
        crew=(ANA,),
        travel=(drive(120),),
        travel_vehicles=(EquipmentId("van"),),
    )

    run = latest(delivery(asked, TWO_DAYS))

    assert worked(run.stretches, 2) == [(thursday("14:45"), thursday("15:00"))]
    assert run.crew_from == thursday("12:30")


def test_a_day_of_driving_and_work_that_is_too_long_has_a_night_between() -> None:
    """9.5 h of work and two of driving are more than the eleven hours of DR13.

    Work begins at 08:00 (half an hour of break, 18:00), the rest at 21:00: driven till then.
    """
    run = own_way(570)

    assert worked(run.stretches, 1)[0][0] == thursday("08:00")
    assert run.crew_from == at(LONDON, "2027-03-17T19:00")
    assert run.travel[-1].end == at(LONDON, "2027-03-17T21:00")
    assert run.first_duty_ends == at(LONDON, "2027-03-17T21:00")


def test_a_hired_driver_helps_before_he_goes() -> None:
    """Unloading by the driver and the crew at once: one hour, then two more by the crew."""
    legs = (
        drive(60),
        inside(LegKind.UNLOAD, 60, driver_helps=True),
        inside(LegKind.ASSEMBLE, 120),
    )

    run = latest(delivery(journey(*legs, crew=(ANA,)), DAY))

    assert run.leaves == thursday("14:00")
    assert [(each.leg, each.doing, each.start, each.end) for each in run.stretches] == [
        (0, Doing.DRIVE, thursday("14:00"), thursday("15:00")),
        (1, Doing.WORK, thursday("15:00"), thursday("16:00")),
        (2, Doing.WORK, thursday("16:00"), thursday("18:00")),
    ]


def test_work_on_site_is_looked_for_where_it_has_two_hours_a_day() -> None:
    """Fifty hours are 25 days, and two weeks and an hour besides; common practice, no source."""
    asked = journey(drive(60), inside(LegKind.ASSEMBLE, 50 * 60), crew=(ANA,))
    job = a_job(windows=(DAY,))
    crew = Crew(asked_of(a_book(job), job, asked, DAY))

    assert crew.most_on_site(DAY.start) == timedelta(days=25 + 14, hours=1)
