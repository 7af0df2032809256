"""Ends every run of the house rules with the sizes of the rooms."""

import pytest

from tests.house.sizes import report
from tests.house.tree import ROOMS


def _ran_house(terminalreporter: pytest.TerminalReporter) -> bool:
    return any(
        getattr(outcome, "nodeid", "").startswith("tests/house/test_sizes")
        for kind in ("passed", "failed")
        for outcome in terminalreporter.stats.get(kind, [])
    )


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if not _ran_house(terminalreporter):
        return
    for room in (*ROOMS, "tests"):
        try:
            line = report(room)
        except SyntaxError as broken:
            line = f"{room}: not read, {broken.msg}"
        terminalreporter.write_line(f"sizes of {line}")
