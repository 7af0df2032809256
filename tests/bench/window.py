"""The window at size: ``python -m tests.bench window [--stages N] [--seconds N] [--json]``.

A book of so many stages with its plan kept in it. start: seconds from starting Python to the wall
drawn with all its blocks, best of a few, each in a process of its own. edit: seconds from an edit
to a plan of the edited book on the wall, median. stall: the longest that the event loop stood still
while a solve of so many seconds ran, and the 99th of a hundred gaps, milliseconds. cancel: from
Esc to the answer, milliseconds. killed: whether the plan stayed, a sentence told of it and the next
solve worked after the child was killed from outside.
"""

import argparse
import json
import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from app.window.main import MainWindow
from app.window.startup import build, prepare
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Stage
from shared.edits import change_step
from shared.files.write import write_book
from tests.books.sized import Size, sized_book
from tests.house.tree import ROOT

LONGER = Decimal(1)
RUNS, EDITS, TICK_MILLISECONDS, WITHIN_SECONDS = 3, 5, 5, 120
_START = """
import sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
from app.window.startup import build, prepare
app = QApplication([])
prepare(app)
window = build(Path(sys.argv[1]))
window.show_book(window.desk.open(Path(sys.argv[2])))
window.resize(1366, 768)
window.show()
app.processEvents()
window.grab()
print(sum(len(row.blocks) for row in window.wall.wall.rows), flush=True)
window._may_close = True
window.close()
"""


def main(argv: list[str]) -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench window", description=__doc__)
    parser.add_argument("--stages", type=int, default=600)
    parser.add_argument("--seconds", type=int, default=30)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    with tempfile.TemporaryDirectory() as folder:
        path = a_planned_book(Path(folder), asked.stages)
        found: dict[str, object] = {"stages": asked.stages}
        found["start_seconds"] = min(start_seconds(Path(folder), path) for _ in range(RUNS))
        found |= live(Path(folder), path, asked.seconds)
    for name, value in found.items():
        print(name, value)
    if asked.json:
        print(json.dumps(found))
    return 0


def a_planned_book(folder: Path, stages: int) -> Path:
    """Write a book with its plan in it."""
    book = sized_book(Size(stages=stages, people=12, seed=1))
    assert book.as_of is not None
    plan = solve(SolveRequest(book=book, now=book.as_of, seconds=5, workers=2)).plan
    path = folder / "large.countback"
    path.write_bytes(write_book(replace(book, plan=plan)))
    return path


def start_seconds(folder: Path, path: Path) -> float:
    """Measure one start."""
    begun = perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-c", _START, str(folder), str(path)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    blocks = int(process.stdout.readline())
    seconds = perf_counter() - begun
    process.wait()
    assert blocks, "nothing was drawn"
    return round(seconds, 2)


def until(done: Callable[[], bool]) -> float:
    """Let the window live until something has happened; return the seconds that took."""
    begun = perf_counter()
    loop, tick = QEventLoop(), QTimer(interval=TICK_MILLISECONDS)

    def look() -> None:
        if done() or perf_counter() - begun > WITHIN_SECONDS:
            loop.quit()

    tick.timeout.connect(look)
    tick.start()
    loop.exec()
    assert done(), "waited in vain"
    return perf_counter() - begun


def live(folder: Path, path: Path, seconds: int) -> dict[str, object]:
    """Measure what goes on in one open window."""
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    prepare(app)
    window = build(folder)
    window.desk.seconds = 2
    window.show_book(window.desk.open(path))
    window.resize(1366, 768)
    window.show()
    until(lambda: is_planned(window))
    found: dict[str, object] = {"edit_seconds": round(median(edits(window)), 2)}
    found |= gaps(window, seconds)
    found |= killed(window)
    window._may_close = True
    window.close()
    return found


def is_planned(window: MainWindow) -> bool:
    """Say whether the answer on show is the last word on this book."""
    desk = window.desk
    outcome, document = desk.outcome, desk.document
    assert document is not None
    is_last = outcome is not None and outcome.revision == document.book.revision
    return is_last and not desk.engine.is_busy


def is_drawn(window: MainWindow) -> bool:
    """Say whether the wall shows a plan of the book as it is now."""
    document = window.desk.document
    assert document is not None
    is_new = window.desk.plan_revision == document.book.revision
    return is_new and not window.maker.is_busy


def edits(window: MainWindow) -> list[float]:
    """Make a stage longer, over and over; measure until a plan of the changed book is shown."""
    found = []
    for turn in range(EDITS):
        document = window.desk.document
        assert document is not None
        job = document.book.jobs[turn % len(document.book.jobs)]
        stage = next(step for step in reversed(job.steps) if isinstance(step, Stage))
        way = stage.ways[0]
        was = way.hours
        hours = replace(was, likely=was.likely + LONGER, high=was.high + LONGER)
        longer = replace(way, hours=hours)
        begun = perf_counter()
        window.desk.edit(change_step(document.book, replace(stage, ways=(longer,))))
        until(lambda: is_drawn(window))
        window.grab()
        found.append(perf_counter() - begun)
        until(lambda: is_planned(window))
    return found


def gaps(window: MainWindow, seconds: int) -> dict[str, object]:
    """Measure how long the event loop stands still while a solve runs, then call it off."""
    desk = window.desk
    desk.seconds = 4 * seconds
    ticks: list[float] = []
    timer = QTimer(interval=TICK_MILLISECONDS)
    timer.timeout.connect(lambda: ticks.append(perf_counter()))
    desk.plan_now()
    timer.start()
    end = perf_counter() + seconds
    until(lambda: perf_counter() > end or not desk.engine.is_busy)
    timer.stop()
    apart = [1000 * (b - a) for a, b in pairwise(ticks)]
    cancelled = until(lambda: (desk.stop_looking() and False) or not desk.engine.is_busy)
    return {
        "solve_seconds": seconds,
        "stall_worst_ms": round(max(apart)),
        "stall_99_ms": round(quantiles(apart, n=100)[98]),
        "cancel_ms": round(1000 * cancelled),
    }


def killed(window: MainWindow) -> dict[str, object]:
    """Kill the child from outside in the middle of a solve, then plan again."""
    desk = window.desk
    desk.seconds = 2
    desk.plan_now()
    plan = desk.plan
    os.kill(desk.engine.process_id, signal.SIGKILL)
    until(lambda: bool(desk.trouble))
    stays = desk.plan is plan
    desk.look_longer()
    until(lambda: is_planned(window))
    return {"killed_plan_stays": stays, "killed_then_planned": True}


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
