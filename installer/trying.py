"""Tries an archive as people get it: unpacked in an empty folder, with no Python in reach."""

import os
import re
import shutil
import signal
import statistics
import subprocess
import sys
import sysconfig
import tarfile
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from installer.archive import digest
from installer.bare import TOOLS, inside, make_root
from installer.shipped import ROOMS, ROOT

SECONDS, ROUNDS = 120, 7
PICTURE = "window.png"
_SAMPLES = (
    *(("sample", "small", "."), ("findings", "small.countback")),
    ("plan", "small.countback", "--out", "small.plan"),
    ("check", "small.countback", "small.plan"),
    *(("give", "small.countback", what, f"out-{what}") for what in ("calendar", "tables")),
    ("give", "small.countback", "workbook", "small.xlsx"),
    ("give", "small.countback", "page", "small.html"),
    *(("give", "small.countback", "board", f"board.{kind}") for kind in ("pdf", "svg", "png")),
    ("bring", "small.countback", "jobs", "small.xlsx"),
)
_MAY_REFUSE = {"bring"}
"""It reads a workbook that is no list of jobs: what is tried is that it reads it."""
_OPENED = re.compile(r'open(?:at)?\(.*?"(/[^"]+)".*= \d+')
_PYTHON = re.compile(
    r"\.pyc?$|\.pth$|/(?:site|dist)-packages/|/lib(?:64)?/python3|libpython3|\.cpython-"
)
_GRAB = """
import sys
from PySide6.QtGui import QGuiApplication
app = QGuiApplication(["grab"])
app.primaryScreen().grabWindow(0).save(sys.argv[1])
"""

Say = Callable[[str], None]


def bare(home: Path, **more: str) -> dict[str, str]:
    """Give an environment with a home, and a PATH on which nothing lies."""
    nothing = home / "nothing"
    nothing.mkdir(exist_ok=True)
    return {"HOME": str(home), "PATH": str(nothing), "LANG": "C.UTF-8", **more}


def try_archive(archive: Path, out: Path, say: Say) -> int:
    """Unpack an archive and use it; a picture of its window is left in `out`. Linux only.

    Raises
    ------
    SystemExit
        If something doesn't work as it must.
    """
    if sys.platform != "linux":
        raise SystemExit("--try is for Linux")
    with tempfile.TemporaryDirectory(prefix="countback-try-") as name:
        home = Path(name).resolve()
        with tarfile.open(archive) as tar:
            tar.extractall(home, filter="fully_trusted")
        (folder,) = (path for path in home.iterdir() if path.is_dir())
        say(f"{archive.name}: SHA-256 {digest(archive)}")
        program = folder / "countback"
        _use(program, home, say)
        _look_at_what_is_opened(program, home, say)
        _use_in_a_bare_root(folder, home / "root", say)
        _open_window(program, home, out / PICTURE, say)
        _compare_starts(program, home, say)
    return 0


def _run(program: Path, home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(program), *words],
        cwd=home,
        env=bare(home),
        capture_output=True,
        text=True,
        timeout=SECONDS,
        check=False,
    )


def _use(program: Path, home: Path, say: Say) -> None:
    for words in (("--version",), *_SAMPLES):
        done = _run(program, home, *words)
        last = (done.stdout or done.stderr).strip().rpartition("\n")[2]
        say(f"countback {' '.join(words)}: {done.returncode}: {last}")
        allowed = {0, 2} if words[0] in _MAY_REFUSE else {0}
        if done.returncode not in allowed:
            raise SystemExit(f"that failed: {done.stderr}")
        if words[0] == "give" and not (home / words[-1]).exists():
            raise SystemExit(f"nothing was given: {words}")


def _look_at_what_is_opened(program: Path, home: Path, say: Say) -> None:
    """Hold every file that planning opens against the folder, where strace is at hand."""
    if shutil.which("strace") is None:
        say("strace is not here: what files it opens was not looked at")
        return
    log = home / "opened"
    command = ["strace", "-f", "-e", "trace=open,openat,execve", "-o", str(log), str(program)]
    command += ["plan", "small.countback"]
    environment = bare(home)
    strace = str(shutil.which("strace"))
    subprocess.run(
        [strace, *command[1:]], cwd=home, env=environment, capture_output=True, check=True
    )
    opened = {found[1] for found in _OPENED.finditer(log.read_text(encoding="utf-8"))}
    inside = {path for path in opened if Path(path).resolve().is_relative_to(program.parent)}
    python = sorted(path for path in opened - inside if _PYTHON.search(path))
    libraries = sorted(path for path in opened - inside if ".so" in path and "ld.so" not in path)
    say(f"plan opened {len(inside)} files of the folder, {len(python)} of another Python")
    say(f"libraries of the system: {', '.join(Path(path).name for path in libraries)}")
    if python:
        raise SystemExit(f"these are of another Python: {python}")


def _use_in_a_bare_root(folder: Path, root: Path, say: Say) -> None:
    """Plan in a root folder in which nothing else lies, where one is root and may make it."""
    if os.geteuid() != 0 or any(shutil.which(tool) is None for tool in TOOLS):
        say("not root: it was not tried in a root folder without Python")
        return
    lent = make_root(folder, root)
    book, plan = "/tmp/small.countback", "/tmp/small.plan"
    for words in (
        ("sample", "small", "/tmp"),
        ("plan", book, "--out", plan),
        ("check", book, plan),
        ("give", book, "board", "/tmp/board.pdf"),
    ):
        done = inside(root, *words)
        if done.returncode:
            raise SystemExit(f"that failed in a bare root: {words}: {done.stderr}")
    say(f"sample, plan, check and give work in a root without Python; the system lent {lent}")
    shutil.rmtree(root)


