"""Memory that was large once: given back to the system, by the engine's child when it rests."""

import os
import platform
import queue
import subprocess
import sys

import pytest

from app import engine_child
from tests.app.test_engine_child import Engine, Talk, ask

HOLED = """
from pathlib import Path
from app.free_memory import give_back

def resident():
    return int(Path("/proc/self/statm").read_text().split()[1])

many = [bytes(1000) for _ in range(100_000)]
last = many.pop()
full = resident()
del many
kept = resident()
give_back()
print(full, kept, resident())
"""


@pytest.mark.skipif(platform.libc_ver()[0] != "glibc", reason="only glibc can be asked for it")
def test_what_lies_free_below_something_kept_is_given_back() -> None:
    given = subprocess.run(
        [sys.executable, "-c", HOLED], capture_output=True, check=True, text=True
    )
    page = os.sysconf("SC_PAGE_SIZE")
    full, kept, now = (int(each) * page for each in given.stdout.split())
    assert full - kept < 10e6, "else there is nothing to ask for"
    assert full - now > 80e6


def test_the_child_gives_back_once_nobody_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    talk, waits = Talk(Engine()), queue.SimpleQueue[bool]()
    monkeypatch.setattr(engine_child, "give_back", lambda: waits.put(talk.child.is_busy))
    talk.hold(ask(1))
    assert waits.get(timeout=10) is False
