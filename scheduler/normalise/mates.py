"""Stages of the book that are done by the same people."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from scheduler.normalise.facts import Told
from scheduler.problem import Stage
from shared.book import Book
from shared.book import Stage as Step
from shared.ids import PersonId, StepId


class Mates:
    """Which stage wants the people of which other, and who it is that was told of."""

    def __init__(self, book: Book, told: Mapping[StepId, Told]) -> None:
        """Take the stages of all jobs, planned or not."""
        self._told = told
        stages = [step for job in book.jobs for step in job.steps if isinstance(step, Step)]
        self.are_any = any(stage.same_people_as is not None for stage in stages)
        self._by_id = {stage.id: stage for stage in stages}
        self._mates: dict[StepId, list[StepId]] = defaultdict(list)
        for stage in stages:
            other = stage.same_people_as
            if other is not None and other in self._by_id and other != stage.id:
                self._mates[stage.id].append(other)
                self._mates[other].append(stage.id)

    def of(self, step: StepId) -> tuple[Step, ...]:
        """Return the stages that want the same people as a step, or whose people it wants."""
        return tuple(self._by_id[each] for each in self._mates.get(step, ()))

    def told_people(self, step: StepId) -> tuple[PersonId, ...] | None:
        """Return who did or does a step, None where it has not begun or nobody was named."""
        told = self._told.get(step)
        if told is None or not (told.done or told.running):
            return None
        return told.people or None

    def has_begun(self, step: StepId) -> bool:
        """Return whether a step is done or under way."""
        told = self._told.get(step)
        return told is not None and bool(told.done or told.running)

    def bound(self, stages: Sequence[Stage], places: Mapping[StepId, int]) -> tuple[Stage, ...]:
        """Return stages with those that want one team bound to each other.

        places: where the stage of each step stands.
        """
        found = list(stages)
        for step, place in places.items():
            stage = self._by_id.get(step)
            other = None if stage is None else stage.same_people_as
            if other is None or other == step or other not in places:
                continue
            if not (self.has_begun(step) and self.has_begun(other)):
                found[place] = replace(found[place], same_team_as=places[other])
        return tuple(found)
