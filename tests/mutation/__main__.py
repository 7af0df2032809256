"""``python -m tests.mutation``: are the rules held by the tests? Mutants tried in a copy."""

import argparse
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.house.tree import ROOT, ours
from tests.mutation.choosing import Choice
from tests.mutation.mutants import Mutant, drawn
from tests.mutation.outcomes import Fate, Outcome, figures, is_equivalent
from tests.mutation.recording import recorded
from tests.mutation.rules import MODULES, TEST_FOLDERS, files_of
from tests.mutation.trying import SAID

ENOUGH = 0.9
NOTHING_TRIED = 3
_SHARE, _MORE_SECONDS = 0.5, 10
"""How much of the recorded time of its tests a trial may take the processor, and so much more to
import them. They were traced and timed by the clock: this is several times what they take."""


def main(argv: list[str]) -> int:
    """Exit code: 0 if nine of ten are killed, 1 if fewer, 3 if there was no time for any."""
    options = _parser().parse_args(argv)
    until = time.monotonic() + 60 * options.minutes
    files = files_of(tuple(options.modules))
    count, found = drawn(files, options.mutants, options.seed)
    if options.only:
        found = [one for one in found if one[0].name in Path(options.only).read_text().splitlines()]
    with tempfile.TemporaryDirectory(prefix="countback-mutation-") as folder:
        outcomes = _all_tried(Path(folder), found, options.recordings, until)
    answer = {"seed": options.seed, "drawn_from": count, **figures(outcomes)}
    for outcome in outcomes:
        if outcome.fate is Fate.SURVIVED:
            print(outcome)
    for name, value in answer.items():
        print(f"{name}: {value}")
    if options.json:
        survivors = [outcome.mutant.name for outcome in outcomes if outcome.fate is Fate.SURVIVED]
        print(json.dumps({**answer, "survivors": survivors}))
    if not outcomes:
        return NOTHING_TRIED
    return 0 if answer["killed_of_others"] >= ENOUGH else 1


def _all_tried(
    folder: Path, found: list[tuple[Mutant, str]], recordings: Path, until: float
) -> list[Outcome]:
    copy = folder / "copy"
    for path in ours():
        (copy / path).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(ROOT / path, copy / path)
    choice = Choice(recorded(copy, recordings), files_of(tuple(MODULES)))
    with Trials(copy) as trials:
        outcomes: list[Outcome] = []
        for mutant, source in found:
            if time.monotonic() > until:
                break
            outcomes.append(_tried(trials, choice, mutant, source, frozenset()))
            _say(f"{len(outcomes)} of {len(found)} ({outcomes[-1].seconds:.0f} s) {outcomes[-1]}")
        return _believed(trials, choice, outcomes)


def _tried(
    trials: "Trials", choice: Choice, mutant: Mutant, source: str, without: frozenset[str]
) -> Outcome:
    tests = [test for test in choice.tests(mutant) if test not in without]
    if not tests:
        fate, seconds, by = Fate.SURVIVED, 0.0, ""
    else:
        most = int(_SHARE * choice.seconds(tests)) + _MORE_SECONDS
        fate, seconds, by = trials.of(mutant.path, source, tests, most)
    if fate is Fate.SURVIVED and is_equivalent(mutant, source):
        fate = Fate.EQUIVALENT
    return Outcome(mutant, source, fate, seconds, by)


def _believed(trials: "Trials", choice: Choice, outcomes: list[Outcome]) -> list[Outcome]:
    """Outcomes by tests that pass where nothing is mutated: any other kill is tried without it."""
    bad: set[str] = set()
    path = outcomes[0].mutant.path if outcomes else Path()
    while killers := sorted({one.by for one in outcomes if "::" in one.by} - bad):
        most = int(choice.seconds(killers)) + _MORE_SECONDS
        fate, _, by = trials.of(path, (ROOT / path).read_text(encoding="utf-8"), killers, most)
        if fate is Fate.SURVIVED:
            break
        _say(f"fails with nothing mutated, so kills nothing: {by}")
        bad.add(by or killers[0])
        outcomes = [
            _tried(trials, choice, one.mutant, one.source, frozenset(bad)) if one.by in bad else one
            for one in outcomes
        ]
    return outcomes


class Trials:
    """The process that forks a trial of each mutant."""

    def __init__(self, copy: Path) -> None:
        self._copy = copy

    def __enter__(self) -> "Trials":
        environment = {**os.environ, "PYTHONPATH": str(self._copy), "COUNTBACK_PURE": "1"}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        compiled = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider"]
        subprocess.run(
            [*compiled, "--collect-only", *TEST_FOLDERS],
            cwd=self._copy,
            env=environment,
            check=True,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
        )
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.mutation.trying"],
            cwd=self._copy,
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        return self

    def __exit__(self, *_: object) -> None:
        assert self._process.stdin is not None
        self._process.stdin.close()
        self._process.wait()

    def of(self, path: Path, source: str, tests: list[str], most: int) -> tuple[Fate, float, str]:
        """What became of a file's text, after how many seconds, and the test that failed.

        Raises
        ------
        RuntimeError
            If a trial ended in a way that says nothing about the mutant.
        """
        process = self._process
        assert process.stdin is not None
        assert process.stdout is not None
        asked = {"path": str(path), "source": source, "tests": tests, "seconds": most}
        process.stdin.write(json.dumps(asked) + "\n")
        process.stdin.flush()
        answer = json.loads(process.stdout.readline())
        code, seconds, by = answer["code"], answer["seconds"], answer["failed"]
        if code == 0:
            return Fate.SURVIVED, seconds, ""
        if code in (-signal.SIGXCPU, -signal.SIGKILL):
            return Fate.BY_TIME, seconds, ""
        if code < 0 or by:
            return Fate.KILLED, seconds, by
        said = (self._copy / SAID).read_text(encoding="utf-8", errors="replace")
        raise RuntimeError(f"a trial of {path} ended with {code} and no failed test:\n{said}")


def _say(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation")
    parser.add_argument("--mutants", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--modules", nargs="+", choices=sorted(MODULES), default=list(MODULES))
    parser.add_argument("--minutes", type=float, default=90, help="no mutant begins later")
    parser.add_argument("--only", metavar="FILE", help="of those drawn, only those it names")
    parser.add_argument("--recordings", type=Path, default=ROOT / "build" / "mutation")
    parser.add_argument("--json", action="store_true", help="one object on the last line")
    return parser


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
