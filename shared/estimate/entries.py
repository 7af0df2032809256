"""Steps with work beside the steps of a way of making that they were written from."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from shared.book import (
    Book,
    Gate,
    Hours,
    Job,
    Journey,
    Measure,
    Route,
    RouteRule,
    Segment,
    Stage,
    Workshop,
)
from shared.edits.edited import fresh_id
from shared.ids import RouteId, StepId
from shared.routes.copying import copied_steps
from shared.routes.growing import Amount, amount_for, parts_for
from shared.routes.known import Source, program_route, route_of, sources_of
from shared.routes.learned import with_learned
from shared.routes.own import with_own_figures
from shared.trade.own import Lookup, looked_up

Work = Stage | Gate
_NUMBERED = re.compile(r"-[0-9]+$")


class Making:
    """A way of making in a workshop: its steps and rules, and what its numbers are sums of."""

    def __init__(self, route: Route, workshop: Workshop) -> None:
        """Take the workshop's own figures, and what it learned from its records, into it."""
        self.look: Lookup = looked_up(workshop)
        self.route = with_learned(with_own_figures(route, workshop), workshop)
        self._is_programs = program_route(route.id) == route
        self._rules = {rule.step: rule for rule in route.rules}

    def rule(self, step: StepId) -> RouteRule:
        """Return how a step of it is copied."""
        return self._rules.get(step) or RouteRule(step=step)

    @cached_property
    def steps(self) -> Mapping[StepId, Work]:
        """Return its steps with work, by their ids."""
        return {step.id: step for step in self.route.steps if not isinstance(step, Journey)}

    def asked(self, step: StepId, field: str) -> str:
        """Return the sum that a number is; "" where nothing is known of it."""
        found = self._sources.get((step, field))
        return "" if found is None else found.figures

    @cached_property
    def _sources(self) -> Mapping[tuple[str, str], Source]:
        if not self._is_programs:
            return {}
        return {(each.step, each.field): each for each in sources_of(self.route.id)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """What a step was written from: the step of a way of making, and how much of it there is."""

    making: Making
    step: Work
    rule: RouteRule
    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A step with work, the segments that it is on, and what it was written from, if that is known.

    own: its hours are the planner's, not those of the way of making. is_fresh: it is as the way of
    making gives it, and nobody has touched it.
    """

    step: Work
    pieces: tuple[Segment, ...]
    origin: Origin | None
    own: bool = False
    is_fresh: bool = False


def entries_as_written(
    workshop: Workshop, route: Route, segments: tuple[Segment, ...], options: Sequence[str]
) -> tuple[Entry, ...]:
    """Return the steps that a way of making would write for segments that meet no others."""
    making = Making(route, workshop)
    taken: set[str] = set()

    def named(step: str, segment: Segment | None) -> StepId:
        wanted = step if segment is None else f"{segment.id}.{step}"
        taken.add(fresh := fresh_id(wanted, taken))
        return StepId(fresh)

    copied = copied_steps(making.route, segments, options, named, making.look)
    by_id = {segment.id: segment for segment in segments}
    found = []
    for step, origin in zip(copied.steps, copied.origins, strict=True):
        if isinstance(step, Journey):
            continue
        pieces = tuple(by_id[each] for each in step.segments)
        told = _origin(making, origin, pieces, is_alone=len(segments) == 1)
        found.append(Entry(step=step, pieces=pieces, origin=told, is_fresh=True))
    return tuple(found)


def entries_of_job(book: Book, job: Job) -> tuple[Entry, ...]:
    """Return the steps of a job with work, each beside what it was written from.

    A step was written from a step of its segments' way of making if its id says so.
    """
    return tuple(_Written(book, job).entries())


class _Written:
    def __init__(self, book: Book, job: Job) -> None:
        self._job = job
        self._segments = {segment.id: segment for segment in job.segments}
        self._makings: dict[RouteId, Making] = {}
        for route_id in {each.route for each in job.segments if each.route is not None}:
            route = route_of(book, route_id)
            if route is not None:
                self._makings[route_id] = Making(route, book.workshop)

    def entries(self) -> Iterator[Entry]:
        """Give the steps in their order; those of one origin are sessions of it."""
        found = [self._with_origin(step) for step in self._job.steps]
        works = [each for each in found if each is not None]
        sessions: dict[tuple[StepId, tuple[Segment, ...]], list[Work]] = {}
        for step, pieces, origin in works:
            if origin is not None:
                sessions.setdefault((origin.step.id, pieces), []).append(step)
        for step, pieces, origin in works:
            mates = sessions[origin.step.id, pieces] if origin is not None else [step]
            own = origin is None or not _is_as_written(origin, mates)
            yield Entry(step=step, pieces=pieces, origin=origin, own=own)

    def _with_origin(self, step: object) -> tuple[Work, tuple[Segment, ...], Origin | None] | None:
        if not isinstance(step, Stage | Gate):
            return None
        over = step.segments or tuple(self._segments)
        pieces = tuple(self._segments[each] for each in over if each in self._segments)
        making = self._making(pieces)
        origin_id = None if making is None else self._origin_id(step, making)
        if making is None or origin_id is None:
            return step, pieces, None
        mates = [s for s in self._job.segments if s.route == pieces[0].route]
        origin = _origin(making, origin_id, pieces, is_alone=len(mates) == 1)
        if isinstance(step, Stage) and isinstance(origin.step, Stage):
            was = replace(origin.step, learned_factor=step.learned_factor)
            origin = replace(origin, step=was)
        return step, pieces, origin

    def _making(self, pieces: Sequence[Segment]) -> Making | None:
        routes = {piece.route for piece in pieces}
        route = next(iter(routes)) if len(routes) == 1 else None
        return None if route is None else self._makings.get(route)

    def _origin_id(self, step: Work, making: Making) -> StepId | None:
        for owner in (self._job.id, *step.segments):
            if step.id.startswith(f"{owner}."):
                word = step.id[len(owner) + 1 :]
                for wanted in (word, _NUMBERED.sub("", word)):
                    if StepId(wanted) in making.steps:
                        return StepId(wanted)
        return None


def _origin(making: Making, step: StepId, pieces: tuple[Segment, ...], *, is_alone: bool) -> Origin:
    rule = making.rule(step)
    amount = amount_for(rule, pieces, is_alone=is_alone, look=making.look)
    return Origin(making=making, step=making.steps[step], rule=rule, amount=amount)


def _is_as_written(origin: Origin, steps: Sequence[Work]) -> bool:
    """Return whether steps have the hours that the way of making gives them."""
    wanted = [_hours(part) for part in parts_for(origin.step, origin.rule, origin.amount)]
    return [_hours(step) for step in steps] == wanted


def _hours(step: object) -> tuple[Hours, ...]:
    return tuple(way.hours for way in step.ways) if isinstance(step, Stage | Gate) else ()


def measures_of(entries: Iterable[Entry]) -> tuple[Measure, ...]:
    """Return what the hours of some steps grow with, each once."""
    rules = (each.origin.rule for each in entries if each.origin is not None)
    return tuple(dict.fromkeys(rule.per for rule in rules if rule.per is not None))
