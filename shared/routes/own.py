"""Ways of making of the program in a workshop that knows some figures better.

Every number of such a way says as what sum of figures it was written; where one of those figures
is the workshop's own, the sum is worked out anew.
"""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from math import ceil
from typing import Any

from shared.book import Route, RouteRule, Workshop
from shared.routes.known import Source, program_route, sources_of
from shared.routes.sums import figures_in, is_sum, worth
from shared.trade.own import looked_up, own_ids
from shared.units import decimal_of

Part = Any
"""A value somewhere in a step or rule."""

_OF_QUANTITIES, _OF_OTHERS = 6, 3
"""Decimals to which numbers are rounded."""

_OF_THE_RULE = frozenset({"session_hours", "session_recoat_hours"})


def with_own_figures(route: Route, workshop: Workshop) -> Route:
    """Give a way of making with the workshop's own figures; one of the book's is as it stands."""
    if not workshop.figures or program_route(route.id) != route:
        return route
    own = own_ids(workshop)
    look = looked_up(workshop)
    by_step: dict[str, list[tuple[Source, Decimal]]] = {}
    for source in sources_of(route.id):
        if is_sum(source.figures) and own.intersection(figures_in(source.figures)):
            exact = worth(source.figures, look).likely
            number = decimal_of(exact, _places(source))
            by_step.setdefault(source.step, []).append((source, number))
    if not by_step:
        return route
    steps = tuple(
        _with(step, (each for each in by_step.get(step.id, ()) if not _is_of_rule(each[0])))
        for step in route.steps
    )
    rules = tuple(_rule(rule, by_step.get(rule.step, ())) for rule in route.rules)
    return replace(route, steps=steps, rules=rules)


def _rule(rule: RouteRule, numbers: Iterable[tuple[Source, Decimal]]) -> RouteRule:
    made: RouteRule = _with(rule, (each for each in numbers if _is_of_rule(each[0])))
    return made


def _is_of_rule(source: Source) -> bool:
    return source.field in _OF_THE_RULE


def _places(source: Source) -> int:
    return _OF_QUANTITIES if source.field.endswith(".quantity") else _OF_OTHERS


def _with(value: Part, numbers: Iterable[tuple[Source, Decimal]]) -> Part:
    for source, number in numbers:
        value = _set(value, source.field.split("."), number)
    return value


def _set(value: Part, path: list[str], number: Decimal) -> Part:
    """Give a value with one number in it replaced; whole numbers stay whole, rounded up."""
    if not path:
        return ceil(number) if isinstance(value, int) else number
    head, *rest = path
    if isinstance(value, tuple):
        index = int(head)
        return (*value[:index], _set(value[index], rest, number), *value[index + 1 :])
    return replace(value, **{head: _set(getattr(value, head), rest, number)})
