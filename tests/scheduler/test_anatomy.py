"""What days are spent on: worked by hand, exact whatever the plan, and worth found by leaving out.

The table of one job through a lacquer session was worked out by hand and by a search of unit
steps: useful hours as long as the shift, no watch after laminating, lunch not bridged.
"""

from datetime import datetime
from decimal import Decimal
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from scheduler.calendar import Index
from scheduler.kept import Kept
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.why.anatomy import anatomy
from scheduler.why.chain_links import LinkKind, Then
from scheduler.why.day_classes import Class
from scheduler.why.deciding import Deciding
from scheduler.why.worth import Worth, worth_of, worth_of_class
from shared.book import Book, Kind, OtherWork
from shared.files.read import read_book
from shared.ids import JobId, PersonId
from shared.units import instant_of
from shared.worktime import Shift
from tests.builders import (
    SKILLS,
    a_book,
    a_break,
    a_job,
    a_person,
    a_shift,
    a_stage,
    a_window,
    a_workshop,
    an_other_work,
    at,
)

MONDAY = at("2027-03-01 08:00")
HERON = JobId("heron")
HOUR = 60


def a_shop() -> tuple[Shift, ...]:
    return (a_shift("08:00", "17:00", breaks=(a_break("12:00", "13:00"),)),)


def a_lacquered_piece(*works: OtherWork) -> Book:
    steps = (
        a_stage("carve", hours=16),
        a_stage("barrier", Kind.LAMINATE, hours=4, in_one_go=True, cure_hours=24),
        a_stage("lay-up", Kind.LAMINATE, hours=4, in_one_go=True, cure_hours=48),
        a_stage("sand", Kind.FILL, hours=6),
        a_stage("lacquer", Kind.LACQUER, hours=3, in_one_go=True, cure_hours=72),
        a_stage("pack", Kind.PACK, hours=4),
    )
    window = a_window(start="2027-03-01 00:00", end="2027-03-15 11:00")
    bench = tuple(skill for skill in SKILLS if skill != "lacquer")
    return a_book(
        a_job(steps=steps, windows=(window,)),
        as_of=MONDAY,
        workshop=a_workshop(
            shifts=a_shop(),
            useful_hours=Decimal(8),
            watch_minutes=0,
            bridged_break_minutes=0,
        ),
        people=(a_person("ana", bench), a_person("tom", ("lacquer",))),
        other_work=works,
    )


def the_painters_other_job() -> OtherWork:
    return an_other_work(
        "crates",
        name="Varnish crates",
        start=at("2027-03-08 08:00"),
        end=at("2027-03-09 12:00"),
        people=(PersonId("tom"),),
    )


@cache
def deciding(book: Book) -> Deciding:
    kept = Kept()
    assert book.as_of is not None
    solve(SolveRequest(book=book, now=book.as_of, effort=1), kept=kept)
    assert kept.before is not None
    return Deciding(kept.before.normal, kept.before.schedule, Index(kept.before.normal.problem))


def placed(found: Deciding, step: str) -> tuple[datetime, datetime]:
    (stage,) = (at for at, name in enumerate(found.normal.stages) if name.step == step)
    moments = found.soon.starts[stage], found.soon.ends[stage]
    start, end = (instant_of(found.normal.origin, moment) for moment in moments)
    return start, end


def hours(found: Deciding) -> dict[Class, float]:
    minutes = anatomy(found, HERON).minutes
    return {what: minutes[what] / HOUR for what in minutes if minutes[what]}


@pytest.mark.parametrize(
    ("step", "start", "end"),
    [
        ("carve", "2027-03-01 08:00", "2027-03-02 17:00"),
        ("barrier", "2027-03-03 08:00", "2027-03-03 12:00"),
        ("lay-up", "2027-03-04 13:00", "2027-03-04 17:00"),
        ("sand", "2027-03-08 08:00", "2027-03-08 15:00"),
        ("lacquer", "2027-03-09 13:00", "2027-03-09 16:00"),
        ("pack", "2027-03-12 16:00", "2027-03-15 11:00"),
    ],
)
def test_the_steps_are_where_they_were_worked_out_to_be(step: str, start: str, end: str) -> None:
    found = deciding(a_lacquered_piece(the_painters_other_job()))

    assert placed(found, step) == (at(start), at(end))


def test_the_days_are_spent_as_worked_out() -> None:
    """339 h in all: work 37, cure 144, people 6, nights and weekends 152."""
    found = deciding(a_lacquered_piece(the_painters_other_job()))

    assert hours(found) == {
        Class.WORK: 37,
        Class.CURE: 144,
        Class.PEOPLE: 6,
        Class.NIGHTS: 152,
    }
    assert anatomy(found, HERON).elapsed_minutes == 339 * HOUR


def test_without_the_painters_other_job_two_hours_are_the_end_of_a_shift() -> None:
    """272 h in all, packed on Friday at 16:00: work 37, cure 144, nights 89, shift end 2."""
    found = deciding(a_lacquered_piece())

    by_loading = hours(found)
    slack = by_loading.pop(Class.SLACK)
    assert by_loading == {
        Class.WORK: 37,
        Class.CURE: 144,
        Class.NIGHTS: 89,
        Class.SHIFT_END: 2,
    }
    assert placed(found, "pack")[1] == at("2027-03-12 16:00")
    assert slack == 339 - 272


def test_six_hours_of_waiting_for_the_painter_are_worth_67() -> None:
    found = deciding(a_lacquered_piece(the_painters_other_job()))
    (link,) = (each for each in found.chain(HERON) if each.kind is LinkKind.PERSON)

    assert (link.id, link.step, link.then) == ("tom", "lacquer", Then.OFF)
    assert dict(link.facts)["work"] == "Varnish crates"
    worth = Worth(elapsed_minutes=67 * HOUR, working_minutes=4 * HOUR)
    assert worth_of(found, HERON, link) == worth
    assert worth_of_class(found, HERON, Class.PEOPLE) == worth


def test_the_chain_begins_with_what_nobody_here_can_change() -> None:
    found = deciding(a_lacquered_piece(the_painters_other_job()))

    kinds = [(link.kind, link.id, link.step) for link in found.chain(HERON)]
    assert kinds == [
        (LinkKind.PERSON, "tom", "lacquer"),
        (LinkKind.CURE, "lacquer", "pack"),
        (LinkKind.WINDOW, "window", None),
    ]
    free = [(link.kind, link.id) for link in deciding(a_lacquered_piece()).chain(HERON)]
    assert free == [
        (LinkKind.NOW, "carve"),
        (LinkKind.AFTER, "carve"),
        (LinkKind.CURE, "barrier"),
        (LinkKind.CURE, "lay-up"),
        (LinkKind.AFTER, "sand"),
        (LinkKind.CURE, "lacquer"),
        (LinkKind.WINDOW, "window"),
    ]


SAMPLES = [Path(f"sample_jobs/{name}.countback") for name in ("small", "tight", "repair")]


def adds_up(found: Deciding, job: JobId) -> bool:
    made = anatomy(found, job)
    ends = [(one.end, other.start) for one, other in pairwise(made.parts)]
    return all(a == b for a, b in ends) and sum(made.minutes.values()) == made.elapsed_minutes


@pytest.mark.parametrize("path", SAMPLES, ids=[path.stem for path in SAMPLES])
def test_the_days_of_every_sample_add_up(path: Path) -> None:
    book = read_book(path.read_bytes()).book
    assert book is not None
    found = deciding(book)

    jobs = [name.job.id for name in found.normal.jobs]
    assert jobs
    assert all(adds_up(found, job) for job in jobs)
    assert all(found.chain(job) for job in jobs)
