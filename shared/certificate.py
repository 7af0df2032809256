"""A certificate: why a job can't be loaded in time, in steps that plain code can follow.

By a chain: steps one after the other, each with the instant before which it can't end, whoever does
it. By counting: people, a stretch of time, and the work of theirs that must lie in it. What only a
search has found is said to be that, and nobody can follow it.
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from shared.ids import JobId, PersonId, StepId
from shared.plan import MadeFrom
from shared.value import Value


class ProofBy(StrEnum):
    """How something is proved; a search can't be followed."""

    CHAIN = "chain"
    COUNTING = "counting"
    SEARCH = "search"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Soonest(Value):
    """A step of a chain that ends no sooner, and what follows no sooner than `ready`."""

    step: StepId
    end: datetime
    ready: datetime


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Forced(Value):
    """At least so many minutes of work of the people in question that a step can't do elsewhere."""

    step: StepId
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Certificate(Value):
    """That a job is loaded late by so much at least, whatever the plan.

    loaded_by: no loading that ends later makes the window. late_minutes: elapsed. by a chain:
    `chain`, each step after the one before it. by counting: `people` have too few minutes from
    `start` to `end` for the `work` that must lie there if the job is loaded less late. beside: the
    jobs that keep their windows meanwhile; none: the job alone in an otherwise empty workshop.
    """

    made_from: MadeFrom
    now: datetime
    job: JobId
    by: ProofBy
    late_minutes: int
    loaded_by: datetime
    chain: tuple[Soonest, ...] = ()
    people: tuple[PersonId, ...] = ()
    start: datetime | None = None
    end: datetime | None = None
    work: tuple[Forced, ...] = ()
    beside: tuple[JobId, ...] = ()
