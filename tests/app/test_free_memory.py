"""Memory that was large once: given back to the system, by the engine's child when it rests."""

import gc
import io
import json
import os
import platform
import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from weakref import ref

import pytest

from app import engine_child
from app.engine_child import Lines
from app.free_memory import give_back
from tests.app.test_engine_child import Engine, Talk, ask, kinds

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


def test_rings_are_looked_for_at_every_age_or_among_the_young() -> None:
    old = Ring()
    gc.collect()
    young = Ring()
    gone = [ref(old), ref(young)]
    del old, young
    give_back(of_all_ages=False)
    assert [is_there() is None for is_there in gone] == [False, True]
    give_back()
    assert [is_there() is None for is_there in gone] == [True, True]


class Ring:
    """Holds itself."""

    def __init__(self) -> None:
        self.me = self


def test_the_child_gives_back_once_after_work_and_not_while_it_works(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    engine = Engine(waits=True)
    talk, given = Talk(engine), []
    monkeypatch.setattr(engine_child, "give_back", lambda: given.append(talk.child.is_busy))
    talk.child.is_loading = talk.child.has_worked = False
    beat = engine_child.Beat(engine_child.Lines(talk.out), talk.child)

    def lines() -> Iterator[str]:
        assert beat.once()
        yield json.dumps(ask(1)) + "\n"
        engine.began.wait(10)
        assert beat.once()
        assert not given
        yield '{"kind": "cancel", "id": 1}\n'
        yield from talk.until_over([])
        assert beat.once()
        assert beat.once()

    talk.child.serve(lines())
    assert given == [False]
    assert "beat" in kinds([json.loads(line) for line in talk.out.getvalue().splitlines()])


class Busy:
    """A child that answers, or rests, as it is told."""

    is_loading, is_busy, has_worked = False, False, False


def test_the_child_gives_back_once_a_minute_at_the_most(monkeypatch: pytest.MonkeyPatch) -> None:
    given: list[int] = []
    child = Busy()
    beat = engine_child.Beat(Lines(io.StringIO()), child)  # type: ignore[arg-type]
    for second in range(1, 200):
        monkeypatch.setattr(engine_child, "give_back", partial(given.append, second))
        child.is_busy = second % 3 == 1
        child.has_worked |= child.is_busy
        beat.once()
    assert given == [2, 63, 125, 186]


def test_the_child_gives_back_after_what_began_and_ended_between_two_beats(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    talk, given = Talk(Engine()), []
    monkeypatch.setattr(engine_child, "give_back", lambda: given.append(talk.child.is_busy))
    talk.child.is_loading = talk.child.has_worked = False
    beat = engine_child.Beat(engine_child.Lines(talk.out), talk.child)

    def lines() -> Iterator[str]:
        assert beat.once()
        assert not given
        yield json.dumps(ask(1)) + "\n"
        yield from talk.until_over([])
        assert beat.once()

    talk.child.serve(lines())
    assert given == [False]
