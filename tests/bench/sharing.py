"""One book, two who write it: ``python -m tests.bench sharing [--rounds N] [--seed N] [--json]``.

In each round two openers, each in processes of their own, open, edit, save, close, run commands and
are killed in the middle, in a drawn order and often at once. In every other round they are on two
machines as far as the lock knows, so that one takes the book from another who lives. Each edit has
a name of its own. Lost: an edit of which a save or a command said that it is written, and which is
neither in the book at the end nor in a file that was put beside it on a person's word. Broken: a
book that can't be read at the end.
"""

import argparse
import json
import os
import signal
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.context import ForkProcess
from pathlib import Path
from random import Random

from shared.files.disk import load
from shared.files.read import read_book
from shared.files.write import write_book
from tests.bench._sharing import command, person, warm
from tests.builders import a_book, a_job, a_stage

ACTS_PER_ROUND = 36
KILL_WITHIN_SECONDS = 0.012
ANSWER_WITHIN_SECONDS = 60
ELSEWHERE = "another-machine"
_FORK = get_context("fork")


@dataclass(slots=True)
class Result:
    """What came of all rounds. lost: the edits, as round and number."""

    rounds: int = 0
    written: int = 0
    lost: list[tuple[int, int]] = field(default_factory=list)
    broken: int = 0
    killed: int = 0
    refused: dict[str, int] = field(default_factory=dict)
    taken: int = 0
    beside: int = 0


class Opener:
    """One of the two: at most one process at a time, somebody at a book or a command."""

    def __init__(self, path: Path, name: str, host: str, result: Result) -> None:
        self._path, self._name, self._host, self._result = path, name, host, result
        self._process: ForkProcess | None = None
        self._pipe: Connection | None = None
        self._number: int | None = None
        self._waiting = self._born = 0
        self.written: set[int] = set()

    def act(self, draw: Random, number: int) -> None:
        """Do something that is drawn, and wait until it is done or not."""
        self.hear(is_patient=False)
        if self._process is None and draw.random() < 0.5:
            self._begin_command(number, draw.random() < 0.3)
        elif self._number is None:
            if self._process is None:
                self._begin_person()
            what = draw.choices(("open", "edit", "save", "close"), (3, 5, 5, 1))[0]
            words = {"open": draw.random() < 0.4, "edit": number, "save": draw.random() < 0.5}
            assert self._pipe is not None
            self._pipe.send((what, words.get(what, 0)))
            self._waiting += 1
        if draw.random() < 0.06:
            time.sleep(draw.random() * KILL_WITHIN_SECONDS)  # noqa: TID251 - at a drawn moment
            self.kill()
        elif draw.random() < 0.4:
            self.hear(is_patient=True)

    def _begin_command(self, number: int, has_word: bool) -> None:
        self._number = number
        self._begin(command, number, has_word)

    def _begin_person(self) -> None:
        ours, theirs = _FORK.Pipe()
        self._begin(person, theirs)
        theirs.close()
        self._pipe = ours

    def _begin(self, work: object, *words: object) -> None:
        self._born += 1
        seed = f"{self._name}/{self._born}"
        made = _FORK.Process(target=work, args=(self._path, *words, seed, self._host), daemon=True)  # type: ignore[arg-type]
        made.start()
        self._process = made

    def hear(self, *, is_patient: bool) -> None:
        """Take in what was answered; patient: until nothing more is to come."""
        if self._number is not None:
            self._hear_command(is_patient)
        while self._pipe is not None and ((self._waiting and is_patient) or self._pipe.poll()):
            if not self._pipe.poll(ANSWER_WITHIN_SECONDS):
                raise TimeoutError(self._name)
            try:
                self._take_in(*self._pipe.recv())
            except (EOFError, ConnectionResetError):
                self._end()

    def _take_in(self, what: str, word: int | str) -> None:
        if what == "saved":
            self.written.add(int(word))
        elif what == "refused":
            self._refused(str(word))
        elif what == "did":
            self._waiting -= 1
        else:
            setattr(self._result, what, getattr(self._result, what) + 1)

    def _hear_command(self, is_patient: bool) -> None:
        assert self._process is not None
        assert self._number is not None
        self._process.join(ANSWER_WITHIN_SECONDS if is_patient else 0)
        code = self._process.exitcode
        if code is None:
            if is_patient:
                raise TimeoutError(self._name)
            return
        if code == 0:
            self.written.add(self._number)
        else:
            self._refused("command" if code == 2 else str(code))
        self._end()

    def _refused(self, why: str) -> None:
        self._result.refused[why] = self._result.refused.get(why, 0) + 1

    def kill(self) -> None:
        """Kill its process in whatever it does; what it said before still counts."""
        if self._process is None or self._process.pid is None:
            return
        os.kill(self._process.pid, signal.SIGKILL)
        self._process.join()
        self._result.killed += 1
        if self._number is not None:
            self._hear_command(is_patient=True)
        else:
            self.hear(is_patient=True)
            self._end()

    def leave(self) -> None:
        """Finish what was begun, and close."""
        self.hear(is_patient=True)
        if self._pipe is not None:
            self._pipe.send(("close", 0))
            self._waiting += 1
            self.hear(is_patient=True)
            self._end()

    def _end(self) -> None:
        if self._pipe is not None:
            if self._process is not None and self._process.is_alive():
                self._pipe.send(("end", 0))
            self._pipe.close()
        if self._process is not None:
            self._process.join(ANSWER_WITHIN_SECONDS)
        self._process = self._pipe = self._number = None
        self._waiting = 0


