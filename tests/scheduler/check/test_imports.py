"""The check shares no code with the engine: what it may import is a short list."""

import ast
import sys
from pathlib import Path

import pytest

from tests.house.tree import imported_modules, python_files, source_of

ALLOWED = ("scheduler.check", "scheduler.outcome", "scheduler.rules", "shared")


def strangers_in(source: str) -> list[str]:
    found = {name for _, name, _ in imported_modules(ast.parse(source))}
    return sorted(
        name
        for name in found
        if name.partition(".")[0] not in sys.stdlib_module_names
        and not any(name == one or name.startswith(f"{one}.") for one in ALLOWED)
    )


def checking_files() -> list[Path]:
    return [path for path in python_files("scheduler") if path.parts[:2] == ("scheduler", "check")]


def test_the_check_imports_nothing_of_the_engine() -> None:
    found = {str(path): strangers_in(source_of(path)) for path in checking_files()}

    assert len(found) >= 10
    assert not any(found.values()), found


def test_the_check_rounds_by_itself() -> None:
    assert not [path for path in checking_files() if "shared.units" in source_of(path)]


def test_the_check_looks_for_ways_round_by_itself() -> None:
    assert not [path for path in checking_files() if "shared.passing" in source_of(path)]


@pytest.mark.parametrize(
    "line",
    [
        "from scheduler.problem import Problem",
        "from scheduler import normalise",
        "import scheduler.grid",
        "import ortools",
        "from scheduler.checkers import x",
    ],
)
def test_a_planted_import_is_found(line: str) -> None:
    assert strangers_in(line)
