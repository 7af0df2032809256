"""The cheapest ways out of small books: prices by hand, verified plans, law and company."""

from dataclasses import replace
from decimal import Decimal
from itertools import combinations

import pytest

from scheduler.check import check
from scheduler.levers.search import ways_out
from scheduler.levers.values import WaysOut
from scheduler.outcome import Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import (
    Book,
    Engaged,
    ExtraHours,
    Gate,
    GateKind,
    Kind,
    Offer,
    Pin,
    Skill,
    Stage,
)
from shared.edits import pull_all
from shared.edits.told import tell_plan
from shared.ids import JobId, OfferId, PersonId, SkillId
from shared.levers import price_of
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_person,
    a_segment,
    a_stage,
    a_window,
    a_workshop,
    at,
    on,
)

KEPT = (Verdict.FITS, Verdict.TIGHT)
EXACT = {"shift_hours": Decimal(8), "useful_hours": Decimal(8), "wished_buffer_days": Decimal(0)}
"""Hours at the bench are hours of the shift, and no buffer is wished."""


def hours(start: str, end: str) -> ExtraHours:
    return ExtraHours(start=at(start), end=at(end), premium_per_hour=Decimal(9))


SATURDAY = hours("2026-01-10 07:30", "2026-01-10 13:00")
EVENINGS = tuple(hours(f"2026-01-{day:02} 16:00", f"2026-01-{day:02} 18:00") for day in (6, 7, 8))


def carving(*, person_hours: str = "47.5", **changes: object) -> Book:
    """Give a book in which Ana fairs alone for 5½ hours more than she has by then.

    From Monday 08:00 to the next Monday 10:00 there are 7½ + 4 x 8 + 2½ = 42 of them.
    """
    window = a_window("held", "2026-01-05 00:00", "2026-01-12 10:00")
    stage = a_stage("carve", Kind.FILL, hours=person_hours)
    job = a_job(steps=(stage, a_gate()), windows=(window,))
    ana = a_person(rate_per_hour=Decimal(20), overtime_offered=(SATURDAY, *EVENINGS))
    usual = a_book(job, people=(ana,), workshop=a_workshop(**EXACT))
    return replace(usual, **changes)  # type: ignore[arg-type]


def asked(book: Book, job: str = "heron", seconds: float = 20) -> WaysOut:
    request = SolveRequest(book=book, now=NOW, seconds=seconds, workers=1)
    return ways_out(request, JobId(job))


def test_a_saturday_is_cheaper_than_three_evenings_and_is_proved_to_be() -> None:
    found = asked(carving())
    first, second = found.ways

    # 5.5 h x (20 + 9) = 159.50; three evenings of 2 h are 6 x 29 = 174.
    assert found.told.verdict is Verdict.CANNOT
    assert (first.price, first.proved_cheapest) == (Decimal("159.5"), True)
    assert [lever.start for lever in first.levers] == [SATURDAY.start]
    assert (second.price, second.proved_cheapest) == (Decimal(174), False)
    assert [lever.start for lever in second.levers] == [each.start for each in EVENINGS]
    assert found.at_least == first.price


def test_every_way_is_planned_and_checked_in_its_own_book() -> None:
    found = asked(carving())

    assert found.ways
    for way in found.ways:
        assert way.book == pull_all(carving(), way.levers).book
        assert way.price == price_of(way.levers)
        assert check(way.book, way.plan).sound
        assert Verdict(way.verdicts[JobId("heron")]) in KEPT
        assert solve(SolveRequest(book=way.book, now=NOW, effort=4)).jobs[0].verdict in KEPT


def test_no_lever_can_go_from_a_way() -> None:
    for way in asked(carving()).ways:
        for left in combinations(way.levers, len(way.levers) - 1):
            book = pull_all(carving(), left).book
            assert solve(SolveRequest(book=book, now=NOW, effort=4)).jobs[0].verdict not in KEPT


def test_a_job_that_keeps_its_window_needs_nothing() -> None:
    found = asked(carving(person_hours="40"))

    assert found.is_kept
    assert found.ways == ()


def test_a_job_that_nothing_helps_is_stuck_and_says_so() -> None:
    found = asked(carving(person_hours="80"))

    assert (found.ways, found.stuck) == ((), True)


