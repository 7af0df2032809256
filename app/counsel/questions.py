"""What can be asked beside the plan, and how each question is answered. No Qt.

A question is a value; the child calls `answer`, the window only carries it there. The engine is
imported when one is answered, so that the window starts without it.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from scheduler.request import Cancel, SolveRequest
from shared.absence import Absence
from shared.book import Book, Window
from shared.ids import JobId
from shared.plan import Plan

if TYPE_CHECKING:
    from scheduler.away.values import Answers
    from scheduler.chance import Chances
    from scheduler.kept import Kept
    from scheduler.levers.values import WaysOut
    from scheduler.outcome import JobOutcome, Outcome
    from scheduler.rush import Promise, Rush
    from scheduler.why.values import Why

Part = Callable[[object], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """What the child has at hand for an answer.

    part: tell of what is found before the answer is whole. kept: tables of earlier questions.
    """

    part: Part
    cancel: Cancel
    kept: "Kept"


class Question(Protocol):
    """Something that can be asked; it and its answer are frozen values that travel as bytes."""

    def answer(self, at_hand: Help) -> object:
        """Return the answer.

        Raises
        ------
        EngineFault
            If the check finds a plan of the engine broken.
        """


@dataclass(frozen=True, slots=True, kw_only=True)
class AskPlan:
    """How would this book be planned? Answered with an Outcome."""

    request: SolveRequest

    def answer(self, at_hand: Help) -> "Outcome":
        """Plan it, each time from nothing: what is tried must not colour what is."""
        from scheduler.kept import Kept
        from scheduler.solve import solve

        return solve(self.request, cancel=at_hand.cancel, kept=Kept())


@dataclass(frozen=True, slots=True, kw_only=True)
class WhyAnswer:
    """How a job stands, and why."""

    told: "JobOutcome"
    why: "Why"


@dataclass(frozen=True, slots=True, kw_only=True)
class AskWhy:
    """Why does a job stand as it does? Answered with a WhyAnswer, None if it can't be planned."""

    request: SolveRequest
    job: JobId

    def answer(self, at_hand: Help) -> "WhyAnswer | None":
        """Plan the book, then ask of the job."""
        from scheduler.solve import solve
        from scheduler.why.answer import why

        outcome = solve(self.request, cancel=at_hand.cancel, kept=at_hand.kept)
        told = next((each for each in outcome.jobs if each.id == self.job), None)
        before = at_hand.kept.before
        if told is None or before is None:
            return None
        found = why(before.normal, before.schedule, told)
        return WhyAnswer(told=found.told, why=found)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskWaysOut:
    """What would let a job keep its window? Parts are single WayOuts, the answer WaysOut."""

    request: SolveRequest
    job: JobId

    def answer(self, at_hand: Help) -> "WaysOut":
        """Look for the cheapest."""
        from scheduler.levers.search import ways_out

        return ways_out(self.request, self.job, on_way=at_hand.part, cancel=at_hand.cancel)


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstLook:
    """A first look at an enquiry: the book planned without it and with it."""

    without: "Outcome"
    with_: "Outcome"


@dataclass(frozen=True, slots=True, kw_only=True)
class AskRush:
    """What would an enquiry of the book do? The part is a FirstLook, the answer a Rush."""

    request: SolveRequest
    job: JobId

    def answer(self, at_hand: Help) -> "Rush":
        """Lay it beside the book."""
        from scheduler.rush import rush

        def first(without: "Outcome", with_: "Outcome") -> None:
            at_hand.part(FirstLook(without=without, with_=with_))

        return rush(
            self.request, self.job, on_first=first, cancel=at_hand.cancel, clock=time.monotonic
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class AskDates:
    """What would it do on other days? Answered with a tuple of Promises.

    found: the answer that they are laid beside. windows: the one held in the request's book, moved.
    """

    request: SolveRequest
    found: "Rush"
    windows: tuple[Window, ...]

    def answer(self, at_hand: Help) -> "tuple[Promise, ...]":
        """Try one window after the other, for as long as there is time."""
        from scheduler.rush import more_dates

        return more_dates(
            self.request, self.found, self.windows, cancel=at_hand.cancel, clock=time.monotonic
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class AskAway:
    """What to do when somebody or something is away? Answered with Answers, ranked."""

    request: SolveRequest
    absence: Absence

    def answer(self, at_hand: Help) -> "Answers":
        """Look for answers."""
        from scheduler.away.search import answers

        return answers(self.request, self.absence)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskChance:
    """How sure are the windows of a plan of this very book? Answered with Chances."""

    book: Book
    plan: Plan

    def answer(self, at_hand: Help) -> "Chances":
        """Replay the plan."""
        from scheduler.chance import chances_of

        return chances_of(self.book, self.plan, kept=at_hand.kept)
