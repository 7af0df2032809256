"""`countback rush`: what is said of an enquiry, and that no text for a client holds its floor."""

import json
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from app.words import Words, owner_rush
from app.words import rush as say
from scheduler.outcome import JobOutcome, Verdict
from scheduler.price import Costs, Pricing
from scheduler.rush import Harm, Promise, Rush, Taking
from shared.book import Book, Standing
from shared.files.write import write_book
from shared.ids import JobId
from tests.app.cli.shell import a_file, countback
from tests.builders import NOW, a_book, a_job, a_window
from tests.house.test_least_price import NAMED
from tests.scheduler.test_rush import OWL, SNAIL, a_side, a_small_job, an_enquiry

TODAY = date(2026, 1, 5)
AT = "2026-01-05T08:00Z"


def a_rush_book(days: int = 30, hours: int = 16, **changes: Any) -> Book:
    snail = a_small_job("snail", 16, 60, late_cost_per_day=Decimal(300))
    return a_book(snail, an_enquiry(hours, days, late_cost_per_day=Decimal(123), **changes))


def asked(path: Path, word: str = "owl", *more: str) -> Any:
    return countback("rush", path, word, "--now", AT, "--seconds", "20", "--json", *more)


def test_an_enquiry_that_can_be_taken_is_said_so_with_both_sides(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_rush_book(price=Decimal(900)))
    before = path.read_bytes()
    said = asked(path)
    told = said.last
    text = " ".join(said.out.split())

    assert said.code == 0
    assert path.read_bytes() == before
    assert told["verdict"] == "fits"
    assert told["taking"] == "take"
    assert told["headline"].startswith("We can take Owl: in time ")
    assert [job["id"] for job in told["without"]["jobs"]] == ["snail"]
    assert [job["id"] for job in told["with"]["jobs"]] == ["snail", "owl"]
    assert told["with"]["checked"]
    assert told["earliest_honest_date"] == "2026-02-04"
    assert told["least_price"] is not None
    assert told["for_the_client"].endswith("The price is 900 EUR.")
    assert "The least price that leaves you no worse off is" in text


def test_one_that_comes_too_soon_names_a_later_date_and_never_says_it_can_be_taken(
    tmp_path: Path,
) -> None:
    path = a_file(tmp_path, a_rush_book(days=1, hours=60))
    said = asked(path)
    told = said.last

    assert said.code == 3
    assert told["taking"] == "not"
    assert "can take" not in said.out
    assert told["earliest_honest_date"] > "2026-01-06"
    assert told["for_the_client"].startswith("Your window for Owl, ")
    assert "we can’t promise" in told["for_the_client"]


def test_the_job_of_a_file_is_laid_beside_a_book_as_an_enquiry(tmp_path: Path) -> None:
    book = a_rush_book()
    whole = json.loads(write_book(book))
    job = whole["jobs"].pop()
    path, alone = a_file(tmp_path, a_book(book.jobs[0])), tmp_path / "owl.json"
    alone.write_text(json.dumps({**job, "standing": "firm"}), encoding="utf-8")
    said = asked(path, str(alone))

    assert said.code == 0
    assert said.last["job"] == "owl"
    assert said.last["taking"] == "take"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[]", "holds no job"),
        ("{", "holds no job"),
        ('{"id": "owl"}', "holds no job"),
        ('{"id": "owl", "steps": ' + "[" * 100_000, "holds no job"),
        ('{"id": "snail", "steps": []}', "holds a job of the id snail already"),
    ],
)
def test_a_file_without_a_job_is_refused(tmp_path: Path, text: str, sentence: str) -> None:
    path, alone = a_file(tmp_path, a_rush_book()), tmp_path / "job.json"
    alone.write_text(text, encoding="utf-8")
    said = countback("rush", path, alone)

    assert said.code == 2
    assert sentence in said.err


@pytest.mark.parametrize(
    ("word", "sentence"), [("snail", "Snail is no enquiry"), ("heron", "heron")]
)
def test_a_word_that_means_no_enquiry_is_refused(tmp_path: Path, word: str, sentence: str) -> None:
    said = countback("rush", a_file(tmp_path, a_rush_book()), word)

    assert said.code == 2
    assert sentence in said.err


NOTHING = Pricing(costs=Costs(), missed=Decimal(0), late_percent=3)
FLOOR = Pricing(
    costs=Costs(materials=Decimal("4711.13"), besides=Decimal(7)),
    missed=Decimal(90),
    late_percent=3,
)


