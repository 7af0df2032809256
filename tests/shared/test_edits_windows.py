"""A window that moves takes along what hangs on it, by the site's clock; arrangements; notices.

Clock changes: Directive 2000/84/EC, arts 2 and 3 (28 March 2027 at 01:00 UTC).
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shared.book import (
    Arrangement,
    ArrangementState,
    Book,
    Booking,
    Counted,
    Journey,
    LegKind,
    Notice,
)
from shared.edits import (
    LABELS,
    NoSuchThing,
    add_arrangement,
    give_notice,
    move_window,
    set_arrangement,
)
from shared.ids import JobId, WindowId
from tests.builders import a_book, a_job, a_journey, a_leg, a_shift, a_window, at

HERON = JobId("heron")
DAY_TWO = Booking(start=at("2027-03-23 08:00"), end=at("2027-03-23 10:00"), name="gate")
BEFORE = Booking(start=at("2027-03-20 08:00"), end=at("2027-03-20 10:00"), name="yard")


def a_windowed_book(**changes: object) -> Book:
    """A window of the week before the clock changes in London."""
    window = a_window(
        "held",
        start="2027-03-22 08:00",
        end="2027-03-26 18:00",
        access=(a_shift(),),
        blocked=(DAY_TWO, BEFORE),
    )
    legs = (
        a_leg(),
        a_leg(LegKind.UNLOAD, slots=(DAY_TWO, BEFORE), inside=True),
    )
    job = a_job(
        windows=(a_window("other", start="2027-05-03 08:00", end="2027-05-07 18:00"), window),
        window=WindowId("held"),
        steps=(a_journey("heron-journey", legs),),
    )
    return a_book(replace(job, **changes))  # type: ignore[arg-type]


def legs_of(book: Book) -> tuple[Booking, ...]:
    (journey,) = book.jobs[0].steps
    assert isinstance(journey, Journey)
    return journey.legs[1].slots


def test_the_held_window_moves_and_its_hours_stay() -> None:
    book = a_windowed_book()
    edited = move_window(book, HERON, at("2027-04-05 08:00"), at("2027-04-08 18:00"))
    other, held = edited.book.jobs[0].windows

    assert (held.start, held.end) == (at("2027-04-05 08:00"), at("2027-04-08 18:00"))
    assert held.access == book.jobs[0].windows[1].access
    assert other == book.jobs[0].windows[0]
    assert edited.book.revision == book.revision + 1
    assert edited.changed.jobs == {HERON}
    assert (edited.label.code, edited.label.facts) == ("move_window", (("name", "Heron"),))


def test_slots_and_blocked_stretches_shift_by_the_clock_of_the_site() -> None:
    # 08:00 UTC is 8 o'clock before the change, and 7 o'clock in UTC after it.
    start, end = at("2027-04-05 07:00"), at("2027-04-09 17:00")
    made = move_window(a_windowed_book(), HERON, start, end).book
    new = replace(DAY_TWO, start=at("2027-04-06 07:00"), end=at("2027-04-06 09:00"))

    assert made.jobs[0].windows[1].blocked == (new, BEFORE)
    assert legs_of(made) == (new, BEFORE)


def test_a_window_that_only_ends_later_shifts_nothing() -> None:
    book = a_windowed_book()
    made = move_window(book, HERON, at("2027-03-22 08:00"), at("2027-03-27 18:00")).book

    assert legs_of(made) == legs_of(book)
    assert made.jobs[0].windows[1].blocked == book.jobs[0].windows[1].blocked


def test_notices_that_name_the_date_count_as_not_given() -> None:
    notices = tuple(
        Notice(id=name, name=name, lead=2, counted=Counted.DAYS, done=date(2027, 3, 1))
        for name in ("road_notice", "insurance")
    )
    book = a_windowed_book(notices=notices)
    made = move_window(
        book, HERON, at("2027-04-05 08:00"), at("2027-04-08 18:00"), ("road_notice",)
    ).book

    assert [each.done for each in made.jobs[0].notices] == [None, date(2027, 3, 1)]


def test_what_is_not_there_is_refused() -> None:
    when = at("2027-04-05 08:00"), at("2027-04-08 18:00")
    with pytest.raises(NoSuchThing):
        move_window(a_windowed_book(), JobId("otter"), *when)
    with pytest.raises(NoSuchThing):
        move_window(a_windowed_book(window=WindowId("none")), HERON, *when)
    with pytest.raises(NoSuchThing):
        set_arrangement(a_windowed_book(), HERON, "crane", ArrangementState.ASKED)


def test_an_arrangement_is_written_asked_and_booked() -> None:
    crane = Arrangement(id="crane", what="crane", name="the big crane", cost_after=Decimal(9))
    book = add_arrangement(a_windowed_book(), HERON, crane).book
    book = add_arrangement(book, HERON, crane).book
    times = (at("2027-03-23 08:00"), at("2027-03-23 12:00"))
    edited = set_arrangement(book, HERON, "crane", ArrangementState.BOOKED, "K 17", times)
    first, second = edited.book.jobs[0].arrangements

    assert (first.id, second.id) == ("crane", "crane-2")
    assert (first.state, first.reference) == (ArrangementState.BOOKED, "K 17")
    assert (first.start, first.end) == times
    assert second == replace(crane, id="crane-2")
    assert dict(edited.label.facts)["what"] == "the big crane"
    again = set_arrangement(edited.book, HERON, "crane", ArrangementState.ASKED).book
    assert again.jobs[0].arrangements[0].reference == "K 17"
    assert again.jobs[0].arrangements[0].start == times[0]


def test_a_notice_is_given_once_and_taken_back() -> None:
    notice = Notice(id="carnet", name="", lead=2, counted=Counted.WORKING_DAYS)
    book = give_notice(a_windowed_book(), HERON, notice, date(2027, 3, 1)).book
    assert book.jobs[0].notices == (replace(notice, done=date(2027, 3, 1)),)

    taken_back = give_notice(book, HERON, notice, None).book
    assert taken_back.jobs[0].notices == (notice,)


def test_every_label_is_known() -> None:
    known = {"move_window", "add_arrangement", "set_arrangement", "give_notice"}

    assert known <= set(LABELS)
