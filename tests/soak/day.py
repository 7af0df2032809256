"""Eight hours of work at the window, compressed: a round is one minute of the day.

What a person does is done by keys and pointer in the real window with its engine, its counsel and
its keeper, without a screen. In every minute some things are edited, looked at, given out; plans
are called off or come; then all is put away, and it is looked at what there is. Before the first
minute everything is done, so that what is made on first use is there. What the window and its
children do once a minute they do once a round.

Counts (processes, open files, threads, timers, widgets, files) must not rise from few rounds on.
Memory counts from MEMORY_ROUNDS on: the median of the last tenth against that of the tenth after
warm-up, which is the first fifth. By then the undo list is as long as it may be, and the caches of
bounded size are full. A counsel is asked little in a day, and started anew where it is called off:
after such a day it is asked one thing after the other, each to its end.
"""

import os
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from statistics import median
from types import TracebackType
from typing import TYPE_CHECKING

from tests.soak.report import Report, Task

if TYPE_CHECKING:
    from tests.soak._day_acts import Act
    from tests.soak._day_counts import Seen
    from tests.soak._day_window import Day

ROUNDS = 480
"""One for each minute of eight hours."""
MEMORY_ROUNDS = 200
"""From so many rounds on a growth of memory is one."""
QUESTIONS, WARM_QUESTIONS = 60, 25
MOST_PERCENT = 5.0
EVERY = 8
"""So often somebody else writes the morning's book, and that is taken: the book stays as large."""
FEW, SELDOM = 40, 4
"""Of few rounds each is looked at, of more every fourth."""
FRAMES = 6
"""So many places are told of a fault, the innermost first."""
CALLED_OFF = 0.4
"""So often a plan that is looked for is called off."""
GIVEN_BACK_SECONDS = 3.5
"""So long after an answer a child has given back what it doesn't need any more."""
RESTED_SECONDS = 1.5
"""So long after a solve of some seconds; in the day looks are many."""
START = datetime(2027, 1, 18, 7, 30, tzinfo=UTC)

After = Callable[["Day"], object]


