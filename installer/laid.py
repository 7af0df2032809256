"""What lies beside the program in its archive: words, licences, what a desktop wants to know."""

import platform
import re
import shutil
import sys
from collections.abc import Iterable
from pathlib import Path

from app import VERSION
from installer.icons import write_themed
from installer.licences import all_works, licence_list
from installer.shipped import APPLICATION_ID, ROOT

HERE = Path(__file__).parent
SYSTEM = {"linux": "linux", "win32": "windows", "darwin": "macos"}[sys.platform]


def archive_name() -> str:
    """Give the name of the folder that is packed."""
    return f"countback-{VERSION}-{SYSTEM}-{platform.machine().lower()}"


def lay_beside(folder: Path, day: str) -> None:
    """Write everything that goes with the program in a folder.

    day: the date of the version, as YYYY-MM-DD.

    Raises
    ------
    installer.licences.NoLicence
        If something in the folder is of nobody known.
    """
    files = [path for path in folder.rglob("*") if path.is_file()]
    works = all_works(files, ROOT / "app/resources/fonts")
    (folder / "LICENCES.txt").write_text(licence_list(works, VERSION), encoding="utf-8")
    shutil.copyfile(ROOT / "LICENSE", folder / "LICENSE")
    for path in sorted((HERE / SYSTEM).iterdir()):
        if path.suffix in {".sh", ".txt", ".cmd"}:
            _fill(path, folder / path.name, day)
            if path.suffix == ".sh":
                (folder / path.name).chmod(0o755)
    if SYSTEM == "linux":
        lay_for_desktop(folder / "share", day)


def lay_for_desktop(share: Path, day: str) -> None:
    """Write what a Linux desktop reads: icons, the menu's entry, the kind of file, what it is."""
    write_themed(share / "icons")
    for path in sorted((HERE / "linux").glob(f"{APPLICATION_ID}.*")):
        _fill(path, share / path.name, day)


def _fill(path: Path, target: Path, day: str) -> None:
    text = path.read_text(encoding="utf-8")
    words = {
        "@VERSION@": VERSION,
        "@DATE@": day,
        "@MACHINE@": platform.machine(),
        "@GLIBC@": platform.libc_ver()[1],
    }
    for mark, word in words.items():
        text = text.replace(mark, word)
    # Windows' own shell reads its scripts only with its own ends of lines.
    target.write_text(text, encoding="utf-8", newline="\r\n" if SYSTEM == "windows" else "\n")


def told_in_text(folder: Path, places: Iterable[str]) -> list[str]:
    """Name the text files that tell of a place of this machine."""
    return [name for name, text in _holding(folder, places) if text]


def told_in_binaries(folder: Path, places: Iterable[str]) -> list[str]:
    """Name the other files that do: debugging words that compilers leave in libraries."""
    return [name for name, text in _holding(folder, places) if not text]


def _holding(folder: Path, places: Iterable[str]) -> list[tuple[str, bool]]:
    """Give each file that tells of a place, and whether it is text."""
    named = b"|".join(re.escape(each.encode()) for each in places)
    wanted = re.compile(rb"(?<![\w.-])(?:" + named + rb")(?![\w.-])")
    found = []
    for path in sorted(folder.rglob("*")):
        if path.is_file() and not path.is_symlink():
            data = path.read_bytes()
            if wanted.search(data):
                found.append((path.relative_to(folder).as_posix(), b"\0" not in data[:8192]))
    return found
