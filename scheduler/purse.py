"""What one question may still take, of time or of effort, shared out from step to step."""

from collections.abc import Callable
from dataclasses import replace
from time import monotonic

from scheduler.model.run import Limits

WHOLE_SHARE = 1000
"""Shares are told in thousandths."""


class Purse:
    """Time or effort that is spent bit by bit; empty at once when somebody has had enough."""

    def __init__(self, limits: Limits, cancel: Callable[[], bool] | None = None) -> None:
        """Begin to count."""
        self._limits, self.cancel = limits, cancel
        self._ends = None if limits.seconds is None else monotonic() + limits.seconds
        self._effort = limits.effort
        self.spent = 0

    def part(self, parts: int = 1) -> Limits:
        """Return what one of so many parts of what is left may take."""
        seconds, effort = self._seconds(), self._effort
        return replace(
            self._limits,
            seconds=None if seconds is None else seconds / parts,
            effort=None if effort is None else -(-effort // parts),
        )

    def left(self, share: int = WHOLE_SHARE) -> Limits:
        """Return so many thousandths of what is left."""
        seconds, effort = self._seconds(), self._effort
        return replace(
            self._limits,
            seconds=None if seconds is None else seconds * share / WHOLE_SHARE,
            effort=None if effort is None else effort * share // WHOLE_SHARE,
        )

    def of_whole(self, share: int) -> Limits:
        """Return so many thousandths of what there was at first, no more than what is left."""
        whole, left = self._limits, self.left()
        seconds, effort = left.seconds, left.effort
        if seconds is not None and whole.seconds is not None:
            seconds = min(seconds, whole.seconds * share / WHOLE_SHARE)
        if effort is not None and whole.effort is not None:
            effort = min(effort, whole.effort * share // WHOLE_SHARE)
        return replace(whole, seconds=seconds, effort=effort)

    def spend(self, effort: int) -> None:
        """Count effort as spent; time passes by itself."""
        self.spent += effort
        if self._effort is not None:
            self._effort = max(0, self._effort - effort)

    def is_over(self) -> bool:
        """Return whether nothing is left."""
        if self.cancel is not None and self.cancel():
            return True
        seconds = self._seconds()
        return (self._effort is not None and self._effort <= 0) or seconds == 0

    def _seconds(self) -> float | None:
        return None if self._ends is None else max(0.0, self._ends - monotonic())
