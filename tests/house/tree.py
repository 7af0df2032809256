"""The files of the checkout, as the house rules see them."""

import ast
import os
import subprocess
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("app", "scheduler", "shared")
_NEVER = {"__pycache__", "build", "dist", "htmlcov", "out"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Function:
    """A function or method and how long it is, decorators left out."""

    name: str
    line: int
    lines: int


def _asked_of_git() -> list[str] | None:
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        answer = subprocess.run(command, cwd=ROOT, capture_output=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        return None
    return [name for name in os.fsdecode(answer.stdout).split("\0") if name]


def _walked() -> list[str]:
    found = []
    for folder, subfolders, names in os.walk(ROOT):
        here = Path(folder)
        subfolders[:] = [
            name
            for name in subfolders
            if name not in _NEVER
            and not name.endswith(".egg-info")
            and not (name.startswith(".") and name != ".ci")
        ]
        found += [str((here / name).relative_to(ROOT)) for name in names]
    return found


@cache
def ours() -> tuple[Path, ...]:
    """Every file that is or could be committed, relative to ROOT; git's word if it has one."""
    names = _asked_of_git()
    if names is None:
        names = _walked()
    return tuple(sorted(Path(name) for name in names if (ROOT / name).is_file()))


def python_files(*rooms: str) -> tuple[Path, ...]:
    """Our Python files below those rooms; never none."""
    found = tuple(path for path in ours() if path.suffix == ".py" and path.parts[0] in rooms)
    assert found, f"the scan saw no Python file below {rooms}"
    return found


def source_of(path: Path) -> str:
    return (ROOT / path).read_text(encoding="utf-8")


def imported_modules(tree: ast.Module) -> list[tuple[int, str, bool]]:
    """(line, dotted name, not run on import) of each import, type-only ones included."""
    inside = {
        id(node) for later in ast.walk(tree) if _runs_later(later) for node in ast.walk(later)
    }
    found = []
    for node in ast.walk(tree):
        match node:
            case ast.Import():
                found += [(node.lineno, alias.name, id(node) in inside) for alias in node.names]
            case ast.ImportFrom():
                found.append((node.lineno, node.module or "", id(node) in inside))
    return found


def _runs_later(node: ast.AST) -> bool:
    """Whether what is in it is not run when its module is imported."""
    if isinstance(node, ast.If):
        return isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    return isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)


def functions_of(tree: ast.Module) -> list[Function]:
    return [
        Function(name=node.name, line=node.lineno, lines=(node.end_lineno or 0) - node.lineno + 1)
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    ]
