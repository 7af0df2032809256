"""A recoat time that runs out calls for abrading: an optional stage before the next coat."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from scheduler.grid import DAY_STEPS
from scheduler.normalise.frame import Frame
from scheduler.normalise.limits import Limits, Link, Recoat, least
from scheduler.normalise.names import StageName, WayName
from scheduler.normalise.order import JobOrder
from scheduler.normalise.ways import Asked, Expanded, expand
from scheduler.problem import Edge, Stage, Way
from shared import book
from shared.book import Step

AddStage = Callable[[Stage, StageName, tuple[WayName, ...], Limits], int]


def abrading(frame: Frame, order: JobOrder, step: Step, limits: Limits) -> Expanded | None:
    """Return the ways to abrade before a step; None where it is not asked for or can't be done."""
    ways = _added(limits.recoats) if limits.recoats else ()
    if not ways:
        return None
    asked = Asked(step=step.id, segments=order.segments(step), acts=order.acts(step, "abrade"))
    found = expand(frame, ways, asked)
    return found if found.ways else None


def _added(recoats: Iterable[Recoat]) -> tuple[book.Way, ...]:
    """Return the ways of all coats before a step: those of one id are one, their hours added."""
    by_id: dict[str, list[book.Way]] = {}
    for recoat in recoats:
        for way in recoat.ways:
            by_id.setdefault(way.id, []).append(way)
    return tuple(
        way if len(ways) == 1 else _sum(ways) for ways in by_id.values() for way in ways[:1]
    )


def _sum(ways: Sequence[book.Way]) -> book.Way:
    areas = [way.area_m2 for way in ways if way.area_m2 is not None]
    return replace(
        ways[0],
        hours=book.Hours(
            low=sum((way.hours.low for way in ways), Decimal(0)),
            likely=sum((way.hours.likely for way in ways), Decimal(0)),
            high=sum((way.hours.high for way in ways), Decimal(0)),
        ),
        area_m2=sum(areas, Decimal(0)) if len(areas) == len(ways) else None,
        cost=sum((way.cost for way in ways), Decimal(0)),
    )


def without_abrading(limits: Limits) -> Limits:
    """Return limits whose recoat times nothing lifts."""
    if not limits.recoats:
        return limits
    links = list(limits.links)
    start_by = limits.start_by
    for recoat in limits.recoats:
        if recoat.before is None:
            start_by = least((start_by, recoat.most))
        else:
            links.append(_right_behind(recoat.before, recoat))
    return replace(limits, links=tuple(links), start_by=start_by, recoats=())


def _right_behind(before: int, recoat: Recoat) -> Link:
    return Link(
        before=before,
        least=0,
        most=recoat.most,
        from_start=False,
        most_table=recoat.most_table,
        in_doubt=recoat.in_doubt,
    )


class Abrading:
    """The optional stage before a coat, and the greatest waits that it lifts."""

    def __init__(self, frame: Frame, add: AddStage, name: StageName, job: int) -> None:
        """Take how stages are added, and the coat's name and job."""
        self._frame, self._add = frame, add
        self._name, self._job = name, job

    def edges(self, coat: int, limits: Limits, found: Expanded) -> list[Edge]:
        """Add the stage; return the edges of the recoat times to the coat.

        It starts no sooner than the coat could, its greatest waits apart.
        """
        stage = Stage(
            ways=found.ways,
            job=self._job,
            release=limits.release,
            longest_pause=self._frame.book.workshop.longest_pause_days * DAY_STEPS,
            optional=True,
        )
        links = tuple(replace(link, most=None, most_table=None) for link in limits.links)
        name = replace(self._name, part="abrade")
        inserted = self._add(stage, name, found.names, Limits(links=links))
        return [
            Edge(
                before=self._before(recoat),
                after=coat,
                most=recoat.most,
                most_table=recoat.most_table,
                insert=inserted,
            )
            for recoat in limits.recoats
        ]

    def _before(self, recoat: Recoat) -> int:
        """Return the stage that the wait counts from: of what is done, the moment of step 0."""
        if recoat.before is not None:
            return recoat.before
        moment = Stage(ways=(Way(),), job=self._job, fixed_start=0)
        return self._add(moment, replace(self._name, part="since"), (WayName(),), Limits())
