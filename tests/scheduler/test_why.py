"""Why a job stands as it does: worked numbers, who shares what is to spare, and how it is known."""

from dataclasses import replace
from decimal import Decimal

import pytest

from scheduler.kept import Kept
from scheduler.outcome import Outcome, Rung, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.why.answer import why
from scheduler.why.chain_links import Link, LinkKind
from scheduler.why.deciding import deciding_chain
from scheduler.why.stage_slack import JobSlack, Slacks
from scheduler.why.values import Why
from shared.book import Book, GateKind, Job, Kind, Leave, Stage, Way, Workshop
from shared.ids import JobId
from shared.units import instant_of
from tests.builders import (
    NOW,
    a_book,
    a_client,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_segment,
    a_shift,
    a_stage,
    a_window,
    a_workshop,
    an_other_work,
    at,
    some_hours,
)

HERON = JobId("heron")
HOUR = 60


def a_shop(**changes: object) -> Workshop:
    """Eight hours a day without a break, all of them useful."""
    shifts = (a_shift("08:00", "16:00", breaks=()),)
    return a_workshop(shifts=shifts, useful_hours=Decimal(8), watch_minutes=0, **changes)


def answered(book: Book, effort: int = 6) -> tuple[Kept, Outcome]:
    kept = Kept()
    outcome = solve(SolveRequest(book=book, now=NOW, effort=effort), kept=kept)
    assert not outcome.check.breaches
    return kept, outcome


def why_of(book: Book, job: JobId = HERON, effort: int = 6) -> Why:
    kept, outcome = answered(book, effort)
    assert kept.before is not None
    (told,) = [each for each in outcome.jobs if each.id == job]
    return why(kept.before.normal, kept.before.schedule, told)


def slack_of(book: Book, job: str) -> JobSlack:
    kept, _ = answered(book)
    assert kept.before is not None
    return Slacks(kept.before.normal, kept.before.schedule).of(JobId(job))


def test_four_lacquer_sessions_take_a_day_each() -> None:
    """Worked by trying all: 5 h in one go and an hour to clear, a shift of 8, due on the third day.

    4 x 6 = 24 h are no more than 3 x 8, and each session's own chain is short; still only one fits
    a day, so that the fourth is done on Thursday at 13:00: proved by a search, not by counting.
    """
    pieces = tuple(a_segment(f"piece-{at_}") for at_ in range(4))
    stages = tuple(
        a_stage(
            f"lacquer-{at_}",
            Kind.LACQUER,
            segments=(f"piece-{at_}",),
            hours=5,
            places=("booth",),
            in_one_go=True,
        )
        for at_ in range(4)
    )
    window = a_window(start="2026-01-05 00:00", end="2026-01-07 16:00")
    book = a_book(
        a_job(segments=pieces, steps=(*stages, a_gate()), windows=(window,)),
        workshop=a_shop(),
        places=(a_place("booth", clear_out_minutes=60), a_floor()),
        people=(a_person("ana"), a_person("ben")),
    )
    found = why_of(book, effort=120)

    assert (found.told.verdict, found.told.rung) == (Verdict.CANNOT, Rung.ALONE)
    assert found.told.loading_end == at("2026-01-08 13:00")
    assert found.told.missed_by_minutes == found.told.bound_minutes == 21 * HOUR
    assert found.told.missed_by_working_minutes == 5 * HOUR
    places = [link for link in found.chain if link.kind is LinkKind.PLACE]
    assert [link.id for link in places] == ["booth"] * 3


def a_carving(job: str, hours: int, end: str) -> Job:
    window = a_window(f"{job}-window", start="2026-01-05 00:00", end=end)
    steps = (a_stage(f"{job}-carve", hours=hours), a_gate(f"{job}-loading"))
    return a_job(job, steps=steps, windows=(window,))


def two_for_ana(heron_end: str, otter_end: str) -> Book:
    """Two jobs of four hours of the only carver there is, from Monday 8:00."""
    jobs = (a_carving("heron", 4, heron_end), a_carving("otter", 4, otter_end))
    return a_book(*jobs, workshop=a_shop(wished_buffer_days=Decimal(0)))


