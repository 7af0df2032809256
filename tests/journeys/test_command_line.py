"""The command line as its user has it: real processes, the real engine, the sample books."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from app.cli.sample import SAMPLES
from shared.book import Book, Standing
from shared.files.disk import load
from shared.files.lock import Lock, take
from shared.files.read import read_book, read_plan
from shared.files.write import write_book, write_plan
from shared.plan import Placement, Plan
from tests.app.cli.test_beside import BESIDE_FIELDS
from tests.app.cli.test_report import JOB_FIELDS, PLAN_FIELDS
from tests.builders import NOW
from tests.house.tree import ROOT

pytestmark = pytest.mark.journey

TIMEOUT_SECONDS = 120


def command(*arguments: str | Path) -> list[str]:
    return [sys.executable, "-m", "app", *map(str, arguments)]


def environment() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"}


def countback(
    *arguments: str | Path, folder: Path | None = None
) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        command(*arguments),
        cwd=folder or ROOT,
        env=environment(),
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=TIMEOUT_SECONDS,
        check=False,
    )


def last_object(text: str) -> Any:
    return json.loads(text.splitlines()[-1])


def book_of(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


def plan_of(path: Path) -> Plan:
    plan = read_plan(load(path)).plan
    assert plan is not None
    return plan


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[Path, Path, Any, int]]:
    """Every sample: its book, its plan, what `plan` said last, and its exit code."""
    folder = tmp_path_factory.mktemp("planned")
    made = {}
    for name in SAMPLES:
        assert countback("sample", name, folder).returncode == 0
        book, plan = folder / f"{name}.countback", folder / f"{name}.plan"
        data = book.read_bytes()
        done = countback("plan", book, "--out", plan, "--json", "--seconds", "3")
        assert done.returncode in {0, 3}, done.stderr
        assert book.read_bytes() == data
        made[name] = (book, plan, last_object(done.stdout), done.returncode)
    return made


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_is_planned_and_its_plan_is_sound(
    planned: dict[str, tuple[Path, Path, Any, int]], name: str
) -> None:
    book, plan, said, code = planned[name]
    checked = countback("check", book, plan, "--json")

    assert checked.returncode == 0, checked.stdout
    assert last_object(checked.stdout) == {"sound": True, "breaches": [], "not_judged": []}
    assert list(said) == [*PLAN_FIELDS, *BESIDE_FIELDS]
    assert all(list(job) == [*JOB_FIELDS, "steps", "dues"] for job in said["jobs"])
    assert said["checked"] is True
    assert len(said["levels"]) == 8
    met = all(job["verdict"] in {"fits", "tight"} for job in said["jobs"])
    assert code == (0 if met else 3)
    assert plan_of(plan).made_from.revision == said["revision"]


def test_the_samples_show_what_they_are_for(
    planned: dict[str, tuple[Path, Path, Any, int]],
) -> None:
    said = {name: [job["verdict"] for job in planned[name][2]["jobs"]] for name in SAMPLES}

    assert len(said["small"]) == 1
    assert set(said["small"]) <= {"fits", "tight"}
    assert "tight" in said["tight"]
    assert set(said["full"]) <= {"fits", "tight"}
    assert len(said["full"]) == 12
    for name in ("hollow", "foam-kept", "cast", "hard-coat", "repair", "crossing"):
        assert set(said[name]) <= {"fits", "tight"}, name
    assert len(said["rush"]) == 3, "the enquiry is asked for by name"
    assert set(said["rush"]) & {"misses", "not_found"}
    assert "cannot" in said["impossible"]
    assert planned["impossible"][3] == 3
    cannot = [job for job in planned["impossible"][2]["jobs"] if job["verdict"] == "cannot"]
    assert all(job["reason"] for job in cannot)


def moved(plan: Plan, index: int) -> Plan:
    """The plan with one placement a minute later, so that it lies on no quarter of an hour."""
    old = plan.placements[index]
    minute = timedelta(minutes=1)
    new: Placement = replace(old, start=old.start + minute, end=old.end + minute)
    return replace(plan, placements=(*plan.placements[:index], new, *plan.placements[index + 1 :]))


@pytest.mark.parametrize("share", [0.0, 0.5, 0.99])
def test_one_placement_broken_by_hand_is_named(
    planned: dict[str, tuple[Path, Path, Any, int]], tmp_path: Path, share: float
) -> None:
    book, plan_path, _, _ = planned["small"]
    plan = plan_of(plan_path)
    index = int(share * len(plan.placements))
    broken = tmp_path / "broken.plan"
    broken.write_bytes(write_plan(moved(plan, index)))
    checked = countback("check", book, broken, "--json")

    assert checked.returncode == 4
    wheres = {breach["where"] for breach in last_object(checked.stdout)["breaches"]}
    assert plan.placements[index].step in wheres


def test_plan_reads_like_a_timetable(tmp_path: Path) -> None:
    countback("sample", "tight", tmp_path)
    done = countback("plan", "tight.countback", "--seconds", "2", folder=tmp_path)
    lines = done.stdout.splitlines()

    assert done.stderr == ""
    assert max(map(len, lines)) <= 120
    assert lines[1].endswith(", which the book itself names.")
    assert lines[3].split("  ")[0] == "Job"
    assert any(line.startswith("Checked: ") for line in lines)
    assert "\x1b" not in done.stdout
    assert [path.name for path in tmp_path.iterdir()] == ["tight.countback"]


def test_quiet_says_one_sentence(tmp_path: Path) -> None:
    countback("sample", "small", tmp_path)
    done = countback("plan", "small.countback", "--quiet", "--seconds", "1", folder=tmp_path)

    assert len(done.stdout.splitlines()) <= 2
    assert done.stderr == ""


def test_another_now_is_the_one_spoken_of(tmp_path: Path) -> None:
    countback("sample", "small", tmp_path)
    done = countback(
        *("plan", tmp_path / "small.countback", "--seconds", "1", "--json"),
        *("--now", "2027-01-19T08:00"),
    )

    assert last_object(done.stdout)["as_of"] == "2027-01-19T08:00:00Z"
    assert "As of Tue 19 Jan 2027 08:00." in done.stdout


def test_an_enquiry_is_planned_only_if_it_is_asked_for(tmp_path: Path) -> None:
    countback("sample", "tight", tmp_path)
    path = tmp_path / "tight.countback"
    book = book_of(path)
    asked = replace(book.jobs[0], standing=Standing.ENQUIRY)
    path.write_bytes(write_book(replace(book, jobs=(asked, *book.jobs[1:]))))
    without = countback("plan", path, "--seconds", "1", "--json")
    beside = countback("plan", path, "--seconds", "1", "--json", "--with", asked.name[:6].upper())

    assert [job["id"] for job in last_object(without.stdout)["jobs"]] == [
        job.id for job in book.jobs[1:]
    ]
    assert asked.id in [job["id"] for job in last_object(beside.stdout)["jobs"]]
    assert countback("plan", path, "--with", "nobody").returncode == 2


def test_a_book_with_findings_that_stop_is_not_planned(tmp_path: Path) -> None:
    countback("sample", "small", tmp_path)
    path = tmp_path / "small.countback"
    book = book_of(path)
    path.write_bytes(write_book(replace(book, jobs=(replace(book.jobs[0], windows=()),))))
    done = countback("plan", path, "--out", tmp_path / "plan", "--json")
    said = last_object(done.stdout)

    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert said["verdict"] is None
    assert [each["code"] for each in said["findings"]] == ["job_without_window"]
    assert not (tmp_path / "plan").exists()


def test_a_book_that_somebody_has_open_is_planned_and_checked(tmp_path: Path) -> None:
    countback("sample", "small", tmp_path)
    path = tmp_path / "small.countback"
    lock = take(path, "anna", NOW)
    assert isinstance(lock, Lock)

    with lock:
        before = sorted(tmp_path.iterdir())
        assert countback("plan", path, "--seconds", "1").returncode == 0
        assert sorted(tmp_path.iterdir()) == before
        assert countback("undo", path).returncode == 2


@pytest.mark.parametrize("name", ["small.countback", "other.txt", "folder"])
def test_out_is_never_put_over_something_else(tmp_path: Path, name: str) -> None:
    countback("sample", "small", tmp_path)
    (tmp_path / "other.txt").write_text("mine", encoding="utf-8")
    (tmp_path / "folder").mkdir()
    before = {path: path.stat().st_mtime_ns for path in tmp_path.iterdir()}
    done = countback("plan", tmp_path / "small.countback", "--out", tmp_path / name)

    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1
    assert {path: path.stat().st_mtime_ns for path in tmp_path.iterdir()} == before


def test_ctrl_c_gives_the_best_plan_so_far_and_its_exit_code(tmp_path: Path) -> None:
    countback("sample", "full", tmp_path)
    plan = tmp_path / "plan"
    running = subprocess.Popen(
        command("plan", tmp_path / "full.countback", "--seconds", "100", "--out", plan, "--json"),
        cwd=ROOT,
        env=environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    )
    assert running.stderr is not None
    # The first line of progress says that the search is on.
    assert running.stderr.readline().startswith("Planning, ")
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=TIMEOUT_SECONDS)
    said = last_object(out)

    assert running.returncode in {0, 3}, err
    assert "Called off: this is the best so far." in err
    assert "Traceback" not in err
    assert said["checked"] is True
    assert said["jobs"]
    assert plan_of(plan).placements


def test_planning_imports_no_qt() -> None:
    done = subprocess.run(
        [
            *(sys.executable, "-X", "importtime", "-m", "app"),
            *("plan", "sample_jobs/small.countback", "--seconds", "1"),
        ],
        cwd=ROOT,
        env=environment(),
        capture_output=True,
        text=True,
        check=False,
    )

    assert "scheduler.solve" in done.stderr, "the list was not read"
    assert "PySide6" not in done.stderr


class Engine:
    """A real `countback engine` and its lines."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            command("engine"),
            cwd=ROOT,
            env=environment(),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
        )

    def put(self, **line: object) -> None:
        self.put_text(json.dumps(line) + "\n")

    def put_text(self, text: str) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(text)
        self.process.stdin.flush()

    def ask(self, number: int, name: str = "small", **request: object) -> None:
        path = ROOT / "sample_jobs" / f"{name}.countback"
        book = json.loads(path.read_bytes())
        told = {"now": book["as_of"], "seconds": 2, **request}
        self.put(kind="ask", id=number, revision=book["revision"], book=book, request=told)

    def line(self) -> Any:
        """The next line that says something: a beat only says that it is there."""
        assert self.process.stdout is not None
        while (found := json.loads(self.process.stdout.readline()))["kind"] == "beat":
            pass
        return found

    def until(self, *kinds: str) -> list[Any]:
        said = [self.line()]
        while said[-1]["kind"] not in kinds:
            said.append(self.line())
        return said


