"""Help and findings answer at once: nothing heavy is imported for them."""

import subprocess
import sys

import pytest

from tests.house.test_rooms import QT, WITHOUT_QT, _matches
from tests.house.tree import ROOT, python_files

HEAVY = {
    *QT,
    "icalendar",
    "numpy",
    "openpyxl",
    "ortools",
    "pandas",
    "python_calamine",
    "xlsxwriter",
}


def modules_imported_by(*arguments: str) -> set[str]:
    """Names of all modules that ``python ARGUMENTS`` imports."""
    result = subprocess.run(
        [sys.executable, "-X", "importtime", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert result.returncode in {0, 2}, result.stderr
    rows = [row for row in result.stderr.splitlines() if row.startswith("import time:")]
    return {row.rpartition("|")[2].strip() for row in rows}


def heavy_of(modules: set[str]) -> set[str]:
    return {name for name in modules if name.partition(".")[0] in HEAVY}


def test_help_imports_nothing_heavy() -> None:
    modules = modules_imported_by("-m", "app", "--help")

    assert "argparse" in modules, "the list was not read"
    assert not heavy_of(modules)
    assert "holidays" not in modules


def test_findings_import_neither_window_nor_solver() -> None:
    modules = modules_imported_by("-m", "app", "findings", "sample_jobs/small.countback")

    assert "json" in modules
    assert not heavy_of(modules)


def test_words_states_and_command_line_pull_in_no_qt_through_others() -> None:
    paths = [
        path
        for path in python_files("app")
        if _matches(path, WITHOUT_QT) and path.name != "__main__.py"
    ]
    names = [".".join(path.with_suffix("").parts).removesuffix(".__init__") for path in paths]
    assert names

    modules = modules_imported_by("-c", "import " + ", ".join(names))

    assert set(names) <= modules
    assert not heavy_of(modules)


_OPENED = """
import sys
opened = []
sys.addaudithook(lambda event, facts: opened.append(str(facts[0])) if event == "open" else None)
from app.cli.run import main
try:
    main({arguments})
except SystemExit:
    pass
if {asks}:
    import shared.trade
    shared.trade.figure("PL07")
print(len(opened), sum("/trade/data/" in name.replace(chr(92), "/") for name in opened))
"""


def tables_opened_by(*arguments: str, asks: bool = False) -> int:
    """How many tables of figures the command line opens."""
    result = subprocess.run(
        [sys.executable, "-c", _OPENED.format(arguments=list(arguments), asks=asks)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    opened_count, tables_count = result.stdout.splitlines()[-1].split()
    assert int(opened_count) > 10, "the hook saw nothing"
    return int(tables_count)


@pytest.mark.parametrize("arguments", [("--help",), ("findings", "sample_jobs/small.countback")])
def test_help_and_findings_read_no_figures(arguments: tuple[str, ...]) -> None:
    assert tables_opened_by(*arguments) == 0


def test_reading_figures_would_be_seen() -> None:
    assert tables_opened_by("--help", asks=True) >= 10


@pytest.mark.parametrize("name", ["numpy", "PySide6.QtCore"])
def test_a_heavy_import_would_be_seen(name: str) -> None:
    assert heavy_of(modules_imported_by("-c", f"import {name}"))
