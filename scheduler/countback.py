"""Earliest and latest times in an empty workshop: everybody free, the best team, no room taken.

Greatest waits are left out too, so nothing here is later (or, backwards, sooner) than the rules
force: an earliest end after a job's latest loading proves that the job cannot make it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scheduler.calendar import Index
from scheduler.reach import Reach
from scheduler.terms import FOREVER

SWEEPS_MAX = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Times:
    """By stage, a start and an end.

    Earliest: no start or end can be sooner; None where the stage fits nowhere. Latest: no start
    or end can be later if every job is to load in time; None where nothing presses; below 0
    where it is too late already (then only the order of figures means something). Start and end
    of a stage may belong to different teams.
    """

    starts: tuple[int | None, ...]
    ends: tuple[int | None, ...]


def earliest(index: Index) -> Times:
    """Return the earliest start and end of each stage."""
    reach = index.once(Reach)
    starts = [FOREVER] * reach.count
    ends = [FOREVER] * reach.count
    for stage in reach.order:
        starts[stage], ends[stage] = 0, 0
    known: dict[int, tuple[int, int]] = {}
    for _ in range(SWEEPS_MAX):
        before = (starts[:], ends[:])
        for stage in reach.order:
            lows = _lows(reach, stage, starts, ends)
            if known.get(stage) == lows:
                continue
            known[stage] = lows
            found = reach.soonest(stage, *lows)
            starts[stage] = max(starts[stage], found[0])
            ends[stage] = max(ends[stage], found[1])
        if before == (starts, ends):
            break
    return Times(starts=_known(starts), ends=_known(ends))


def latest(index: Index) -> Times:
    """Return the latest start and end of each stage with which every job loads in time."""
    reach = index.once(Reach)
    starts = [FOREVER] * reach.count
    ends = [FOREVER] * reach.count
    pressed = _pressed(index)
    known: dict[int, tuple[int, int]] = {}
    for _ in range(SWEEPS_MAX):
        before = (starts[:], ends[:])
        for stage in reversed(reach.order):
            high_start, high_end = _highs(reach, stage, starts, ends)
            high_end = min(high_end, pressed.get(stage, FOREVER))
            if known.get(stage) == (high_start, high_end):
                continue
            known[stage] = (high_start, high_end)
            if min(high_start, high_end) < FOREVER or reach.is_bound(stage):
                starts[stage], ends[stage] = reach.latest(stage, high_start, high_end)
        if before == (starts, ends):
            break
    return Times(starts=_known(starts), ends=_known(ends))


def _pressed(index: Index) -> dict[int, int]:
    pressed: dict[int, int] = {}
    for job in index.problem.jobs:
        for stage in job.lasts if job.latest is not None else ():
            pressed[stage] = min(pressed.get(stage, FOREVER), job.latest or 0)
    return pressed


def _known(figures: Iterable[int]) -> tuple[int | None, ...]:
    return tuple(None if figure >= FOREVER else figure for figure in figures)


def _lows(reach: Reach, stage: int, starts: Sequence[int], ends: Sequence[int]) -> tuple[int, int]:
    low_start = low_end = 0
    for link in reach.ins[stage]:
        came = ends[link.before] if link.from_end else starts[link.before]
        ready = link.lag.of(came) if link.lag is not None and came < FOREVER else None
        low = FOREVER if ready is None else ready
        if link.to_end:
            low_end = max(low_end, low)
        else:
            low_start = max(low_start, low)
    return low_start, low_end


def _highs(reach: Reach, stage: int, starts: Sequence[int], ends: Sequence[int]) -> tuple[int, int]:
    high_start = high_end = FOREVER
    for link in reach.outs[stage]:
        comes = ends[link.after] if link.to_end else starts[link.after]
        if link.lag is None or comes >= FOREVER:
            continue
        last = link.lag.inverse(comes)
        high = min(comes, 0) - 1 if last is None else last
        if link.from_end:
            high_end = min(high_end, high)
        else:
            high_start = min(high_start, high)
    return high_start, high_end