def test_slack_goes_as_far_as_everyones_order_lets_it() -> None:
    """Both are due on Tuesday at 16:00: 16 h there, 8 to do, so both can slip by 8, together."""
    book = two_for_ana("2026-01-06 16:00", "2026-01-06 16:00")
    for job in ("heron", "otter"):
        slack = slack_of(book, job)
        assert slack.minutes == 8 * HOUR
        carve = next(each for each in slack.stages if each.step == f"{job}-carve")
        assert carve.minutes == 8 * HOUR
        shared = {step for stage, step, _ in slack.names if stage in carve.shared_with}
        assert f"{job}-loading" in shared or carve.shared_with


def test_the_first_of_two_has_what_the_second_leaves() -> None:
    """Otter is due on Tuesday at 12:00 and goes first; Heron has until Friday at 16:00."""
    book = two_for_ana("2026-01-09 16:00", "2026-01-06 12:00")
    heron, otter = slack_of(book, "heron"), slack_of(book, "otter")

    assert otter.minutes == 8 * HOUR
    assert heron.minutes == 32 * HOUR


def test_slack_of_a_missed_job_is_what_makes_it_no_later() -> None:
    book = two_for_ana("2026-01-09 16:00", "2026-01-05 09:00")

    assert slack_of(book, "otter").minutes == 0


def test_people_who_are_booked_are_passed_by() -> None:
    """Ana is on a course on Tuesday; Heron's 4 h may be done after it, up to Wednesday."""
    course = an_other_work(
        "course", start=at("2026-01-06 00:00"), end=at("2026-01-07 00:00"), people=("ana",)
    )
    book = a_book(
        a_carving("heron", 4, "2026-01-07 16:00"),
        workshop=a_shop(wished_buffer_days=Decimal(0)),
        other_work=(course,),
    )

    slack = slack_of(book, "heron")
    (carve,) = [each for each in slack.stages if each.step == "heron-carve"]
    assert carve.minutes == 20 * HOUR


# Causes


def chain(book: Book, job: str = "heron") -> tuple[Link, ...]:
    kept, _ = answered(book)
    assert kept.before is not None
    return deciding_chain(kept.before.normal, kept.before.schedule, JobId(job))


def kinds(links: tuple[Link, ...]) -> list[tuple[LinkKind, str]]:
    return [(link.kind, link.id) for link in links]


def test_leave_of_the_only_one_who_can_is_named() -> None:
    leave = (Leave(start=at("2026-01-05 00:00"), end=at("2026-01-08 00:00")),)
    people = (a_person("ana", leave=leave), a_person("ben", ("paint",)))
    book = a_book(a_carving("heron", 4, "2026-01-07 16:00"), workshop=a_shop(), people=people)
    links = chain(book)

    assert (LinkKind.PERSON, "ana") in kinds(links)
    (away,) = [link for link in links if link.kind is LinkKind.PERSON]
    assert away.fact("only") == 1
    assert away.fact("until") == "2026-01-08T00:00:00+00:00"


def test_an_answer_is_named_with_who_gives_it() -> None:
    steps = (
        a_stage("carve", hours=4),
        a_gate("approve", GateKind.ANSWER),
        a_stage("lay", Kind.LAMINATE, hours=4),
        a_gate(),
    )
    window = a_window(start="2026-01-05 00:00", end="2026-01-12 16:00")
    book = a_book(
        a_job(steps=steps, windows=(window,), client=a_client(answer_days=10)), workshop=a_shop()
    )

    assert (LinkKind.CLIENT, "approve") in kinds(chain(book))


def test_a_booked_place_is_named_with_what_it_is_booked_for() -> None:
    works = an_other_work(
        "filters",
        name="Booth filters",
        start=at("2026-01-05 00:00"),
        end=at("2026-01-07 00:00"),
        places=("booth",),
    )
    stage = a_stage("paint", Kind.PAINT, hours=4, places=("booth",))
    window = a_window(start="2026-01-05 00:00", end="2026-01-06 16:00")
    book = a_book(
        a_job(steps=(stage, a_gate()), windows=(window,)),
        workshop=a_shop(),
        places=(a_place("booth"), a_floor()),
        other_work=(works,),
    )
    (place,) = [link for link in chain(book) if link.kind is LinkKind.PLACE]

    assert (place.id, place.fact("booking")) == ("booth", "Booth filters")