@pytest.fixture
def engine() -> Iterator[Engine]:
    engine = Engine()
    assert engine.line() == {"kind": "ready", "id": None, "revision": None}
    yield engine
    if engine.process.poll() is None:
        engine.process.kill()
    engine.process.communicate(timeout=TIMEOUT_SECONDS)


def test_the_engine_answers_two_asks_in_a_row_with_checked_plans(engine: Engine) -> None:
    for number in (1, 2):
        engine.ask(number)
        said = engine.until("done", "failed")
        assert said[-1]["kind"] == "done", said[-1]
        assert {line["id"] for line in said} == {number}
        assert said[0]["kind"] in {"plan", "bound"}
        assert said[-1]["outcome"]["check"]["sound"] is True
        assert said[-1]["outcome"]["jobs"][0]["verdict"] in {"fits", "tight"}


def test_the_engine_is_called_off_by_a_line_and_not_by_a_stale_one(engine: Engine) -> None:
    engine.ask(1, "full", seconds=100)
    engine.until("plan")
    engine.put(kind="cancel", id=77)
    engine.put(kind="cancel", id=1)
    done = engine.until("done", "failed")[-1]

    assert done["outcome"]["stopped"] == "cancelled"
    engine.put(kind="cancel", id=1)
    engine.ask(2)
    assert engine.until("done", "failed")[-1]["id"] == 2


def test_the_engine_survives_garbage(engine: Engine) -> None:
    engine.put_text("\x00\x01 garbage\n{]\n\n")
    engine.put(kind="sing")
    engine.put(kind="ask", id=1)
    failed = [engine.line() for _ in range(3)]

    assert [line["code"] for line in failed] == ["not_json", "not_json", "not_an_ask"]
    engine.ask(2)
    assert engine.until("done", "failed")[-1]["kind"] == "done"


def test_the_engine_ignores_ctrl_c_and_leaves_on_bye(engine: Engine) -> None:
    engine.process.send_signal(signal.SIGINT)
    engine.ask(1)
    assert engine.until("done", "failed")[-1]["kind"] == "done"
    engine.put(kind="bye")

    assert engine.process.wait(TIMEOUT_SECONDS) == 0


def test_the_engine_leaves_when_its_input_ends_even_while_it_solves(engine: Engine) -> None:
    engine.ask(1, "full", seconds=100)
    engine.until("plan")
    assert engine.process.stdin is not None
    engine.process.stdin.close()

    assert engine.process.wait(TIMEOUT_SECONDS) == 0
    engine.process.stdin = None
