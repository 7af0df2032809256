"""Certificates: what counting proves is followed to the quarter, and what was bent is named."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import cache

import pytest

from scheduler.check.certificate import check_certificate
from scheduler.check.clock import instant
from scheduler.check.latest import loaded_by
from scheduler.kept import Kept
from scheduler.outcome import JobOutcome, Outcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.why.certify import certify
from shared.book import Book, Departure, Kind, LegKind
from shared.certificate import Certificate, Forced, ProofBy
from shared.files.certificates import is_certificate, read_certificate, write_certificate
from shared.files.write import write_plan
from shared.ids import JobId, PersonId, StepId
from tests.books.clashes import CLASHES
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_placement,
    a_plan,
    a_shift,
    a_stage,
    a_told,
    a_window,
    at,
)

A_QUARTER = timedelta(minutes=15)


def a_carving(end: str, *steps: object, **changes: object) -> Book:
    """One job, fetched by its client; carving ends on Tuesday at 10:00 at the soonest."""
    job = a_job(
        steps=steps or (a_stage("carve"), a_gate()),  # type: ignore[arg-type]
        windows=(a_window(start="2026-01-05 00:00", end=end),),
    )
    return a_book(job, **changes)


@cache
def solved(book: Book) -> tuple[Kept, Outcome]:
    kept = Kept()
    assert book.as_of is not None
    return kept, solve(SolveRequest(book=book, now=book.as_of, effort=8), kept=kept)


def certified(book: Book, job: str = "heron") -> tuple[JobOutcome, Certificate]:
    kept, outcome = solved(book)
    (told,) = [each for each in outcome.jobs if each.id == job]
    assert kept.before is not None
    found = certify(kept.before.normal, told)
    assert found is not None
    return told, found


def test_what_only_the_sheet_says_is_under_way_counts_for_the_certificate() -> None:
    """Carving in one go fits into no shift; by the sheet it is under way since Friday."""
    steps = a_stage("carve", hours=13, in_one_go=True), a_stage("prime", hours=8), a_gate()
    begun = a_placement("carve", "2026-01-02 08:00", "2026-01-05 15:00")
    told = a_told(a_plan(placements=(begun,), trips=()))
    book = a_carving("2026-01-05 12:00", *steps, told=told)
    _, certificate = certified(book)

    assert certificate.chain[0].step == "carve"
    assert check_certificate(book, certificate).holds


def by_chain() -> tuple[Book, Certificate]:
    book = a_carving("2026-01-06 09:00")
    return book, certified(book)[1]


def by_counting() -> tuple[Book, Certificate]:
    """Two pieces at once for one person: the chain of each is short."""
    stages = (a_stage("left", after=()), a_stage("right", after=()))
    book = a_carving("2026-01-06 12:00", *stages, a_gate())
    return book, certified(book)[1]


def test_a_chain_is_written_as_it_was_worked_out_by_hand() -> None:
    """8 h x 8 / 6.5 are 40 quarters: Monday 8:00 to Tuesday 10:00, an hour after the window."""
    book, found = by_chain()

    assert (found.by, found.late_minutes) == (ProofBy.CHAIN, 60)
    assert found.loaded_by == at("2026-01-06 09:00")
    ends = [(each.step, each.end) for each in found.chain]
    assert ends == [("carve", at("2026-01-06 10:00"))]
    judged = check_certificate(book, found)
    assert (judged.holds, judged.replayable, judged.is_of_book) == (True, True, True)


def test_too_few_hours_are_counted_as_they_were_by_hand() -> None:
    """From Monday 8:00 to Tuesday 12:00 there are 12 h of Ana's, and 20 h are to be done."""
    book, found = by_counting()

    assert found.by is ProofBy.COUNTING
    assert found.people == ("ana",)
    assert (found.start, found.end) == (NOW, at("2026-01-06 12:00"))
    assert sum(each.minutes for each in found.work) > 12 * 60
    assert max(each.minutes for each in found.work) <= 10 * 60
    assert check_certificate(book, found).holds
    assert found.late_minutes > 0


BENT: dict[str, tuple[str, dict[str, object]]] = {
    "a step that ends later": ("sooner", {"chain": 0}),
    "more late than it is": ("less_late", {"late_minutes": 75}),
    "no longer late": ("loaded_later", {"late_minutes": 0}),
    "loaded sooner than it must be": ("loaded_later", {"loaded_by": at("2026-01-06 08:00")}),
    "another job": ("no_job", {"job": JobId("otter")}),
    "no steps": ("no_chain", {"chain": ()}),
}


@pytest.mark.parametrize("bent", BENT)
def test_a_chain_bent_in_one_way_is_named(bent: str) -> None:
    book, found = by_chain()
    code, changes = BENT[bent]
    if changes.get("chain") == 0:
        later = replace(found.chain[0], end=found.chain[0].end + A_QUARTER)
        changes = {"chain": (later, *found.chain[1:])}

    judged = check_certificate(book, replace(found, **changes))  # type: ignore[arg-type]

    assert not judged.holds
    assert [trouble.code for trouble in judged.troubles] == [code]


def test_steps_that_do_not_follow_each_other_are_no_chain() -> None:
    steps = (a_stage("block"), a_stage("carve"), a_gate())
    book = a_carving("2026-01-06 09:00", *steps)
    _, found = certified(book)
    turned = replace(found, chain=(found.chain[0], found.chain[0]))

    assert len(found.chain) == 2
    assert [each.code for each in check_certificate(book, turned).troubles] == ["not_after"]


