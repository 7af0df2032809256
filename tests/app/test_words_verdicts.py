"""Verdicts as sentences, in a table."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from app.words import Words
from scheduler.outcome import JobOutcome, Verdict
from shared.findings import Clash
from shared.ids import JobId
from tests.app.cli.outcomes import MISSED, an_outcome
from tests.builders import a_book

DAY = 8 * 60


@pytest.fixture(scope="module")
def words(tmp_path_factory: pytest.TempPathFactory) -> Words:
    return Words("en", folder=tmp_path_factory.mktemp("nothing"))


def job(name: str, verdict: Verdict, **more: Any) -> JobOutcome:
    return JobOutcome(id=JobId(name.lower()), name=name, verdict=verdict, **more)


def fits(name: str, slack: int) -> JobOutcome:
    return job(name, Verdict.FITS, slack_minutes=slack)


def tight(name: str, slack: int) -> JobOutcome:
    return job(name, Verdict.TIGHT, slack_minutes=slack, wished_buffer_minutes=2 * DAY)


def misses(name: str, late: int) -> JobOutcome:
    return job(name, Verdict.MISSES, missed_by_minutes=3 * late, missed_by_working_minutes=late)


CANNOT = job(
    "Pitcher plant",
    Verdict.CANNOT,
    reasons=(Clash(code="chain_too_long", kind="chain", facts=(("minutes", 3000),)),),
)

ONE_JOB = [
    (fits("Reading owl", 1200), "Reading owl fits, with 2½ days to spare."),
    (fits("Reading owl", 0), "Reading owl fits, with nothing to spare."),
    (
        tight("Garden snail", 360),
        "Garden snail fits, but only just: ¾ of a day to spare, and you asked for 2.",
    ),
    (
        job("Moon", Verdict.TIGHT, slack_minutes=DAY * 3, wished_buffer_minutes=DAY, chance=91),
        "Moon fits, but only just: in time 91 times in 100.",
    ),
    (misses("Pitcher plant", 1440), "Pitcher plant misses its window by 3 days."),
    (
        job("Moon", Verdict.MISSES, missed_by_minutes=45),
        "Moon misses its window by 45 min.",
    ),
    (
        job("Moon", Verdict.NOT_FOUND, missed_by_minutes=9, missed_by_working_minutes=960),
        "Moon: not found in 60 s. Best so far misses by 2 days; one in time may still exist.",
    ),
    (
        CANNOT,
        "Pitcher plant: cannot. Its steps, one after the other, take 2¼ days too long.",
    ),
    (job("Moon", Verdict.CANNOT), "Moon: cannot."),
    (
        job("Moon", Verdict.CANNOT, reasons=(Clash(code="no_window"),)),
        "Moon: cannot as written. The job has no window.",
    ),
]

SEVERAL = [
    ([], "No job is planned."),
    (
        [fits("Owl", 1200), tight("Snail", 360)],
        "Both jobs fit their windows; Snail only just: ¾ of a day to spare.",
    ),
    (
        [tight("Owl", 480), tight("Snail", 360)],
        "Both jobs fit their windows, but only just; the nearest is Snail, "
        "with ¾ of a day to spare.",
    ),
    (
        [fits("Owl", 1200), fits("Pear", 960)],
        "Both jobs fit their windows; the nearest is Pear, with 2 days to spare.",
    ),
    (
        [*(fits(f"Job {n}", 1200) for n in range(5)), tight("Garden snail", 360)],
        "All six jobs fit their windows; Garden snail only just: ¾ of a day to spare.",
    ),
    (
        [fits("Owl", 1200), tight("Snail", 360), tight("Pear", 240)],
        "All three jobs fit their windows, two of them only just; "
        "the nearest is Pear, with ½ a day to spare.",
    ),
    (
        [fits("Owl", 1200), misses("Plant", 1440)],
        "Plant misses its window by 3 days. The other one fits.",
    ),
    (
        [fits("Owl", 1200), fits("Pear", 960), misses("Plant", 1440)],
        "Plant misses its window by 3 days. The other two fit.",
    ),
    (
        [*(fits(f"Job {n}", 1200) for n in range(4)), misses("Plant", 1440), misses("Moon", 240)],
        "Two of six jobs miss: Plant by 3 days, Moon by ½ a day.",
    ),
    (
        [misses("Plant", 1440), CANNOT, job("Moon", Verdict.NOT_FOUND)],
        "Three of three jobs do not fit: Plant misses by 3 days, "
        "Pitcher plant cannot and Moon is not found in time.",
    ),
    (
        [misses(f"Job {n}", 480) for n in range(14)],
        "14 of 14 jobs miss: Job 0 by 1 day, Job 1 by 1 day, Job 2 by 1 day, "
        "Job 3 by 1 day and ten more.",
    ),
]


@pytest.mark.parametrize(("outcome", "said"), ONE_JOB, ids=lambda value: str(value)[:30])
def test_a_job_has_one_sentence(words: Words, outcome: JobOutcome, said: str) -> None:
    assert words.verdict_line(outcome, seconds=60) == said
    assert words.book_line([outcome], seconds=60) == said


@pytest.mark.parametrize(("outcomes", "said"), SEVERAL, ids=lambda value: str(value)[:30])
def test_a_book_has_one_sentence(words: Words, outcomes: list[JobOutcome], said: str) -> None:
    assert words.book_line(outcomes, seconds=60) == said


def test_what_to_do_next_comes_last(words: Words) -> None:
    asked = job(
        "Reading owl",
        Verdict.FITS,
        slack_minutes=1200,
        latest_answer=datetime(2027, 2, 2, 17, tzinfo=UTC),
    )

    said = words.verdict_line(asked, now=datetime(2027, 1, 4, tzinfo=UTC))

    assert said.endswith("2½ days to spare. Its client must answer by Tue 2 Feb.")


def test_whoever_answers_instead_of_the_client_is_named(words: Words) -> None:
    asked = job(
        "Reading owl",
        Verdict.FITS,
        slack_minutes=1200,
        latest_answer=datetime(2027, 2, 2, 17, tzinfo=UTC),
        answered_by="The engineer",
    )

    said = words.verdict_line(asked, now=datetime(2027, 1, 4, tzinfo=UTC))

    assert said.endswith("to spare. The engineer must answer by Tue 2 Feb.")


def test_a_search_without_a_time_says_no_seconds(words: Words) -> None:
    said = words.verdict_line(job("Moon", Verdict.NOT_FOUND, missed_by_minutes=600))

    assert said.startswith("Moon: not found in time. Best so far misses by 10 h;")


def test_levels_speak_only_of_what_is_not_met(words: Words) -> None:
    nothing = words.level_lines(an_outcome(a_book(), MISSED, levels=(0,) * 8, proved_levels=8))
    levels = (1, 2, 3, 4, 1, 1, 1_234_450, 96 * 3)
    much = Words("en", book=a_book()).level_lines(
        an_outcome(a_book(), MISSED, levels=levels, bounds=levels, proved_levels=3)
    )

    assert nothing == [
        "No window is missed.",
        "Each of the eight aims is proved to be met as well as can be.",
    ]
    assert much == [
        "One window is missed.",
        "Two windows of enquiries are missed.",
        "Loading ends 45 min after the latest, all jobs together.",
        "The wished buffers are short by 1 h, all jobs together.",
        "The sheet of one person changes today or tomorrow.",
        "What people were told changes by 1 point.",
        "Overtime, hired hands, heating and freight that are taken cost 12,345 EUR.",
        "Pieces stand on the floor for 3 days, all of them together.",
        "The first three of the eight aims are proved to be met as well as can be.",
    ]


def test_what_could_still_be_gained_is_told_aim_by_aim(words: Words) -> None:
    said = Words("en", book=a_book()).level_lines(
        an_outcome(
            a_book(),
            MISSED,
            levels=(3, 1, 96, 96, 2, 9, 20000, 960),
            bounds=(1, 0, 0, 96, 0, 1, 0, 480),
            proved_levels=0,
        )
    )
    held = words.level_lines(
        an_outcome(a_book(), MISSED, levels=(1,) * 8, bounds=(0,) * 8, proved_levels=8)
    )

    assert said[-1] == (
        "By what is proved, this much at most could still be gained: two windows, one enquiry, "
        "24 h of lateness, two changed sheets, eight points of change, 200 EUR and "
        "5 days on the floor."
    )
    assert held[-1] == "Each of the eight aims is proved to be met as well as can be."


def test_the_marks_are_the_five_of_the_screen(words: Words) -> None:
    assert [words.verdict_mark(verdict) for verdict in Verdict] == [
        "fits",
        "fits, but only just",
        "misses",
        "not found in time",
        "cannot",
    ]


def test_the_tone_has_no_shouting(tmp_path: Path) -> None:
    from tests.app.catalogue import all_texts

    texts = all_texts()

    assert len(texts) > 250
    for text in texts:
        lower = text.casefold()
        assert "!" not in text, text
        assert not any(word in lower for word in ("please", "error", "success", "oops")), text