def run(task: Task, after: After | None = None) -> Report:
    """Work through the day. after: is called at the end of every round, to plant a fault."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from tests.books.samples import small, tight
    from tests.soak._day_window import Day

    begun = time.monotonic()
    books = (replace(tight(), as_of=None), replace(small(), as_of=None))
    with tempfile.TemporaryDirectory(prefix="countback-day-") as folder:
        day = Day(Path(folder), books, START)
        with _faults() as faults:
            try:
                done, failed, found = _work(task, day, faults, after)
                asked: list[Seen] = []
                if done >= MEMORY_ROUNDS and task.has_time:
                    lines, asked = _ask_on(task, day, faults)
                    failed += lines
            finally:
                day.close()
    return _report(task, done, failed, (found, asked), round(time.monotonic() - begun))


@contextmanager
def _faults() -> Iterator[list[str]]:
    """Collect what goes wrong inside, where the window would note a crash and go on."""
    found: list[str] = []

    def hook(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        frames = traceback.extract_tb(trace)[-FRAMES:]
        place = " < ".join(f"{Path(each.filename).name}:{each.lineno}" for each in frames[::-1])
        found.append(f"{kind.__name__}: {fault} at {place}")

    before, sys.excepthook = sys.excepthook, hook
    try:
        yield found
    finally:
        sys.excepthook = before


def _work(
    task: Task, day: "Day", faults: list[str], after: After | None
) -> tuple[int, list[str], list["Seen"]]:
    from tests.soak._day_acts import ALL, OFTEN, drawn, give_all, theirs
    from tests.soak._day_counts import seen

    failed: list[str] = []
    found: list[Seen] = []
    is_short = task.rounds <= FEW
    for known in (OFTEN,) if is_short else (ALL, ALL):
        failed += _do(day, (*known, give_all, theirs), Random(f"{task.seed}/before"), faults)
        failed += _come_to_rest(day)
    done, each_time = 0, 1 if is_short else SELDOM
    for number in range(task.rounds):
        if not task.has_time:
            break
        rng = Random(f"{task.seed}/{number}")
        acts = drawn(rng) + ([theirs] if number % EVERY == EVERY - 1 else [])
        day.minute()
        lines = _do(day, acts, rng, faults)
        if after is not None:
            after(day)
        if number % each_time == each_time - 1:
            lines += _come_to_rest(day)
            day.soon(lambda: False, 0 if is_short else RESTED_SECONDS)
            found.append(seen(number, day.children, day.files))
            _tell(task, found[-2:])
        failed += [f"--seed {task.seed}, round {number}: {line}" for line in lines]
        for line in lines:
            task.say(f"  round {number}: {line}")
        done += 1
    return done, failed, found


def _ask_on(task: Task, day: "Day", faults: list[str]) -> tuple[list[str], list["Seen"]]:
    """Ask the counsel QUESTIONS, each to its end; what there is after each, once it is warm."""
    from tests.soak._day_acts import ASKING
    from tests.soak._day_counts import seen

    failed: list[str] = []
    found: list[Seen] = []
    day.let_end()
    for number in range(QUESTIONS):
        act = ASKING[number % len(ASKING)]
        failed += _do(day, (act,), Random(f"{task.seed}/asked/{number}"), faults, called_off=0)
        failed += _come_to_rest(day)
        day.answered()
        day.soon(lambda: False, GIVEN_BACK_SECONDS)
        if number >= WARM_QUESTIONS:
            found.append(seen(number, day.children, day.files))
            _tell(task, found[-2:])
    return failed, found


def _do(
    day: "Day",
    acts: Sequence["Act"],
    rng: Random,
    faults: list[str],
    called_off: float = CALLED_OFF,
) -> list[str]:
    """Do some things one after the other, each from the wall; return what went wrong."""
    from tests.soak._day_window import Key, Stuck

    lines: list[str] = []
    for act in acts:
        try:
            day.home()
            act(day, rng)
            day.home()
            if rng.random() < called_off:
                day.soon(lambda: False, rng.choice((0, 0.2, 0.5)))
                day.press(Key.Key_Escape)
        except Stuck as trouble:
            lines.append(f"{act.__name__}: {trouble}")
        lines += [f"{act.__name__}: {fault}" for fault in faults]
        faults.clear()
    return lines


def _come_to_rest(day: "Day") -> list[str]:
    """Wait for the plan; return what went wrong."""
    from tests.soak._day_window import Stuck

    try:
        day.planned()
        day.rest()
    except Stuck as trouble:
        return [str(trouble)]
    return []


def _tell(task: Task, last: Sequence["Seen"]) -> None:
    from tests.soak._day_counts import more_of

    seen = last[-1]
    mb = " ".join(f"{name} {value:.1f}" for name, value in seen.mb.items())
    counts = ", ".join(f"{name} {value}" for name, value in seen.counts.items())
    task.say(f"round {seen.round}: {mb} MB; {counts}; new {more_of(last)}")


# What it comes to.


def _report(
    task: Task,
    done: int,
    failed: list[str],
    looks: tuple[Sequence["Seen"], Sequence["Seen"]],
    seconds: int,
) -> Report:
    found, asked = looks
    facts: dict[str, int | float | str] = {"seconds": seconds}
    parts = []
    if found:
        parts += [counts_of(found), memory_of(found, ("window", "engine"), MEMORY_ROUNDS - SELDOM)]
    if asked:
        parts.append(memory_of(asked, ("counsel",), QUESTIONS // 3))
    for lines, counted in parts:
        failed += [f"--seed {task.seed}, {done} rounds: {line}" for line in lines]
        facts |= counted
    return Report(rounds=done, failed=tuple(failed), facts=facts)


def counts_of(found: Sequence["Seen"]) -> tuple[list[str], dict[str, int | float | str]]:
    """Return a line for each count that rises, and the last of each as facts."""
    from tests.soak._day_counts import growing, more_of

    lines = []
    for name in found[0].counts:
        values = [each.counts[name] for each in found]
        if growing(name, values):
            more = f" ({more_of(found)})" if name in ("timers", "widgets", "objects") else ""
            lines.append(f"{name} rose from {values[0]} to {values[-1]}{more}")
    return lines, {name.replace(" ", "_"): value for name, value in found[-1].counts.items()}


def memory_of(
    found: Sequence["Seen"], names: Sequence[str], least_rounds: int
) -> tuple[list[str], dict[str, int | float | str]]:
    """Return a line for each process that grows or can't be judged, and figures of each.

    Of a child that was started anew in between, the longest that one of them lived counts; it has
    to be so many rounds, where there were so many. Fewer rounds are told and not judged.
    """
    from tests.soak._day_counts import longest

    lines: list[str] = []
    facts: dict[str, int | float | str] = {}
    are_enough = _rounds(found) >= least_rounds
    for name in names:
        stretch = longest(found, name)
        percent, sizes = _growth(stretch, name)
        processes = len({each.pids.get(name) for each in found} - {None})
        facts |= {**sizes, f"{name}_processes": processes}
        if are_enough and _rounds(stretch) < least_rounds:
            lived = f"none lived {least_rounds} rounds, the longest {_rounds(stretch)}"
            lines.append(f"memory of the {name} can't be judged: {lived}")
        elif are_enough and percent >= MOST_PERCENT:
            lines.append(f"memory of the {name} grew by {percent} % after warm-up")
    return lines, facts


def _rounds(stretch: Sequence["Seen"]) -> int:
    return stretch[-1].round - stretch[0].round if stretch else 0


def _growth(stretch: Sequence["Seen"], name: str) -> tuple[float, dict[str, float]]:
    """Return by how many percent a process grew, and that with its sizes as facts."""
    from tests.soak._day_counts import growth_percent

    if not stretch:
        return 0.0, {}
    tenth = max(1, len(stretch) // 10)
    values = [each.mb[name] for each in stretch]
    first, last = values[2 * tenth : 3 * tenth] or values[:1], values[-tenth:]
    percent = growth_percent(first, last)
    return percent, {
        f"{name}_growth_percent": percent,
        f"{name}_mb_first": round(median(first)),
        f"{name}_mb_last": round(median(last)),
    }
