"""`countback chance`: what is said of each job, and what programs get."""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from app.words import Words
from app.words import chance as say
from scheduler.chance import Chances, JobChance, Risk
from shared.ids import JobId, StepId
from tests.app.cli.shell import a_file, countback
from tests.scheduler.test_chance import a_tall_book

AT = datetime(2026, 1, 9, 9, tzinfo=UTC)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_tall_book(window_days=3))


def test_it_says_how_often_a_job_is_in_time_and_programs_get_the_same(path: Path) -> None:
    before = path.read_bytes()
    said = countback("chance", path, "--now", "2026-01-05T08:00Z", "--seconds", "1", "--json")
    told = said.last
    (job,) = told["jobs"]

    assert said.code == 0
    assert path.read_bytes() == before
    assert f"in time {job['chance']} times in 100" in " ".join(said.out.split())
    assert job["id"] == "heron"
    assert 1 <= job["chance_at_usual_overrun"] < job["chance"] <= 99
    assert datetime.fromisoformat(job["date_80"]) >= datetime.fromisoformat(job["date_50"])
    assert job["risks"][0]["step"] == "heron-carve"
    assert (told["draws"], told["seed"]) == (2048, 1)


def test_the_same_seed_says_the_same_and_another_something_else(path: Path) -> None:
    def asked(*more: str) -> str:
        words = ("--now", "2026-01-05T08:00Z", "--seconds", "1", "--json", *more)
        return json.dumps(countback("chance", path, *words).last)

    assert asked() == asked()
    assert asked("--seed", "9") != asked()


def test_a_book_that_stops_is_not_asked_about(tmp_path: Path) -> None:
    bad = tmp_path / "bad.countback"
    bad.write_text("{}", encoding="utf-8")
    said = countback("chance", bad, "--json")

    assert said.code == 2
    assert said.last["jobs"] == []


def a_chance(name: str, chance: int | None, **more: object) -> JobChance:
    usual: dict[str, object] = {
        "id": JobId(name.lower()),
        "name": name,
        "chance": chance,
        "at_usual_overrun": None,
        "threshold": 95,
        **more,
    }
    return JobChance(**usual)  # type: ignore[arg-type]


def chances(*jobs: JobChance, **more: object) -> Chances:
    usual: dict[str, object] = {
        "jobs": jobs,
        "draws": 2048,
        "seed": 1,
        "finished_count": 0,
        "is_own_record": False,
        "overrun_percent": 25,
        **more,
    }
    return Chances(**usual)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("found", "sentence"),
    [
        (chances(), "No job is planned, so there is nothing to be sure of."),
        (
            chances(a_chance("Owl", None)),
            "Of none of these jobs can be said how often it would be in time.",
        ),
        (
            chances(a_chance("Owl", 97)),
            "The job is as sure as was asked for: in time 97 times in 100.",
        ),
        (
            chances(a_chance("Owl", 97), a_chance("Snail", 96)),
            "Both jobs are as sure as was asked for; the less sure is Snail: in time 96 times in "
            "100.",
        ),
        (
            chances(a_chance("Owl", 69)),
            "Owl is less sure than was asked for: in time 69 times in 100.",
        ),
        (
            chances(a_chance("Owl", 69), a_chance("Snail", 99)),
            "One of two is less sure than was asked for: Owl, in time 69 times in 100.",
        ),
        (
            chances(a_chance("Owl", 69), a_chance("Snail", 41), a_chance("Moon", None)),
            "Both jobs are less sure than was asked for; the less sure is Snail: in time 41 times "
            "in 100.",
        ),
        (
            chances(*(a_chance(name, 41) for name in ("Owl", "Snail", "Moon"))),
            "All three jobs are less sure than was asked for; the least sure is Moon: in time 41 "
            "times in 100.",
        ),
        (
            chances(*(a_chance(name, 97) for name in ("Owl", "Snail", "Moon"))),
            "All three jobs are as sure as was asked for; the least sure is Moon: in time 97 times "
            "in 100.",
        ),
    ],
)
def test_the_head_says_how_sure_all_of_it_is(found: Chances, sentence: str) -> None:
    assert say.head_line(Words("en"), found) == sentence


RISKS = (
    Risk(job=JobId("owl"), step=StepId("approve"), share_percent=95, pull_percent=90),
    Risk(job=JobId("snail"), step=StepId("carve"), share_percent=40, pull_percent=12),
)


@pytest.mark.parametrize(
    ("job", "lines"),
    [
        (a_chance("Owl", None), ["Owl: its lorry has gone."]),
        (
            a_chance("Owl", None, planned=AT),
            ["Owl: nothing makes its window, so there is nothing to be sure of."],
        ),
        (
            a_chance("Owl", 88, at_usual_overrun=71),
            [
                "Owl: in time 88 times in 100, 71 if hours turn out longer as usual; you asked for "
                "95."
            ],
        ),
        (
            a_chance("Owl", 88, ready_50=AT, ready_80=AT, planned=AT, latest=AT, risks=RISKS),
            [
                "Owl: in time 88 times in 100; you asked for 95.",
                "Loaded by Fri 9 Jan 09:00 in half of the draws and by Fri 9 Jan 09:00 in 80 of "
                "100; planned for Fri 9 Jan 09:00, Fri 9 Jan 09:00 at the latest.",
                "It hangs most on approve (decides 95 of 100 draws, moves the end by 90 %) and "
                "carve of snail (decides 40 of 100 draws, moves the end by 12 %).",
            ],
        ),
    ],
)
def test_a_job_says_how_often_when_and_by_what(job: JobChance, lines: list[str]) -> None:
    assert say.job_lines(Words("en"), job, today=AT.date()) == lines


@pytest.mark.parametrize(
    ("found", "begins"),
    [
        (chances(finished_count=1), "Hours are taken as written; 1 finished stage is on record"),
        (chances(finished_count=3), "Hours are taken as written; 3 finished stages are on record"),
        (
            chances(finished_count=7, is_own_record=True, overrun_percent=18),
            "Hours are corrected by the workshop’s own record of 7 finished stages: they took 18 % "
            "longer",
        ),
        (
            chances(finished_count=7, is_own_record=True, overrun_percent=-4),
            "Hours are corrected by the workshop’s own record of 7 finished stages: they took 4 % "
            "less",
        ),
    ],
)
def test_the_notes_say_what_the_figures_go_by(found: Chances, begins: str) -> None:
    assert " ".join(say.note_lines(Words("en"), found, 5)).startswith(begins)


def test_times_far_off_are_told() -> None:
    lines = list(say.note_lines(Words("en"), chances(left_out_count=1), 5))

    assert lines[1].startswith("1 recorded time is so far off that it was left out")