@pytest.mark.parametrize(
    ("code", "work"),
    [
        ("less_work", (Forced(step=StepId("left"), minutes=1215),)),
        ("enough_hours", (Forced(step=StepId("left"), minutes=300),)),
        ("less_work", (Forced(step=StepId("loading"), minutes=15),)),
        ("less_work", (Forced(step=StepId("nothing"), minutes=15),)),
    ],
)
def test_a_count_bent_in_one_way_is_named(code: str, work: tuple[Forced, ...]) -> None:
    book, found = by_counting()

    assert [each.code for each in check_certificate(book, replace(found, work=work)).troubles] == [
        code
    ]


def test_work_told_twice_does_not_count_twice() -> None:
    book, found = by_counting()
    half = replace(found, work=(found.work[0], found.work[0]))

    assert [each.code for each in check_certificate(book, half).troubles] == ["enough_hours"]


def test_somebody_more_who_can_do_it_ends_the_proof() -> None:
    book, found = by_counting()
    more = replace(book, people=(*book.people, a_person("ben")))

    judged = check_certificate(more, found)
    assert [each.code for each in judged.troubles] == ["less_work"]
    assert not judged.is_of_book


def test_the_fastest_of_those_who_may_counts() -> None:
    book, found = by_chain()
    quick = replace(book, people=(*book.people, a_person("ben", pace=Decimal("1.25"))))

    assert [each.code for each in check_certificate(quick, found).troubles] == ["sooner"]


def test_work_in_one_go_fits_a_shift_and_lets_laminate_be_watched() -> None:
    """From Monday 8:00 on 6 h and an hour of watch fit the shift to 16:00; 7 h fit on Tuesday."""
    stage = a_stage("lay", Kind.LAMINATE, hours=6, in_one_go=True)
    kept, outcome = solved(a_carving("2026-01-05 14:30", stage, a_gate()))
    assert kept.before is not None
    assert certify(kept.before.normal, outcome.jobs[0]) is None

    longer = replace(stage, ways=a_stage("lay", Kind.LAMINATE, hours=7).ways)
    book = a_carving("2026-01-05 14:30", longer, a_gate())
    _, found = certified(book)
    assert found.by is ProofBy.CHAIN
    assert found.chain[0].end == at("2026-01-06 15:00")


def test_a_proof_is_of_the_very_book_that_it_was_made_from() -> None:
    book, found = by_chain()
    made = found.made_from
    older = replace(found, made_from=replace(made, revision=made.revision - 1))
    other = replace(found, made_from=replace(made, digest="0" * len(made.digest)))

    assert check_certificate(book, found).is_of_book
    assert not check_certificate(book, older).is_of_book
    assert not check_certificate(book, other).is_of_book


def test_what_only_a_search_found_says_so() -> None:
    book, found = by_chain()
    judged = check_certificate(book, replace(found, by=ProofBy.SEARCH))

    assert (judged.holds, judged.replayable) == (False, False)


def test_loading_ends_before_the_legs_that_lead_into_the_window() -> None:
    """Window to Friday 18:00, access 8 to 16: two hours up at the site, then two on the road."""
    access = (a_shift("08:00", "16:00", breaks=()),)
    usual = a_job(windows=(a_window(access=access),))
    assert loaded_by(usual) is not None
    by = instant(loaded_by(usual) or 0)
    assert by == at("2026-03-06 12:00")


def test_loading_ends_before_the_last_sailing_that_gets_there() -> None:
    sails = tuple(
        Departure(leaves=at(f"2026-03-0{day} 20:00"), arrives=at(f"2026-03-0{day + 1} 08:00"))
        for day in (3, 4, 5)
    )
    sea = a_leg(LegKind.SAILING, 0, departures=sails)
    legs = (a_leg(), sea, a_leg(), a_leg(LegKind.ASSEMBLE, inside=True))
    window = a_window(end="2026-03-06 11:00")
    job = a_job(steps=(a_stage("carve"), a_gate(), a_journey(legs=legs)), windows=(window,))

    assert instant(loaded_by(job) or 0) == at("2026-03-04 18:00")


def test_a_certificate_comes_back_from_its_file() -> None:
    for _, found in (by_chain(), by_counting()):
        data = write_certificate(found)
        assert read_certificate(data).certificate == found
        assert is_certificate(data)
    assert not is_certificate(write_plan(a_plan(a_book())))
    assert not is_certificate(b"{")


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["cure", "client", "sailing", "person"])
def test_no_certificate_says_more_than_a_plan_that_was_found(kind: str) -> None:
    planted = CLASHES[f"clash-{kind}"](6)
    book = replace(planted.book, as_of=planted.now)
    kept, outcome = solved(book)
    assert kept.before is not None
    late = [job for job in outcome.jobs if job.verdict is Verdict.CANNOT]
    assert late
    for job in late:
        found = certify(kept.before.normal, job)
        if found is not None and found.by is not ProofBy.SEARCH:
            assert check_certificate(book, found).holds
            assert 0 < found.late_minutes <= job.missed_by_minutes
            assert job.latest_loading is not None
            assert found.loaded_by >= job.latest_loading


def test_whoever_is_counted_is_of_the_book() -> None:
    book, found = by_counting()
    ghost = replace(found, people=(PersonId("ghost"),))

    assert not check_certificate(book, ghost).holds
