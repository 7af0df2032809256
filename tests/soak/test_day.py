"""That the long day finds what grows: from counts of few rounds, from memory of many."""

import json
import os
import subprocess
import sys
import threading
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from tests.house.tree import ROOT
from tests.soak._day_counts import Seen, descendants, growing, open_files, resident_mb, threads
from tests.soak.day import MEMORY_ROUNDS, MOST_PERCENT, SELDOM, counts_of, memory_of

MINE = os.getpid()
NAMES, LEAST = ("window", "engine"), MEMORY_ROUNDS - SELDOM


def day_of(mb: list[float], every: int = 1, **counts: list[int]) -> list[Seen]:
    return [
        Seen(
            round=every * (number + 1) - 1,
            pids={"window": 7},
            mb={"window": each},
            counts={name: values[number] for name, values in counts.items()},
            types={},
        )
        for number, each in enumerate(mb)
    ]


# Counts.


@pytest.mark.parametrize("name", ["processes", "files", "timers", "windows", "files kept"])
@pytest.mark.parametrize("rounds", [2, 4, 6, 12])
def test_one_a_round_is_found_from_few_rounds_on(name: str, rounds: int) -> None:
    assert growing(name, [8 + number for number in range(rounds)])


@pytest.mark.parametrize(
    "values", [[5], [5, 5, 5, 5], [5, 9, 4, 9, 5, 9], [9, 8, 7, 6], [5, 9, 9], [5, 5, 9, 9, 9, 9]]
)
def test_what_comes_and_goes_does_not_grow(values: list[int]) -> None:
    assert not growing("files", values)


def test_a_widget_a_round_is_found_in_a_day_though_forms_differ() -> None:
    rng = Random(5)
    forms = [1000 + rng.randrange(100) for _ in range(120)]
    assert not growing("widgets", forms)
    leaked = [count + 4 * number for number, count in enumerate(forms)]
    assert growing("widgets", leaked), "one in each of four rounds between two looks"


def test_what_rises_is_named_and_told_as_it_is_last() -> None:
    lines, facts = counts_of(day_of([100.0] * 4, timers=[1, 2, 3, 4], files=[7, 7, 7, 7]))
    assert lines == ["timers rose from 1 to 4 ()"]
    assert facts == {"timers": 4, "files": 7}


# Memory.


def worked(rounds: int, kept_mb: float, seed: int = 3) -> list[Seen]:
    """Give a day that begins at 200 MB, warms up, and keeps something in each round."""
    rng = Random(seed)
    warm = [200 + 60 * min(1.0, number / (rounds / 5)) for number in range(0, rounds, 4)]
    mb = [each + 4 * at * kept_mb + rng.uniform(-3, 3) for at, each in enumerate(warm)]
    return day_of(mb, 4)


@pytest.mark.parametrize("rounds", [200, 480])
def test_200_kb_a_round_are_found_and_a_day_that_only_warms_up_is_sound(rounds: int) -> None:
    lines, facts = memory_of(worked(rounds, 0), ("window",), LEAST)
    assert lines == []
    assert abs(float(facts["window_growth_percent"])) < MOST_PERCENT / 2
    lines, facts = memory_of(worked(rounds, 0.2), ("window",), LEAST)
    assert len(lines) == 1
    assert float(facts["window_growth_percent"]) > MOST_PERCENT


def test_memory_does_not_count_in_few_rounds() -> None:
    lines, facts = memory_of(worked(196, 5), ("window",), LEAST)
    assert lines == []
    assert float(facts["window_growth_percent"]) > 0, "it is told all the same"


def test_of_a_child_started_anew_the_longest_that_one_lived_counts() -> None:
    day = worked(480, 0.2)
    anew = [
        replace(seen, pids={"window": 7, "engine": 8 + (at >= 90)}, mb={**seen.mb, "engine": mb})
        for at, (seen, mb) in enumerate(zip(day, [300.0] * 90 + [100.0] * 30, strict=True))
    ]
    lines, facts = memory_of(anew, NAMES, LEAST)
    assert [line.split(" grew")[0] for line in lines] == ["memory of the window"]
    assert (facts["engine_growth_percent"], facts["engine_processes"]) == (0, 2)


def test_a_child_that_grows_with_each_question_is_found() -> None:
    asked = worked(240, 2)[20:]
    assert len(memory_of(asked, ("window",), 20)[0]) == 1


def test_a_child_that_never_lived_long_enough_or_was_not_there_can_not_be_judged() -> None:
    asked = [
        replace(seen, pids={"counsel": seen.round // 16}, mb={"counsel": 200.0})
        for seen in worked(80, 0)
    ]
    lines, facts = memory_of(asked, ("counsel", "engine"), 20)
    assert lines == [
        f"memory of the {name} can't be judged: none lived 20 rounds, the longest {most}"
        for name, most in (("counsel", 12), ("engine", 0))
    ]
    assert (facts["counsel_processes"], facts["engine_processes"]) == (5, 0)
    lines, _ = memory_of(asked[:5], ("counsel", "engine"), 20)
    assert lines == [], "of few rounds nothing is judged"


# What is read of a process.


def test_what_a_process_takes_up_is_read_as_it_is(tmp_path: Path) -> None:
    before = resident_mb(MINE)
    kept = bytearray(os.urandom(60_000_000))
    assert resident_mb(MINE) - before > 40
    assert len(kept) == 60_000_000
    count = open_files(MINE)
    with (tmp_path / "one").open("wb"), (tmp_path / "two").open("wb"):
        assert open_files(MINE) == count + 2


def test_children_and_threads_are_counted() -> None:
    before, alive = descendants(MINE), threads(MINE)
    waits = [sys.executable, "-c", "import sys; sys.stdin.read()"]
    with subprocess.Popen(waits, stdin=subprocess.PIPE) as child:
        assert set(descendants(MINE)) - set(before) == {child.pid}
        child.communicate()
    assert child.pid not in descendants(MINE)
    assert resident_mb(child.pid) == 0
    go_on = threading.Event()
    thread = threading.Thread(target=go_on.wait)
    thread.start()
    assert threads(MINE) == alive + 1
    go_on.set()
    thread.join()


@pytest.mark.journey
def test_what_is_planted_in_a_few_rounds_of_the_whole_window_is_found() -> None:
    asked = [sys.executable, "-m", "tests.soak._day_planted", "6"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        asked, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=900, check=False
    )
    assert done.returncode == 0, done.stderr[-2000:]
    found = json.loads(done.stdout.splitlines()[-1])
    assert found["rounds"] == 6
    said = {line.split("rounds: ")[-1].split(" rose")[0] for line in found["failures"]}
    wanted = {"processes", "files", "timers", "windows", "files kept"}
    assert wanted <= said <= wanted | {"files of children", "threads of children", "timers at work"}
