"""One job as it stands in the problem, so that the next normalising can take it over."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import datetime
from operator import attrgetter

from scheduler.normalise.frame import Frame
from scheduler.normalise.held_air import Air, Noted
from scheduler.normalise.in_air import Plan, Works
from scheduler.normalise.limits import Placed, Reached
from scheduler.normalise.names import JobName, StageName, WayName
from scheduler.problem import Edge, Hold, JobAim, Span, Stage
from shared.book import Job
from shared.findings import Clash
from shared.ids import JobId, SkillId, StepId
from shared.plan import Unplaced

_FIELDS = tuple(field.name for field in fields(Stage))
_values_of = attrgetter(*_FIELDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a job stands among the others: its first stage, its position, its first piece."""

    first: int = 0
    position: int = 0
    piece: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """What was made of a job. pieces_count: how many pieces it met."""

    stages: tuple[Stage, ...]
    names: tuple[StageName, ...]
    ways: tuple[tuple[WayName, ...], ...]
    edges: tuple[Edge, ...]
    clashes: tuple[tuple[JobId, Clash], ...]
    unplaced: tuple[Unplaced, ...]
    holds: tuple[Hold, ...]
    reached: Mapping[StepId, Reached]
    aim: JobAim
    name: JobName
    pieces_count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Deeds:
    """What the making of a job did besides: what it took of rooms, workers and air.

    skills, certificates: those it asked for, with their positions.
    """

    taken: tuple[tuple[int, int, datetime], ...] = ()
    held: tuple[tuple[int, Span], ...] = ()
    noted: tuple[Noted, ...] = ()
    skills: tuple[tuple[SkillId, int], ...] = ()
    certificates: tuple[tuple[str, int], ...] = ()


class Part:
    """One job in the problem."""

    def __init__(self, job: Job, place: Place, made: Made, deeds: Deeds) -> None:
        """Keep what was made of a job, and what was done besides."""
        self.job, self.place, self.made, self.deeds = job, place, made, deeds
        self._works: Works | None = None
        self._in_air: tuple[object, tuple[Stage, ...]] | None = None

    def works(self, frame: Frame) -> Works:
        """Return what its stages do in which air."""
        if self._works is None:
            order = frame.order_of(self.job)
            self._works = Works(frame, order, self.made.names, self.made.ways)
        return self._works

    def in_air(self, works: Works, plans: Sequence[tuple[Air, Plan]]) -> tuple[Stage, ...]:
        """Return its stages with what they take of the airs that are planned for."""
        if self._in_air is None or self._in_air[0] != plans:
            self._in_air = plans, tuple(works.taking(plans, self.made.stages))
        return self._in_air[1]

    def at(self, place: Place) -> "Part":
        """Return the same job elsewhere among the others."""
        if place == self.place:
            return self
        moved = Part(self.job, place, _moved(self.made, self.place, place), self.deeds)
        moved._works = self._works
        if self._in_air is not None:
            plans, stages = self._in_air
            moved._in_air = plans, _renumbered(stages, self.place, place)
        return moved


def _moved(made: Made, old: Place, new: Place) -> Made:
    by, own = new.first - old.first, old.first
    changed = replace(made, stages=_renumbered(made.stages, old, new))
    if not by:
        return changed
    aim = made.aim
    return replace(
        changed,
        edges=tuple(_edge(edge, by, own) for edge in made.edges),
        holds=tuple(_hold(hold, by) for hold in made.holds),
        reached={step: _reached(came, by) for step, came in made.reached.items()},
        aim=replace(
            aim,
            lasts=tuple(stage + by for stage in aim.lasts),
            loaded=tuple(stage + by for stage in aim.loaded),
            floor=tuple((first + by, last + by) for first, last in aim.floor),
        ),
    )


def _renumbered(stages: Sequence[Stage], old: Place, new: Place) -> tuple[Stage, ...]:
    """Return stages of another position, with other numbers of their pieces."""
    by = new.piece - old.piece
    if old.position == new.position and not by:
        return tuple(stages)
    found: list[Stage] = []
    for stage in stages:
        values = dict(zip(_FIELDS, _values_of(stage), strict=True))
        values["job"] = new.position
        if stage.piece is not None:
            values["piece"] = stage.piece + by
        found.append(Stage(**values))
    return tuple(found)


def _edge(edge: Edge, by: int, own: int) -> Edge:
    """Return an edge of which the stages from `own` on are moved."""
    return Edge(
        before=edge.before + by if edge.before >= own else edge.before,
        after=edge.after + by,
        least=edge.least,
        most=edge.most,
        from_start=edge.from_start,
        insert=None if edge.insert is None else edge.insert + by,
        most_table=edge.most_table,
        in_doubt=edge.in_doubt,
    )


def _hold(hold: Hold, by: int) -> Hold:
    first = None if hold.first is None else hold.first + by
    return replace(hold, first=first, last=hold.last + by)


def _reached(came: Reached, by: int) -> Reached:
    if not isinstance(came, Placed):
        return came
    return replace(came, first=came.first + by, last=came.last + by)
