"""What is asked of the engine, and how it tells of its progress."""

from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from shared.book import Book
from shared.ids import JobId
from shared.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class SolveRequest:
    """One question: plan this book as of `now`.

    asked: enquiries to plan beside the firm and pencilled jobs. seconds: wall time at most.
    effort: instead of time, a bound on deterministic work (passes and solver units); the same
    book, seed, workers and effort give the same plan. workers: threads of the solver.
    """

    book: Book
    now: datetime
    asked: tuple[JobId, ...] = ()
    seconds: float = 10
    effort: int | None = None
    workers: int = 2
    seed: int = 1


class Progress(Protocol):
    """Where a solve tells of better plans and bounds while it runs; called on any thread."""

    def plan(self, plan: Plan, levels: tuple[int, ...]) -> None:
        """Tell of a checked plan that is better than any before it."""

    def bound(self, job: JobId, minutes: int) -> None:
        """Tell that a job is proved to load at least so many elapsed minutes late."""


class Cancel(Protocol):
    """Asked often by a solve: whether somebody has had enough."""

    def __call__(self) -> bool:
        """Return True once the solve should stop and give the best it has."""
