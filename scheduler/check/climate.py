"""Limits of materials: no hour from a stage's start to the end of its cure breaks one.

The coldest that is expected is held against the least, the hottest against the greatest, the
humidity against the most there may be; the surface, as cold as can be, lies so many degrees above
the dew point of air as warm as can be. What is not known of the humidity breaks nothing.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Context, Decimal
from functools import lru_cache

from scheduler.check.climate_waits import hours_between, ready_after
from scheduler.check.clock import iso
from scheduler.check.tell import of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Stage
from shared.climate import Hour
from shared.trade import figure

_FINE = Context(prec=40)
_SAME = Decimal(1) + Decimal(1).scaleb(-12)
"""Vapour that is more by no more than this factor counts as the same."""


def climate(world: World) -> Iterator[Breach]:
    """Give for each stage and limit of its material the first hour that breaks it."""
    for task in world.work():
        if isinstance(task.step, Stage) and not task.placement.part and task.running is None:
            yield from _broken(world, task, task.step)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Limit:
    """A limit of a material; breaks: what of an hour breaks it, as facts, None if nothing."""

    rule: Rule
    amount: Decimal
    breaks: Callable[[Hour, Decimal], dict[str, str] | None]


def _has_limits(stage: Stage) -> bool:
    return not (
        stage.coldest_celsius is None
        and stage.warmest_celsius is None
        and stage.most_humidity_percent is None
        and stage.dew_point_margin_celsius is None
    )


def _limits(stage: Stage) -> list[_Limit]:
    named = (
        (Rule.TEMPERATURE, stage.coldest_celsius, _too_cold),
        (Rule.TEMPERATURE, stage.warmest_celsius, _too_warm),
        (Rule.HUMIDITY, stage.most_humidity_percent, _too_damp),
        (Rule.DEW_POINT, stage.dew_point_margin_celsius, _too_near_dew),
    )
    return [
        _Limit(rule=rule, amount=amount, breaks=breaks)
        for rule, amount, breaks in named
        if amount is not None
    ]


def _broken(world: World, task: Task, stage: Stage) -> Iterator[Breach]:
    if not _has_limits(stage):
        return
    left = _limits(stage)
    place = task.placement.place
    known = world.places.get(place) if place is not None else None
    name = place if known is None else known.name
    until = ready_after(world, stage, task.end)
    for start, _, hour in hours_between(world, place, task.start, until):
        for limit in tuple(left):
            facts = limit.breaks(hour, limit.amount)
            if facts is not None:
                left.remove(limit)
                common = {"place": name, "hour": iso(start), "limit": _text(limit.amount)}
                yield of_task(limit.rule, task, **common, **facts)


def _too_cold(hour: Hour, least: Decimal) -> dict[str, str] | None:
    return {"celsius": _text(hour.coldest)} if hour.coldest < least else None


def _too_warm(hour: Hour, most: Decimal) -> dict[str, str] | None:
    return {"celsius": _text(hour.hottest)} if hour.hottest > most else None


def _too_damp(hour: Hour, most: Decimal) -> dict[str, str] | None:
    if hour.humidity is None or hour.humidity <= most:
        return None
    return {"humidity": _text(hour.humidity)}


def _too_near_dew(hour: Hour, margin: Decimal) -> dict[str, str] | None:
    if hour.humidity is None:
        return None
    held = _vapour(hour.coldest - margin)
    there = _FINE.multiply(hour.humidity / 100, _vapour(hour.hottest))
    if there <= held * _SAME:
        return None
    return {
        "celsius": _text(hour.coldest),
        "air": _text(hour.hottest),
        "humidity": _text(hour.humidity),
    }


@lru_cache(maxsize=4096)
def _vapour(celsius: Decimal) -> Decimal:
    """Return what air can hold, as a multiple of that at 0 degrees: the Magnus formula."""
    factor, offset = figure("MG01").amount, figure("MG02").amount
    if celsius <= -offset:
        return Decimal(0)
    return _FINE.exp(_FINE.divide(factor * celsius, offset + celsius))


def _text(amount: Decimal) -> str:
    return f"{amount.normalize():f}"
