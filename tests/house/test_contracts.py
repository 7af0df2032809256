"""The import contracts hold, and each of them bites.

In a process of its own: import-linter silences every logger that exists and reads modules by
name, and ours are imported here already.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.tree import ROOMS, ROOT

LINT = "from importlinter.cli import lint_imports as l; raise SystemExit(l(no_cache=True))"


def lint(checkout: Path) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(checkout), "COLUMNS": "200"}
    return subprocess.run(
        [sys.executable, "-c", LINT],
        cwd=checkout,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    checkout = tmp_path / "copy"
    checkout.mkdir()
    shutil.copy(ROOT / "pyproject.toml", checkout)
    for room in ROOMS:
        shutil.copytree(ROOT / room, checkout / room, ignore=shutil.ignore_patterns("*.pyc"))
    return checkout


def test_the_contracts_hold() -> None:
    result = lint(ROOT)

    assert result.returncode == 0, result.stdout
    assert "Contracts: 3 kept, 0 broken." in result.stdout


@pytest.mark.parametrize(
    ("where", "line", "contract"),
    [
        ("shared/planted.py", "import scheduler", "app -> scheduler -> shared"),
        ("shared/planted.py", "import app", "app -> scheduler -> shared"),
        ("scheduler/planted.py", "import app", "app -> scheduler -> shared"),
        ("scheduler/planted.py", "from PySide6.QtCore import QObject", "Qt only in app"),
        ("shared/planted.py", "import shiboken6", "Qt only in app"),
        ("scheduler/planted.py", "from ortools.sat.python import cp_model", "ortools only in"),
        ("app/planted.py", "import ortools", "ortools only in"),
    ],
)
@pytest.mark.parametrize(
    "template",
    [
        "{line}\n",
        "def late() -> None:\n    {line}\n",
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    {line}\n",
    ],
    ids=["plain", "in_function", "type_only"],
)
def test_a_planted_import_breaks_its_contract(
    copy: Path, where: str, line: str, contract: str, template: str
) -> None:
    (copy / where).write_text(template.format(line=line), encoding="utf-8")

    result = lint(copy)

    assert result.returncode == 1, result.stdout
    broken = [row for row in result.stdout.splitlines() if row.rstrip().endswith("BROKEN")]
    assert len(broken) == 1
    assert broken[0].startswith(contract)


def test_the_solver_may_be_imported_in_its_own_room(copy: Path) -> None:
    model = copy / "scheduler" / "model"
    model.mkdir(exist_ok=True)
    (model / "__init__.py").touch()
    (model / "planted.py").write_text("from ortools.sat.python import cp_model\n", encoding="utf-8")

    assert lint(copy).returncode == 0
