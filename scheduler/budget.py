"""How much time or effort a question still has, and how it is shared out."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from scheduler.request import Cancel, SolveRequest
from scheduler.stop import WHOLE_SHARE, AfterEffort, AfterSeconds, AnyOf, Stop, WhenCancelled

if TYPE_CHECKING:
    from scheduler.model.run import Limits


class Budget:
    """The time or the effort of one question, from its beginning."""

    def __init__(
        self, request: SolveRequest, cancel: Cancel | None, clock: Callable[[], float]
    ) -> None:
        """Begin to count."""
        self._request = request
        effort, seconds = request.effort, request.seconds
        self._limit: Stop = AfterSeconds(seconds, clock) if effort is None else AfterEffort(effort)
        self._stop: Stop = self._limit
        if cancel is not None:
            self._stop = AnyOf(self._limit, WhenCancelled(cancel))

    def until(self, share: int) -> Stop:
        """Return a rule that stops after so many thousandths of the whole."""
        return _Until(self._stop, self._stop.share(), share)

    def limits(self, *, until: int = WHOLE_SHARE, parts: int = 1) -> "Limits":
        """Return what the solver may take: one of some parts of what is left until a share.

        Effort is counted as spent at once.
        """
        from scheduler.model.run import Limits

        request = self._request
        share = max(0, until - self._limit.share())
        if request.effort is None:
            seconds = request.seconds * share / WHOLE_SHARE / parts
            return Limits(seconds=seconds, workers=request.workers, seed=request.seed)
        effort = request.effort * share // WHOLE_SHARE // parts
        self._limit.spend(effort)
        return Limits(effort=effort, workers=request.workers, seed=request.seed)

    def is_over(self) -> bool:
        """Return whether nothing is left, or somebody has had enough."""
        return self._stop.reason() is not None

    def stopped(self, *, is_proved: bool) -> str:
        """Return why it ended, as Outcome.stopped says."""
        reason = self._stop.reason()
        if reason == "cancelled" or not is_proved:
            return reason or ("time" if self._request.effort is None else "effort")
        return "proved"


class _Until:
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
