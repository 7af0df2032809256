"""The grid of a problem: instants to steps and back, rounded the careful way."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from scheduler.problem import Span, Spans
from shared import worktime
from shared.units import STEP_SECONDS, ceil_to_step, instant_of, steps_down, steps_up
from shared.worktime import local_instant

DAY_STEPS = 24 * 3600 // STEP_SECONDS
WEEK_STEPS = 7 * DAY_STEPS


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Step 0 as an instant, the last step of the problem, and the workshop's zone."""

    origin: datetime
    horizon: int
    zone: str

    def up(self, instant: datetime) -> int:
        """Return the first step not before an instant."""
        return steps_up(self.origin, instant)

    def down(self, instant: datetime) -> int:
        """Return the last step not after an instant."""
        return steps_down(self.origin, instant)

    def instant(self, step: int) -> datetime:
        """Return the instant of a step."""
        return instant_of(self.origin, step)

    @property
    def end(self) -> datetime:
        """Return the instant of the horizon."""
        return self.instant(self.horizon)

    def morning(self, day: date) -> datetime:
        """Return the instant at which a day begins in the workshop's zone."""
        return local_instant(day, time(0), self.zone, opening=True)

    def night(self, day: date) -> datetime:
        """Return the instant at which a day is over in the workshop's zone."""
        return self.morning(day + timedelta(days=1))

    def inner(self, spans: Iterable[worktime.Span]) -> Spans:
        """Return spans in which something is open: openings up, closings down."""
        rounded = ((self.up(span.start), self.down(span.end)) for span in spans)
        clipped = ((max(0, start), min(end, self.horizon)) for start, end in rounded)
        return tuple((start, end) for start, end in clipped if start < end)

    def outer(self, start: datetime, end: datetime) -> Span | None:
        """Return a stretch in which something is taken, rounded outwards, None if all past."""
        low, high = max(0, self.down(start)), min(self.up(end), self.horizon)
        return (low, high) if low < high else None


def origin_of(now: datetime) -> datetime:
    """Return the instant of step 0: now, rounded up to the grid."""
    return ceil_to_step(now.astimezone(UTC))


def joined(spans: Iterable[Span]) -> Spans:
    """Return spans sorted, with those that overlap or touch made one."""
    found: list[Span] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return tuple(found)