def a_rush(
    taking: Taking,
    *,
    chance: int | None = 97,
    harms: tuple[Harm, ...] = (),
    verdict: Verdict = Verdict.FITS,
    honest: str = "wished",
    **changes: Any,
) -> Rush:
    """An enquiry with an answer of that sort; its floor is 4808.13."""
    job = a_job("owl", standing=Standing.ENQUIRY, **changes)
    side = a_side((SNAIL, Verdict.FITS, 69), (OWL, verdict, chance), threshold=95)
    jobs = tuple(_told(each) for each in side.outcome.jobs)
    with_ = replace(side, outcome=replace(side.outcome, jobs=jobs))
    wished = Promise(
        window=a_window(),
        verdict=verdict,
        chance=chance,
        pricing=FLOOR,
        taking=taking,
        harms=harms,
        is_offered=True,
    )
    later = replace(
        wished,
        window=replace(a_window(), start=NOW + timedelta(days=90), end=NOW + timedelta(days=91)),
        taking=Taking.TAKE,
        chance=96,
        is_offered=False,
    )
    found = {"wished": wished, "later": later, "none": None}[honest]
    without = a_side((SNAIL, Verdict.FITS, 91))
    stood = tuple(_told(each) for each in without.outcome.jobs)
    return Rush(
        job=job,
        without=replace(without, outcome=replace(without.outcome, jobs=stood)),
        with_=with_,
        wished=wished,
        promises=(wished, later),
        honest=found,
        is_earliest=True,
    )


def _told(job: JobOutcome) -> JobOutcome:
    is_late = job.verdict is Verdict.MISSES
    name = job.name.capitalize()
    if is_late:
        return replace(job, name=name, missed_by_minutes=960, missed_by_working_minutes=960)
    return replace(job, name=name, slack_minutes=1440, wished_buffer_minutes=960)


HARM = Harm(job=SNAIL, name="Garden snail", late_before=9, late_after=31)
LOST = replace(HARM, loses=True)
MOON = replace(HARM, job=JobId("moon"), name="Foyer moon")


@pytest.mark.parametrize(
    ("found", "sentence"),
    [
        (
            a_rush(Taking.TAKE),
            "We can take Owl: in time 97 times in 100, and no other job falls below what was asked "
            "for.",
        ),
        (
            a_rush(Taking.AT_RISK, harms=(HARM,)),
            "Owl only at Garden snail’s risk: late 31 times in 100, today 9.",
        ),
        (
            a_rush(Taking.AT_RISK, harms=(HARM, MOON)),
            "Owl only at Garden snail’s risk: late 31 times in 100, today 9. At the risk of Foyer "
            "moon as well.",
        ),
        (
            a_rush(Taking.AT_RISK, harms=(HARM,), chance=80),
            "Owl only at Garden snail’s risk: late 31 times in 100, today 9. It would itself be "
            "late 20 times in 100.",
        ),
        (
            a_rush(Taking.AT_RISK, harms=(LOST,)),
            "Owl only at Garden snail’s cost: that would miss its window.",
        ),
        (
            a_rush(Taking.JUST, chance=80),
            "Owl fits, but only just: in time 80 times in 100, and you asked for 95; no other job "
            "falls below what was asked for.",
        ),
        (
            a_rush(Taking.JUST, chance=30),
            "Owl fits as planned, and would be late 70 times in 100 all the same; you asked for 95 "
            "in time. No other job falls below what was asked for.",
        ),
        (
            a_rush(Taking.JUST, verdict=Verdict.TIGHT),
            "Owl fits, but only just: 3 days to spare; no other job falls below what was asked "
            "for.",
        ),
        (a_rush(Taking.NOT, verdict=Verdict.MISSES), "Owl misses its window by 2 days."),
    ],
)
def test_the_head_says_whether_and_at_whose_risk(found: Rush, sentence: str) -> None:
    assert say.head_line(Words("en"), found, 10) == sentence


def test_only_what_stands_otherwise_is_laid_side_by_side() -> None:
    lines = list(say.side_lines(Words("en"), a_rush(Taking.AT_RISK, harms=(HARM,))))

    assert lines == [
        "Snail: 3 days to spare either way; in time 91 times in 100 without it, 69 with it.",
        "Owl: 3 days to spare and in time 97 times in 100.",
    ]


@pytest.mark.parametrize(
    ("honest", "begins"),
    [
        ("wished", "The earliest honest date is the one that was asked for: Mon 2 Mar 08:00"),
        ("later", "The earliest honest date is Sun 5 Apr 09:00"),
        ("none", "No honest date was found: none of the two windows"),
    ],
)
def test_the_honest_date_is_said(honest: str, begins: str) -> None:
    found = a_rush(Taking.JUST, honest=honest)

    assert say.honest_line(Words("en"), found, TODAY).startswith(begins)


