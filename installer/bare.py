"""A root folder with no Python in it: the program, and the libraries that the system lends it."""

import re
import shutil
import subprocess
from pathlib import Path

from installer.shipped import OF_THE_SYSTEM

_LOADER = re.compile(r"ld-linux.*\.so\.\d+|libresolv\.so\.2")
_ENTER = 'mount --rbind /dev "$1/dev" && mount -t proc proc "$1/proc" && shift && exec chroot "$@"'
TOOLS = ("unshare", "mount", "chroot", "ldd")


def system_libraries(folder: Path) -> set[Path]:
    """Give the files that the libraries of a folder take from the system, its loader too."""
    files = [
        str(path)
        for path in folder.rglob("*")
        if path.is_file() and not path.is_symlink() and path.read_bytes()[:4] == b"\x7fELF"
    ]
    told = subprocess.run(
        ["ldd", *files],
        env={"LD_LIBRARY_PATH": str(folder / "_internal"), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=False,
    )
    found = {
        Path(path) for path in re.findall(r"(?:=>|^\t)\s*(/\S+) \(", told.stdout, re.MULTILINE)
    }
    return {path for path in found if not path.is_relative_to(folder)}


def make_root(folder: Path, root: Path) -> list[str]:
    """Lay such a root with a folder's copy as /countback; name what the system lends.

    Raises
    ------
    SystemExit
        If the system is asked for something that is not said to be its own.
    """
    for name in ("dev", "proc", "tmp"):
        (root / name).mkdir(parents=True)
    shutil.copytree(folder, root / "countback", symlinks=True)
    lent = system_libraries(folder)
    strange = {path for path in lent if not _is_of_the_system(path.name)}
    # Printers come with the system's own CUPS, whatever that needs.
    if strange - _below_cups(lent):
        raise SystemExit(f"neither shipped nor said to be of the system: {strange}")
    for path in lent:
        target = root / path.relative_to("/")
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path.resolve(), target)
        target.chmod(0o755)
    return sorted(path.name for path in lent)


def _is_of_the_system(name: str) -> bool:
    return bool(OF_THE_SYSTEM.fullmatch(name) or _LOADER.fullmatch(name))


def _below_cups(lent: set[Path]) -> set[Path]:
    cups = [str(path) for path in lent if path.name.startswith("libcups.")]
    if not cups:
        return set()
    told = subprocess.run(["ldd", *cups], capture_output=True, text=True, check=True)
    return {Path(path) for path in re.findall(r"=> (/\S+)", told.stdout)}


def inside(root: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run the program in such a root, for which one must be root."""
    enter = ["unshare", "-m", "sh", "-c", _ENTER, "bare", str(root), str(root)]
    return subprocess.run(
        [*enter, "/countback/countback", *words],
        env={"HOME": "/tmp", "PATH": "/usr/sbin:/usr/bin:/sbin:/bin"},
        capture_output=True,
        text=True,
        check=False,
    )
