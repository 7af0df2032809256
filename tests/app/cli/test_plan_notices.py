"""`countback plan` with notices beside the plan; books without any pay nothing for them."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

from app.notices_json import with_dues
from app.outcome_json import job_of, outcome_object
from scheduler.request import SolveRequest
from scheduler.solve import solve
from tests.app.cli.shell import a_file, countback
from tests.app.cli.test_move import a_moving_book
from tests.builders import NOW
from tests.house.tree import ROOT

FIELDS = [
    *("id", "code", "name", "journey", "by", "before", "at", "lead", "counted", "office"),
    *("country", "subdivision", "figures", "because", "done", "is_over", "late_days", "is_legal"),
]


def test_notices_stand_with_the_plan_and_with_their_job(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_moving_book(notices=()))
    said = countback("plan", path, "--seconds", "1", "--json")
    lines = said.out.splitlines()
    first = lines[lines.index("Notices and papers") + 1]
    (job,) = said.last["jobs"]
    by_id = {due["id"]: due for due in job["dues"]}

    assert said.code == 0
    assert first.startswith(
        "  Wed 18 Feb  Heron: insurance papers to the site and method statement"
    )
    assert "Behind what a law asks for stands its current text: open it." in " ".join(lines)
    assert list(by_id["road_notice"]) == FIELDS
    assert (by_id["road_notice"]["by"], by_id["road_notice"]["lead"]) == ("2026-02-26", 2)
    assert said.last["dues"] == []


def test_a_plain_book_is_told_of_none_and_loads_nothing_for_it() -> None:
    told = subprocess.run(
        [
            *(sys.executable, "-X", "importtime", "-m", "app", "plan"),
            *("sample_jobs/small.countback", "--seconds", "1"),
        ],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    loaded = {row.rpartition("|")[2].strip() for row in told.stderr.splitlines()}

    assert told.returncode == 0, told.stderr
    assert "Notices and papers" not in told.stdout
    assert "shared.notices.quiet" in loaded
    assert not {name for name in loaded if name.startswith("shared.notices.")} - {
        "shared.notices.quiet"
    }


def test_the_engine_tells_them_with_the_outcome() -> None:
    book = replace(a_moving_book(notices=()), revision=1)
    outcome = solve(SolveRequest(book=book, now=NOW, effort=1, workers=1))
    told = with_dues(outcome_object(outcome), book, outcome)
    (job,) = told["jobs"]

    assert {due["code"] for due in job["dues"]} >= {"road_notice", "lifting_plan", "insurance"}
    assert job_of(job) == outcome.jobs[0]