def test_an_earlier_date_may_hold_where_not_all_were_tried_and_what_it_asks_for_is_said() -> None:
    found = a_rush(Taking.JUST, honest="later")
    assert found.honest is not None
    found = replace(
        found,
        is_earliest=False,
        honest=replace(found.honest, not_before=date(2026, 2, 2)),
    )

    line = say.honest_line(Words("en"), found, TODAY)

    assert "an earlier one may hold as well." in line
    assert line.endswith("For that nothing is begun for it before Mon 2 Feb.")


@pytest.mark.parametrize(
    ("honest", "price", "text"),
    [
        (
            "wished",
            Decimal(9000),
            "Yes, Owl can be with you in your window, Mon 2 Mar 08:00 to Fri 6 Mar 18:00. The "
            "price is 9000 EUR.",
        ),
        (
            "later",
            None,
            "Your window for Owl, Mon 2 Mar 08:00 to Fri 6 Mar 18:00, we can’t promise. What we "
            "can promise is Sun 5 Apr 09:00 to Mon 6 Apr 09:00.",
        ),
        (
            "none",
            Decimal(9000),
            "Your window for Owl, Mon 2 Mar 08:00 to Fri 6 Mar 18:00, we can’t promise, nor "
            "another date before we have looked further.",
        ),
    ],
)
def test_the_client_is_told_a_date_and_the_price_that_is_asked(
    honest: str, price: Decimal | None, text: str
) -> None:
    words = Words("en", book=a_book(a_job("owl")))

    assert say.client_text(words, a_rush(Taking.JUST, honest=honest, price=price), TODAY) == text


@pytest.mark.parametrize("taking", list(Taking))
@pytest.mark.parametrize("honest", ["wished", "later", "none"])
@pytest.mark.parametrize("price", [None, Decimal(9000)])
def test_no_text_to_copy_nor_any_headline_holds_the_floor(
    taking: Taking, honest: str, price: Decimal | None
) -> None:
    """The floor is 4,808.13, and 4,956.84 if paid only on time; whatever else is asked is not."""
    words = Words("en", book=a_book(a_job("owl")))
    harms = (HARM,) if taking is Taking.AT_RISK else ()
    verdict = Verdict.MISSES if taking is Taking.NOT else Verdict.FITS
    found = a_rush(taking, harms=harms, verdict=verdict, honest=honest, price=price)
    texts = [
        say.client_text(words, found, TODAY),
        say.head_line(words, found, 10),
        say.honest_line(words, found, TODAY),
        *say.side_lines(words, found),
        *(say.promise_line(words, found, each, TODAY) for each in found.promises),
    ]
    owners = " ".join(owner_rush.pricing_lines(words, found.wished.pricing))

    assert found.best_pricing is None or found.best_pricing.least == Decimal("4808.13")
    assert "4808.13" in owners
    for text in texts:
        assert text
        digits = "".join(each for each in text if each.isdigit())
        assert not any(floor in digits for floor in ("4808", "4711", "4956", "4718"))
        assert not NAMED.search(text)


@pytest.mark.parametrize(
    ("found", "lines"),
    [
        (
            FLOOR,
            [
                "Taking it costs 4718.13 EUR: material 4711.13, freight and what else the plan "
                "pays for 7, ways out 0, later jobs of others 0.",
                "Its own lateness is expected to cost 90 EUR.",
                "The least price that leaves you no worse off is 4808.13 EUR; a margin comes on "
                "top. Hours that are paid anyway count as nothing.",
                "Paid only if it is on time: 4956.84 EUR.",
            ],
        ),
        (
            NOTHING,
            [
                "Taking it costs nothing that is known.",
                "The least price that leaves you no worse off is 0 EUR; a margin comes on top. "
                "Hours that are paid anyway count as nothing.",
            ],
        ),
    ],
)
def test_the_owner_is_told_what_it_costs(found: Pricing, lines: list[str]) -> None:
    words = Words("en", book=a_book(a_job("owl")))

    assert list(owner_rush.pricing_lines(words, found)) == lines


def test_a_date_that_was_tried_says_how_it_holds() -> None:
    found = a_rush(Taking.AT_RISK, harms=(HARM,))
    words = Words("en")
    lines = [say.promise_line(words, found, each, TODAY) for each in found.promises]

    assert lines[0].endswith(": only at Garden snail’s risk, in time 97 times in 100.")
    assert lines[1].endswith(": holds, in time 96 times in 100.")
    assert datetime.fromisoformat("2026-04-05T08:00:00+00:00") == found.promises[1].window.start