@contextmanager
def _screen() -> Iterator[str]:
    """Give an X display of one's own."""
    out, told = os.pipe()
    command = ["Xvfb", "-displayfd", str(told), "-screen", "0", "1500x950x24", "-nolisten", "tcp"]
    server = subprocess.Popen(command, pass_fds=[told], stderr=subprocess.DEVNULL)
    os.close(told)
    try:
        with os.fdopen(out) as heard:
            yield f":{heard.readline().strip()}"
    finally:
        server.terminate()
        server.wait(SECONDS)


def _children(process_id: int) -> list[str]:
    """Give the command lines of a process's children."""
    told = Path(f"/proc/{process_id}/task/{process_id}/children").read_text(encoding="ascii")
    return [
        Path(f"/proc/{child}/cmdline").read_text(encoding="utf-8").replace("\0", " ").strip()
        for child in told.split()
    ]


def _mapped(process_id: int) -> set[str]:
    lines = Path(f"/proc/{process_id}/maps").read_text(encoding="utf-8").splitlines()
    return {line.split(maxsplit=5)[5] for line in lines if line.count("/")}


def _open_window(program: Path, home: Path, picture: Path, say: Say) -> None:
    """Open a book in the window on a screen of its own, and keep a picture of what it shows."""
    if shutil.which("Xvfb") is None:
        raise SystemExit("Xvfb is needed to try the window")
    with _screen() as display:
        command = [str(program), "open", "small.countback"]
        environment = bare(home, DISPLAY=display, QT_QPA_PLATFORM="xcb")
        window = subprocess.Popen(command, cwd=home, env=environment, stderr=subprocess.PIPE)
        try:
            _grab_when_still(window.pid, display, home, picture)
            children = _children(window.pid)
            mapped = {path for path in _mapped(window.pid) if _PYTHON.search(path)}
            strangers = [path for path in mapped if not Path(path).is_relative_to(program.parent)]
            say(f"the window's children: {[each.rpartition('/')[2] for each in children]}")
            if strangers or not any(each.endswith("countback engine") for each in children):
                raise SystemExit(f"no engine, or files of another Python: {strangers}")
        finally:
            window.send_signal(signal.SIGTERM)
            _, said = window.communicate(timeout=SECONDS)
    say(f"the window said: {said.decode().strip() or 'nothing'}; its picture: {picture}")


def _busy_ticks(process_id: int) -> int:
    """Give the processor time of a process's children, in hundredths of a second."""
    told = Path(f"/proc/{process_id}/task/{process_id}/children").read_text(encoding="ascii")
    rows = [Path(f"/proc/{child}/stat").read_text(encoding="utf-8") for child in told.split()]
    fields = [row.rpartition(")")[2].split() for row in rows]
    return sum(int(row[11]) + int(row[12]) for row in fields)


def _grab_when_still(window_id: int, display: str, home: Path, picture: Path) -> None:
    """Take pictures until the engine rests and five in a row are alike, not of the bare screen."""
    picture.parent.mkdir(parents=True, exist_ok=True)
    environment = os.environ | {"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
    seen: list[tuple[str, int]] = []
    shot = home / PICTURE
    ends = time.monotonic() + SECONDS
    while time.monotonic() < ends:
        subprocess.run([sys.executable, "-c", _GRAB, str(shot)], env=environment, check=True)
        seen.append((digest(shot), _busy_ticks(window_id)))
        last = seen[-5:]
        rests = last[-1][1] - last[0][1] < 10 and last[-1][1] > 100
        if rests and len({each for each, _ in last}) == 1 and last[0][0] != seen[0][0]:
            shutil.copyfile(shot, picture)
            return
    raise SystemExit("the window never came to rest")


def _forget(*folders: Path) -> None:
    """Let the system drop what it keeps of files in memory, as far as nobody else uses them."""
    for folder in folders:
        for path in folder.rglob("*"):
            if path.is_file() and not path.is_symlink():
                with path.open("rb") as file:
                    os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


def _compare_starts(program: Path, home: Path, say: Say) -> None:
    """Time commands of the program and of the sources in turn, as a person waits for them.

    The first of each is cold, read from the disk.
    """
    libraries = Path(sysconfig.get_path("purelib"))
    ways = {
        "built": ([str(program)], bare(home), [program.parent]),
        "sources": (
            [sys.executable, "-m", "app"],
            bare(home, PYTHONPATH=str(ROOT)),
            [libraries, *(ROOT / room for room in ROOMS)],
        ),
    }
    for words in (["--version"], ["findings", "small.countback"], ["plan", "small.countback"]):
        times: dict[str, list[float]] = {name: [] for name in ways}
        for number in range(1 + ROUNDS):
            for name, (command, environment, folders) in ways.items():
                if number == 0:
                    _forget(*folders)
                began = time.monotonic()
                subprocess.run(
                    [*command, *words], cwd=home, env=environment, capture_output=True, check=True
                )
                times[name].append(time.monotonic() - began)
        told = ", ".join(
            f"{name} {statistics.median(row[1:]):.2f} s (cold {row[0]:.2f} s)"
            for name, row in times.items()
        )
        say(f"{words[0]}, median of {ROUNDS}: {told}")