def test_another_jobs_work_is_followed_back_to_where_it_began() -> None:
    book = two_for_ana("2026-01-05 14:00", "2026-01-05 12:00")
    links = chain(book)

    assert kinds(links)[:2] == [(LinkKind.NOW, "otter-carve"), (LinkKind.PERSON, "ana")]
    assert links[1].fact("before") == "otter-carve"
    assert links[1].fact("other_job") == "otter"


def test_the_same_plan_always_tells_the_same_story() -> None:
    book = two_for_ana("2026-01-05 14:00", "2026-01-05 12:00")

    assert chain(book) == chain(book)


# How it is known


def low(stage: Stage, hours: int) -> Stage:
    (way,) = stage.ways
    return replace(stage, ways=(_with_low(way, hours),))


def _with_low(way: Way, hours: int) -> Way:
    return replace(way, hours=some_hours(way.hours.likely, low=hours))


@pytest.mark.parametrize(("least", "even_at_best"), [(8, True), (3, False)])
def test_a_chain_is_proved_for_the_likely_hours_or_even_the_lowest(
    least: int, even_at_best: bool
) -> None:
    stage = low(a_stage("carve", hours=12), least)
    window = a_window(start="2026-01-05 00:00", end="2026-01-05 12:00")
    book = a_book(a_job(steps=(stage, a_gate()), windows=(window,)), workshop=a_shop())
    found = why_of(book)

    assert found.told.rung is Rung.CHAIN
    assert found.even_at_best is even_at_best


def test_too_few_hours_are_told_with_whose_they_are() -> None:
    stages = (a_stage("left", hours=8, after=()), a_stage("right", hours=8, after=()))
    window = a_window(start="2026-01-05 00:00", end="2026-01-06 12:00")
    book = a_book(a_job(steps=(*stages, a_gate()), windows=(window,)), workshop=a_shop())
    found = why_of(book)

    assert found.told.rung is Rung.ENERGY
    first = found.chain[0]
    assert (first.kind, first.id) == (LinkKind.PERSON, "ana")
    assert (first.fact("wanted"), first.fact("have")) == (16, 12)


def test_a_job_that_fits_is_known_by_its_plan() -> None:
    found = why_of(two_for_ana("2026-01-09 16:00", "2026-01-09 16:00"))

    assert (found.told.verdict, found.told.rung) == (Verdict.FITS, Rung.PLAN)
    assert found.needed_minutes is not None
    assert found.there_minutes == 40 * HOUR
    assert found.needed_minutes <= 8 * HOUR


def test_what_nothing_proves_is_asked_with_other_jobs_left_where_they_are() -> None:
    book = two_for_ana("2026-01-05 14:00", "2026-01-05 14:00")
    kept, outcome = answered(book)
    assert kept.before is not None
    normal, schedule = kept.before.normal, kept.before.schedule
    (missed,) = [each for each in outcome.jobs if each.missed_by_minutes]
    assert missed.rung is Rung.FREE
    open_ = replace(missed, rung=None, beside=())
    assert why(normal, schedule, open_).told.rung is Rung.FROZEN
    assert why(normal, schedule, missed).told.rung is Rung.FREE


def test_the_chain_of_a_job_ends_where_it_is_loaded() -> None:
    book = two_for_ana("2026-01-09 16:00", "2026-01-09 16:00")
    kept, outcome = answered(book)
    assert kept.before is not None
    normal = kept.before.normal
    for job in outcome.jobs:
        links = deciding_chain(normal, kept.before.schedule, job.id)
        last = [link for link in links if link.stage >= 0][-1]
        assert job.loading_end is not None
        assert instant_of(normal.origin, last.end) <= job.loading_end
