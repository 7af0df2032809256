"""``python -m tests.mutation.trying`` in a copy of the checkout: one trial for each line it reads.

It imports what others wrote, never what is mutated; each trial is a fork of it, which imports the
mutant, runs the chosen tests and dies. So the mutant is all that a trial can leave behind, and
that is put back.
"""

import contextlib
import gc
import importlib
import importlib.util
import json
import os
import resource
import signal
import sys
import time
import traceback
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from hypothesis import Phase, settings

ROOMS = ("app", "scheduler", "shared", "sample_jobs")
_BEFORE = (
    *("dateutil.parser", "dateutil.rrule", "holidays", "hypothesis.strategies", "icalendar"),
    *("jsonschema", "numpy", "openpyxl", "ortools.sat.python.cp_model", "pandas"),
    *("PySide6.QtTest", "PySide6.QtWidgets", "python_calamine", "xlsxwriter"),
)
SAID = "trial.txt"
"""What pytest printed in the last trial."""

_MOST_BYTES = 6 << 30
_WALL_SECONDS = 1_200
"""A trial may be stopped from outside for a while; the limit that counts is of processor time."""


class _Chosen:
    """A plugin for pytest: only these tests, in this order; the first that fails is written."""

    def __init__(self, ids: Sequence[str], failed: int) -> None:
        self._place = {test: place for place, test in enumerate(ids)}
        self._failed = failed

    def pytest_configure(self) -> None:
        # A counterexample is enough; nobody reads the smallest.
        settings.register_profile(
            "mutation", settings.get_profile("house"), phases=(Phase.explicit, Phase.generate)
        )
        settings.load_profile("mutation")

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = [item for item in items if item.nodeid in self._place]
        items.sort(key=lambda item: self._place[item.nodeid])

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            os.write(self._failed, report.nodeid.encode())

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            os.write(self._failed, report.nodeid.encode())


def main() -> int:
    here = Path.cwd()
    for name in _BEFORE:
        importlib.import_module(name)
    assert not any(name.partition(".")[0] in ROOMS for name in sys.modules)
    sys.dont_write_bytecode = True
    gc.freeze()
    for line in sys.stdin:
        asked = json.loads(line)
        with _changed(here / asked["path"], asked["source"]):
            print(json.dumps(_tried(here, asked["tests"], asked["seconds"])), flush=True)
    return 0


@contextlib.contextmanager
def _changed(path: Path, source: str) -> Iterator[None]:
    """A file with other text, and nothing compiled of it."""
    compiled = Path(importlib.util.cache_from_source(str(path)))
    both = {one: (one.read_bytes(), one.stat()) for one in (path, compiled) if one.exists()}
    compiled.unlink(missing_ok=True)
    path.write_text(source, encoding="utf-8")
    try:
        yield
    finally:
        for one, (content, stat) in both.items():
            one.write_bytes(content)
            os.utime(one, ns=(stat.st_atime_ns, stat.st_mtime_ns))


def _tried(here: Path, ids: list[str], most_seconds: int) -> dict[str, object]:
    reads, writes = os.pipe()
    began = time.monotonic()
    child = os.fork()
    if child == 0:
        os.close(reads)
        _test(here, ids, most_seconds, writes)
    os.close(writes)
    status, used = _waited(child, began + _WALL_SECONDS)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    with os.fdopen(reads, "rb") as pipe:
        first = pipe.read().decode()
    return {
        "code": os.waitstatus_to_exitcode(status),
        "failed": first,
        "seconds": used.ru_utime + used.ru_stime,
    }


def _waited(child: int, until: float) -> tuple[int, resource.struct_rusage]:
    signal.signal(signal.SIGALRM, lambda *_: os.kill(child, signal.SIGKILL))
    signal.alarm(max(1, int(until - time.monotonic())))
    _, status, used = os.wait4(child, 0)
    signal.alarm(0)
    return status, used


def _test(here: Path, ids: list[str], most_seconds: int, failed: int) -> None:
    os.setpgid(0, 0)
    resource.setrlimit(resource.RLIMIT_CPU, (most_seconds, most_seconds))
    resource.setrlimit(resource.RLIMIT_AS, (_MOST_BYTES, _MOST_BYTES))
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    said = os.open(here / SAID, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    for stream in (1, 2):
        os.dup2(said, stream)
    files = sorted({test.partition("::")[0] for test in ids})
    options = ["-x", "-q", "-p", "no:cacheprovider", "--tb=line", "--no-header"]
    options += ["-W", "ignore::pytest.PytestAssertRewriteWarning"]
    code = 3
    try:
        code = int(pytest.main([*options, *files], plugins=[_Chosen(ids, failed)]))
        if not all(_is_of(here, name) for name in ROOMS if name in sys.modules):
            code = 4
    except BaseException:
        traceback.print_exc()
        raise
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)


def _is_of(here: Path, name: str) -> bool:
    return Path(str(sys.modules[name].__file__)).is_relative_to(here)


if __name__ == "__main__":
    sys.exit(main())
