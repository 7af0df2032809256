import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings

from app.outcome_json import (
    instant_of,
    instant_text,
    job_object,
    job_of,
    outcome_object,
    outcome_of,
    plan_object,
    plan_of,
)
from scheduler.outcome import Breach, CheckResult
from shared.book import Book
from shared.files.json_text import kept_text, read_json
from shared.files.read import read_book
from shared.files.write import write_book
from tests.app.cli.outcomes import MET, MISSED, an_outcome
from tests.builders import a_book, a_plan, at
from tests.strategies import books


def test_an_outcome_comes_back_as_it_went() -> None:
    check = CheckResult(
        breaches=(Breach(rule="pin", where="s", facts=(("start", "x"), ("count", 3))),),
        not_judged=("turns",),
    )
    outcome = an_outcome(a_book(), MET, MISSED, check=check)
    sent = json.dumps(outcome_object(outcome))

    assert "\n" not in sent
    assert outcome_of(json.loads(sent)) == outcome


def test_fields_that_a_later_engine_adds_are_left_aside() -> None:
    assert job_of({**job_object(MET), "mood": "good"}) == MET


@pytest.mark.parametrize("field", ["plan", "now", "verdict", "jobs"])
def test_what_is_no_outcome_is_refused(field: str) -> None:
    made: dict[str, Any] = outcome_object(an_outcome(a_book(), MET))
    made[field] = {} if field == "plan" else None

    with pytest.raises((ValueError, KeyError, TypeError)):
        outcome_of(made)


def test_a_plan_comes_back_as_it_went() -> None:
    plan = a_plan(a_book())

    assert plan_of(plan_object(plan)) == plan


@settings(max_examples=40)
@given(books())
def test_a_book_on_one_line_is_the_same_book(book: Book) -> None:
    text = kept_text(read_json(write_book(book)))

    assert "\n" not in text
    assert read_book(kept_text(read_json(text.encode())).encode()).book == book


def test_line_ends_of_every_sort_in_a_name_stay_in_it() -> None:
    book = replace(a_book(), name="a\nb\r\u2028c\x85d")

    assert read_book(kept_text(read_json(write_book(book))).encode()).book == book


def test_an_instant_is_written_in_utc() -> None:
    assert instant_text(at("2027-03-18 07:00")) == "2027-03-18T07:00:00Z"
    assert instant_of("2027-03-18T07:00:00Z") == at("2027-03-18 07:00")
    assert instant_text(None) is None
    assert instant_of(None) is None
