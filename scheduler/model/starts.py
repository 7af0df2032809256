"""All starts of a piece of work at once, grouped by how long it then takes.

Exact for any calendar: of the open steps s[0] < s[1] < ... a piece of w steps that begins at
s[k] ends at s[k + w - 1] + 1, if both lie in one stretch that the work must lie in whole.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.calendar import Index
from scheduler.fits import open_steps
from scheduler.hours import Hours, Runs
from scheduler.model.options import Ranges, Starts
from scheduler.problem import Spans, Stage

Steps = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Where a stage may lie, both limits included.

    ends: where its end may (None: anywhere). clear: as of the way. daily_most: working steps
    that it may have in any of Problem.days (None: any).
    """

    earliest_start: int
    latest_start: int
    earliest_end: int
    latest_end: int
    ends: Spans | None = None
    clear: Spans | None = None
    daily_most: int | None = None


class StartTable:
    """Starts by calendars, work and window, each worked out once and shared.

    Starts that are the same are one object, whoever's hours they come from.
    """

    def __init__(self, index: Index) -> None:
        self._index = index
        self._open_steps: dict[int, tuple[Hours, Steps]] = {}
        self._stretches: dict[int, tuple[Runs, Steps]] = {}
        self._made: dict[object, Starts] = {}
        self._alike: dict[tuple[tuple[int, Ranges], ...], Starts] = {}

    def forget(self) -> None:
        """Forget the starts, not what was worked out for them: the next windows are others."""
        self._made.clear()
        self._alike.clear()

    def starts(self, stage: Stage, calendars: tuple[int, ...], work: int, window: Window) -> Starts:
        """Return the starts of so much work in these hours together."""
        timed = work and (calendars or window.daily_most is not None)
        runs = self._index.runs_of(calendars, stage, window.clear) if timed else None
        key = (id(runs), work, window)
        if key not in self._made:
            found = _untimed(work, window) if runs is None else self._timed(runs, work, window)
            self._made[key] = self._alike.setdefault(found.pieces, found)
        return self._made[key]

    def _timed(self, runs: Runs, work: int, window: Window) -> Starts:
        steps, inside = self._steps_of(runs.hours), self._stretches_of(runs)
        first = int(np.searchsorted(steps, window.earliest_start))
        last = int(np.searchsorted(steps, window.latest_start, side="right"))
        last = max(first, min(last, len(steps) - work + 1))
        begins = steps[first:last]
        ends = steps[first + work - 1 : last + work - 1] + 1
        at = inside[first:last]
        kept = (at >= 0) & (at == inside[first + work - 1 : last + work - 1])
        kept &= _inside(begins, ends, window)
        if window.daily_most is not None:
            kept &= self._short_enough(steps, begins, ends, window.daily_most)
        return Starts(pieces=_grouped(begins[kept], ends[kept]))

    def _short_enough(
        self, steps: Steps, begins: Steps, ends: Steps, most: int
    ) -> NDArray[np.bool_]:
        """Return which pieces of work have no more than so many steps in each day."""
        days = np.array(self._index.problem.days, dtype=np.int64).reshape(-1, 2)
        opens, closes = days[:, 0], days[:, 1]
        first = np.searchsorted(closes, begins, side="right")
        last = np.searchsorted(opens, ends, side="left") - 1
        longest = np.zeros(len(begins), dtype=np.int64)
        for day in (first, last):
            at = np.clip(day, 0, len(days) - 1)
            worked = _ranks(steps, np.minimum(ends, closes[at])) - _ranks(
                steps, np.maximum(begins, opens[at])
            )
            longest = np.maximum(longest, np.where(first <= last, worked, 0))
        whole = _ranks(steps, closes) - _ranks(steps, opens)
        too_long = np.concatenate(([0], np.cumsum(whole > most)))
        after = np.minimum(first + 1, len(days))
        between = np.where(last > after, too_long[last] - too_long[after], 0)
        found: NDArray[np.bool_] = (longest <= most) & (between == 0)
        return found

    def _steps_of(self, hours: Hours) -> Steps:
        """Return the open steps, in order."""
        if id(hours) not in self._open_steps:
            self._open_steps[id(hours)] = (hours, open_steps(hours))
        return self._open_steps[id(hours)][1]

    def _stretches_of(self, runs: Runs) -> Steps:
        """Return by open step in which stretch it lies, -1 for none."""
        if id(runs) not in self._stretches:
            steps = self._steps_of(runs.hours)
            lasts = np.array([*runs.last, 0], dtype=np.int64)
            found = np.searchsorted(np.array(runs.first, dtype=np.int64), steps, side="right") - 1
            found[steps >= lasts[found]] = -1
            self._stretches[id(runs)] = (runs, found)
        return self._stretches[id(runs)][1]


def _ranks(steps: Steps, at: Steps) -> Steps:
    return np.searchsorted(steps, at)


def _inside(begins: Steps, ends: Steps, window: Window) -> NDArray[np.bool_]:
    kept: NDArray[np.bool_] = (
        (begins >= window.earliest_start)
        & (begins <= window.latest_start)
        & (ends >= window.earliest_end)
        & (ends <= window.latest_end)
    )
    if window.ends is not None:
        kept &= _among(ends, window.ends)
    return kept


def _among(steps: Steps, spans: Spans) -> NDArray[np.bool_]:
    begins = np.array([start for start, _ in spans], dtype=np.int64)
    ends = np.array([end for _, end in spans], dtype=np.int64)
    inside: NDArray[np.bool_] = np.searchsorted(begins, steps, side="right") > np.searchsorted(
        ends, steps, side="right"
    )
    return inside


def _grouped(begins: Steps, ends: Steps) -> tuple[tuple[int, Ranges], ...]:
    lengths = ends - begins
    return tuple((int(length), ranges(begins[lengths == length])) for length in np.unique(lengths))


def ranges(steps: Steps) -> Ranges:
    """Return sorted steps as inclusive ranges."""
    if not len(steps):
        return ()
    cuts = np.flatnonzero(np.diff(steps) > 1)
    firsts = np.concatenate((steps[:1], steps[cuts + 1]))
    lasts = np.concatenate((steps[cuts], steps[-1:]))
    return tuple(zip(firsts.tolist(), lasts.tolist(), strict=True))


def _untimed(work: int, window: Window) -> Starts:
    first = max(window.earliest_start, window.earliest_end - work)
    last = min(window.latest_start, window.latest_end - work)
    found = [(first, last)]
    if window.ends is not None:
        found = _narrowed(found, [(start - work, end - 1 - work) for start, end in window.ends])
    if window.clear is not None:
        found = _narrowed(found, [(start, end - work) for start, end in window.clear])
    kept = tuple((low, high) for low, high in found if low <= high)
    return Starts(pieces=((work, kept),) if kept else ())


def _narrowed(ranges_: list[tuple[int, int]], to: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return what of inclusive ranges lies in others."""
    return [(max(low, first), min(high, last)) for low, high in ranges_ for first, last in to]
