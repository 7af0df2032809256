"""Hostile files: no traceback, no hang, memory bounded, nothing outside touched.

A round is one file, taken in a process of its own that is replaced when it dies. What found a
fault before lies in tests/soak/corpus and is taken first, whatever the number of rounds.
"""

import json
import os
import selectors
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from tests.house.tree import ROOT
from tests.soak.report import Report, Task

ROUNDS = 20_000
CORPUS = Path(__file__).parent / "corpus"
MOST_SECONDS = 2.0
"""Of processor time on one file."""
MOST_GROWN_MB = 512
"""By which a process may grow with one file: a workbook of 96 MB stands in it four times."""
_SILENT_SECONDS = 600
_A_NEW_ONE = 10_000
"""Files after which the process is a new one."""


class Worker:
    """A process that takes files; ended and replaced at will."""

    def __init__(self) -> None:
        """Start it and wait until it is warm."""
        self.scratch = Path(tempfile.mkdtemp(prefix="countback-hostile-"))
        self._errors = (self.scratch / "errors").open("w+", encoding="utf-8")
        environment = {**os.environ, "COUNTBACK_PURE": "1", "PYTHONPATH": str(ROOT)}
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.soak._hostile_worker", str(self.scratch)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self._errors,
            env=environment,
            cwd=self.scratch,
        )
        self.taken = 0
        if self._line() != b"ready\n":
            raise RuntimeError(self.last_words())

    def take(self, asked: str) -> dict[str, object] | None:
        """Let it take a file; None when it died of that or is silent."""
        assert self._process.stdin is not None
        self.taken += 1
        self._process.stdin.write(f"{asked}\n".encode())
        self._process.stdin.flush()
        line = self._line()
        if not line.endswith(b"\n"):
            return None
        told: dict[str, object] = json.loads(line)
        return told

    def _line(self) -> bytes:
        assert self._process.stdout is not None
        with selectors.DefaultSelector() as waiting:
            waiting.register(self._process.stdout, selectors.EVENT_READ)
            return self._process.stdout.readline() if waiting.select(_SILENT_SECONDS) else b""

    def last_words(self) -> str:
        """Give how it ended, and the end of what it said about that."""
        self._process.kill()
        code = self._process.wait()
        self._errors.seek(0)
        lines = [line.strip() for line in self._errors.read().splitlines() if "File" in line]
        return f"process ended with {code}: " + " < ".join(lines[:3])

    def end(self) -> None:
        """Let it go with all that it wrote."""
        self._process.kill()
        self._process.communicate()
        self._errors.close()
        shutil.rmtree(self.scratch, ignore_errors=True)


@dataclass(slots=True)
class _Sum:
    kinds: Counter[str] = field(default_factory=Counter)
    slowest: tuple[float, str] = (0.0, "")
    most_kb: tuple[int, str] = (0, "")
    counts: Counter[str] = field(default_factory=Counter)
    failed: list[str] = field(default_factory=list)


def run(task: Task) -> Report:
    """Take the corpus, then the files of the rounds."""
    found, rounds = _Sum(), 0
    kept = kept_folder()
    names = sorted(each.name for each in CORPUS.iterdir()) if CORPUS.is_dir() else []
    worker = Worker()
    try:
        for asked in (*(f"corpus {name}" for name in names), *_rounds(task)):
            if not task.has_time:
                break
            if worker.taken >= _A_NEW_ONE:
                worker.end()
                worker = Worker()
            worker = _one(worker, asked, found, kept)
            if not asked.startswith("corpus"):
                rounds += 1
                if rounds % 500 == 0:
                    task.say(f"{rounds} files, {len(found.failed)} failed")
    finally:
        worker.end()
    return Report(rounds=rounds, failed=tuple(found.failed), facts=_facts(found, len(names)))


def kept_folder() -> Path:
    """Where files that failed are kept."""
    return Path(tempfile.gettempdir()) / "countback-hostile-kept"


def _rounds(task: Task) -> list[str]:
    return [f"{task.seed} {number}" for number in range(task.rounds)]


def _one(worker: Worker, asked: str, found: _Sum, kept: Path) -> Worker:
    told = worker.take(asked)
    if told is None:
        found.counts["died"] += 1
        _failed(worker, asked, worker.last_words(), found, kept)
        worker.end()
        return Worker()
    kind, seconds, grown = (
        str(told["kind"]),
        float(str(told["seconds"])),
        int(str(told["grown_kb"])),
    )
    found.kinds[kind] += 1
    name = f"{asked} {kind}, {told['how']}, {told['size']} bytes"
    found.slowest = max(found.slowest, (seconds, name))
    found.most_kb = max(found.most_kb, (grown, name))
    faults = {
        "tracebacks": str(told["fault"]),
        "hangs": f"{seconds:.1f} s of processor time" if seconds > MOST_SECONDS else "",
        "too_large": f"grew by {grown >> 10} MB" if grown >> 10 > MOST_GROWN_MB else "",
        "touched": f"touched {told['touched']}" if told["touched"] else "",
    }
    for sort, text in faults.items():
        if text:
            found.counts[sort] += 1
            _failed(worker, name, text, found, kept)
    return worker


def _failed(worker: Worker, name: str, text: str, found: _Sum, kept: Path) -> None:
    """Tell of a file that failed and keep it."""
    kept.mkdir(exist_ok=True)
    file = kept / "-".join(name.split()[:3]).replace(",", "")
    shutil.copy(worker.scratch / "current", file)
    found.failed.append(f"{name}: {text}; kept as {file}")


def _facts(found: _Sum, corpus: int) -> dict[str, int | float | str]:
    return {
        "files": ", ".join(f"{kind} {count}" for kind, count in sorted(found.kinds.items())),
        "corpus": corpus,
        "slowest_seconds": round(found.slowest[0], 2),
        "slowest": found.slowest[1],
        "most_memory_mb": found.most_kb[0] >> 10,
        "largest": found.most_kb[1],
        **{
            name: found.counts[name]
            for name in ("tracebacks", "hangs", "died", "too_large", "touched")
        },
    }
