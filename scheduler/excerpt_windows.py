"""Where the free stages of a part may lie: near where they are, and as what stays allows."""

from collections.abc import Mapping
from dataclasses import dataclass

from scheduler.calendar import Index
from scheduler.problem import Schedule, Spans
from scheduler.terms import FOREVER, Bounds, Link
from scheduler.ties import Ties

SWEEPS = 2
"""So often the free stages narrow one another: that only saves the solver work."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """Where start and end of a stage may lie, all limits included. ends: as Bounds."""

    earliest_start: int
    latest_start: int
    earliest_end: int
    latest_end: int
    ends: Spans | None


class _Narrowing:
    """A reach while it gets narrower."""

    __slots__ = ("earliest_end", "earliest_start", "ends", "latest_end", "latest_start")

    def __init__(self, bounds: Bounds, near: int, far: int) -> None:
        self.earliest_start = max(0, bounds.earliest_start, near)
        self.latest_start = bounds.latest_start
        self.earliest_end = bounds.earliest_end
        self.latest_end = min(bounds.latest_end, far)
        self.ends = bounds.ends

    def start_from(self, t: int) -> None:
        """Let it start at t or later."""
        self.earliest_start = max(self.earliest_start, t)

    def start_by(self, t: int) -> None:
        """Let it start at t or sooner."""
        self.latest_start = min(self.latest_start, t)

    def end_from(self, t: int) -> None:
        """Let it end at t or later."""
        self.earliest_end = max(self.earliest_end, t)

    def end_by(self, t: int) -> None:
        """Let it end at t or sooner."""
        self.latest_end = min(self.latest_end, t)


def windows_of(
    index: Index, schedule: Schedule, free: frozenset[int], reach_steps: int
) -> dict[int, Reach]:
    """Return by free stage where it may lie while all others stay."""
    ties = index.once(Ties)
    placed = [stage for stage in free if schedule.ways[stage] >= 0]
    placed.sort(key=lambda stage: (schedule.starts[stage], stage))
    first = min((schedule.starts[stage] for stage in placed), default=0) - reach_steps
    last = max((schedule.ends[stage] for stage in placed), default=0) + reach_steps
    found: dict[int, _Narrowing] = {}
    for stage in sorted(free):
        near, far = first, last
        if schedule.ways[stage] >= 0:
            near = schedule.starts[stage] - reach_steps
            far = schedule.ends[stage] + reach_steps
        far = min(far, index.problem.horizon)
        found[stage] = _Narrowing(index.terms.bounds[stage], near, far)
        _keep_to_others(found[stage], ties, stage, schedule, free)
    # What need not be placed binds nobody.
    certain = {stage: found[stage] for stage in placed if not index.problem.stages[stage].optional}
    for _ in range(SWEEPS):
        for stage in placed:
            _push(found[stage], certain, ties, stage)
        for stage in reversed(placed):
            _pull(found[stage], certain, ties, stage)
    return {stage: _reach(window) for stage, window in found.items()}


def _reach(window: _Narrowing) -> Reach:
    return Reach(
        earliest_start=window.earliest_start,
        latest_start=window.latest_start,
        earliest_end=window.earliest_end,
        latest_end=window.latest_end,
        ends=window.ends,
    )


def _keep_to_others(
    window: _Narrowing, ties: Ties, stage: int, schedule: Schedule, free: frozenset[int]
) -> None:
    """Narrow a window by the placed stages that stay."""
    for link in ties.ins[stage]:
        if link.before not in free and schedule.ways[link.before] >= 0:
            _after(window, link, schedule)
    for link in ties.outs[stage]:
        if link.after not in free and schedule.ways[link.after] >= 0:
            _before(window, link, schedule)
    _settle(window, ties.shortest[stage])


def _settle(window: _Narrowing, shortest: int) -> None:
    window.end_from(window.earliest_start + shortest)
    window.start_by(window.latest_end - shortest)


def _after(window: _Narrowing, link: Link, schedule: Schedule) -> None:
    times = schedule.ends if link.from_end else schedule.starts
    came = times[link.before]
    if link.lag is not None:
        ready = link.lag.of(came)
        low = FOREVER if ready is None else ready
        if link.to_end:
            window.end_from(low)
        else:
            window.start_from(low)
    if link.most is not None and link.insert is None:
        by = link.most.of(came)
        if by is not None and link.to_end:
            window.end_by(by)
        elif by is not None:
            window.start_by(by)


def _before(window: _Narrowing, link: Link, schedule: Schedule) -> None:
    comes = (schedule.ends if link.to_end else schedule.starts)[link.after]
    if link.lag is not None:
        latest = link.lag.inverse(comes)
        by = -1 if latest is None else latest
        if link.from_end:
            window.end_by(by)
        else:
            window.start_by(by)
    if link.most is not None and link.insert is None:
        least = link.most.inverse(comes)
        if least is not None and link.from_end:
            window.end_from(least)
        elif least is not None:
            window.start_from(least)


def _push(window: _Narrowing, found: Mapping[int, _Narrowing], ties: Ties, stage: int) -> None:
    """Let a stage come no sooner than the free ones before it can."""
    for link in ties.ins[stage]:
        before = found.get(link.before)
        if before is None or link.lag is None or link.to_end:
            continue
        low = link.lag.of(before.earliest_end if link.from_end else before.earliest_start)
        if low is not None:
            window.start_from(low)
    _settle(window, ties.shortest[stage])


def _pull(window: _Narrowing, found: Mapping[int, _Narrowing], ties: Ties, stage: int) -> None:
    """Let a stage end no later than the free ones after it can wait."""
    for link in ties.outs[stage]:
        after = found.get(link.after)
        if after is None or link.lag is None or link.to_end:
            continue
        high = link.lag.inverse(after.latest_start)
        if high is not None and link.from_end:
            window.end_by(high)
        elif high is not None:
            window.start_by(high)
    _settle(window, ties.shortest[stage])
