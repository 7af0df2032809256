"""Every code of a delivery has its words, and each wait its sentence."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from app.words import Words, deliver, legs
from shared.book import ArrangementState, LegKind
from shared.delivery.codes import Note, Trouble
from shared.journeys import BlankKind
from shared.notices.arrangements import Need
from shared.plan import Because, Doing
from shared.road.rules import RULE_SETS
from tests.builders import a_book, a_job, a_leg, a_site

WORDS = Words("en")


def test_every_code_has_its_words() -> None:
    assert set(deliver.WAITS) == {*Because, None}
    assert set(deliver.TROUBLES) == set(Trouble)
    assert set(deliver.NOTES) == set(Note) - {Note.STRICTER_RULES}
    assert set(deliver.STATES) == set(ArrangementState)
    assert set(deliver.WANTED) == {need.value for need in Need}
    assert set(deliver.SETS) == set(RULE_SETS)
    assert set(legs.LEGS) == set(LegKind)
    assert set(legs.BLANKS) == set(BlankKind)


@pytest.mark.parametrize("doing", sorted(set(Doing) - {Doing.REST}))
def test_all_that_is_done_is_said(doing: Doing) -> None:
    facts = {"hours": "2 h", "arrives": "08:15", "wheel": 0, "first": "1 h", "second": "1 h"}
    text = deliver.doing_line(WORDS, doing, a_leg(name="to the port"), dict(facts))
    assert text
    assert "…" not in text


@pytest.mark.parametrize(
    ("because", "rule", "said"),
    [
        (Because.BREAK, "DR01b", "break, 45 min [DR01b]"),
        (Because.DAILY_REST, "DR04a", "daily rest, 45 min [DR04a]"),
        (Because.BAN, "DR17a", "stands 45 min: lorries may not drive in Germany [DR17a]"),
        (Because.SAILING, "", "waits 45 min for the ship"),
        (None, "", "waits 45 min"),
    ],
)
def test_a_wait_is_said_with_the_figure_behind_it(
    because: Because | None, rule: str, said: str
) -> None:
    facts: dict[str, object] = {"hours": "45 min", "country": "Germany"}
    assert deliver.wait_line(WORDS, because, rule, facts) == said


def test_a_closed_site_is_said_by_what_shuts_it() -> None:
    leg = a_leg(LegKind.ASSEMBLE, name="assemble")
    assert deliver.closed_line(WORDS, leg, "4 h", "pavers") == (
        "waits 4 h: the site is others’ (pavers)"
    )
    assert deliver.closed_line(WORDS, leg, "4 h", "") == "waits 4 h: the site is shut"


def test_a_figure_is_told_with_its_number_and_source() -> None:
    assert deliver.rule_line(WORDS, "DR04a") == (
        "DR04a: regular daily rest, 11 h. Regulation (EC) 561/2006 Art. 4(g)."
    )
    assert deliver.rule_line(WORDS, "DR17a").startswith("DR17a: German ban start, 0 to 22 hour")
    assert deliver.rule_line(WORDS, "XX99") == "XX99"


def test_two_who_drive_in_turns_are_one_row() -> None:
    facts: dict[str, object] = {
        "hours": "2 h",
        "wheel": 3,
        "first": "1½ h",
        "second": "30 min",
    }
    said = deliver.doing_line(WORDS, Doing.DRIVE, a_leg(name="to the port"), facts)
    assert said == "to the port, 2 h in turns, 1½ h the first driver, 30 min the second"


def test_clocks_go_by_where_a_leg_happens() -> None:
    from shared.journeys.clocks import clocks_of

    site = a_site(zone="Europe/Oslo", country="NO", subdivision=None)
    job = a_job(site=site)
    book = a_book(job)
    road = (
        a_leg(country="GB"),
        a_leg(LegKind.SAILING),
        a_leg(country="DE", distance_km=Decimal(9)),
        a_leg(LegKind.UNLOAD, inside=True),
        a_leg(LegKind.RETURN),
    )
    clocks = clocks_of(book, job, road)
    assert [(clock.start, clock.end) for clock in clocks] == [
        ("Europe/London", "Europe/London"),
        ("Europe/London", "Europe/Berlin"),
        ("Europe/Berlin", "Europe/Berlin"),
        ("Europe/Oslo", "Europe/Oslo"),
        ("Europe/Oslo", "Europe/London"),
    ]


def test_rows_change_their_clock_with_the_place(capsys: pytest.CaptureFixture[str]) -> None:
    from app.cli.console import Console
    from app.cli.deliver_rows import Row, say_rows

    start = datetime(2027, 5, 10, 22, tzinfo=UTC)
    end = datetime(2027, 5, 11, 5, tzinfo=UTC)
    rows = [
        Row(zone="Europe/London", start=start, end=end, text="at sea"),
        Row(zone="Europe/Amsterdam", start=end, text="alongside"),
    ]
    say_rows(Console(), WORDS, rows, start.date())
    assert capsys.readouterr().out.splitlines() == [
        "  London time",
        "  Mon 10 May  23:00 to Tue 06:00  at sea",
        "  Amsterdam time",
        "  Tue 11 May  07:00               alongside",
    ]
