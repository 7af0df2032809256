"""Leave and closures from calendars: RFC 5545, sections 3.6.1 and 3.8.5.3, our own and others'."""

from datetime import UTC, date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import vobject

from app.exchange.bring.bringing import Judged, bring_calendar
from app.exchange.bring.cells import NoTable
from shared.book import Book
from tests.app.exchange.bring.made import a_book

LONDON = ZoneInfo("Europe/London")


def a_calendar(*events: str) -> bytes:
    inside = "".join(
        f"BEGIN:VEVENT\nUID:{at}\n{each}\nEND:VEVENT\n" for at, each in enumerate(events)
    )
    text = f"BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:x\n{inside}END:VCALENDAR\n"
    return text.replace("\n", "\r\n").encode()


def leave(*events: str) -> Judged:
    return bring_calendar(a_book(), "leave", a_calendar(*events), a_book().people[0])


def closures(*events: str) -> Judged:
    return bring_calendar(a_book(), "closures", a_calendar(*events), None)


def taken(found: Judged) -> Book:
    assert not found.troubles, found.troubles
    assert found.edited is not None
    return found.edited.book


def new_leave(found: Judged) -> list[tuple[datetime, datetime, str]]:
    before = a_book().people[0].leave
    after = taken(found).people[0].leave
    return [
        (e.start.astimezone(UTC), e.end.astimezone(UTC), e.reason) for e in after if e not in before
    ]


def midnight(day: int, month: int = 7) -> datetime:
    return datetime.combine(date(2027, month, day), time(0), LONDON).astimezone(UTC)


def test_whole_days_are_those_of_the_workshop_and_why_is_not_read() -> None:
    found = leave("DTSTART;VALUE=DATE:20270705\nDTEND;VALUE=DATE:20270710\nSUMMARY:broken arm")

    assert new_leave(found) == [(midnight(5), midnight(10), "")]
    assert "broken" not in repr(taken(found))


def test_a_day_alone_a_length_and_a_stretch_of_hours() -> None:
    found = leave(
        "DTSTART;VALUE=DATE:20270705",
        "DTSTART:20270706T090000Z\nDURATION:PT90M",
        "DTSTART:20270707T090000\nDTEND:20270707T110000",
    )

    assert new_leave(found) == [
        (midnight(5), midnight(6), ""),
        (datetime(2027, 7, 6, 9, tzinfo=UTC), datetime(2027, 7, 6, 10, 30, tzinfo=UTC), ""),
        (datetime(2027, 7, 7, 8, tzinfo=UTC), datetime(2027, 7, 7, 10, tzinfo=UTC), ""),
    ]


def test_what_comes_again_comes_again_without_what_was_left_out() -> None:
    found = leave(
        "DTSTART;VALUE=DATE:20270705\nRRULE:FREQ=WEEKLY;COUNT=4\nEXDATE;VALUE=DATE:20270712"
    )

    assert [start for start, _, _ in new_leave(found)] == [midnight(5), midnight(19), midnight(26)]


def test_what_was_called_off_is_not_taken_and_twice_is_once() -> None:
    event = "DTSTART;VALUE=DATE:20270705"
    found = leave(event, event, "DTSTART;VALUE=DATE:20270706\nSTATUS:CANCELLED")

    assert new_leave(found) == [(midnight(5), midnight(6), "")]


def test_closures_are_whole_days_with_their_names() -> None:
    found = closures("DTSTART;VALUE=DATE:20271224\nDTEND;VALUE=DATE:20280103\nSUMMARY:Winter")
    new = [c for c in taken(found).workshop.closures if c not in a_book().workshop.closures]

    assert [(c.first, c.last, c.name) for c in new] == [
        (date(2027, 12, 24), date(2028, 1, 2), "Winter")
    ]
    same = a_calendar("DTSTART;VALUE=DATE:20271224\nDTEND;VALUE=DATE:20280103")
    again = bring_calendar(taken(found), "closures", same, None)
    assert again.edited is None
    assert again.left_count == 1


@pytest.mark.parametrize(
    ("event", "code"),
    [
        ("DTSTART:20270705T090000Z\nDTEND:20270705T100000Z", "not_whole_days"),
        ("SUMMARY:nothing", "entry_without_start"),
        ("DTSTART;VALUE=DATE:20270705\nDTEND;VALUE=DATE:20270701", "entry_ends_first"),
        ("DTSTART:20270705T090000Z", "entry_ends_first"),
        ("DTSTART:yesterday", "broken_entry"),
        ("DTSTART;VALUE=DATE:20270705\nDTEND:20270706T100000Z", "broken_entry"),
    ],
)
def test_every_entry_that_can_t_be_taken_is_named_and_nothing_is_taken(
    event: str, code: str
) -> None:
    found = closures("DTSTART;VALUE=DATE:20271224", event, "DTSTART;VALUE=DATE:20271227", event)

    assert [(each.row, each.code) for each in found.troubles] == [(2, code), (4, code)]
    assert found.edited is None


@pytest.mark.parametrize(
    "data", [b"", b"name,skills\n", b"BEGIN:VCALENDAR\r\n", b"\xff\xfe\x00", a_calendar()]
)
def test_what_is_no_calendar_says_so(data: bytes) -> None:
    with pytest.raises(NoTable):
        bring_calendar(a_book(), "closures", data, None)


def test_a_calendar_that_another_library_wrote_is_taken() -> None:
    made = vobject.iCalendar()
    event: Any = made.add("vevent")
    event.add("dtstart").value = datetime(2027, 7, 5, 9, tzinfo=vobject.icalendar.utc)
    event.add("dtend").value = datetime(2027, 7, 5, 17, tzinfo=vobject.icalendar.utc)
    found = bring_calendar(a_book(), "leave", made.serialize().encode(), a_book().people[0])

    assert new_leave(found) == [
        (datetime(2027, 7, 5, 9, tzinfo=UTC), datetime(2027, 7, 5, 17, tzinfo=UTC), "")
    ]
