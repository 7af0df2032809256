"""Windows on offer in sentences: on offer is never said as promised."""

from dataclasses import replace
from decimal import Decimal

import pytest

from app.outcome_json import job_object, job_of
from app.words import Words
from scheduler.outcome import InReach, JobOutcome, OtherWindow, Verdict
from shared.ids import JobId, WindowId
from tests.builders import NOW, a_book, at

MISSED = JobOutcome(
    id=JobId("heron"),
    name="Heron",
    verdict=Verdict.MISSES,
    missed_by_minutes=2880,
    missed_by_working_minutes=960,
)
MISSES = "Heron misses its window by 2 days."
MAY = "Mon 2 Mar 08:00 to Fri 6 Mar 18:00"


@pytest.fixture(scope="module")
def words(tmp_path_factory: pytest.TempPathFactory) -> Words:
    return Words("en", book=a_book(), folder=tmp_path_factory.mktemp("nothing"))


def offered(in_reach: InReach, price: str = "400") -> OtherWindow:
    return OtherWindow(
        id=WindowId(in_reach.value),
        start=at("2026-03-02 08:00"),
        end=at("2026-03-06 18:00"),
        price=Decimal(price),
        in_reach=in_reach,
    )


def told(*windows: OtherWindow, next_window: InReach | None = None) -> JobOutcome:
    found = None if next_window is None else WindowId(next_window.value)
    return replace(MISSED, windows=windows, next_window=found)


@pytest.mark.parametrize(
    ("in_reach", "sentence"),
    [
        (
            InReach.AS_PLANNED,
            f"{MISSES} The next window on offer is {MAY}, for 400 EUR more; as planned it is "
            "loaded in time for that.",
        ),
        (
            InReach.ALONE,
            f"{MISSES} The next window on offer is {MAY}, for 400 EUR more; whether the other "
            "jobs leave room for that is not tried.",
        ),
        (InReach.NEVER, MISSES),
    ],
)
def test_the_verdict_names_the_next_window(words: Words, in_reach: InReach, sentence: str) -> None:
    job = told(offered(in_reach), next_window=None if in_reach is InReach.NEVER else in_reach)

    assert words.verdict_line(job, now=NOW) == sentence
    assert words.book_line([job], now=NOW) == sentence


def test_the_book_names_it_for_the_only_one_that_fails(words: Words) -> None:
    job = told(offered(InReach.AS_PLANNED), next_window=InReach.AS_PLANNED)
    fits = replace(MISSED, verdict=Verdict.FITS, name="Owl", slack_minutes=600)

    assert words.book_line([fits, job], now=NOW).endswith("in time for that. The other one fits.")


@pytest.mark.parametrize(
    ("price", "said"),
    [
        ("0", "at no extra cost"),
        ("0.00", "at no extra cost"),
        ("399.01", "for 400 EUR more"),
        ("-50", "for 50 EUR less"),
    ],
)
def test_prices(words: Words, price: str, said: str) -> None:
    (line,) = words.window_lines(told(offered(InReach.NEVER, price)), now=NOW)

    assert line == f"On offer besides: {MAY}, {said}; it can’t be loaded in time for that."


def test_every_window_is_listed_or_that_there_is_none(words: Words) -> None:
    assert words.window_lines(MISSED, now=NOW) == ("No other window is on offer.",)
    assert len(words.window_lines(told(*map(offered, InReach)), now=NOW)) == len(InReach)
    kept = replace(MISSED, verdict=Verdict.FITS, windows=(offered(InReach.NEVER),))
    assert words.window_lines(kept, now=NOW) == ()


def test_they_come_back_as_they_went() -> None:
    job = told(*map(offered, InReach), next_window=InReach.ALONE)

    assert job_of(job_object(job)) == job
