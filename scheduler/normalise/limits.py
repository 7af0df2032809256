"""How what came before limits a step: waits that are still to come, and those already running."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.grid import Grid
from scheduler.normalise.climate import Climates, Places
from scheduler.normalise.climate_pace import Coat
from scheduler.problem import Table
from scheduler.reasons import Reason
from shared.book import After, Stage, Step, Way
from shared.ids import PlaceId, StepId
from shared.units import elapsed, hours_down, hours_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A step that stands in the problem, from its first to its last stage.

    places: where it may lie.
    """

    first: int
    last: int
    places: Places = (None,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """A step that is done: when it began and ended, where, and when its cure is over."""

    start: datetime
    end: datetime
    ready: datetime
    place: PlaceId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A step that stands in no plan, and why."""

    code: Reason


Reached = Placed | Over | Missing


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """The edge that a step has from the stage of another: as Edge, without the step's own."""

    before: int
    least: int
    most: int | None
    from_start: bool
    most_table: Table | None = None
    in_doubt: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Recoat:
    """A greatest wait that abrading lifts: from the end of a stage, or steps from step 0.

    most, most_table, in_doubt: as of an edge.
    """

    before: int | None
    most: int | None
    ways: tuple[Way, ...]
    most_table: Table | None = None
    in_doubt: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What limits the start of a step: links, earliest and latest start, why it can't be."""

    links: tuple[Link, ...] = ()
    release: int = 0
    start_by: int | None = None
    recoats: tuple[Recoat, ...] = ()
    missing: Reason | None = None


_NOTHING = Limits()
_ANY_TIME = Coat()


class Waits:
    """How the steps that are reached so far limit those that come after them."""

    def __init__(
        self,
        reached: Mapping[StepId, Reached],
        steps: Mapping[StepId, Step],
        grid: Grid,
        climates: Climates,
    ) -> None:
        """Take what is reached, which may grow, and the steps of the book."""
        self._reached, self._steps, self._grid = reached, steps, grid
        self._climates = climates
        self._coats: dict[object, Coat] = {}

    def limits(
        self,
        befores: Iterable[After],
        packed: Iterable[StepId] = (),
        *,
        abrades: bool = False,
        takes_off: bool = False,
    ) -> Limits:
        """Return what the steps before mean; those that nothing is known of are left out.

        packed: steps that must be ready besides, with no greatest wait. abrades: abrading
        before the step lifts a recoat time, where the coat says how. takes_off: the step takes
        off what is there, so that no recoat time runs up to it.
        """
        found = [
            self._one(after, None if takes_off else self._recoat(after), abrades=abrades)
            for after in befores
        ]
        found += [self._one(After(step=step), None, abrades=False) for step in packed]
        if len(found) == 1:
            return found[0]
        start_bys = [one.start_by for one in found if one.start_by is not None]
        return Limits(
            links=tuple(link for one in found for link in one.links),
            release=max((one.release for one in found), default=0),
            start_by=min(start_bys, default=None),
            recoats=tuple(recoat for one in found for recoat in one.recoats),
            missing=next((one.missing for one in found if one.missing is not None), None),
        )

    def _recoat(self, after: After) -> Stage | None:
        """Return the coat whose recoat time is running before a step, None if none is."""
        before = self._steps.get(after.step)
        if not isinstance(before, Stage) or after.from_start:
            return None
        return None if before.recoat_hours is None and not before.recoat_bands else before

    def _one(self, after: After, coat: Stage | None, *, abrades: bool) -> Limits:
        came = self._reached.get(after.step)
        if came is None:
            return _NOTHING
        if isinstance(came, Missing):
            return Limits(missing=Reason.FOLLOWS_UNPLACED)
        ways = coat.abrade.ways if abrades and coat is not None and coat.abrade is not None else ()
        if isinstance(came, Over):
            return self._after_over(after, came, coat, ways)
        if coat is None:
            return Limits(links=(_link(after, came, _ANY_TIME),))
        found = self._coat(coat, came.places)
        if not ways:
            return Limits(links=(_link(after, came, found),))
        link = _link(after, came, _ANY_TIME)
        recoat = Recoat(
            before=came.last,
            most=found.most,
            most_table=found.table,
            ways=ways,
            in_doubt=found.in_doubt,
        )
        return Limits(links=(link,), recoats=(recoat,))

    def _coat(self, coat: Stage, places: Places) -> Coat:
        key = (coat.recoat_hours, coat.recoat_bands, places)
        if key not in self._coats:
            self._coats[key] = self._climates.coat(coat, places)
        return self._coats[key]

    def _after_over(
        self, after: After, came: Over, coat: Stage | None, ways: tuple[Way, ...]
    ) -> Limits:
        base, most = came.start if after.from_start else came.end, after.most_hours
        limits = Limits(
            release=self._grid.up(_earliest(after, came)),
            start_by=None if most is None else self._grid.down(base + elapsed(most)),
        )
        until = None if coat is None else self._climates.coat_by(coat, came.place, came.end)
        if until is None:
            return limits
        left = self._grid.down(until)
        if not ways:
            return replace(limits, start_by=least((limits.start_by, left)))
        return replace(limits, recoats=(Recoat(before=None, most=max(-1, left), ways=ways),))


def _earliest(after: After, came: Over) -> datetime:
    """Return when what comes after a step that is done may start."""
    if after.from_start:
        return came.start + elapsed(after.least_hours)
    return max(came.ready, came.end + elapsed(after.least_hours))


def _link(after: After, came: Placed, coat: Coat) -> Link:
    most = None if after.most_hours is None else hours_down(after.most_hours)
    return Link(
        before=came.first if after.from_start else came.last,
        least=hours_up(after.least_hours),
        most=most if coat.most is None else least((most, coat.most)),
        from_start=after.from_start,
        most_table=coat.table,
        in_doubt=coat.in_doubt,
    )


def least(steps: Iterable[int | None]) -> int | None:
    """Return the least of some limits, None where there is none."""
    return min((each for each in steps if each is not None), default=None)
