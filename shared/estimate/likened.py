"""A way of making whose hours are those of a past job so many times as large.

Stage by stage of the same origin or name; what is left of a kind on both sides is held against
each other as a whole, so that no hours of the past job are lost where there is work of the kind.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from shared.book import Book, Hours, Job, Journey, Kind, Route, Segment, Step, Way
from shared.estimate.entries import Entry, entries_as_written, entries_of_job
from shared.estimate.like import Scaled, group_of, grouped, scaled_steps
from shared.estimate.lines import kind_of
from shared.estimate.values import total_hours
from shared.ids import RouteId, StepId
from shared.routes.known import PROGRAM_ROUTES, program_route, route_of
from shared.routes.own import with_own_figures
from shared.units import decimal_of

_NOTHING = Decimal(0)
_PLACES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Likened:
    """A way of making with the hours of a past job, its options, and the stages it has no like of.

    unlike: stages of the way of making that the past job has none of; their hours are its own.
    """

    route: Route
    options: tuple[str, ...]
    left: tuple[str, ...]
    unlike: tuple[StepId, ...]


def past_route(book: Book, job: Job) -> Route:
    """Return the way of making that most segments of a job are from, else the basic one."""
    counts: dict[RouteId, int] = defaultdict(int)
    for segment in job.segments:
        if segment.route is not None:
            counts[segment.route] += 1
    names = sorted(counts, key=lambda name: -counts[name])
    found = (route_of(book, name) for name in names)
    basic = program_route(PROGRAM_ROUTES[0])
    assert basic is not None
    return next((route for route in found if route is not None), basic)


def past_options(book: Book, job: Job, route: Route) -> tuple[str, ...]:
    """Return the options of a way of making that a job's steps show."""
    entries = entries_of_job(book, job)
    there = {e.origin.step.id for e in entries if e.origin is not None}
    journeys = (step.id for step in job.steps if isinstance(step, Journey))
    there |= {StepId(name.rpartition(".")[2]) for name in journeys}
    if not there:
        return ()
    return tuple(option for option in route.options if _shows(option, route, there))


def _shows(option: str, route: Route, there: set[StepId]) -> bool:
    only = [rule.step for rule in route.rules if rule.only_if == (option,)]
    if only:
        return any(step in there for step in only)
    without = [rule.step for rule in route.rules if option in rule.unless and not rule.only_if]
    return bool(without) and not any(step in there for step in without)


def likened(
    book: Book,
    past: Job,
    times: Decimal,
    segments: tuple[Segment, ...],
    *,
    route: Route | None = None,
    options: Sequence[str] | None = None,
) -> Likened:
    """Return the way of making to write for segments so that its hours are a past job's, scaled.

    route, options: those of the past job where none are given.
    """
    making = with_own_figures(route or past_route(book, past), book.workshop)
    wanted = past_options(book, past, making) if options is None else tuple(options)
    new = [
        each
        for each in entries_as_written(book.workshop, making, segments, wanted)
        if each.step.ways
    ]
    old = scaled_steps(book, past, times)
    factors, left = _factors(old, new)
    steps = tuple(_scaled_step(step, factors.get(step.id)) for step in making.steps)
    made = {each.origin.step.id for each in new if each.origin is not None}
    return Likened(
        route=replace(making, steps=steps),
        options=wanted,
        left=left,
        unlike=tuple(step.id for step in making.steps if step.id in made - factors.keys()),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Factor:
    """By how much the hours that grow become those of the past job: low, likely, high."""

    low: Fraction
    likely: Fraction
    high: Fraction


def _factors(
    old: Sequence[Scaled], new: Sequence[Entry]
) -> tuple[dict[StepId, _Factor], tuple[str, ...]]:
    """Return a factor for each stage of the way of making, and what of the past has no like."""
    news: dict[StepId, list[Entry]] = defaultdict(list)
    for each in new:
        assert each.origin is not None
        news[each.origin.step.id].append(each)
    olds = grouped(old)
    factors: dict[StepId, _Factor] = {}
    for step, entries in news.items():
        key = _fitting(olds, entries[0])
        if key is not None:
            factors[step] = _factor(olds.pop(key), entries)
    left = _by_kind(olds, news, factors)
    return factors, left


def _fitting(olds: dict[object, list[Scaled]], entry: Entry) -> object | None:
    """Return the group of the past job that is of the same origin, else of the same name."""
    key = group_of(entry)
    if key in olds:
        return key
    assert entry.origin is not None
    named = entry.origin.step.name.casefold(), kind_of(entry)
    return named if named in olds else None


def _by_kind(
    olds: dict[object, list[Scaled]],
    news: dict[StepId, list[Entry]],
    factors: dict[StepId, _Factor],
) -> tuple[str, ...]:
    by_kind: dict[Kind, list[Scaled]] = defaultdict(list)
    left: list[str] = []
    for group in olds.values():
        kind = kind_of(group[0].entry)
        if kind is None:
            left.append(group[0].entry.step.name)
        else:
            by_kind[kind] += group
    for kind, group in by_kind.items():
        steps = [s for s, e in news.items() if s not in factors and kind_of(e[0]) is kind]
        entries = [entry for step in steps for entry in news[step]]
        if entries:
            factors |= dict.fromkeys(steps, _factor(group, entries))
        else:
            left += dict.fromkeys(each.entry.step.name for each in group)
    return tuple(left)


def _factor(group: list[Scaled], entries: list[Entry]) -> _Factor:
    wanted = total_hours(each.hours for each in group)
    has = total_hours(entry.step.ways[0].hours for entry in entries)
    fixed = sum((entry.step.ways[0].setup_hours or _NOTHING for entry in entries), _NOTHING)

    def factor(goal: Decimal, now: Decimal) -> Fraction:
        grows = max(now - fixed, _NOTHING)
        return Fraction(max(goal - fixed, _NOTHING)) / Fraction(grows) if grows else Fraction(1)

    return _Factor(
        low=factor(wanted.low, has.low),
        likely=factor(wanted.likely, has.likely),
        high=factor(wanted.high, has.high),
    )


def _scaled_step(step: Step, factor: _Factor | None) -> Step:
    if factor is None or isinstance(step, Journey):
        return step
    return replace(step, ways=tuple(_scaled_way(way, factor) for way in step.ways))


def _scaled_way(way: Way, factor: _Factor) -> Way:
    fixed, old = way.setup_hours or _NOTHING, way.hours

    def grown(number: Decimal, by: Fraction) -> Decimal:
        own = min(fixed, number)
        return own + decimal_of(Fraction(number - own) * by, _PLACES)

    likely = grown(old.likely, factor.likely)
    return replace(
        way,
        hours=Hours(
            low=min(grown(old.low, factor.low), likely),
            likely=likely,
            high=max(grown(old.high, factor.high), likely),
        ),
    )
