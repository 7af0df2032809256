"""Where the free stages of a part may lie: near where they are, and as what stays allows."""

from collections.abc import Mapping

from scheduler.board import bound_after, bound_before
from scheduler.calendar import Index
from scheduler.model import starts
from scheduler.problem import Schedule
from scheduler.search import Window
from scheduler.spots import spot_of
from scheduler.ties import Ties

SWEEPS = 2
"""So often the free stages narrow one another: that only saves the solver work."""


def windows_of(
    index: Index, schedule: Schedule, free: frozenset[int], reach_steps: int
) -> dict[int, starts.Window]:
    """Return by free stage where it may lie while all others stay."""
    ties = index.once(Ties)
    placed = [stage for stage in free if schedule.ways[stage] >= 0]
    placed.sort(key=lambda stage: (schedule.starts[stage], stage))
    first = min((schedule.starts[stage] for stage in placed), default=0) - reach_steps
    last = max((schedule.ends[stage] for stage in placed), default=0) + reach_steps
    found: dict[int, Window] = {}
    for stage in sorted(free):
        near, far = first, last
        if schedule.ways[stage] >= 0:
            near = schedule.starts[stage] - reach_steps
            far = schedule.ends[stage] + reach_steps
        far = min(far, index.problem.horizon)
        found[stage] = Window(index.terms.bounds[stage])
        found[stage].no_sooner(max(0, near), end=False)
        found[stage].no_later(far, end=True)
        _keep_to_others(found[stage], ties, stage, schedule, free)
    # What need not be placed binds nobody.
    certain = {stage: found[stage] for stage in placed if not index.problem.stages[stage].optional}
    for _ in range(SWEEPS):
        for stage in placed:
            _push(found[stage], certain, ties, stage)
        for stage in reversed(placed):
            _pull(found[stage], certain, ties, stage)
    bounds = index.terms.bounds
    return {
        stage: starts.Window(
            earliest_start=window.earliest_start,
            latest_start=window.latest_start,
            earliest_end=window.earliest_end,
            latest_end=window.latest_end,
            ends=bounds[stage].ends,
        )
        for stage, window in found.items()
    }


def _keep_to_others(
    window: Window, ties: Ties, stage: int, schedule: Schedule, free: frozenset[int]
) -> None:
    """Narrow a window by the placed stages that stay."""
    for link in ties.ins[stage]:
        if link.before not in free and schedule.ways[link.before] >= 0:
            spot = spot_of(schedule, link.before)
            bound_after(window, link, spot, has_most=link.insert is None)
    for link in ties.outs[stage]:
        if link.after not in free and schedule.ways[link.after] >= 0:
            spot = spot_of(schedule, link.after)
            bound_before(window, link, spot, has_most=link.insert is None)
    _settle(window, ties.shortest[stage])


def _settle(window: Window, shortest: int) -> None:
    window.no_sooner(window.earliest_start + shortest, end=True)
    window.no_later(window.latest_end - shortest, end=False)


def _push(window: Window, found: Mapping[int, Window], ties: Ties, stage: int) -> None:
    """Let a stage come no sooner than the free ones before it can."""
    for link in ties.ins[stage]:
        before = found.get(link.before)
        if before is None or link.lag is None or link.to_end:
            continue
        low = link.lag.of(before.earliest_end if link.from_end else before.earliest_start)
        if low is not None:
            window.no_sooner(low, end=False)
    _settle(window, ties.shortest[stage])


def _pull(window: Window, found: Mapping[int, Window], ties: Ties, stage: int) -> None:
    """Let a stage end no later than the free ones after it can wait."""
    for link in ties.outs[stage]:
        after = found.get(link.after)
        if after is None or link.lag is None or link.to_end:
            continue
        high = link.lag.inverse(after.latest_start)
        if high is not None:
            window.no_later(high, end=link.from_end)
    _settle(window, ties.shortest[stage])
