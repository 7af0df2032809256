"""Ends every run that includes the house rules with the sizes of the rooms."""

import pytest

from tests.house.sizes import report
from tests.house.tree import ROOMS


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    for room in (*ROOMS, "tests"):
        try:
            line = report(room)
        except SyntaxError as broken:
            line = f"{room}: not read, {broken.msg}"
        terminalreporter.write_line(f"sizes of {line}")
