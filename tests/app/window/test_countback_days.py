"""The last days of a job: rests and waits within its legs, how long the days of its crew are."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache

import pytest
from PySide6.QtCore import QRect
from PySide6.QtWidgets import QApplication

from app.window.countback.chain_part import month_names
from app.window.countback.duty import LEAST_REST, LONGEST_DAY
from app.window.countback.journey import LastDays, last_days
from app.window.countback.journey_part import JourneyPart, Label, label_width, stem_x
from app.window.countback.ladder import ladder
from app.window.countback.ladder_part import columns_at
from app.window.countback.one_job import OneJob, in_turn, one_job
from app.window.fonts import text_width
from app.window.wall.derive import Shown
from app.words import Words
from shared.book import Journey
from shared.plan import Because, Doing, LegTime, Placement, Stretch
from tests.app.window.scenes import outcome_for, planted

HOUR = timedelta(hours=1)
EIGHT = datetime(2027, 3, 8, 8, tzinfo=UTC)
"""A Monday."""


@lru_cache(maxsize=1)
def base() -> tuple[OneJob, Words]:
    made = planted()
    words = Words("en", book=made.book)
    outcome = outcome_for(made)
    shown = Shown(book=made.book, now=made.now, plan=made.plan, outcome=outcome)
    return one_job(shown, in_turn(shown)[0], words), words


def gone(
    *done: tuple[Doing, float, float, Because | None], zone: str = "", bench: bool = False
) -> tuple[LastDays, Words]:
    """Give the last days of a journey whose stretches lie so many hours after Monday 08:00.

    bench: its crew stand at the bench from 08:00 to noon as well.
    """
    one, words = base()
    assert one.plan is not None
    journey = next(s for s in one.job.steps if isinstance(s, Journey))
    first, last = EIGHT + done[0][1] * HOUR, EIGHT + done[-1][2] * HOUR
    legs = [LegTime(start=last, end=last) for _ in journey.legs]
    legs[0] = LegTime(start=first, end=last)
    trip = replace(
        one.plan.trips[0],
        start=first,
        end=last,
        back=last,
        free=last,
        legs=tuple(legs),
        travel=(),
        crew_from=None,
        stretches=tuple(
            Stretch(doing=what, leg=0, start=EIGHT + a * HOUR, end=EIGHT + b * HOUR, because=why)
            for what, a, b, why in done
        ),
    )
    crew = one.shown.book.people[0].id
    job = replace(
        one.job,
        steps=tuple(replace(s, crew=(crew,)) if s is journey else s for s in one.job.steps),
        site=replace(one.job.site, zone=zone or one.job.site.zone),
    )
    placed: tuple[Placement, ...] = ()
    if bench:
        step = one.plan.placements[0]
        placed = (replace(step, people=(crew,), start=EIGHT, end=EIGHT + 4 * HOUR),)
    plan = replace(one.plan, trips=(trip,), placements=())
    shown = replace(one.shown, plan=replace(plan, placements=placed))
    found = last_days(replace(one, job=job, plan=plan, shown=shown), words)
    assert found is not None
    return found, words


DRIVE, WORK, REST = Doing.DRIVE, Doing.WORK, Doing.REST


def test_breaks_and_waits_within_a_leg_are_told_with_their_reason() -> None:
    found, _ = gone(
        (DRIVE, 0, 4, None),
        (REST, 4, 4.75, Because.BREAK),
        (DRIVE, 4.75, 6, None),
        (REST, 6, 7, Because.SAILING),
        (WORK, 7, 8, None),
    )
    rests = [each for each in found.stretches if each.is_rest]
    assert [each.name for each in rests] == ["break, 45 min", "waits 1 h for the ship"]
    assert [each.end - each.start for each in rests] == [45, 60]


def test_what_lies_between_two_legs_takes_its_time_too() -> None:
    one, words = base()
    assert one.plan is not None
    trip = one.plan.trips[0]
    second = trip.legs[1]
    later = replace(second, start=second.start + HOUR, end=second.end + HOUR)
    moved = replace(trip, legs=(trip.legs[0], later, *trip.legs[2:]), stretches=())
    found = last_days(replace(one, plan=replace(one.plan, trips=(moved,))), words)
    assert found is not None
    assert [each.name for each in found.stretches if each.is_rest] == ["waits 1 h"]


@pytest.mark.parametrize(
    ("rest", "days"), [(LEAST_REST - HOUR / 4, 1), (LEAST_REST, 2), (11 * HOUR, 2)]
)
def test_only_a_rest_parts_two_days(rest: timedelta, days: int) -> None:
    """Nine hours: a reduced daily rest, regulation (EC) 561/2006, article 4 (g)."""
    hours = rest / HOUR
    found, _ = gone(
        (DRIVE, 0, 3, None),
        (REST, 3, 3 + hours, Because.DAILY_REST),
        (WORK, 3 + hours, 5 + hours, None),
    )
    duty = found.duties[0]
    assert sum(not each.is_rest for each in duty.stints) == days
    assert sum(each.is_rest for each in duty.stints) == days - 1


def test_a_long_day_says_so() -> None:
    """A rest of 11 hours in every 24 leaves 13: directive 2003/88/EC, article 3."""
    assert timedelta(hours=24) - 11 * HOUR == LONGEST_DAY
    found, _ = gone((DRIVE, 0, 4, None), (WORK, 4, 13, None))
    assert found.duties[0].text.endswith(": a day of 13 h.")
    found, _ = gone((DRIVE, 0, 4, None), (WORK, 4, 13.25, None))
    assert found.duties[0].text.endswith(": a day of 13¼ h, more than 13.")


def test_the_bench_before_the_road_is_of_the_same_day() -> None:
    """Whoever works till Monday noon and drives from two on has one day, not two."""
    found, _ = gone((DRIVE, 6, 9, None), (WORK, 9, 10, None))
    assert found.duties[0].text.endswith(": a day of 4 h.")
    found, _ = gone((DRIVE, 6, 9, None), (WORK, 9, 10, None), bench=True)
    assert found.duties[0].text.endswith(": a day of 10 h.")


def test_a_clock_that_is_not_the_workshops_is_named() -> None:
    usual, _ = gone((DRIVE, 0, 4, None))
    assert "time" not in usual.zone_line
    far, _ = gone((DRIVE, 0, 4, None), zone="Europe/Lisbon")
    assert "Lisbon" not in far.zone_line, "Lisbon and London show the same hour"
    far, _ = gone((DRIVE, 0, 4, None), zone="Europe/Amsterdam")
    assert "Amsterdam time" in far.zone_line


@pytest.mark.parametrize("width", [700, 1100])
def test_rests_and_days_are_drawn_inside_and_read_out(prepared: QApplication, width: int) -> None:
    found, words = gone(
        (DRIVE, 0, 4, None),
        (REST, 4, 16, Because.CLOSED),
        (WORK, 16, 20, None),
    )
    part = JourneyPart()
    part.show_days(found, words)
    part.resize(width, part.height_at(width))
    spots = part.spots_at(width)
    ids = {spot.id.split()[0] for spot in spots}
    assert {"rest", "day"} <= ids
    for spot in spots:
        assert 0 <= spot.rect.left() <= spot.rect.right() < width
        assert spot.rect.bottom() < part.height_at(width)
    part.grab()
    part.close()


def test_months_of_the_chain_stand_apart_and_the_first_has_its_year(
    prepared: QApplication,
) -> None:
    words = base()[1]
    days = [(16, date(2027, 2, 28)), (68, date(2027, 3, 1)), (600, date(2027, 4, 1))]
    assert month_names(words, days) == [(68, "March 2027"), (600, "April")]
    far = [(16, date(2026, 12, 20)), (300, date(2027, 1, 1)), (700, date(2027, 2, 1))]
    assert [name for _, name in month_names(words, far)] == [
        "December 2026",
        "January 2027",
        "February",
    ]


def test_the_yard_may_be_left_when_loading_must_be_over() -> None:
    one, words = base()
    assert one.told is not None
    assert one.plan is not None
    leaves = one.plan.trips[0].start
    for latest, spare in ((leaves + HOUR, None), (leaves - 2 * HOUR, True)):
        told = replace(one.told, latest_loading=latest)
        rung = next(r for r in ladder(replace(one, told=told), words) if r.id.endswith(" 0"))
        assert rung.what == "leave the yard"
        assert rung.at == latest
        assert rung.latest
        assert (rung.spare_minutes is None) == (spare is None)
        assert rung.spare_minutes is None or rung.spare_minutes < 0


def test_lines_to_far_words_run_past_near_ones(prepared: QApplication) -> None:
    found, _ = gone((DRIVE, 0, 4, None), (REST, 4, 16, Because.CLOSED), (WORK, 16, 20, None))
    stretch = found.stretches[-1]
    far = Label(stretch=stretch, x=100, lane=2)
    wide = label_width(stretch)
    rect = QRect(100, 50, 40, 20)
    assert stem_x(Label(stretch=stretch, x=100, lane=1), (), rect) is None
    assert stem_x(far, (far,), rect) == rect.center().x()
    beside = Label(stretch=stretch, x=rect.center().x() - 2 - wide, lane=1)
    moved = stem_x(far, (far, beside), rect)
    assert moved is not None
    assert moved > beside.x + wide
    assert stem_x(far, (far, Label(stretch=stretch, x=90, lane=1)), rect) is None
    below = Label(stretch=stretch, x=90, lane=-1)
    assert stem_x(far, (far, below), rect) == rect.center().x()


@pytest.mark.parametrize("width", [400, 464])
def test_how_late_it_is_never_touches_the_dates_beside(prepared: QApplication, width: int) -> None:
    widest = round(text_width("12½ days late", 13, 600))
    columns = columns_at(width, widest)
    before = columns.latest if columns.planned is None else columns.planned
    assert columns.spare - widest > before + 8
    assert columns.what < columns.latest
    assert columns_at(width).spare == columns.spare
