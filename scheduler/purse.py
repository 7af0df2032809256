"""What proofs may still take, of time or of effort, shared out from question to question."""

from collections.abc import Callable
from dataclasses import replace
from time import monotonic

from scheduler.model.run import Limits


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
