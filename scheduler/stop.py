"""When a search stops: after some time, after so much work, or when somebody has had enough."""

import sys
import threading
from collections.abc import Callable
from select import select
from typing import Protocol

WHOLE_SHARE = 1000


class Stop(Protocol):
    """A rule that is told of work done and asked whether to go on."""

    def spend(self, units: int) -> None:
        """Tell of so many units of work done: a placement pass is one."""

    def share(self) -> int:
        """Return how much is used up, in thousandths; WHOLE_SHARE and above: stop."""

    def reason(self) -> str | None:
        """Return why to stop: "time", "effort", "cancelled"; None: go on."""


class AfterSeconds:
    """Stops after some wall time. clock: seconds that only rise, like time.monotonic."""

    def __init__(self, seconds: float, clock: Callable[[], float]) -> None:
        self._allowed_millis = max(1, int(1000 * seconds))
        self._clock = clock
        self._began = clock()

    def spend(self, units: int) -> None:
        """Time passes by itself."""

    def share(self) -> int:
        """Return the time gone, in thousandths of the time there is."""
        gone_millis = int(1000 * (self._clock() - self._began))
        return min(WHOLE_SHARE, gone_millis * WHOLE_SHARE // self._allowed_millis)

    def reason(self) -> str | None:
        """Return "time" once it is up."""
        return "time" if self.share() >= WHOLE_SHARE else None


class AfterEffort:
    """Stops after so many units of work: the same on every machine."""

    def __init__(self, units: int) -> None:
        self._allowed = units
        self._spent = 0

    def spend(self, units: int) -> None:
        """Count the units."""
        self._spent += units

    def share(self) -> int:
        """Return the units spent, in thousandths of those allowed."""
        if self._spent >= self._allowed:
            return WHOLE_SHARE
        return self._spent * WHOLE_SHARE // self._allowed

    def reason(self) -> str | None:
        """Return "effort" once it is spent."""
        return "effort" if self._spent >= self._allowed else None


class Until:
    """A part of another rule: from one share of it to another."""

    def __init__(self, stop: Stop, first: int, last: int) -> None:
        self._stop, self._first, self._last = stop, first, last

    def spend(self, units: int) -> None:
        """Tell the rule."""
        self._stop.spend(units)

    def share(self) -> int:
        """Return the share of this part that is used up."""
        gone, whole = self._stop.share() - self._first, self._last - self._first
        return min(WHOLE_SHARE, gone * WHOLE_SHARE // whole) if whole > 0 else WHOLE_SHARE

    def reason(self) -> str | None:
        """Return the rule's reason, or "share" once this part is over."""
        return self._stop.reason() or ("share" if self.share() >= WHOLE_SHARE else None)


class WhenCancelled:
    """Stops when asked to."""

    def __init__(self, cancel: Callable[[], bool]) -> None:
        self._cancel = cancel

    def spend(self, units: int) -> None:
        """Work does not matter."""

    def share(self) -> int:
        """Return all or nothing."""
        return WHOLE_SHARE if self._cancel() else 0

    def reason(self) -> str | None:
        """Return "cancelled" once somebody has had enough."""
        return "cancelled" if self._cancel() else None


class AnyOf:
    """Stops as soon as one of several rules does."""

    def __init__(self, *stops: Stop) -> None:
        self._stops = stops

    def spend(self, units: int) -> None:
        """Tell every rule."""
        for stop in self._stops:
            stop.spend(units)

    def share(self) -> int:
        """Return the greatest share."""
        return max((stop.share() for stop in self._stops), default=0)

    def reason(self) -> str | None:
        """Return the first reason there is."""
        reasons = (stop.reason() for stop in self._stops)
        return next((reason for reason in reasons if reason is not None), None)


def pause(seconds: float) -> None:
    """Give the processor away for a moment.

    Not by a timed wait of a thread: those count by a clock that a preloaded library which sets
    the date can turn back on them, and then never end.
    """
    if sys.platform == "win32":
        threading.Event().wait(seconds)
    else:
        select([], [], [], seconds)
