"""What of the time and effort of one question is left, and shares of it."""

from collections.abc import Callable
from dataclasses import replace
from time import monotonic

from scheduler.model.run import Limits

WHOLE = 1000
"""Shares are told in thousandths."""


class Purse:
    """The limits of one question, from its beginning, and when somebody has had enough."""

    def __init__(self, limits: Limits, cancel: Callable[[], bool] | None = None) -> None:
        """Begin to count."""
        self._limits = limits
        self._ends = None if limits.seconds is None else monotonic() + limits.seconds
        self._effort = limits.effort
        self.cancel = cancel

    def spend(self, effort: int) -> None:
        """Take effort out."""
        if self._effort is not None:
            self._effort = max(0, self._effort - effort)

    def left(self, share: int = WHOLE, *, of_whole: bool = False) -> Limits:
        """Return limits of some thousandths of what is left.

        of_whole: of what there was at first, but no more than what is left.
        """
        seconds = None if self._ends is None else max(0.0, self._ends - monotonic())
        effort = self._effort
        if seconds is not None:
            whole = self._limits.seconds if of_whole else seconds
            seconds = min(seconds, (whole or 0.0) * share / WHOLE)
        if effort is not None:
            whole_effort = self._limits.effort if of_whole else effort
            effort = min(effort, (whole_effort or 0) * share // WHOLE)
        return replace(self._limits, seconds=seconds, effort=effort)

    def is_over(self) -> bool:
        """Return whether nothing is left, or somebody has had enough."""
        if self.cancel is not None and self.cancel():
            return True
        if self._effort is not None and self._effort <= 0:
            return True
        return self._ends is not None and monotonic() >= self._ends
