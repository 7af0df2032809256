"""What the stages of one job do in which air, and what they take of it."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from scheduler.normalise.acts import wet_hours
from scheduler.normalise.frame import Frame
from scheduler.normalise.held_air import Air
from scheduler.normalise.names import StageName, WayName
from scheduler.normalise.order import JobOrder
from scheduler.problem import Stage, Use, Way
from shared.book import Act, Step
from shared.units import hours_up, minutes_up

if TYPE_CHECKING:
    from shared.ids import StepId

Key = tuple[Act, int, bool]
"""A room of an air: an act, the minutes it is held on, and whether it is kept apart from itself."""
Plan = tuple[tuple[Key, int, tuple[int, ...]], ...]
"""The rooms of an air: for which act each, its position, and the rooms it is kept apart from."""

_SOME = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class InAir:
    """What a job does in one air. count: ways of stages. some: stages, by act, two at most."""

    count: int
    some: Mapping[Act, tuple[int, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """A stage that takes air: its position in the job, what is done, for how many steps it is wet.

    ways: which of its ways are done in which air.
    """

    stage: int
    acts: frozenset[Act]
    wet_steps: int
    ways: Mapping[int, Air]


class Works:
    """The stages of a job that take air; positions are counted from its first."""

    def __init__(
        self,
        frame: Frame,
        order: JobOrder,
        names: Sequence[StageName],
        ways: Sequence[Sequence[WayName]],
    ) -> None:
        """Look at every stage."""
        self._names = names
        self._works = list(_works(frame, order, names, ways))
        counts: dict[Air, int] = {}
        some: dict[Air, dict[Act, tuple[int, ...]]] = {}
        for work in self._works:
            for air, count in Counter(work.ways.values()).items():
                counts[air] = counts.get(air, 0) + count
                acts = some.setdefault(air, {})
                for act in work.acts:
                    known = acts.get(act, ())
                    if len(known) < _SOME and work.stage not in known:
                        acts[act] = (*known, work.stage)
        self.by_air = {air: InAir(count=count, some=some[air]) for air, count in counts.items()}

    def taking(self, plans: Sequence[tuple[Air, Plan]], stages: Sequence[Stage]) -> list[Stage]:
        """Return stages with what they take of the airs that are planned for."""
        by_air = dict(plans)
        found = list(stages)
        for work in self._works:
            stage, name = stages[work.stage], self._names[work.stage]
            taken: dict[Air, tuple[Use, ...]] = {}
            ways = list(stage.ways)
            for at, air in work.ways.items():
                if air not in by_air:
                    continue
                if air not in taken:
                    taken[air] = tuple(_uses(work, stage, name, by_air[air]))
                if taken[air]:
                    ways[at] = _also_taking(ways[at], taken[air])
            if any(taken.values()):
                found[work.stage] = replace(stage, ways=tuple(ways))
        return found


def _also_taking(way: Way, uses: tuple[Use, ...]) -> Way:
    return Way(
        needs=way.needs,
        work=way.work,
        uses=(*way.uses, *uses),
        consumes=way.consumes,
        calendar=way.calendar,
        cost=way.cost,
        clear=way.clear,
    )


def _works(
    frame: Frame,
    order: JobOrder,
    names: Sequence[StageName],
    ways: Sequence[Sequence[WayName]],
) -> Iterator[_Work]:
    steps: dict[StepId, Step] = {step.id: step for step in order.job.steps}
    wet: dict[tuple[StepId, str], int] = {}
    for stage, (name, own) in enumerate(zip(names, ways, strict=True)):
        if not name.is_told:
            continue
        placed = {
            at: frame.air.of(way.place) for at, way in enumerate(own) if way.place is not None
        }
        acts = order.acts(steps[name.step], name.part) if placed else frozenset()
        if acts:
            key = (name.step, name.part)
            if key not in wet:
                wet[key] = hours_up(wet_hours(order.job, steps[name.step], name.part))
            yield _Work(stage=stage, acts=acts, wet_steps=wet[key], ways=placed)


def _uses(work: _Work, stage: Stage, name: StageName, plan: Plan) -> Iterator[Use]:
    """Give what a work takes.

    What is under way holds the air from now on, and has itself waited for what holds it.
    """
    waited = stage.fixed_start if name.begun is not None else None
    for (act, minutes, is_alone), room, others in plan:
        if act in work.acts:
            wet_steps = work.wet_steps if act is Act.WET else 0
            yield Use(
                room=room,
                units=1,
                before=0 if waited is None or is_alone else waited,
                after=wet_steps + minutes_up(minutes),
                against=others if waited is None else (),
            )
