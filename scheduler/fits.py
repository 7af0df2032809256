"""Where a piece of work fits into hours, for every start at once: exact, in whole numbers."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from scheduler.calendar import Index
from scheduler.forms import Form, Forms
from scheduler.hours import Hours, Runs

Steps = NDArray[np.int64]


class Fits:
    """Starts and ends of so much work in some hours, both rising; made once for each index."""

    def __init__(self, index: Index) -> None:
        self._index = index
        self._forms = Forms(index)
        self._steps: dict[int, Steps] = {}
        self._pairs: dict[tuple[int, int], tuple[Steps, Steps]] = {}
        self._kept: list[Runs] = []

    def forms(self, stage: int) -> tuple[Form, ...]:
        """Return every form in which a stage can be done."""
        return self._forms.of(stage)

    def pairs(self, stage: int, form: Form) -> tuple[Steps, Steps] | None:
        """Return all starts and ends of a stage in one form; None: it can start at any time."""
        if not form.work or not form.calendars:
            return None
        asked = self._index.problem.stages[stage]
        runs = self._index.runs_of(form.calendars, asked, form.clear)
        key = (id(runs), form.work)
        found = self._pairs.get(key)
        if found is None:
            self._kept.append(runs)
            found = self._pairs[key] = _joined(self._pieces(runs, form.work))
        return found

    def _pieces(self, runs: Runs, work: int) -> Iterator[tuple[Steps, Steps]]:
        steps = self._steps_of(runs)
        for first, last in zip(runs.first, runs.last, strict=True):
            low, high = np.searchsorted(steps, (first, last))
            count = max(0, int(high - low) - work + 1)
            ends = steps[low + work - 1 : low + work - 1 + count] + 1
            yield steps[low : low + count], ends

    def _steps_of(self, runs: Runs) -> Steps:
        key = id(runs.hours)
        if key not in self._steps:
            self._kept.append(runs)
            self._steps[key] = open_steps(runs.hours)
        return self._steps[key]


def open_steps(hours: Hours) -> Steps:
    """Return the open steps of some hours, in order."""
    stretches = [np.arange(start, end) for start, end in hours.open]
    return np.concatenate(stretches or [np.arange(0)])


def least_span(index: Index, stage: int) -> int:
    """Return the least steps from start to end of a stage, whenever and by whomever it is done.

    0 where it fits nowhere.
    """
    fits = index.once(Fits)
    spans = (_least(fits, stage, form) for form in fits.forms(stage))
    return min((span for span in spans if span is not None), default=0)


def _least(fits: Fits, stage: int, form: Form) -> int | None:
    pairs = fits.pairs(stage, form)
    if pairs is None:
        return form.work
    starts, ends = pairs
    return int((ends - starts).min()) if len(starts) else None


def _joined(pieces: Iterator[tuple[Steps, Steps]]) -> tuple[Steps, Steps]:
    found = list(pieces)
    if not found:
        return np.arange(0), np.arange(0)
    return (
        np.concatenate([starts for starts, _ in found]),
        np.concatenate([ends for _, ends in found]),
    )
