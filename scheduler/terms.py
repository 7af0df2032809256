"""What a placement pass reads of a problem: links, bounds, claims and stands.

Each has a form that keeps its kind with time running backwards.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from scheduler.lags import (
    Fixed,
    Lag,
    Limit,
    lag_of_cure,
    lag_of_edge,
    limit_of,
    turned,
    turned_limit,
)
from scheduler.problem import Edge, Hold, Problem, Spans, Stage, Use
from scheduler.spans import turned as turned_spans

FOREVER: Final = 1 << 60
"""A moment after every horizon."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One stage after another: no sooner than the lag allows, no later than `most` does.

    None: no such wait. from_end: counts from the end of `before`, else from its start. to_end:
    to the end of `after`, else to its start. insert: an optional stage that lifts `most`.
    """

    before: int
    after: int
    from_end: bool = True
    to_end: bool = False
    lag: Lag | None = None
    most: Limit | None = None
    insert: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """Where start and end of a stage may lie, both limits included. fixed: the start is pinned."""

    earliest_start: int = 0
    latest_start: int = FOREVER
    earliest_end: int = 0
    latest_end: int = FOREVER
    starts: Spans | None = None
    ends: Spans | None = None
    fixed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """Units of a room from `before` steps before the start to `after` steps after the end.

    lead, tail: the cure through which it is held on, which lies before the start (time turned
    round) or after the end. against: rooms of which nobody else may take anything meanwhile.
    """

    room: int
    units: int
    before: int = 0
    after: int = 0
    lead: Lag | None = None
    tail: Lag | None = None
    against: tuple[int, ...] = ()

    def begins(self, start: int) -> int:
        """Return when it begins for a stage that starts then; never before step 0."""
        if self.lead is None:
            return max(0, start - self.before)
        back = self.lead.inverse(start)
        return max(0, start if back is None else back - self.before)

    def ends(self, end: int) -> int:
        """Return when it is over for a stage that ends then."""
        ready = end if self.tail is None else self.tail.of(end)
        return (end if ready is None else ready) + self.after

    def start_after(self, t: int) -> int:
        """Return the least start with which it does not begin before t."""
        if self.lead is None:
            return t + self.before
        start = self.lead.of(t + self.before)
        return FOREVER if start is None else start


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Units of a room from the start of one stage to the end of another; None: without limit."""

    room: int
    units: int
    first: int | None
    last: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """Links, bounds by stage, claims by stage and way, stands."""

    links: tuple[Link, ...]
    bounds: tuple[Bounds, ...]
    claims: tuple[tuple[tuple[Claim, ...], ...], ...]
    stands: tuple[Stand, ...]


def terms_of(problem: Problem) -> Terms:
    """Return the terms of a problem."""
    return Terms(
        links=tuple(link for edge in problem.edges for link in _links(problem, edge)),
        bounds=tuple(_bounds(stage, problem.horizon) for stage in problem.stages),
        claims=tuple(
            tuple(tuple(_claim(stage, use) for use in way.uses) for way in stage.ways)
            for stage in problem.stages
        ),
        stands=tuple(_stand(hold) for hold in problem.holds),
    )


def _links(problem: Problem, edge: Edge) -> Iterator[Link]:
    cure = problem.stages[edge.before].cure
    lag = Fixed(steps=edge.least) if edge.from_start else lag_of_edge(cure, edge)
    link = Link(
        before=edge.before,
        after=edge.after,
        from_end=not edge.from_start,
        lag=lag,
        most=limit_of(edge.most, None if edge.from_start else edge.most_table),
        insert=edge.insert,
    )
    yield link
    if edge.from_start and edge.most_table is not None:
        by_table = limit_of(None, edge.most_table)
        yield replace(link, from_end=True, lag=None, most=by_table)


def _bounds(stage: Stage, horizon: int) -> Bounds:
    pinned = stage.fixed_start
    latest_end = horizon
    if stage.cure.table is not None:
        latest_end = min(horizon, stage.cure.table.uptos[-1])
    latest_start = FOREVER if stage.start_by is None else stage.start_by
    return Bounds(
        earliest_start=stage.release if pinned is None else max(stage.release, pinned),
        latest_start=latest_start if pinned is None else min(latest_start, pinned),
        latest_end=latest_end,
        ends=stage.ends,
        fixed=pinned is not None,
    )


def _claim(stage: Stage, use: Use) -> Claim:
    tail = lag_of_cure(stage.cure) if use.through_cure else None
    return Claim(
        room=use.room,
        units=use.units,
        before=use.before,
        after=use.after,
        tail=tail,
        against=use.against,
    )


def _stand(hold: Hold) -> Stand:
    return Stand(room=hold.room, units=hold.units, first=hold.first, last=hold.last)


def turned_terms(terms: Terms, horizon: int) -> Terms:
    """Return the terms with time running backwards from the horizon."""
    return Terms(
        links=tuple(_turned_link(link, horizon) for link in terms.links),
        bounds=tuple(turned_bounds(bounds, horizon) for bounds in terms.bounds),
        claims=tuple(
            tuple(tuple(_turned_claim(claim, horizon) for claim in claims) for claims in ways)
            for ways in terms.claims
        ),
        stands=tuple(
            Stand(room=stand.room, units=stand.units, first=stand.last, last=stand.first)
            for stand in terms.stands
        ),
    )


def _turned_link(link: Link, horizon: int) -> Link:
    return Link(
        before=link.after,
        after=link.before,
        from_end=not link.to_end,
        to_end=not link.from_end,
        lag=None if link.lag is None else turned(link.lag, horizon),
        most=None if link.most is None else turned_limit(link.most, horizon),
        insert=link.insert,
    )


def turned_bounds(bounds: Bounds, horizon: int) -> Bounds:
    """Return the bounds with time running backwards: what bound the end now binds the start."""
    return Bounds(
        earliest_start=max(0, horizon - bounds.latest_end),
        latest_start=horizon - bounds.earliest_end,
        earliest_end=max(0, horizon - bounds.latest_start),
        latest_end=horizon - bounds.earliest_start,
        starts=_turned_points(bounds.ends, horizon),
        ends=_turned_points(bounds.starts, horizon),
        fixed=bounds.fixed,
    )


def _turned_points(spans: Spans | None, horizon: int) -> Spans | None:
    # Moments, not stretches: t in [a, b) means horizon - t in [horizon - b + 1, horizon - a + 1).
    return None if spans is None else turned_spans(spans, horizon + 1)


def _turned_claim(claim: Claim, horizon: int) -> Claim:
    return Claim(
        room=claim.room,
        units=claim.units,
        before=claim.after,
        after=claim.before,
        lead=None if claim.tail is None else turned(claim.tail, horizon),
        tail=None if claim.lead is None else turned(claim.lead, horizon),
        against=claim.against,
    )
