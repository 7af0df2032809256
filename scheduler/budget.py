"""How much time or effort a question still has, and how it is shared out."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from scheduler.request import Cancel, SolveRequest
from scheduler.stop import WHOLE_SHARE, AfterEffort, AfterSeconds, AnyOf, Stop, Until, WhenCancelled

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
        return Until(self._stop, self._stop.share(), share)

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
        if reason == "cancelled":
            return reason
        return "proved" if is_proved else reason or "nothing_left"
