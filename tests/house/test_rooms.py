"""What the import contracts of pyproject.toml can't say."""

import ast
import sys
from fnmatch import fnmatchcase
from pathlib import Path

import pytest

from tests.house.tree import imported_modules, python_files, source_of

QT = {"PySide6", "shiboken6"}
WITHOUT_QT = (
    "app/state.py",
    "app/*/state.py",
    "app/words*",
    "app/cli*",
    "app/engine*",
    "app/edits*",
    "app/__main__.py",
)
THREADS = {
    "_thread",
    "asyncio",
    "concurrent",
    "multiprocessing",
    "queue",
    "sched",
    "threading",
}
QT_THREADS = {"QRunnable", "QThread", "QThreadPool"}
WITH_THREADS = ("app/jobs.py", "app/engine_child.py")
OUTSIDERS = {
    "shared": {"dateutil", "holidays"},
    # mypy_extensions: words of types that only the compiler reads.
    "scheduler": {"mypy_extensions", "numpy", "ortools", "shared"},
    "app": {
        *QT,
        *("dateutil", "icalendar", "python_calamine", "xlsxwriter"),
        *("scheduler", "shared"),
    },
}
# Heavy ones are imported inside the function that needs them, so that --help stays quick.
LAZY = {
    *(
        "holidays",
        "icalendar",
        "importlib.metadata",
        "numpy",
        "ortools",
        "pandas",
        "python_calamine",
        "xlsxwriter",
    ),
}
LAZY_IN = ("app", "shared")


def _first(name: str) -> str:
    return name.partition(".")[0]


def _matches(path: Path, patterns: tuple[str, ...]) -> bool:
    return any(fnmatchcase(path.as_posix(), pattern) for pattern in patterns)


def qt_in(source: str) -> list[str]:
    found = imported_modules(ast.parse(source))
    return [f"{line}: {name}" for line, name, _ in found if _first(name) in QT]


def threads_in(source: str) -> list[str]:
    tree = ast.parse(source)
    found = [
        f"{line}: {name}" for line, name, _ in imported_modules(tree) if _first(name) in THREADS
    ]
    named = {
        (node.lineno, alias.name)
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    } | {(node.lineno, node.attr) for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    return found + [f"{line}: {name}" for line, name in sorted(named) if name in QT_THREADS]


def strangers_in(source: str, room: str) -> list[str]:
    allowed = OUTSIDERS[room] | {room} | set(sys.stdlib_module_names)
    found = imported_modules(ast.parse(source))
    return [f"{line}: {name}" for line, name, _ in found if _first(name) not in allowed]


def eager_in(source: str) -> list[str]:
    found = imported_modules(ast.parse(source))
    return [
        f"{line}: {name}"
        for line, name, inside in found
        if not inside and (_first(name) in LAZY or name in LAZY)
    ]


def test_states_words_command_line_and_engine_have_no_qt() -> None:
    paths = [path for path in python_files("app") if _matches(path, WITHOUT_QT)]
    found = [f"{path}:{hit}" for path in paths for hit in qt_in(source_of(path))]

    assert paths, "the scan saw none of them"
    assert not found, f"move what needs Qt into a view: {found}"


def test_threads_live_in_one_file() -> None:
    paths = [path for path in python_files("app") if not _matches(path, WITH_THREADS)]
    found = [f"{path}:{hit}" for path in paths for hit in threads_in(source_of(path))]

    assert len(paths) >= 2
    assert not found, f"hand the work to app/jobs.py: {found}"


@pytest.mark.parametrize("room", ["shared", "scheduler", "app"])
def test_a_room_imports_only_what_was_agreed(room: str) -> None:
    paths = python_files(room)
    found = [f"{path}:{hit}" for path in paths for hit in strangers_in(source_of(path), room)]

    assert not found, f"{room} may import the standard library and {OUTSIDERS[room]}: {found}"


def test_heavy_packages_are_imported_where_they_are_needed() -> None:
    paths = python_files(*LAZY_IN)
    found = [f"{path}:{hit}" for path in paths for hit in eager_in(source_of(path))]

    assert not found, f"import it inside the function that needs it: {found}"


def test_the_scans_bite() -> None:
    assert qt_in("def f():\n    from PySide6.QtCore import QObject\n")
    assert qt_in("import shiboken6")
    assert threads_in("import threading")
    assert threads_in("from concurrent.futures import Future")
    assert threads_in("from PySide6.QtCore import QThreadPool")
    assert threads_in("from PySide6 import QtCore\nQtCore.QThread()")
    assert strangers_in("if TYPE_CHECKING:\n    import pandas", "scheduler") == ["2: pandas"]
    assert strangers_in("import numpy", "shared")
    assert eager_in("import holidays")
    assert eager_in("if CHECKING:\n    import icalendar\n")
    assert not eager_in("def f():\n    import holidays\n")
    assert not eager_in("if TYPE_CHECKING:\n    from icalendar import Event\n")
