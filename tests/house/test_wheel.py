"""What `pip install .` brings is all that the program needs, and no tests."""

import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.house.tree import ROOT, ours

# No isolation: the extra [test] brings setuptools, so nothing is downloaded.
PIP_WHEEL = (
    *(sys.executable, "-m", "pip", "--disable-pip-version-check", "wheel", "--quiet"),
    *("--no-deps", "--no-build-isolation", "--no-index"),
)

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    copy = tmp_path_factory.mktemp("copy")
    for path in ours():
        (copy / path).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / path, copy / path)
    out = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [*PIP_WHEEL, "--wheel-dir", str(out), str(copy)],
        check=True,
        capture_output=True,
    )
    (built,) = out.glob("countback-*.whl")
    return built


def test_the_wheel_carries_every_file_of_the_program_and_no_other(wheel: Path) -> None:
    with ZipFile(wheel) as archive:
        carried = {name for name in archive.namelist() if ".dist-info/" not in name}
    wanted = {
        path.as_posix()
        for path in ours()
        if path.parts[0] in {"app", "scheduler", "shared", "sample_jobs"}
    }

    assert len(wanted) >= 20
    assert carried == wanted, "files that are not Python are named under package-data"


def test_the_wheel_names_the_command_and_the_pins(wheel: Path) -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    with ZipFile(wheel) as archive:
        info = {
            name.rpartition("/")[2]: archive.read(name).decode()
            for name in archive.namelist()
            if ".dist-info/" in name and name.endswith(("METADATA", "entry_points.txt"))
        }

    assert "countback = app.__main__:main" in info["entry_points.txt"]
    for pin in project["dependencies"]:
        assert f"Requires-Dist: {pin}\n" in info["METADATA"]