def test_what_costs_nothing_comes_before_what_costs() -> None:
    book = carving()
    job = book.jobs[0]
    pinned = a_stage("carve", hours=40, pin=Pin(day=on("2026-01-06")))
    job = replace(job, steps=(pinned, job.steps[1]))
    found = asked(replace(book, jobs=(job,)))

    assert [lever.id for lever in found.ways[0].levers] == ["lift_pin:carve"]
    assert (found.ways[0].price, found.ways[0].proved_cheapest) == (Decimal(0), True)


def test_the_best_that_costs_nothing_is_told_where_it_is_not_enough() -> None:
    book = carving()
    job = book.jobs[0]
    pinned = a_stage("carve", Kind.FILL, hours="47.5", pin=Pin(day=on("2026-01-06")))
    found = asked(replace(book, jobs=(replace(job, steps=(pinned, job.steps[1])),)))

    assert found.free is not None
    assert [lever.id for lever in found.free.levers] == ["lift_pin:carve"]
    assert not found.free.keeps
    assert found.free.jobs[0].missed_by_minutes < found.told.missed_by_minutes
    assert found.ways[0].price == Decimal("159.5")


def two_pieces(**changes: object) -> Book:
    """Give a book in which two pieces are carved, by Ana alone or by whoever comes besides."""
    window = a_window("held", "2026-01-05 00:00", "2026-01-09 10:00")
    steps = (
        a_stage("one", segments=("left",), hours=24),
        a_stage("two", segments=("right",), hours=16),
        a_gate(),
    )
    segments = (a_segment("left"), a_segment("right"))
    job = a_job(steps=steps, segments=segments, windows=(window,))
    ana = a_person(rate_per_hour=Decimal(20))
    usual = a_book(job, people=(ana,), workshop=a_workshop(**EXACT))
    return replace(usual, **changes)  # type: ignore[arg-type]


def test_the_cheaper_of_two_hands_is_taken_with_what_is_paid_once() -> None:
    engaged = Engaged(first=on("2026-01-06"), last=on("2026-01-08"))
    cid = a_person("cid", freelance=True, engaged=(engaged,), day_rate=Decimal(240))
    agency = Offer(
        id=OfferId("agency"),
        name="A carver",
        kind="hired hand",
        skills=(Skill(skill=SkillId("carve")),),
        day_rate=Decimal(200),
        price=Decimal(50),
        first=on("2026-01-06"),
        last=on("2026-01-08"),
    )
    found = asked(two_pieces(people=(*two_pieces().people, cid), offers=(agency,)))

    # 3 x 200 + 50 = 650; 3 x 240 = 720.
    assert [(way.price, way.proved_cheapest) for way in found.ways] == [
        (Decimal(650), True),
        (Decimal(720), False),
    ]


def test_another_window_of_the_job_is_a_way_out_at_its_price() -> None:
    book = two_pieces()
    later = a_window("later", "2026-01-12 00:00", "2026-01-16 18:00", price=Decimal(300))
    job = replace(book.jobs[0], windows=(*book.jobs[0].windows, later))
    found = asked(replace(book, jobs=(job,)))

    assert [(way.price, [lever.id for lever in way.levers]) for way in found.ways] == [
        (Decimal(300), ["other_window:heron:later"])
    ]
    assert found.ways[0].book.jobs[0].window == "later"


def test_a_job_that_another_crowds_out_may_have_it_promised_anew() -> None:
    book = two_pieces()
    held = a_window("owl-held", "2026-01-05 00:00", "2026-01-07 16:00")
    later = a_window("owl-later", "2026-01-19 00:00", "2026-01-23 18:00", price=Decimal(90))
    owl = a_job("owl", steps=(a_stage("owl-carve", hours=16), a_gate("owl-load")))
    owl = replace(owl, windows=(held, later))
    wide = a_window("held", "2026-01-05 00:00", "2026-01-12 10:00")
    heron = replace(book.jobs[0], windows=(wide,))
    found = asked(replace(book, jobs=(heron, owl)))

    assert [lever.id for lever in found.ways[0].levers] == ["re_promise:owl:owl-later"]
    assert found.ways[0].verdicts == {"heron": "fits", "owl": "fits"}


