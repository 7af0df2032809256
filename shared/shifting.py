"""What shifts with a window that moves: booked slots of the legs, and other trades' stretches.

By the site's clock: a slot from 8 to 10 on the window's second day is one again after the move.
What lies outside the window as it was stays where it is.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from shared.book import Booking, Job, Journey, Leg, Window
from shared.ids import StepId
from shared.worktime.zones import zone_named


@dataclass(frozen=True, slots=True, kw_only=True)
class Shifted:
    """A stretch before and after. journey, leg: of a slot, the leg from 1; name, by: the leg's."""

    old: Booking
    new: Booking
    journey: StepId | None = None
    leg: int | None = None
    name: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shifts:
    """All that shifts with a window, by how much of the site's clock."""

    by: timedelta
    slots: tuple[Shifted, ...] = ()
    blocked: tuple[Shifted, ...] = ()


def shifts_of(job: Job, window: Window, start: datetime) -> Shifts:
    """Return what shifts when a window of a job starts at another instant.

    Raises
    ------
    UnknownZone
        If the site's zone is none.
    """
    zone = zone_named(job.site.zone)
    by = _wall(start, job) - _wall(window.start, job)
    if not by:
        return Shifts(by=by)

    def moved(old: Booking) -> Booking:
        def at(instant: datetime) -> datetime:
            return (_wall(instant, job) + by).replace(tzinfo=zone).astimezone(UTC)

        return replace(old, start=at(old.start), end=at(old.end))

    blocked = tuple(
        Shifted(old=each, new=moved(each)) for each in window.blocked if _is_within(each, window)
    )
    slots = tuple(
        Shifted(
            old=slot,
            new=moved(slot),
            journey=step.id,
            leg=number,
            name=leg.name,
            by=leg.by or "",
        )
        for step, number, leg in _legs(job)
        for slot in leg.slots
        if _is_within(slot, window)
    )
    return Shifts(by=by, slots=slots, blocked=blocked)


def _wall(instant: datetime, job: Job) -> datetime:
    """Return what the site's clock shows at an instant."""
    return instant.astimezone(zone_named(job.site.zone)).replace(tzinfo=None)


def _legs(job: Job) -> Iterator[tuple[Journey, int, Leg]]:
    for step in job.steps:
        if isinstance(step, Journey):
            for number, leg in enumerate(step.legs, 1):
                yield step, number, leg


def _is_within(each: Booking, window: Window) -> bool:
    return each.start < window.end and each.end > window.start
