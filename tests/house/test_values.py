import ast

import pytest

from tests.house.tree import python_files, source_of


def _is_dataclass(decorator: ast.expr) -> bool:
    named = decorator.func if isinstance(decorator, ast.Call) else decorator
    return ast.unparse(named) in {"dataclass", "dataclasses.dataclass"}


def _truths(decorator: ast.expr) -> set[str]:
    if not isinstance(decorator, ast.Call):
        return set()
    return {
        keyword.arg
        for keyword in decorator.keywords
        if keyword.arg and isinstance(keyword.value, ast.Constant) and keyword.value.value is True
    }


def dataclasses_in(source: str) -> dict[str, set[str]]:
    """Name of each dataclass -> which of frozen, slots, kw_only it is."""
    return {
        node.name: _truths(decorator)
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.ClassDef)
        for decorator in node.decorator_list
        if _is_dataclass(decorator)
    }


# The values that rooms hand to each other; a row of an inner table may be built by position.
CONTRACTS = (
    *("shared/book/", "shared/findings.py", "shared/plan.py"),
    *("scheduler/outcome.py", "scheduler/problem.py", "scheduler/request.py"),
)


@pytest.mark.parametrize(
    ("wanted", "where"), [("frozen", ("",)), ("slots", ("",)), ("kw_only", CONTRACTS)]
)
def test_values_are_frozen_slotted_and_built_by_keyword(
    wanted: str, where: tuple[str, ...]
) -> None:
    seen_count = 0
    wrong = []
    for path in python_files("shared", "scheduler"):
        if not path.as_posix().startswith(where):
            continue
        found = dataclasses_in(source_of(path))
        seen_count += len(found)
        wrong += [f"{path}: {name}" for name, truths in found.items() if wanted not in truths]

    assert seen_count >= 10
    assert not wrong, f"write @dataclass(frozen=True, slots=True, kw_only=True): {wrong}"


def test_an_open_one_is_found_however_it_is_written() -> None:
    source = """
@dataclass
class A: ...
@dataclasses.dataclass(frozen=False)
class B:
    @dataclass(slots=True, frozen=True)
    class C: ...
class D: ...
"""
    assert dataclasses_in(source) == {"A": set(), "B": set(), "C": {"frozen", "slots"}}
