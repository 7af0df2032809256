"""install.sh and uninstall.sh, by a real shell in a home of their own."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from installer.laid import HERE, lay_for_desktop
from installer.shipped import APPLICATION_ID

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="for Linux homes")

ODD = 'a $HOME of 100% "odd" `names` \\ here'
ENTRY = f"applications/{APPLICATION_ID}.desktop"
# What the desktop's own tools leave behind, in short.
TOOLS = {
    "update-mime-database": 'test -d "$1/packages" && echo x >"$1/globs2" && mkdir -p "$1/text"',
    "update-desktop-database": 'echo x >"$1/mimeinfo.cache"',
}


@pytest.fixture(scope="module")
def share(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("laid")
    lay_for_desktop(folder, "2026-11-01")
    return folder


@pytest.fixture
def unpacked(tmp_path: Path, share: Path) -> Path:
    """An archive unpacked, with a program that says what it was asked."""
    folder = tmp_path / "countback-0"
    (folder / "_internal").mkdir(parents=True)
    program = folder / "countback"
    program.write_text('#!/bin/sh\nprintf "%s\\n" "$(dirname "$(readlink -f "$0")")" "$@"\n')
    program.chmod(0o755)
    for name in ("install.sh", "uninstall.sh"):
        (folder / name).write_bytes((HERE / "linux" / name).read_bytes())
    shutil.copytree(share, folder / "share")
    return folder


@pytest.fixture(params=["plain", ODD])
def home(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    folder = tmp_path / str(request.param)
    folder.mkdir()
    return folder


def shell(script: Path, home: Path, *words: str, tools: Path | None = None) -> tuple[int, str]:
    path = f"{tools}{os.pathsep}/usr/bin{os.pathsep}/bin" if tools else "/usr/bin:/bin"
    done = subprocess.run(
        ["sh", str(script), *words],
        env={"HOME": str(home), "PATH": path},
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout + done.stderr


def files_in(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*")}


def program_of(entry: Path) -> list[str]:
    """Read Exec as the Desktop Entry Specification has it: value, then quotes, then codes."""
    (line,) = [text for text in entry.read_text().splitlines() if text.startswith("Exec=")]
    value = line.removeprefix("Exec=").replace("\\\\", "\\")
    found = re.fullmatch(r'"((?:[^"`$\\]|\\["`$\\])*)" (.*)', value)
    assert found is not None, value
    program = re.sub(r"\\(.)", r"\1", found[1])
    assert "%" not in program.replace("%%", "")
    return [program.replace("%%", "%"), *found[2].split()]


def test_the_program_its_entry_and_its_icons_are_there_and_work(unpacked: Path, home: Path) -> None:
    code, said = shell(unpacked / "install.sh", home)
    place = home / ".local/lib/countback"
    share = home / ".local/share"

    assert code == 0, said
    asked = [str(home / ".local/bin/countback"), "plan", "a b"]
    told = subprocess.run(asked, capture_output=True, text=True, check=True).stdout
    assert told.splitlines() == [str(place), "plan", "a b"]
    assert program_of(share / ENTRY) == [str(place / "countback"), "open", "%f"]
    assert (share / f"icons/hicolor/48x48/apps/{APPLICATION_ID}.png").is_file()
    assert (share / f"icons/hicolor/scalable/apps/{APPLICATION_ID}.svg").is_file()
    assert (share / f"mime/packages/{APPLICATION_ID}.xml").is_file()
    assert (share / f"metainfo/{APPLICATION_ID}.metainfo.xml").is_file()


def test_nothing_is_left_after_uninstalling(unpacked: Path, home: Path, tmp_path: Path) -> None:
    tools = tmp_path / "tools"
    tools.mkdir()
    for name, does in TOOLS.items():
        (tools / name).write_text(f"#!/bin/sh\n{does}\n")
        (tools / name).chmod(0o755)
    for _ in range(2):
        assert shell(unpacked / "install.sh", home, tools=tools)[0] == 0
    assert (home / ".local/share/mime/globs2").exists()
    code, said = shell(home / ".local/lib/countback/uninstall.sh", home, tools=tools)

    assert code == 0, said
    assert files_in(home) == set()


def test_what_was_there_before_stays(unpacked: Path, home: Path) -> None:
    for name in (
        ".local/bin/other",
        ".local/share/applications/other.desktop",
        ".local/share/mime/packages/other.xml",
        ".local/share/countback/settings.json",
        ".local/lib/other/file",
    ):
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_text("mine")
    before = files_in(home)
    assert shell(unpacked / "install.sh", home)[0] == 0
    assert files_in(home) > before
    code, said = shell(home / ".local/lib/countback/uninstall.sh", home)

    assert code == 0
    assert "settings" in said
    left = {
        name
        for name in files_in(home) - before
        if not name.startswith(".local/share/mime/") and not name.endswith("mimeinfo.cache")
    }
    assert left == set()
    assert before <= files_in(home)


def test_a_newer_one_takes_the_place_of_the_older(unpacked: Path, home: Path) -> None:
    (unpacked / "_internal/old").touch()
    assert shell(unpacked / "install.sh", home)[0] == 0
    (unpacked / "_internal/old").rename(unpacked / "_internal/new")
    assert shell(unpacked / "install.sh", home)[0] == 0

    place = home / ".local/lib/countback"
    assert files_in(place / "_internal") == {"new"}
    assert shell(place / "uninstall.sh", home)[0] == 0
    assert files_in(home) == set()


def test_another_program_of_that_name_is_not_overwritten(unpacked: Path, home: Path) -> None:
    other = home / ".local/bin/countback"
    other.parent.mkdir(parents=True)
    other.write_text("mine")
    before = files_in(home)
    code, said = shell(unpacked / "install.sh", home)

    assert code == 2
    assert "move it away" in said
    assert files_in(home) == before
    assert other.read_text() == "mine"


def test_the_installed_one_does_not_install_itself(unpacked: Path, home: Path) -> None:
    assert shell(unpacked / "install.sh", home)[0] == 0
    before = files_in(home)

    assert shell(home / ".local/lib/countback/install.sh", home)[0] == 2
    assert files_in(home) == before
    assert shell(unpacked / "uninstall.sh", home)[0] == 0
    assert shell(unpacked / "uninstall.sh", home)[0] == 2
