"""Notices and papers in words: every code, every way of counting, and who has the last word."""

from datetime import datetime

import pytest

from app.notices_json import due_object, job_dues
from app.words import Words
from app.words import notices as say
from shared.book import Before, Counted
from shared.ids import JobId, StepId
from shared.notices import Due, Paper
from shared.notices.values import LEGAL, Receiver
from tests.books.plain import small
from tests.builders import at, on
from tests.shared.notices.test_papers import to_france
from tests.shared.notices.test_roads import moved

TODAY = on("2026-12-01")


def a_due(code: Paper = Paper.CARNET, **changes: object) -> Due:
    usual = {
        "id": str(code),
        "code": code,
        "job": JobId("heron"),
        "journey": StepId("heron-journey"),
        "by": on("2026-12-22"),
        "before": Before.DEPARTURE,
        "at": at("2026-12-29 06:00"),
        "lead": 2,
        "counted": Counted.CLEAR_WORKING_DAYS,
        "receiver": Receiver(zone="Europe/London", country="GB", subdivision="ENG"),
    }
    return Due(**{**usual, **changes})  # type: ignore[arg-type]


def test_every_paper_has_a_name() -> None:
    assert set(say.NAMES) == {paper.value for paper in Paper}
    assert set(say.MORE_OF) <= set(say.NAMES)


@pytest.mark.parametrize("code", list(Paper))
def test_a_paper_is_said_whole(code: Paper) -> None:
    line = say.due_line(Words("en"), a_due(code, name="Slip" if code is Paper.OWN else ""), TODAY)

    assert "…" not in line
    assert line[0].isupper()
    assert ("Open the current text." in line) == (code in LEGAL)


@pytest.mark.parametrize(
    ("counted", "lead", "expected"),
    [
        (Counted.CLEAR_WORKING_DAYS, 2, "two clear working days before it is on the road"),
        (Counted.CLEAR_WORKING_DAYS, 1, "a clear working day before"),
        (Counted.WORKING_DAYS, 3, "three working days before"),
        (Counted.WEEKS, 10, "ten weeks before"),
        (Counted.DAYS, 1, "a day before"),
        (Counted.HOURS, 48, "48 hours before"),
    ],
)
def test_how_long_before_what(counted: Counted, lead: int, expected: str) -> None:
    assert expected in say.due_line(Words("en"), a_due(counted=counted, lead=lead), TODAY)


def test_a_wide_load_says_its_width_and_the_limit() -> None:
    due = moved("3").dues()["road_notice"]

    assert say.due_line(Words("en"), due, TODAY) == (
        "Notice of the abnormal load to police and road authorities: by Tue 22 Dec, two clear "
        "working days before it is on the road, Tue 29 Dec 06:00. Heron-torso is 3100 mm wide as "
        "it is moved; 2900 mm are free. Open the current text."
    )


def test_dangerous_goods_are_left_to_data_sheet_and_line_and_lifts_to_the_competent() -> None:
    dangerous = say.due_line(Words("en"), a_due(Paper.FERRY_DANGEROUS), TODAY)
    lift = say.due_line(Words("en"), a_due(Paper.LIFTING_PLAN), TODAY)

    assert "declare them, send them ahead or leave them; data sheet and line decide" in dangerous
    assert "UN 1866" in dangerous
    assert "A competent person plans and decides on every lift." in lift


def test_what_has_no_source_says_so() -> None:
    found = to_france().dues()

    assert say.is_practice(found["method_statement"])
    assert not say.is_practice(found["carnet"])
    assert "common practice" in say.due_line(Words("en"), found["method_statement"], TODAY)


def test_what_is_past_says_by_how_much_and_what_is_given_when() -> None:
    words = Words("en")

    late = say.due_line(words, a_due(is_over=True, late_days=2), TODAY)
    today = say.due_line(words, a_due(is_over=True), TODAY)
    given = say.due_line(words, a_due(done=on("2026-12-03")), TODAY)

    assert "That was two days ago." in late
    assert "That is over today." in today
    assert given.startswith("Carnet for the tools that come back: given Thu 3 Dec.")


def test_an_instant_is_by_the_clock_of_the_office() -> None:
    receiver = Receiver(zone="Europe/Paris", country="FR")
    due = a_due(by=at("2026-12-22 11:00"), counted=Counted.HOURS, receiver=receiver)

    assert isinstance(due.by, datetime)
    assert "by Tue 22 Dec 12:00 Paris time" in say.due_line(Words("en"), due, TODAY)


def test_a_list_has_a_line_for_each_day_and_leaves_out_what_is_given() -> None:
    found = [
        a_due(),
        a_due(Paper.PASSES),
        a_due(Paper.INSURANCE, done=on("2026-12-01")),
        a_due(Paper.FIRE_TEST, by=on("2026-11-20"), is_over=True, late_days=11),
    ]
    lines = say.soon_lines(Words("en"), found, TODAY)

    assert lines[:2] == [
        "Fri 20 Nov  heron: specimen to the fire-test laboratory; that day is past.",
        "Tue 22 Dec  heron: carnet for the tools that come back and passes for the crew asked for.",
    ]
    assert lines[2] == Words("en").say(say.LAST_WORD)
    assert say.soon_lines(Words("en"), [found[2]], TODAY) == []


def test_a_long_list_is_cut_short() -> None:
    found = [a_due(by=on(f"2026-12-{day:02}")) for day in range(1, 12)]
    lines = say.soon_lines(Words("en"), found, TODAY)

    assert len(lines) == say.TOLD_COUNT + 2
    assert lines[-2] == "Three more with --json."


def test_crew_reminders_name_who_and_until_when() -> None:
    line = say.due_line(Words("en"), to_france().dues()["passport"], TODAY)
    stay = say.due_line(Words("en"), to_france().dues()["stay"], TODAY)

    assert "They must be good until Wed 12 Aug." in line
    assert "No passport is written for ana." in line
    assert "Of 90 days in any 180 the plan takes 2; days outside it count as well." in stay


def test_programs_get_codes_days_and_instants() -> None:
    found = to_france().dues()
    clearance, carnet = due_object(found["import_clearance"]), due_object(found["carnet"])

    assert (carnet["by"], carnet["code"], carnet["figures"]) == ("2026-05-07", "carnet", ["TR18a"])
    assert clearance["by"] == "2026-05-10T03:30:00Z"
    assert (clearance["because"], clearance["is_legal"]) == ({"from": "GB", "into": "FR"}, True)


def test_a_book_whose_jobs_are_quiet_imports_and_says_nothing() -> None:
    once = to_france()

    assert job_dues(small(), (), at("2026-01-05 08:00")) == {}
    assert job_dues(small(), once.trips, at("2026-01-05 08:00")) == {}
    assert set(job_dues(once.book, once.trips, at("2026-01-05 08:00"))) == {"heron"}
