"""A process that takes hostile files one after the other and says what each came to.

Reads a line for each, "SEED ROUND" or "corpus NAME", and answers with a JSON object on one line.
It is ended by the system when a file takes too much processor time, and says before where.
"""

import contextlib
import faulthandler
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
import traceback
import zoneinfo
from pathlib import Path

ENDED_SECONDS = 8
"""Of processor time on one file, after which the process is ended."""
MOST_BYTES = 1 << 30
"""Of address space above what the process has once it is warm; more is refused."""
_WRITES = frozenset({"os.remove", "os.rename", "os.mkdir", "os.rmdir", "os.link", "os.symlink",
                     "os.chmod", "os.truncate", "os.chown", "os.utime"})  # fmt: skip
_NEVER = ("subprocess.", "os.system", "os.exec", "os.spawn", "os.posix_spawn", "socket.", "shutil.",
          "urllib.", "ftplib.", "webbrowser.")  # fmt: skip


class Watch:
    """Notes what is touched outside of a folder while it is on."""

    def __init__(self, folder: Path) -> None:
        self._folder = os.path.realpath(folder)
        from tests.house.tree import ROOT

        homes = (sys.prefix, sys.base_prefix, str(ROOT), *zoneinfo.TZPATH)
        self._readable = (self._folder, "/proc", *map(os.path.realpath, homes))
        self.is_on = False
        self.touched: list[str] = []
        sys.addaudithook(self._hear)

    def _hear(self, event: str, args: tuple[object, ...]) -> None:
        if not self.is_on:
            return
        if event.startswith(_NEVER):
            self.touched.append(f"{event} {args!r}"[:200])
        elif event == "open":
            self._opened(args)
        elif event in _WRITES:
            for each in args[:2]:
                if isinstance(each, str | bytes | os.PathLike):
                    self._held(event, each, (self._folder,))

    def _opened(self, args: tuple[object, ...]) -> None:
        path, _, flags = args
        if not isinstance(path, str | bytes | os.PathLike) or not isinstance(flags, int):
            return
        is_read = flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC) == 0
        self._held("open", path, self._readable if is_read else (self._folder,))

    def _held(
        self, event: str, path: "str | bytes | os.PathLike[str]", allowed: tuple[str, ...]
    ) -> None:
        text = os.path.abspath(os.fsdecode(path))  # noqa: PTH100 - must not ask the disk
        if not any(text == each or text.startswith(each + os.sep) for each in allowed):
            self.touched.append(f"{event} {text}"[:200])


def _kilobytes(name: str) -> int:
    for line in (
        Path("/proc/self/status").read_text(encoding="ascii", errors="replace").splitlines()
    ):
        if line.startswith(name):
            return int(line.split()[1])
    return 0


def _forget_peak() -> None:
    with contextlib.suppress(OSError):
        Path("/proc/self/clear_refs").write_text("5", encoding="ascii")


def taken(
    kind: str, data: bytes, folder: Path, turn: int, watch: Watch | None
) -> dict[str, object]:
    """Judge one file, and say what it took. Its folder is made, and gone afterwards."""
    from tests.soak._hostile_judge import judge, made_a_problem

    folder.mkdir()
    fault, seconds = "", 0.0
    _forget_peak()
    held, started = _kilobytes("VmRSS"), time.process_time()
    signal.setitimer(signal.ITIMER_PROF, ENDED_SECONDS)
    if watch is not None:
        watch.is_on = True
    try:
        book = judge(kind, data, folder, turn)
        seconds = time.process_time() - started
        if book is not None:
            made_a_problem(book)
    except BaseException as trouble:
        if isinstance(trouble, KeyboardInterrupt):
            raise
        last = traceback.extract_tb(trouble.__traceback__)[-3:]
        where = " < ".join(f"{Path(e.filename).name}:{e.lineno}" for e in reversed(last))
        fault = f"{type(trouble).__name__}: {trouble}"[:300] + f" at {where}"
    finally:
        if watch is not None:
            watch.is_on = False
        signal.setitimer(signal.ITIMER_PROF, 0)
    grown = max(0, _kilobytes("VmHWM") - held)
    shutil.rmtree(folder)
    touched = watch.touched[:] if watch is not None else []
    if watch is not None:
        watch.touched.clear()
    return {"fault": fault, "seconds": seconds, "grown_kb": grown, "touched": touched}


def _warmed(scratch: Path) -> None:
    """Take a good file of each kind, so that what is imported late is there."""
    from tests.soak._hostile_samples import KINDS, samples

    for kind in KINDS:
        for turn, data in enumerate(samples(kind)[:9]):
            taken(kind, data, scratch / "warm", turn, None)


def _answer(line: str, scratch: Path, watch: Watch) -> dict[str, object]:
    from tests.soak._hostile_files import file_of
    from tests.soak.hostile import CORPUS

    first, second = line.split()
    if first == "corpus":
        kind, how, data = second.partition("-")[0], "corpus", (CORPUS / second).read_bytes()
        turn = 0
    else:
        turn = int(second)
        kind, how, data = file_of(int(first), turn)
    (scratch / "current").write_bytes(data)
    told = {"kind": kind, "how": how, "size": len(data)}
    return {**told, **taken(kind, data, scratch / "file", turn, watch)}


def main(scratch: Path) -> None:
    """Answer until there are no more lines."""
    sys.set_int_max_str_digits(4300)
    os.environ["HOME"] = str(scratch)
    tempfile.tempdir = str(scratch)
    faulthandler.enable()
    _warmed(scratch)
    faulthandler.register(signal.SIGPROF, chain=True)
    usual = _kilobytes("VmSize") * 1024 + MOST_BYTES
    resource.setrlimit(resource.RLIMIT_AS, (usual, usual))
    watch = Watch(scratch)
    print("ready", flush=True)
    for line in sys.stdin:
        print(json.dumps(_answer(line, scratch, watch)), flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
