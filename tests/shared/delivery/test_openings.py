"""When a leg may be worked on; all hours by hand."""

from datetime import date

from shared.book import LegKind
from shared.delivery.openings import openings_of
from shared.worktime import Span, Spans
from tests.builders import a_leg, a_site, an_equipment
from tests.shared.delivery.journeys import LONDON, at, booked, inside, shift, window

START, END = at(LONDON, "2027-03-15T00:00"), at(LONDON, "2027-03-19T00:00")
WEEK = window(LONDON, "2027-03-16T10:00", "2027-03-17T16:00", shift("08:00", "18:00"))


def spans(*pairs: tuple[str, str]) -> Spans:
    return tuple(Span(start=at(LONDON, a), end=at(LONDON, b)) for a, b in pairs)


def test_a_leg_without_hours_is_open_at_any_time() -> None:
    assert openings_of(a_leg(LegKind.UNLOAD), a_site(), WEEK, START, END) is None


def test_inside_means_the_access_hours_from_the_windows_start_on_and_after_its_end() -> None:
    found = openings_of(inside(LegKind.UNLOAD, 60), a_site(), WEEK, START, END)

    assert found == spans(
        ("2027-03-16T10:00", "2027-03-16T18:00"),
        ("2027-03-17T08:00", "2027-03-17T18:00"),
        ("2027-03-18T08:00", "2027-03-18T18:00"),
    )


def test_other_trades_and_slots_and_own_hours_are_taken_off() -> None:
    blocked = window(
        LONDON,
        "2027-03-16T10:00",
        "2027-03-17T16:00",
        shift("08:00", "18:00"),
        blocked=(booked(LONDON, "2027-03-16T12:00", "2027-03-16T14:00"),),
    )
    leg = inside(
        LegKind.LIFT,
        60,
        slots=(booked(LONDON, "2027-03-16T09:00", "2027-03-16T16:00"),),
        opens=(shift("11:00", "15:30"),),
    )

    assert openings_of(leg, a_site(), blocked, START, END) == spans(
        ("2027-03-16T11:00", "2027-03-16T12:00"), ("2027-03-16T14:00", "2027-03-16T15:30")
    )


def test_hours_over_midnight_belong_to_the_day_they_open() -> None:
    """Mondays only: the night of Monday 15 March goes on into Tuesday."""
    nights = window(LONDON, "2027-03-15T00:00", "2027-03-19T00:00", shift("22:00", "05:00", (0,)))

    found = openings_of(inside(LegKind.ASSEMBLE, 60), a_site(), nights, START, END)

    assert found == spans(("2027-03-15T22:00", "2027-03-16T05:00"))


def test_a_holiday_shuts_a_border_in_its_own_country_only() -> None:
    """17 May is Constitution Day in Norway; in Great Britain a Monday like any other (2027)."""
    first, last = at(LONDON, "2027-05-17T00:00"), at(LONDON, "2027-05-18T00:00")
    border = a_leg(LegKind.BORDER, 60, opens=(shift("08:00", "16:00"),), zone="Europe/Oslo")

    def hours(country: str) -> Spans | None:
        leg = a_leg(
            LegKind.BORDER,
            60,
            opens=border.opens,
            zone=border.zone,
            country=country,
        )
        return openings_of(leg, a_site(), WEEK, first, last)

    assert hours("NO") == ()
    assert hours("GB") == spans(("2027-05-17T07:00", "2027-05-17T15:00"))


def test_a_crane_is_used_while_its_test_holds_and_it_is_not_booked() -> None:
    crane = an_equipment(
        "crane",
        test_due=date(2027, 3, 16),
        bookings=(booked(LONDON, "2027-03-15T08:00", "2027-03-15T12:00"),),
    )

    found = openings_of(
        a_leg(LegKind.LIFT), a_site(), WEEK, START, END, held=(crane,), workshop_zone=LONDON
    )

    assert found == spans(
        ("2027-03-15T00:00", "2027-03-15T08:00"), ("2027-03-15T12:00", "2027-03-17T00:00")
    )


def test_a_booking_that_ends_when_or_before_it_begins_books_nothing() -> None:
    crane = an_equipment(
        "crane",
        bookings=(
            booked(LONDON, "2027-03-15T08:00", "2027-03-15T08:00"),
            booked(LONDON, "2027-03-15T12:00", "2027-03-15T09:00"),
        ),
    )

    found = openings_of(a_leg(LegKind.LIFT), a_site(), WEEK, START, END, held=(crane,))

    assert found == (Span(start=START, end=END),)


def test_of_two_cranes_one_may_be_booked() -> None:
    cranes = an_equipment(
        "crane",
        count=2,
        bookings=(
            booked(LONDON, "2027-03-15T08:00", "2027-03-15T12:00"),
            booked(LONDON, "2027-03-15T11:00", "2027-03-15T14:00"),
        ),
    )

    found = openings_of(a_leg(LegKind.LIFT), a_site(), WEEK, START, END, held=(cranes,))

    assert found is not None
    assert found[0] == spans(("2027-03-15T00:00", "2027-03-15T11:00"))[0]
    assert found[1].start == at(LONDON, "2027-03-15T12:00")
