"""Journeys that may not stand loaded: what loads them, and how long before they leave."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from scheduler.normalise.names import Ridden
from scheduler.normalise.order import journeys_of
from shared.book import After, Job
from shared.ids import StepId
from shared.units import STEP_MINUTES


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How long the lorries of a job stand loaded.

    most: no longer than so before the first of them leaves, None for any time. loads: the steps
    whose end counts, those that every journey that may not stand comes after. spare: by such a
    journey, how long after the first it may leave.
    """

    most: int | None = None
    loads: tuple[StepId, ...] = ()
    spare: Mapping[StepId, int] = field(default_factory=dict)

    @property
    def is_possible(self) -> bool:
        """Return whether any departure can keep to it as it is read here."""
        return self.most is None or bool(self.loads)

    def allows(self, rides: Iterable[tuple[StepId, Ridden]]) -> bool:
        """Return whether no lorry stands for longer than it may once the first may leave."""
        if self.most is None:
            return True
        leaves = {step: one.ride.leaves for step, one in rides}
        first = min(leaves.values(), default=0)
        late = (leaves[step] - first <= spare for step, spare in self.spare.items())
        return self.is_possible and all(late)


def standing_of(job: Job, afters: Mapping[StepId, tuple[After, ...]]) -> Standing:
    """Return how long the lorries of a job may stand.

    A journey that comes after other journeys alone is loaded by them: nothing stands. Of journeys
    that have no loading in common nobody here knows how to keep all from standing.
    """
    journeys = {journey.id: journey for journey in journeys_of(job)}
    steps = {step.id for step in job.steps} - journeys.keys()
    most: dict[StepId, int] = {}
    loads: list[StepId] | None = None
    for step, journey in journeys.items():
        own = [after.step for after in afters[step] if after.step in steps]
        if journey.stands_most_minutes is not None and own:
            most[step] = journey.stands_most_minutes // STEP_MINUTES
            loads = own if loads is None else [one for one in loads if one in own]
    if loads is None:
        return Standing()
    least = min(most.values())
    spare = {step: each - least for step, each in most.items()}
    return Standing(most=least, loads=tuple(loads), spare=spare)
