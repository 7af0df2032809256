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


ROAD_VALUES = {
    "shared.road.bans": {"Lorry", "Road"},
    "shared.road.driver": {"Driver"},
    "shared.road.itinerary": {"Itinerary"},
    "shared.road.legs": {"Drive", "Ferry", "Journey", "Stand", "Work"},
    "shared.road.rules": {"HoursRules", "UnknownRules", "rule_set"},
}
"""What the check may know of the road: its values, and the numbers of rule sets."""


def road_code_in(source: str) -> set[str]:
    """Names of the road or of deliveries that are neither values nor numbers."""
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(
            ("shared.road", "shared.delivery")
        ):
            known = ROAD_VALUES.get(node.module or "", set())
            found |= {each.name for each in node.names if each.name not in known}
    return found


def test_the_check_knows_nothing_of_the_road_but_its_values() -> None:
    assert not [path for path in checking_files() if road_code_in(source_of(path))]
    assert not [path for path in checking_files() if "import shared" in source_of(path)]


@pytest.mark.parametrize(
    "line",
    [
        "from shared.road.search import Label",
        "from shared.road.bans import Road, ban_spans",
        "from shared.delivery.judged import is_judged",
        "from shared.road import search",
    ],
)
def test_code_of_the_road_in_the_check_is_found(line: str) -> None:
    assert road_code_in(line)


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
