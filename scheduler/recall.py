"""What was found of single stages and stays true as long as the same people work the same hours."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from scheduler.problem import Problem, Stage

if TYPE_CHECKING:
    from scheduler.search import Spot
    from scheduler.tables import Crew, Mark
    from scheduler.terms import Bounds

STAGES_SPARE = 64


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """Who there is and when they work. calendars, hours: marks, of the problem's and by worker."""

    crew: "Crew"
    paces: tuple[Fraction, ...]
    calendars: tuple["Mark", ...]
    hours: tuple["Mark | None", ...]

    def changed(self, other: "World") -> set[int] | None:
        """Return whose pace or hours are others; None where people themselves are."""
        if self.crew is not other.crew or len(self.hours) != len(other.hours):
            return None
        return {
            worker
            for worker, hours in enumerate(self.hours)
            if hours != other.hours[worker] or self.paces[worker] != other.paces[worker]
        }


@dataclass(frozen=True, slots=True)
class Recall:
    """What was found in one world, by the identity of the stage, which is kept beside it.

    sound: the last spot that broke nothing of the stage's own. latest: the greatest start and end
    that it was asked for, and what came out.
    """

    world: World
    sound: "dict[int, tuple[Stage, Bounds, Spot]]" = field(default_factory=dict)
    latest: "dict[int, tuple[Stage, Bounds, tuple[int, int], tuple[int, int]]]" = field(
        default_factory=dict
    )

    def in_world(self, world: World, problem: Problem) -> "Recall":
        """Return what still holds in a world, about the stages of a problem if it became much."""
        if world == self.world and self._size <= 2 * len(problem.stages) + STAGES_SPARE:
            return self
        there = {id(stage) for stage in problem.stages}
        if world == self.world:
            return Recall(
                world,
                {at: found for at, found in self.sound.items() if at in there},
                {at: found for at, found in self.latest.items() if at in there},
            )
        changed = self.world.changed(world)
        if changed is None:
            return Recall(world)
        sound = {
            at: found
            for at, found in self.sound.items()
            if at in there
            and changed.isdisjoint(found[2].team)
            and self._keeps_hours(found[0], found[2], world)
        }
        return Recall(world, sound)

    @property
    def _size(self) -> int:
        return max(len(self.sound), len(self.latest))

    def _keeps_hours(self, stage: Stage, spot: "Spot", world: World) -> bool:
        """Return whether a stage hangs on no hours besides its people's that are others now."""
        if stage.company and len(spot.team) == 1:
            return False
        calendar = stage.ways[spot.way].calendar
        return calendar is None or _at(self.world.calendars, calendar) == _at(
            world.calendars, calendar
        )


def _at(marks: Sequence["Mark"], calendar: int) -> "Mark | None":
    return marks[calendar] if calendar < len(marks) else None
