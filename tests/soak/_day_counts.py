"""What a window and its children take up, read from outside and from Qt; and what of it grows."""

import gc
import os
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from pathlib import Path
from statistics import median

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget
from shiboken6 import isValid

PAGE = os.sysconf("SC_PAGE_SIZE")
SLACK = {
    "timers at work": 2,
    "widgets": 120,
    "objects": 160,
    "threads": 1,
    "threads of children": 4,
}
"""So much a count may differ between two moments of rest without growing; of all others nothing."""

TOLD = "objects gone"
"""Only told: some hundred bytes that Python keeps of a widget of Qt's own when that is gone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What there was after a round, of the window and of each child by its name.

    pids: which process it was. mb: what of its memory was resident.
    """

    round: int
    pids: Mapping[str, int]
    mb: Mapping[str, float]
    counts: Mapping[str, int]
    types: Mapping[str, int]


def seen(number: int, children: Mapping[str, int], folders: Mapping[str, int]) -> Seen:
    """Look at everything. children: process ids by name; folders: how many files are in each."""
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.unfreeze()  # the window sets its first large wall aside, with all else that there is then
    gc.collect()
    mine = os.getpid()
    every = descendants(mine)
    objects, gone = qt_objects()
    timers = [each for each in objects if isinstance(each, QTimer)]
    types = Counter(type(each).__name__ for each in objects)
    counts = {
        "processes": len(every),
        "files": open_files(mine),
        "files of children": sum(open_files(each) for each in every),
        "threads": threads(mine),
        "threads of children": sum(threads(each) for each in every),
        "timers": len(timers),
        "timers at work": sum(each.isActive() for each in timers),
        "windows": len(QApplication.topLevelWidgets()),
        "widgets": sum(isinstance(each, QWidget) for each in objects),
        "objects": len(objects),
        TOLD: gone,
        **folders,
    }
    pids = {"window": mine, **{name: pid for name, pid in children.items() if pid}}
    mb = {name: resident_mb(pid) for name, pid in pids.items()}
    return Seen(round=number, pids=pids, mb=mb, counts=counts, types=types)


def qt_objects() -> tuple[list[QObject], int]:
    """Return every object of Qt that Python holds, and how many are held whose object is gone.

    Nothing asks Qt for children or for all widgets: what that makes in Python of a widget of Qt's
    own stays when the widget goes.
    """
    every = [each for each in gc.get_objects() if isinstance(each, QObject)]
    alive = [each for each in every if isValid(each)]
    return alive, len(every) - len(alive)


def resident_mb(pid: int) -> float:
    """Return the resident memory of a process in MB of 10^6 bytes, 0 when it is gone."""
    try:
        return int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * PAGE / 1e6
    except OSError:
        return 0.0


def open_files(pid: int) -> int:
    return _entries(Path(f"/proc/{pid}/fd"))


def threads(pid: int) -> int:
    return _entries(Path(f"/proc/{pid}/task"))


def _entries(folder: Path) -> int:
    try:
        return sum(1 for _ in folder.iterdir())
    except OSError:
        return 0


def descendants(pid: int) -> list[int]:
    """Return the processes that come of one, ended ones that nobody waited for included."""
    parents: dict[int, int] = {}
    for each in Path("/proc").iterdir():
        if each.name.isdigit():
            try:
                parents[int(each.name)] = int(
                    (each / "stat").read_text().rpartition(")")[2].split()[1]
                )
            except OSError:
                continue
    found, before = {pid}, 0
    while len(found) > before:
        before = len(found)
        found |= {child for child, parent in parents.items() if parent in found}
    return sorted(found - {pid})


# What grows.


def more_of(found: Sequence[Seen]) -> str:
    """Return of which types there are most more at last than at first."""
    first, last = Counter(found[0].types), Counter(found[-1].types)
    return ", ".join(f"{name} +{count}" for name, count in (last - first).most_common(4))


def growing(name: str, values: Sequence[int]) -> bool:
    """Say whether a count only rises: the middle of each quarter above that of the one before."""
    parts = min(4, len(values))
    ends = [len(values) * number // parts for number in range(parts + 1)]
    middles = [median(values[start:end]) for start, end in pairwise(ends)]
    is_rising = all(before < after for before, after in pairwise(middles))
    return name != TOLD and is_rising and middles[-1] - middles[0] > SLACK.get(name, 0)


def longest(found: Sequence[Seen], name: str) -> tuple[Seen, ...]:
    """Return the longest stretch of a day in which a name was one process."""
    groups = groupby(found, key=lambda each: each.pids.get(name))
    stretches = [tuple(group) for pid, group in groups if pid is not None]
    return max(stretches, key=len, default=())


def growth_percent(first: Sequence[float], last: Sequence[float]) -> float:
    """Return by how much the median of a stretch lies above that of another."""
    return round(100 * (median(last) / median(first) - 1), 1)
