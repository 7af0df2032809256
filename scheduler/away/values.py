"""Answers as values: what is done, whom it changes what for, its price, how every job stands."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from scheduler.outcome import CheckResult, JobOutcome
from scheduler.told_changes import Changes
from shared.absence import Absence
from shared.book import Book
from shared.ids import JobId, StepId
from shared.levers import Lever
from shared.plan import Plan


class MoveKind(StrEnum):
    """What becomes of work: that of whom is away waits, goes on elsewhere, or to others.

    waits: later, by the same people; brought_forward: sooner, before they go. taken_over: by
    somebody else; elsewhere: in another place. swapped: other work gets other people. moved: other
    work moves. leaves: a journey leaves at another time. off: no plan has it any more.
    """

    WAITS = "waits"
    BROUGHT_FORWARD = "brought_forward"
    TAKEN_OVER = "taken_over"
    ELSEWHERE = "elsewhere"
    SWAPPED = "swapped"
    MOVED = "moved"
    LEAVES = "leaves"
    OFF = "off"


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One thing that an answer does with a step."""

    kind: MoveKind
    job: JobId
    step: StepId


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer, planned and checked.

    moves: in the order of what was told. levers: taken for it. changes: against what was told,
    what the one away was told left out of the counts. missed: windows missed; lost: those of them
    that were kept before. tight: jobs newly short of their buffer. proved_cheapest: nothing that
    keeps as many windows costs less. book: as it is once the answer is taken.
    """

    moves: tuple[Move, ...]
    levers: tuple[Lever, ...]
    changes: Changes
    price: Decimal
    missed: frozenset[JobId]
    lost: frozenset[JobId]
    tight: frozenset[JobId]
    proved_cheapest: bool
    book: Book
    plan: Plan
    check: CheckResult
    jobs: tuple[JobOutcome, ...]

    @property
    def verdicts(self) -> dict[JobId, str]:
        """Return the verdict on each job of its plan."""
        return {job.id: job.verdict.value for job in self.jobs}


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """Work that somebody or something that is away was planned for."""

    job: JobId
    step: StepId
    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What is hit, how jobs stand without the absence, and the answers, best first.

    told: people have a sheet that changes are counted against; else the plan as it was is.
    stuck: no way was found to place everything with the absence in it.
    """

    absence: Absence
    now: datetime
    hits: tuple[Hit, ...]
    before: tuple[JobOutcome, ...]
    answers: tuple[Answer, ...] = ()
    told: bool = True
    stuck: bool = False
