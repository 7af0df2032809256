"""Cures as reckoned and by kind, recoat times, abrading and loads as the wall shows them."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from app.window.headline import State, headline
from app.window.wall.derive import Shown, derive
from app.window.wall.items import Role, Wall, minute_of
from app.words import Words
from scheduler.outcome import CheckResult, Outcome, Verdict
from shared.book import Abrade, Kind, Temperature
from shared.plan import Placement
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_placement,
    a_plan,
    a_segment,
    a_stage,
    a_way,
    a_workshop,
    at,
)

RUB = Abrade(ways=(a_way("rub", hours=3, skill="fill"),))


def a_shown(kind: Kind = Kind.PAINT, *, now: str = "2026-01-05 08:00", **changes: Any) -> Shown:
    """Give a primer on the fin, dried twelve hours and coloured within 48, which Friday ends."""
    primer = a_stage(
        "primer", kind, segments=("fin",), cure_hours=12, name="primer", in_one_go=True
    )
    primer = replace(primer, **{"recoat_hours": Decimal(48), "abrade": RUB, **changes})
    colour = a_stage("colour", Kind.PAINT, segments=("fin", "tail"), name="colour", in_one_go=True)
    job = a_job(
        "owl", segments=(a_segment("fin"), a_segment("tail")), steps=(primer, colour, a_gate())
    )
    cold = Temperature(
        months=tuple(range(1, 13)), day_celsius=Decimal(20), night_celsius=Decimal(10)
    )
    book = a_book(job, workshop=a_workshop(temperatures=(cold,)), as_of=at(now))
    placements = (
        at_work("primer", "2026-01-09 08:00", "2026-01-09 12:00"),
        at_work("colour", "2026-01-10 08:00", "2026-01-10 12:00"),
    )
    return Shown(book=book, now=at(now), plan=a_plan(book, placements=placements, trips=()))


def at_work(step: str, start: str, end: str, **changes: Any) -> Placement:
    return replace(a_placement(step, start, end, job="owl"), **changes)


def abraded(shown: Shown) -> Shown:
    """Give it with the colour after its recoat time, and the abrading before it."""
    assert shown.plan is not None
    first = shown.plan.placements[0]
    rub = at_work("colour", "2026-01-12 08:00", "2026-01-12 11:00", part="abrade", way="rub")
    colour = at_work("colour", "2026-01-12 12:00", "2026-01-12 15:00")
    return replace(shown, plan=replace(shown.plan, placements=(first, rub, colour)))


def wall_of(shown: Shown) -> Wall:
    return derive(shown, Words("en", book=shown.book))


def told(wall: Wall, item: str) -> str:
    found = wall.item(item)
    assert found is not None
    return found.description


VERBS = [
    (Kind.FOAM, "sets"),
    (Kind.LAMINATE, "cures"),
    (Kind.COAT, "cures"),
    (Kind.FILL, "sets"),
    (Kind.PAINT, "dries"),
    (Kind.LACQUER, "dries"),
    (Kind.PACK, "sets"),
]


@pytest.mark.parametrize(("kind", "verb"), VERBS)
def test_resin_cures_paint_dries_and_glue_sets(kind: Kind, verb: str) -> None:
    wall = wall_of(a_shown(kind))
    cure = wall.by_id["cure primer @fin"]

    assert (cure.label, cure.short) == (f"{verb} 12 h", "12 h")
    assert f" Then {verb} 12 hours, to Sat 10 Jan 00:00." in told(wall, "primer @fin")


def test_a_cure_is_as_long_as_it_is_reckoned() -> None:
    """Factor 2 for 10 degrees (figure PL07): eight hours to 20:00, then four at half the pace."""
    wall = wall_of(a_shown(cure_celsius=Decimal(20)))
    cure = wall.by_id["cure primer @fin"]

    assert (cure.start, cure.end) == (
        minute_of(at("2026-01-09 12:00")),
        minute_of(at("2026-01-10 04:00")),
    )
    assert cure.label == "dries 16 h"
    assert cure.recoat == (cure.end, minute_of(at("2026-01-11 12:00")))
    assert " Then dries 16 hours, to Sat 10 Jan 04:00." in told(wall, "primer @fin")
    waits = {wait.id: wait.start for row in wall.rows for wait in row.waits}
    assert waits["wait colour @fin"] == cure.end


@pytest.mark.parametrize(
    ("hours", "said"),
    [("0.25", "¼ hour"), ("1", "1 hour"), ("1.5", "1½ hours"), ("30", "30 hours")],
)
def test_hours_are_said_to_the_quarter(hours: str, said: str) -> None:
    wall = wall_of(a_shown(cure_hours=Decimal(hours)))

    assert f" Then dries {said}, to " in told(wall, "primer @fin")


def test_what_does_not_cure_has_no_hatch() -> None:
    wall = wall_of(a_shown(cure_hours=Decimal(0)))

    assert not [item for item in wall.items if item.role is Role.CURE]
    assert "Then" not in told(wall, "primer @fin")


def test_by_when_the_next_coat_comes_is_told() -> None:
    # A Sunday; the last working hours before it are on Friday.
    assert "Colour by Sun 11 Jan 12:00, so at the latest Fri 9 Jan." in told(
        wall_of(a_shown()), "primer @fin"
    )
    monday = wall_of(a_shown(recoat_hours=Decimal(72)))
    assert "Colour by Mon 12 Jan 12:00." in told(monday, "primer @fin")


def test_an_abrade_stage_stands_before_the_coat_and_says_why() -> None:
    wall = wall_of(abraded(a_shown()))
    rub = wall.by_id["colour abrade @fin"]

    assert (rub.role, rub.kind, rub.label) == (Role.BLOCK, Kind.FILL, "abrade")
    assert rub.name == "Fin, abrade before colour"
    assert not rub.is_one_go
    assert rub.description.startswith(
        "Fin, abrade before colour. Owl. Fill and sand, one person: Ana. "
        "Mon 12 Jan 08:00 to 11:00. "
    )
    assert "The recoat time of primer on Fin runs out Sun 11 Jan 12:00." in rub.description
    assert "Abraded before colour: its recoat time runs out Sun 11 Jan 12:00." in told(
        wall, "primer @fin"
    )


def test_a_recoat_time_that_is_over_is_said_to_be() -> None:
    wall = wall_of(abraded(a_shown(now="2026-01-11 13:00")))

    assert "The recoat time of primer on Fin ran out Sun 11 Jan 12:00." in told(
        wall, "colour abrade @fin"
    )
    assert "Abraded before colour: its recoat time ran out Sun 11 Jan 12:00." in told(
        wall, "primer @fin"
    )


def test_a_stage_of_several_pieces_stands_in_all_their_rows() -> None:
    wall = wall_of(a_shown())
    fin, tail = wall.by_id["colour @fin"], wall.by_id["colour @tail"]

    assert (fin.row, tail.row) == (0, 1)
    assert (fin.start, fin.end) == (tail.start, tail.end)


# The next dates.


def an_outcome(shown: Shown) -> Outcome:
    assert shown.plan is not None
    return Outcome(
        revision=shown.book.revision,
        now=shown.now,
        plan=shown.plan,
        check=CheckResult(),
        verdict=Verdict.FITS,
        levels=(0,) * 8,
        proved_levels=0,
        jobs=(),
        stopped="time",
    )


def next_dates(shown: Shown) -> str:
    words = Words("en", book=shown.book)
    state = State(book=shown.book, now=shown.now, outcome=an_outcome(shown))
    return "".join(text for text, _ in headline(state, derive(shown, words), words).next)


def test_a_coat_whose_recoat_time_runs_is_among_the_next_dates() -> None:
    assert "colour" not in next_dates(a_shown())
    # On Friday afternoon the coat is over: by the end of that day, the last one worked.
    assert next_dates(a_shown(now="2026-01-09 13:00")) == "Next  Owl: colour by Fri 9 Jan"
    assert "colour" not in next_dates(abraded(a_shown(now="2026-01-09 13:00")))
    assert "colour" not in next_dates(a_shown(now="2026-01-10 09:00"))


def test_without_a_plan_nothing_is_due() -> None:
    wall = wall_of(replace(a_shown(), plan=None))

    assert wall.dues == ()
    assert not [item for item in wall.items if item.role is Role.CURE]
