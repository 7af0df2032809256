"""Compiled hot files: only ever those of the sources that are there, and the same to the step."""

import ast
import json
import os
import shutil
import subprocess
import sys
from bisect import bisect_left, bisect_right
from pathlib import Path
from random import Random

import pytest

from scheduler import hot, sorted_ints, typed_ints
from tests.house.tree import ROOT, imported_modules

PACKAGE = ROOT / "scheduler"
COMPILED = (hot.build_folder(PACKAGE) / (hot.PREFIX + hot.digest(PACKAGE))).is_dir()


def printed(*arguments: str, root: Path, pure: str = "0") -> str:
    """Return what `python ARGUMENTS` prints where `root` is what it imports first."""
    env = os.environ | {"PYTHONPATH": str(root), "COUNTBACK_PURE": pure}
    command = [sys.executable, *arguments]
    done = subprocess.run(command, cwd=root, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_typed_bisection_is_that_of_the_standard_library() -> None:
    draw = Random(5)
    for _ in range(500):
        items = sorted(draw.randrange(20) for _ in range(draw.randrange(12)))
        low = draw.randint(0, len(items))
        high = draw.randint(low, len(items))
        for x in range(-1, 21):
            left, right = bisect_left(items, x), bisect_right(items, x)
            assert typed_ints.bisect_left(items, x) == typed_ints.row_left(tuple(items), x) == left
            assert typed_ints.bisect_right(items, x) == right
            assert typed_ints.row_right(tuple(items), x) == right
            within = bisect_left(items, x, low, high)
            assert typed_ints.bisect_left(items, x, low, high) == within
            assert typed_ints.bisect_right(items, x, low, high) == bisect_right(items, x, low, high)


def test_what_the_compiler_reads_has_the_names_of_what_it_replaces() -> None:
    assert all(hasattr(typed_ints, name) for name in sorted_ints.__all__)


def test_hot_files_read_no_others_of_the_engine() -> None:
    """Else what is compiled would hang on a source that the digest does not know."""
    for module in hot.MODULES:
        tree = ast.parse((PACKAGE / f"{module}.py").read_text())
        names = [name for _, name, _ in imported_modules(tree)]
        ours = {name.split(".")[1] for name in names if name.startswith("scheduler.")}
        assert ours <= {*hot.MODULES, *hot.BESIDE}, (
            f"{module}: add what it reads to scheduler/hot.py"
        )
        assert not [name for name in names if name.split(".")[0] in {"shared", "app"}]


def test_the_package_itself_reads_no_hot_file() -> None:
    """Else some would be plain beside compiled ones."""
    script = "import sys, scheduler; print(*sys.modules)"
    loaded = set(printed("-c", script, root=ROOT, pure="1").split())
    assert "scheduler.outcome" in loaded
    assert not loaded & {f"scheduler.{module}" for module in hot.MODULES}


def test_a_changed_source_is_never_answered_by_what_was_compiled_before(tmp_path: Path) -> None:
    package = tmp_path / "scheduler"
    for room in ("scheduler", "shared"):
        ignored = shutil.ignore_patterns("__pycache__")
        shutil.copytree(ROOT / room, tmp_path / room, ignore=ignored)
    assert hot.folder(package) is None
    folder = hot.build_folder(package) / (hot.PREFIX + hot.digest(package))
    folder.mkdir(parents=True)
    shutil.copyfile(package / "spans.py", folder / "spans.py")
    asks = ("-c", "import scheduler.spans as s; print(s.__file__)")

    assert printed(*asks, root=tmp_path) == str(folder / "spans.py")
    assert printed(*asks, root=tmp_path, pure="1") == str(package / "spans.py")
    for name in ("chain", "typed_ints"):
        before = (package / f"{name}.py").read_text()
        (package / f"{name}.py").write_text(before + "\n")
        assert printed(*asks, root=tmp_path) == str(package / "spans.py")
        (package / f"{name}.py").write_text(before)
        assert printed(*asks, root=tmp_path) == str(folder / "spans.py")


def test_a_built_program_takes_what_was_built_with_it_and_needs_no_sources(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("COUNTBACK_PURE", raising=False)
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    package = tmp_path / "scheduler"
    assert hot.folder(package) is None
    built = hot.build_folder(package) / f"{hot.PREFIX}0123"
    built.mkdir(parents=True)

    assert hot.folder(package) == built
    monkeypatch.setenv("COUNTBACK_PURE", "1")
    assert hot.folder(package) is None


@pytest.mark.slow
@pytest.mark.skipif(not COMPILED, reason="the hot files are not compiled here (no compiler)")
def test_compiled_and_plain_give_the_same_schedules() -> None:
    arguments = ("-m", "tests.scheduler.hot_schedules")
    plain = json.loads(printed(*arguments, root=ROOT, pure="1"))
    compiled = json.loads(printed(*arguments, root=ROOT))

    assert plain.pop("suffix") == ".py"
    assert compiled.pop("suffix") == ".so"
    assert len(plain) > 20
    assert compiled == plain
