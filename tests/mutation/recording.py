"""Which tests run through which lines of the rules, and how long each takes.

A recording is a pair of files of one name: what coverage wrote, with a context for each test, and
how long each test took. It holds for as long as nothing but files of tests changes; of a file of
tests that changed or is new another pair is made.
"""

import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from tests.mutation.rules import MARKED, MODULES, TESTS

ROOMS = ("shared", "scheduler", "tests")


@dataclass(frozen=True)
class Recording:
    """seconds: by test. The lines are those of the copy in which it was made."""

    data: Path
    seconds: dict[str, float]
    copy: Path

    def tests_of(self, path: Path) -> dict[int, set[str]]:
        """By line of a file, the tests that run through it; 0: those that run through any."""
        from coverage import CoverageData

        data = CoverageData(str(self.data))
        data.read()
        by_line: dict[int, set[str]] = {}
        for line, contexts in data.contexts_by_lineno(str(self.copy / path)).items():
            named = {context.rpartition("|")[0] for context in contexts if context}
            by_line[line] = {test for test in named if test in self.seconds}
        by_line[0] = set().union(*by_line.values()) if by_line else set()
        return by_line


@dataclass(frozen=True)
class Recordings:
    made: tuple[Recording, ...]

    @cached_property
    def seconds(self) -> dict[str, float]:
        return {test: took for one in self.made for test, took in one.seconds.items()}

    @cached_property
    def number(self) -> dict[str, int]:
        """By test, which of the recordings it is in."""
        return {test: at for at, one in enumerate(self.made) for test in one.seconds}

    def tests_of(self, path: Path) -> dict[int, set[str]]:
        by_line: dict[int, set[str]] = {}
        for one in self.made:
            for line, tests in one.tests_of(path).items():
                by_line.setdefault(line, set()).update(tests)
        return by_line


def recorded(copy: Path, folder: Path) -> Recordings:
    """Recordings of a copy of the checkout, those in the folder and one of what is not there."""
    here = folder / _digest(copy, _others(copy))
    here.mkdir(parents=True, exist_ok=True)
    digests = {str(path.relative_to(copy)): _digest(copy, [path]) for path in _tests(copy)}
    made, left = [], dict(digests)
    for times in sorted(here.glob("*.json")):
        found = json.loads(times.read_text())
        valid = {name for name, digest in found["digests"].items() if left.get(name) == digest}
        for name in valid:
            del left[name]
        seconds = {
            test: took
            for test, took in found["seconds"].items()
            if test.partition("::")[0] in valid
        }
        made.append(Recording(times.with_suffix(".coverage"), seconds, Path(found["copy"])))
    if left:
        made.append(_record(copy, here / f"{len(made):03}.json", left))
    return Recordings(tuple(made))


def _record(copy: Path, times: Path, digests: dict[str, str]) -> Recording:
    data, settings = times.with_suffix(".coverage"), times.with_suffix(".ini")
    include = "\n    ".join(pattern for globs in MODULES.values() for pattern in globs)
    settings.write_text(f"[run]\nbranch = false\ndata_file = {data}\ninclude =\n    {include}\n")
    data.unlink(missing_ok=True)
    options = "-q -p no:cacheprovider -p tests.mutation.timing --no-header --tb=short"
    coverage = f"--cov --cov-config={settings} --cov-context=test --cov-report="
    command = (sys.executable, "-m", "pytest")
    ran = subprocess.run(
        [*command, *options.split(), *coverage.split(), "-m", MARKED, *sorted(digests)],
        cwd=copy,
        env={**os.environ, "PYTHONPATH": str(copy), "COUNTBACK_TIMES": str(times)},
        stdin=subprocess.DEVNULL,
        stdout=sys.stderr,
    )
    if ran.returncode not in (0, 5):
        raise SystemExit(f"the tests fail before anything is mutated: exit code {ran.returncode}")
    seconds = json.loads(times.read_text())
    found = {"digests": digests, "seconds": seconds, "copy": str(copy)}
    times.write_text(json.dumps(found))
    return Recording(data, seconds, copy)


def _tests(copy: Path) -> Iterator[Path]:
    yield from sorted({path for pattern in TESTS for path in copy.glob(pattern)})


def _others(copy: Path) -> Iterator[Path]:
    """The code that a recording goes by, files of tests left out, and the mutation itself."""
    for room in ROOMS:
        for path in sorted((copy / room).rglob("*.py")):
            mine = path.relative_to(copy).parts[:2] == ("tests", "mutation")
            if not mine and not path.name.startswith("test_"):
                yield path


def _digest(copy: Path, paths: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for path in paths:
        digest.update(str(path.relative_to(copy)).encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()[:16]
