"""Compiles the hot files of the engine (scheduler/hot.py) where mypyc and a compiler are at hand.

What is compiled already is left alone, and so is what could not be compiled before. Never fails:
without it the engine runs as plain Python, only slower.
"""

import fcntl
import importlib
import importlib.util
import os
import shutil
import subprocess
import sys
import sysconfig
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
KEPT_MAX = 3
"""So many folders are kept: a program that runs may still read an older one."""

sys.path.insert(0, str(ROOT))
os.environ["COUNTBACK_PURE"] = "1"

from scheduler import hot  # noqa: E402


def say(words: str) -> None:
    """Say a line as the set-up does."""
    sys.stderr.write(f"countback set-up: {words}\n")


def main() -> None:
    """Compile them if need be, one run at a time."""
    package = ROOT / "scheduler"
    build = hot.build_folder(package)
    build.mkdir(exist_ok=True)
    with (build / "hot.lock").open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return
        (build / "hot.looking").touch()
        folder = build / (hot.PREFIX + hot.digest(package))
        if not folder.exists() and not folder.with_suffix(".failed").exists() and _can_compile():
            _compile_into(folder)
        # What changes meanwhile is newer than this mark, and looked at next time.
        (build / "hot.looking").replace(build / "hot.looked")


def _can_compile() -> bool:
    header = Path(sysconfig.get_path("include")) / "Python.h"
    compiler = (sysconfig.get_config_var("CC") or "cc").split()[0]
    found = importlib.util.find_spec("mypyc") and importlib.util.find_spec("setuptools")
    return bool(found) and header.exists() and shutil.which(compiler) is not None


def _compile_into(folder: Path) -> None:
    started = time.monotonic()
    say("compiling the engine's hot files (once for each change of them; about a minute)")
    with tempfile.TemporaryDirectory(dir=folder.parent, prefix="compiling-") as name:
        work = Path(name)
        for room in ("scheduler", "shared"):
            ignored = shutil.ignore_patterns("__pycache__")
            shutil.copytree(ROOT / room, work / room, ignore=ignored)
        if hot.digest(work / "scheduler") != folder.name.removeprefix(hot.PREFIX):
            say("a hot file has just been changed; left for the next time")
            return
        if not all(_did(work, step) for step in ("compile", "try")):
            log_kept = shutil.copyfile(work / "log", folder.with_suffix(".failed"))
            say(f"they could not be compiled, see {log_kept}; going on with plain ones")
            return
        (work / "made/scheduler").replace(folder)
    _leave_few(folder)
    say(f"compiled in {time.monotonic() - started:.0f} s")


def _did(work: Path, step: str) -> bool:
    """Return whether a step went well, in a process of its own: compiled code may crash it."""
    with (work / "log").open("a") as log:
        command = [sys.executable, __file__, step, str(work)]
        done = subprocess.run(command, cwd=work, stdout=log, stderr=log, check=False)
        log.write(f"{step}: exit code {done.returncode}\n")
    return not done.returncode


def try_in(work: Path) -> None:
    """Place a sample with what was compiled in a working folder."""
    import scheduler

    scheduler.__path__.insert(0, str(work / "made/scheduler"))
    for module in hot.MODULES:
        importlib.import_module(f"scheduler.{module}")
    from scheduler.calendar import Index
    from scheduler.justify import justify
    from scheduler.normalise import normalise
    from scheduler.place import place
    from scheduler.urgency import countback_order
    from shared.files.read import read_book

    book = read_book((ROOT / "sample_jobs/small.countback").read_bytes()).book
    index = Index(normalise(book, book.as_of).problem)
    justify(index, place(index, countback_order(index)))


def compile_in(work: Path) -> None:
    """Compile the copy of the sources in a working folder, into made/scheduler in there."""
    from mypyc.build import mypycify
    from setuptools import setup

    for module, typed in hot.TYPED.items():
        shutil.copyfile(work / f"scheduler/{typed}.py", work / f"scheduler/{module}.py")
    paths = [f"scheduler/{module}.py" for module in hot.MODULES]
    options = ["--ignore-missing-imports", "--cache-dir=mypy"]
    extensions = mypycify(
        [*options, *paths], opt_level="1", debug_level="0", group_name="scheduler.hot"
    )
    arguments = ["--quiet", "build_ext", "--build-lib=made", "--build-temp=objects"]
    setup(name="hot", ext_modules=extensions, script_args=arguments)


def _leave_few(newest: Path) -> None:
    others = [
        each for each in newest.parent.glob(f"{hot.PREFIX}*") if each != newest and each.is_dir()
    ]
    others.sort(key=lambda each: each.stat().st_mtime)
    for each in others[: max(0, len(others) - KEPT_MAX + 1)]:
        shutil.rmtree(each, ignore_errors=True)


if __name__ == "__main__":
    if sys.argv[1:2] == ["compile"]:
        compile_in(Path(sys.argv[2]))
    elif sys.argv[1:2] == ["try"]:
        try_in(Path(sys.argv[2]))
    else:
        main()
