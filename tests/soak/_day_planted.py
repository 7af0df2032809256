"""A day with faults planted in it: python -m tests.soak._day_planted ROUNDS prints what is found.

In every round a timer goes on, a file is left in the data folder and one stays open, a window is
hidden and not let go, a process is left asleep, and 200 kB are kept.
"""

import json
import subprocess
import sys
import time
from typing import IO, TYPE_CHECKING

from tests.soak import day
from tests.soak.report import Task

if TYPE_CHECKING:
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QWidget

    from tests.soak._day_window import Day

KEPT_BYTES = 200_000


class Planted:
    """Holds on to what is planted."""

    def __init__(self) -> None:
        self.timers: list[QTimer] = []
        self.windows: list[QWidget] = []
        self.open: list[IO[bytes]] = []
        self.asleep: list[subprocess.Popen[bytes]] = []
        self.kept: list[bytes] = []

    def __call__(self, at: "Day") -> None:
        """Plant one of each."""
        from PySide6.QtCore import QTimer
        from PySide6.QtWidgets import QWidget

        timer = QTimer(at.window)
        timer.start(60_000)
        self.timers.append(timer)
        self.windows.append(QWidget())
        path = at.data / f"left-{len(self.open)}"
        path.write_bytes(b"left")
        self.open.append(path.open("rb"))
        sleeper = [sys.executable, "-c", "import sys; sys.stdin.read()"]
        self.asleep.append(subprocess.Popen(sleeper, stdin=subprocess.PIPE))
        self.kept.append(bytes(bytearray(KEPT_BYTES)))

    def let_go(self) -> None:
        """End and close what is outside of Qt."""
        for each in self.asleep:
            each.communicate()
        for file in self.open:
            file.close()


def main(rounds: int) -> None:
    planted = Planted()
    task = Task(rounds=rounds, seed=1, until=time.monotonic() + 600, say=lambda _: None)
    try:
        report = day.run(task, planted)
    finally:
        planted.let_go()
    print(json.dumps(report.to_json("day")))


if __name__ == "__main__":
    main(int(sys.argv[1]))
