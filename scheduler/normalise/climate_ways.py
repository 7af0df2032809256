"""When the material of a stage lets it be worked: stretches for each way, or why there are none."""

from dataclasses import replace

from scheduler.normalise.climate_limits import Limit, limits_of
from scheduler.normalise.frame import Frame
from scheduler.normalise.names import WayName
from scheduler.normalise.order import JobOrder
from scheduler.normalise.ways import Expanded, clash
from scheduler.problem import Spans, Way
from shared.book import Stage
from shared.findings import Clash
from shared.worktime.zones import local_date


def limited(frame: Frame, stage: Stage, found: Expanded) -> Expanded:
    """Return the ways with the stretches in which they may be worked, without those that have none.

    A stretch counts only where the work alone could be done in it.
    """
    limits = limits_of(stage)
    if not limits:
        return found
    ways: list[Way] = []
    names: list[WayName] = []
    clashes = list(found.clashes)
    for way, name in zip(found.ways, found.names, strict=True):
        clear = _stretches(frame, stage, limits, way, name)
        if clear == ():
            clashes.append(_clash(frame, stage, limits, way, name, by=frame.grid.horizon))
            continue
        ways.append(way if clear is None else replace(way, clear=clear))
        names.append(name)
    return Expanded(ways=tuple(ways), names=tuple(names), clashes=tuple(clashes))


def too_late(frame: Frame, order: JobOrder, stage: Stage, found: Expanded) -> Clash | None:
    """Return why a stage can't begin before the window of its job is over, None if it can."""
    if all(way.clear is None for way in found.ways):
        return None
    window = order.job.held_window
    firsts = [0 if way.clear is None else way.clear[0][0] for way in found.ways]
    if window is None or not firsts or min(firsts) <= max(0, frame.grid.down(window.end)):
        return None
    if not order.is_loaded(stage.id):
        return None
    soonest = firsts.index(min(firsts))
    way, name = found.ways[soonest], found.names[soonest]
    return _clash(frame, stage, limits_of(stage), way, name, by=firsts[soonest])


def _stretches(
    frame: Frame, stage: Stage, limits: tuple[Limit, ...], way: Way, name: WayName
) -> Spans | None:
    clear = frame.climates.clear(stage, limits, name.place)
    return None if clear is None else frame.presence.holding(way, clear)


def _clash(
    frame: Frame, stage: Stage, limits: tuple[Limit, ...], way: Way, name: WayName, *, by: int
) -> Clash:
    """Return the clash of a stage that no stretch holds before a step."""
    limit = next(
        (each for each in limits if _is_to_blame(frame, stage, each, way, name, by)), limits[0]
    )
    return clash(
        limit.reason,
        step=stage.id,
        way=name.way,
        place=name.place,
        limit=f"{limit.amount.normalize():f}",
        first=local_date(frame.grid.instant(by), frame.grid.zone).isoformat(),
    )


def _is_to_blame(
    frame: Frame, stage: Stage, limit: Limit, way: Way, name: WayName, by: int
) -> bool:
    """Return whether a limit alone leaves no stretch that begins before a step."""
    clear = _stretches(frame, stage, (limit,), way, name)
    return clear is not None and (not clear or clear[0][0] >= by)