def run_rounds(rounds: int, seed: int) -> Result:
    """Let two write one book, round after round."""
    result = Result()
    with tempfile.TemporaryDirectory() as folder:
        warm(_book(Path(folder)))
    for number in range(rounds):
        with tempfile.TemporaryDirectory() as folder:
            _round(Path(folder), number, Random(f"{seed}/{number}"), result)
        result.rounds += 1
    return result


def _book(folder: Path) -> Path:
    path = folder / "hall.countback"
    steps = tuple(a_stage(f"s{index}") for index in range(ACTS_PER_ROUND))
    path.write_bytes(write_book(a_book(a_job("fox", steps=steps))))
    return path


def _round(folder: Path, number: int, draw: Random, result: Result) -> None:
    path = _book(folder)
    host = ELSEWHERE if number % 2 else ""
    names = (f"{draw.random()}/0", f"{draw.random()}/1")
    both = (Opener(path, names[0], "", result), Opener(path, names[1], host, result))
    for act in range(ACTS_PER_ROUND):
        draw.choice(both).act(draw, act)
    for each in both:
        each.leave()
    written = both[0].written | both[1].written
    result.written += len(written)
    kept: set[str] = set()
    for file in folder.glob("hall*.countback"):
        book = read_book(load(file)).book
        if book is None:
            result.broken += 1
        else:
            kept |= {fact.told_by for fact in book.facts}
    result.lost += [(number, each) for each in sorted(written) if f"u{each}" not in kept]


def main(argv: Sequence[str]) -> int:
    reading = argparse.ArgumentParser(prog="python -m tests.bench sharing")
    reading.add_argument("--rounds", type=int, default=500)
    reading.add_argument("--seed", type=int, default=1)
    reading.add_argument("--json", action="store_true")
    asked = reading.parse_args(argv)
    result = run_rounds(asked.rounds, asked.seed)
    print(
        f"{result.rounds} rounds: {result.written} edits written, {len(result.lost)} lost, "
        f"{result.broken} books broken; {result.killed} processes killed, {result.taken} times "
        f"theirs taken, {result.beside} times put beside; refused: {result.refused}"
    )
    for where in result.lost:
        print(f"lost: round {where[0]}, edit {where[1]}")
    if asked.json:
        print(json.dumps({**asdict(result), "lost": len(result.lost)}))
    return 1 if result.lost or result.broken else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
