"""How what came before limits a step: waits that are still to come, and those already running."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from scheduler.grid import Grid
from scheduler.reasons import Reason
from shared.book import After, Stage, Step
from shared.ids import StepId
from shared.units import hours_down, hours_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A step that stands in the problem, from its first to its last stage."""

    first: int
    last: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """A step that is done: when it began and ended, and when its cure is over."""

    start: datetime
    end: datetime
    ready: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A step that stands in no plan, and why."""

    code: Reason


Reached = Placed | Over | Missing


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """The edge that a step has from the stage of another: as Edge, without the step's own."""

    before: int
    least: int
    most: int | None
    from_start: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What limits the start of a step: links, earliest and latest start, why it can't be."""

    links: tuple[Link, ...] = ()
    release: int = 0
    start_by: int | None = None
    missing: Reason | None = None


def limits_of(
    befores: Iterable[After],
    packed: Iterable[StepId],
    reached: Mapping[StepId, Reached],
    steps: Mapping[StepId, Step],
    grid: Grid,
) -> Limits:
    """Return what the steps before mean for a step; those that nothing is known of are left out.

    packed: steps that must be ready besides, with no greatest wait.
    """
    waits = [(after, _most_hours(after, steps.get(after.step))) for after in befores]
    waits += [(After(step=step), None) for step in packed]
    links: list[Link] = []
    release, start_by = 0, grid.horizon
    for after, most_hours in waits:
        came = reached.get(after.step)
        if isinstance(came, Missing):
            return Limits(missing=Reason.FOLLOWS_UNPLACED)
        if isinstance(came, Placed):
            links.append(_link(after, came, most_hours))
        elif came is not None:
            release = max(release, grid.up(_earliest(after, came)))
            if most_hours is not None:
                base = came.start if after.from_start else came.end
                start_by = min(start_by, grid.down(base + _elapsed(most_hours)))
    return Limits(
        links=tuple(links),
        release=release,
        start_by=start_by if start_by < grid.horizon else None,
    )


def _earliest(after: After, came: Over) -> datetime:
    """Return when what comes after a step that is done may start."""
    if after.from_start:
        return came.start + _elapsed(after.least_hours)
    return max(came.ready, came.end + _elapsed(after.least_hours))


def _link(after: After, came: Placed, most_hours: Decimal | None) -> Link:
    return Link(
        before=came.first if after.from_start else came.last,
        least=hours_up(after.least_hours),
        most=None if most_hours is None else hours_down(most_hours),
        from_start=after.from_start,
    )


def _most_hours(after: After, before: Step | None) -> Decimal | None:
    """Return the greatest wait: as named, or the recoat time if counted from the end."""
    found = [after.most_hours]
    if isinstance(before, Stage) and not after.from_start:
        found.append(before.recoat_hours)
    return min((hours for hours in found if hours is not None), default=None)


def _elapsed(hours: Decimal) -> timedelta:
    return timedelta(seconds=int(hours * 3600))
