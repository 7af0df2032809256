"""For pytest: writes how long each test took that passed, into the file of COUNTBACK_TIMES."""

import json
import os
from pathlib import Path

import pytest

_seconds: dict[str, float] = {}
_failed: set[str] = set()


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    if report.outcome != "passed":
        _failed.add(report.nodeid)
    _seconds[report.nodeid] = _seconds.get(report.nodeid, 0.0) + report.duration


def pytest_sessionfinish() -> None:
    passed = {test: took for test, took in _seconds.items() if test not in _failed}
    Path(os.environ["COUNTBACK_TIMES"]).write_text(json.dumps(passed))
