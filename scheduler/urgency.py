"""In which order a pass places stages, and how long before its time none is placed."""

from collections.abc import Mapping, Sequence

from scheduler.calendar import Index
from scheduler.countback import latest
from scheduler.terms import FOREVER

RELEASE_STEPS = 90 * 96


class Urgency:
    """The urgency of each stage of an index: its latest start, FOREVER where nothing presses."""

    def __init__(self, index: Index) -> None:
        starts = index.once(latest).starts
        self.latest_starts = [FOREVER if start is None else start for start in starts]
        self.release = [0 if start is None else max(0, start - RELEASE_STEPS) for start in starts]


def countback_order(index: Index) -> list[int]:
    """Return the stages by latest start, those that nothing presses last."""
    return shifted_order(index, {})


def shifted_order(index: Index, offsets: Mapping[int, int]) -> list[int]:
    """Return the stages by latest start plus their job's offset in steps, if it has one."""
    starts: Sequence[int] = index.once(Urgency).latest_starts
    keys = [
        start + offsets.get(stage.job, 0)
        for start, stage in zip(starts, index.problem.stages, strict=True)
    ]
    return sorted(range(len(keys)), key=lambda stage: (keys[stage], stage))
