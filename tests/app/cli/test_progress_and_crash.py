import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.cli.console import Console
from app.cli.crash import keep_note
from app.cli.progress import Meter
from app.words import Words
from scheduler.request import SolveRequest
from tests.app.cli.shell import Terminal
from tests.builders import NOW, a_book, a_plan
from tests.house.tree import ROOT


class Clock:
    """Ticks when it is told to."""

    def __init__(self) -> None:
        self.seconds = 100.0

    def __call__(self) -> float:
        return self.seconds


def a_meter(err: io.StringIO, clock: Clock) -> Meter:
    request = SolveRequest(book=a_book(), now=NOW, seconds=10)
    return Meter(Console(io.StringIO(), err), Words("en"), request, clock)


def test_on_a_terminal_one_line_counts_down() -> None:
    err, clock = Terminal(), Clock()
    meter = a_meter(err, clock)

    meter.tick()
    clock.seconds += 9
    meter.tick()
    meter.plan(a_plan(), (1, 1, 0, 0, 0, 0, 0, 0))
    clock.seconds += 5
    meter.tick()

    assert err.getvalue().split("\r\x1b[K")[1:] == [
        "Planning, 10 seconds left.",
        "Planning, 1 second left.",
        "Planning, 0 s left. Best so far: two windows missed.",
    ]


def test_what_the_last_better_plan_gained_is_told_in_its_first_aim() -> None:
    err, clock = Terminal(), Clock()
    meter = a_meter(err, clock)

    meter.plan(a_plan(), (1, 1, 40, 0, 0, 0, 0, 0))
    meter.plan(a_plan(), (1, 1, 12, 9, 0, 0, 0, 0))
    late = meter.line()
    meter.plan(a_plan(), (0, 1, 99, 0, 0, 0, 0, 0))

    assert late.endswith("two windows missed. Last gained: 7 h of lateness.")
    assert meter.line().endswith("one window missed. Last gained: one window.")


def test_elsewhere_it_tells_every_five_seconds_in_plain_lines() -> None:
    err, clock = io.StringIO(), Clock()
    meter = a_meter(err, clock)

    for _ in range(11):
        meter.tick()
        clock.seconds += 1

    assert err.getvalue() == "Planning, 5 seconds left.\nPlanning, 0 seconds left.\n"


def test_what_passes_by_gives_way_to_what_stays() -> None:
    err = Terminal()
    console = Console(io.StringIO(), err)
    console.pass_by("counting")
    console.tell("done")

    assert err.getvalue() == "\r\x1b[Kcounting\r\x1b[Kdone\n"


def fall(capsys: pytest.CaptureFixture[str]) -> str:
    try:
        raise ZeroDivisionError("nothing to share")
    except ZeroDivisionError:
        kind, trouble, trace = sys.exc_info()
    assert kind is not None
    assert trouble is not None
    keep_note(kind, trouble, trace)
    return capsys.readouterr().err


def test_our_own_fault_is_one_sentence_and_a_note_in_a_file(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("COUNTBACK_DEBUG", raising=False)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    said = fall(capsys)
    (note,) = tmp_path.iterdir()

    assert len(said.splitlines()) == 1
    assert str(note) in said
    assert "Traceback" not in said
    kept = note.read_text(encoding="utf-8")
    assert kept.startswith("Countback ")
    assert kept.endswith("in fall\nbuiltins.ZeroDivisionError\n")
    assert "nothing to share" not in kept, "what an error says may be somebody's"


def test_without_room_for_the_note_the_sentence_says_what_it_was(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("COUNTBACK_DEBUG", raising=False)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "nowhere"))

    assert fall(capsys).endswith("ZeroDivisionError: nothing to share\n")


def test_a_developer_sees_the_whole_story(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COUNTBACK_DEBUG", "1")

    assert fall(capsys).startswith("Traceback")


def test_a_fault_ends_the_process_with_1(tmp_path: Path) -> None:
    code = "import sys; from app.cli.crash import keep_note; sys.excepthook = keep_note; 1 / 0"
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env={**os.environ, "TMPDIR": str(tmp_path), "COUNTBACK_DEBUG": ""},
        capture_output=True,
        text=True,
        check=False,
    )

    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    assert len(list(tmp_path.iterdir())) == 1
