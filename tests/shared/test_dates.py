"""The days of a job on its way to firm: which still count, and when invoices go out."""

from datetime import date
from typing import Any

import pytest

from shared.book import Answer, Book, FactKind, GateKind, Invoice, Standing
from shared.dates import DateKind, JobDate, job_dates
from shared.ids import JobId
from tests.builders import (
    NOW,
    a_book,
    a_client,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_placement,
    a_plan,
    a_stage,
    a_trip,
    at,
)

YESTERDAY, TODAY, LATER = date(2026, 1, 4), date(2026, 1, 5), date(2026, 2, 6)


def dates(**job: Any) -> list[tuple[str, date]]:
    book = a_book(a_job(**job))
    return [(each.kind.value, each.day) for each in job_dates(book, None, NOW)]


def test_a_job_that_says_nothing_has_no_dates() -> None:
    assert dates() == []


def test_what_is_written_stands_in_the_order_of_the_days() -> None:
    found = dates(
        standing=Standing.PENCILLED,
        pencilled_until=date(2026, 2, 2),
        survey_on=TODAY,
        concept_due=date(2026, 1, 20),
        quote_good_until=date(2026, 1, 30),
        deposit_due=date(2026, 2, 4),
    )

    assert found == [
        ("survey", TODAY),
        ("concept", date(2026, 1, 20)),
        ("quote", date(2026, 1, 30)),
        ("pencilled", date(2026, 2, 2)),
        ("deposit", date(2026, 2, 4)),
    ]


@pytest.mark.parametrize(
    "job",
    [
        {"survey_on": YESTERDAY},
        {"concept_due": YESTERDAY},
        {"quote_good_until": YESTERDAY, "standing": Standing.ENQUIRY},
        {"quote_good_until": LATER},
        {"pencilled_until": LATER},
        {"deposit_due": LATER, "deposit_paid": YESTERDAY},
    ],
)
def test_what_is_past_settled_or_agreed_is_left_out(job: dict[str, Any]) -> None:
    assert dates(**job) == []


def test_a_deposit_stands_there_until_it_is_paid() -> None:
    (found,) = job_dates(a_book(a_job(deposit_due=YESTERDAY)), None, NOW)

    assert found == JobDate(job=JobId("heron"), kind=DateKind.DEPOSIT, day=YESTERDAY, is_over=True)


def invoiced(*invoices: Invoice, facts: tuple[Any, ...] = (), **changes: Any) -> list[Any]:
    """Two answers of the client and one of an engineer, which comes last; then a journey."""
    steps = (
        a_stage("carve"),
        a_gate("look", GateKind.ANSWER),
        a_gate("colour", GateKind.ANSWER),
        a_gate("engineer", GateKind.ANSWER, answered_by=a_client()),
        a_gate("loading"),
        a_journey("ship"),
    )
    book: Book = a_book(a_job(steps=steps, invoices=invoices), facts=facts)
    placements = [
        a_placement("look", "2026-01-12 08:00", "2026-01-19 17:00", way="", round=1),
        a_placement("look", "2026-01-21 08:00", "2026-01-30 17:00", way="", round=2),
        a_placement("look", "2026-02-01 08:00", "2026-02-03 17:00", part="changes", round=2),
        a_placement("colour", "2026-01-12 08:00", "2026-01-26 17:00", way="", round=1),
        a_placement("engineer", "2026-01-12 08:00", "2026-02-26 17:00", way="", round=1),
    ]
    usual: Any = {"placements": tuple(placements), "trips": (a_trip("ship"),), **changes}
    return [(each.kind.value, each.day) for each in job_dates(book, a_plan(book, **usual), NOW)]


def test_invoices_go_out_at_the_clients_last_yes_and_at_the_hand_over() -> None:
    assert invoiced() == []
    assert invoiced(Invoice.AT_YES) == [("invoice_yes", date(2026, 1, 30))]
    assert invoiced(Invoice.AT_HAND_OVER) == [("invoice_hand_over", date(2026, 3, 2))]
    assert dates(invoices=(Invoice.AT_YES, Invoice.AT_HAND_OVER)) == []
    assert invoiced(*Invoice, placements=(), trips=()) == []


def test_a_yes_that_was_told_counts_instead_of_the_planned_one() -> None:
    yes = a_fact("yes", "look", kind=FactKind.ANSWER, answer=Answer.YES, at=at("2026-01-05 07:00"))
    no = a_fact("no", "look", kind=FactKind.ANSWER, answer=Answer.NO, at=at("2026-01-05 07:00"))

    assert invoiced(Invoice.AT_YES, facts=(yes,)) == [("invoice_yes", date(2026, 1, 26))]
    assert invoiced(Invoice.AT_YES, facts=(no,)) == [("invoice_yes", date(2026, 1, 30))]
