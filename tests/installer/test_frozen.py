"""The window's child, started as a built program starts it: the program itself, with a verb."""

import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from app.child import Child
from tests.house.tree import ROOT

WITHOUT_STREAMS = """
import runpy
import sys

sys.stdout = sys.stderr = None
sys.argv = ["countback-window", *{words!r}]
runpy.run_path("installer/window.py", run_name="__main__")
"""


@pytest.mark.parametrize(("words", "code"), [(["--help"], 0), (["a", "b", "c"], 2)])
def test_the_window_s_program_needs_no_streams(words: list[str], code: int) -> None:
    command = [sys.executable, "-c", WITHOUT_STREAMS.format(words=words)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)

    assert (done.returncode, done.stdout, done.stderr) == (code, "", "")


def test_a_built_program_is_its_own_engine(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program = tmp_path / "countback"
    program.write_text(f'#!/bin/sh\ncd "{ROOT}" && exec "{sys.executable}" -m app "$@"\n')
    program.chmod(0o755)
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    monkeypatch.setattr(sys, "executable", str(program))
    owner = QObject()
    child = Child(None, owner)
    try:
        with qtbot.waitSignal(
            child.heard,
            timeout=60_000,
            check_params_cb=lambda told: told["kind"] == "ready",
        ):
            child.start()
    finally:
        child.close()

    assert child.process_id == 0
