"""A plan of a book as it was solved, and where jobs and steps stand in it."""

from dataclasses import dataclass

from scheduler.outcome import JobOutcome, Outcome
from shared.ids import JobId, StepId
from shared.plan import Placement


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """A plan of a book and the seconds that it took."""

    outcome: Outcome
    seconds: float

    def job(self, job: JobId) -> JobOutcome | None:
        """Return how a job stands in it."""
        return next((each for each in self.outcome.jobs if each.id == job), None)

    def placement(self, step: StepId, part: str = "") -> Placement | None:
        """Return where the last round of a step stands in it."""
        placements = self.outcome.plan.placements
        found = [each for each in placements if (each.step, each.part) == (step, part)]
        return found[-1] if found else None