def test_no_way_out_costs_another_job_its_window() -> None:
    book = two_pieces()
    held = a_window("owl-held", "2026-01-05 00:00", "2026-01-07 16:00")
    owl = a_job("owl", steps=(a_stage("owl-carve", hours=16), a_gate("owl-load")), windows=(held,))
    pinned = a_stage(
        "one", segments=("left",), hours=24, pin=Pin(not_before=at("2026-01-06 00:00"))
    )
    heron = replace(book.jobs[0], steps=(pinned, *book.jobs[0].steps[1:]))
    found = asked(replace(book, jobs=(heron, owl)))

    # Both need 56 hours of Ana by Friday 10:00: whatever is lifted, one of them misses.
    assert found.ways == ()


def spraying(never_alone: tuple[()] | None, *others: ExtraHours) -> Book:
    """Give a book in which Ana has to spray on a Saturday, Ben offering some hours as well."""
    window = a_window("held", "2026-01-05 00:00", "2026-01-10 20:00")
    steps = (a_stage("spray", Kind.PAINT, hours=44), a_gate())
    job = a_job(steps=steps, windows=(window,))
    people = (
        a_person(rate_per_hour=Decimal(20), overtime_offered=(SATURDAY,)),
        a_person("ben", ("pack",), rate_per_hour=Decimal(15), overtime_offered=others),
    )
    shop = a_workshop(**EXACT, never_alone=never_alone)
    return a_book(job, people=people, workshop=shop)


@pytest.mark.parametrize("never_alone", [(), None])
def test_nobody_sprays_alone_on_a_saturday(never_alone: tuple[()] | None) -> None:
    alone, in_company = asked(spraying(never_alone)), asked(spraying(never_alone, SATURDAY))

    assert alone.ways == ()
    # 5.5 x 29 and 5.5 x 24 beside it: Ben is there although there is nothing for him to do.
    assert in_company.ways[0].price == Decimal("291.5")
    assert {lever.about[0] for lever in in_company.ways[0].levers} == {"ana", "ben"}


def test_an_answer_sooner_is_asked_for_with_no_more_haste_than_is_needed() -> None:
    window = a_window("held", "2026-01-05 00:00", "2026-01-20 16:00")
    steps = (
        a_stage("carve", hours=16),
        a_gate("approve", GateKind.ANSWER, answer_days=10),
        a_stage("fill", Kind.FILL, hours=16),
        a_gate(),
    )
    book = a_book(a_job(steps=steps, windows=(window,)), workshop=a_workshop(**EXACT))
    found = asked(book)
    gate = found.ways[0].book.jobs[0].steps[1]

    assert isinstance(gate, Gate)
    assert gate.answer_days == 5
    assert found.ways[0].levers[0].agrees == "The client"


def test_the_first_set_is_told_at_once() -> None:
    told: list[Decimal] = []
    request = SolveRequest(book=carving(), now=NOW, seconds=20, workers=1)
    ways_out(request, JobId("heron"), on_way=lambda way: told.append(way.price))

    assert told
    assert told[0] >= Decimal("159.5")


def test_a_stage_is_asked_of_a_named_person_no_longer() -> None:
    book = two_pieces()
    ben = a_person("ben")
    steps = tuple(
        replace(step, people=(PersonId("ana"),)) if isinstance(step, Stage) else step
        for step in book.jobs[0].steps
    )
    found = asked(
        replace(
            book,
            people=(*book.people, ben),
            jobs=(replace(book.jobs[0], steps=steps),),
        )
    )

    ways = {lever.id for way in found.ways for lever in way.levers}
    assert ways == {"lift_names:one", "lift_names:two"}
    assert len(found.ways) == 2


def test_what_was_told_for_today_and_tomorrow_stays_as_told_in_every_way_out() -> None:
    book = two_pieces()
    engaged = Engaged(first=on("2026-01-05"), last=on("2026-01-09"))
    cid = a_person("cid", freelance=True, engaged=(engaged,), day_rate=Decimal(240))
    book = replace(book, people=(*book.people, cid))
    plan = solve(SolveRequest(book=book, now=NOW, effort=4)).plan
    told = tell_plan(book, plan, NOW, "Mara").book
    found = asked(told)
    was = next(each for each in plan.placements if each.start < at("2026-01-07 00:00"))

    assert found.ways
    for way in found.ways:
        assert not check(way.book, way.plan).breaches
        assert was in way.plan.placements
