"""Cures, recoat times and limits by the temperature of places, on the grid.

Least waits go by the coldest that is expected and are rounded up, greatest by the hottest and
rounded down. Where a stage may lie in several places, the least wait is the longest of them and
the greatest the shortest.
"""

from datetime import datetime, timedelta
from decimal import Decimal
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from scheduler.grid import Grid
from scheduler.normalise.climate_limits import Limit
from scheduler.normalise.climate_pace import Bands, Coat, Cure, bands_of, cure_of
from scheduler.normalise.climate_walk import Walk
from scheduler.problem import Spans, Wait
from shared.book import Book, Gate, Stage
from shared.climate import Climate, Hour
from shared.ids import PlaceId
from shared.units import hours_down, hours_up

if TYPE_CHECKING:
    from scheduler.normalise.climate_hours import Days, Moments, PlaceHours

Places = tuple[PlaceId | None, ...]
"""Where a stage may lie, one at least; None: in no place in particular."""
_Like = object
"""Stands for all places of which the same is expected."""
_SEVERAL = 2


class Climates:
    """The climate of a book on the grid; a place is laid out when it is first asked for."""

    def __init__(self, book: Book, grid: Grid) -> None:
        """Take the book."""
        self._walk, self._grid = Walk(book), grid
        self._likeness: dict[PlaceId | None, _Like] = {}
        self._alike_places: dict[Places, frozenset[_Like]] = {}
        self._example: dict[_Like, PlaceId | None] = {}
        self._hours: dict[_Like, PlaceHours] = {}
        self._ready: dict[tuple[_Like, Cure], Moments] = {}
        self._by_step: dict[tuple[Decimal, Decimal, Places], Wait] = {}
        self._waits: dict[tuple[Cure, frozenset[_Like]], Wait] = {}
        self._quickest: dict[tuple[Cure, frozenset[_Like]], Wait | None] = {}
        self._coats: dict[tuple[Bands, frozenset[_Like]], Coat] = {}
        self._clear: dict[object, Spans | None] = {}
        self._clear_like: dict[object, Spans | None] = {}

    @property
    def tables_count(self) -> int:
        """Return how many tables there are that have a number for each step."""
        return len(self._ready) + len(self._hours)

    @property
    def entries_count(self) -> int:
        """Return how many entries of any sort there are."""
        several = (self._by_step, self._waits, self._quickest, self._coats, self._clear)
        return self.tables_count + sum(len(each) for each in several)

    def wait(self, step: Stage | Gate, places: Places) -> Wait:
        """Return how long a step cures that may lie in any of some places."""
        if isinstance(step, Gate) or step.cure_celsius is None or not step.cure_hours:
            return _plain_wait(step.cure_hours)
        key = (step.cure_hours, step.cure_celsius, places)
        if key not in self._by_step:
            made = self._wait(Cure(celsius=step.cure_celsius, hours=step.cure_hours), places)
            self._by_step[key] = made
        return self._by_step[key]

    def _wait(self, cure: Cure, places: Places) -> Wait:
        if not self._climate.is_known:
            pace = cure.pace(self._always.coldest)
            return Wait(least=-(-cure.need // pace) if pace else self._grid.horizon + 1)
        key = (cure, self._alike(places))
        if key not in self._waits:
            from scheduler.normalise.climate_hours import wait_of

            self._waits[key] = wait_of([self._ready_in(each, cure) for each in key[1]])
        return self._waits[key]

    def quickest(self, step: Stage | Gate, places: Places) -> Wait | None:
        """Return how short the cure may be in the best of some places, None where all are alike."""
        if len(places) < _SEVERAL or not self._climate.is_known:
            return None
        alike = self._alike(places)
        cure = None if len(alike) < _SEVERAL else cure_of(step)
        if cure is None:
            return None
        key = (cure, alike)
        if key not in self._quickest:
            from scheduler.normalise.climate_hours import quickest_of

            readies = [self._ready_in(each, cure) for each in key[1]]
            self._quickest[key] = quickest_of(readies)
        return self._quickest[key]

    def cured(self, step: Stage | Gate, place: PlaceId | None, end: datetime) -> datetime:
        """Return when a step that ended in a place has cured."""
        return self._walk.cured(step, place, end, self._until)

    def coat(self, stage: Stage, places: Places) -> Coat:
        """Return until when a coat that may lie in any of some places may be coated again."""
        if not stage.recoat_bands:
            most = stage.recoat_hours
            return Coat(most=None if most is None else hours_down(most))
        bands = bands_of(stage.recoat_bands)
        if not self._climate.is_known:
            return Coat(most=hours_down(bands.hours(self._always.hottest)))
        key = (bands, self._alike(places))
        if key not in self._coats:
            from scheduler.normalise.climate_hours import coat_of

            self._coats[key] = coat_of([self._of(each).coat_by(bands) for each in key[1]])
        return self._coats[key]

    def coat_by(self, stage: Stage, place: PlaceId | None, end: datetime) -> datetime | None:
        """Return until when a coat that ended in a place may be coated again; None: for ever."""
        return self._walk.coat_by(stage, place, end, self._until)

    def clear(self, stage: Stage, limits: tuple[Limit, ...], place: PlaceId | None) -> Spans | None:
        """Return the stretches in which a stage may lie from start to end; None: anywhere.

        Before the start, and from the end until it has cured, no hour breaks any of the limits.
        """
        key = (place, limits, stage.cure_hours, stage.cure_celsius)
        if key not in self._clear:
            like = self._like(place)
            first = (like, *key[1:])
            if first not in self._clear_like:
                self._clear_like[first] = self._made_clear(stage, limits, like)
            self._clear[key] = self._clear_like[first]
        return self._clear[key]

    def _made_clear(self, stage: Stage, limits: tuple[Limit, ...], like: _Like) -> Spans | None:
        def forbids(hour: Hour) -> bool:
            return any(limit.forbids(hour) for limit in limits)

        if not self._climate.is_known:
            return () if forbids(self._always) else None
        fine = self._of(like).without(forbids)
        ends = self._last_ends(stage, like, fine)
        found = tuple((span[0], end) for span, end in zip(fine, ends, strict=True))
        found = tuple((start, end) for start, end in found if start <= end)
        return None if found == ((0, self._grid.horizon),) else found

    def _last_ends(self, stage: Stage, like: _Like, fine: Spans) -> list[int]:
        """Return for each stretch the last end whose cure is over in it."""
        cure, horizon = cure_of(stage), self._grid.horizon
        if cure is None:
            least = hours_up(stage.cure_hours)
            return [min(horizon, shuts - least) for _, shuts in fine]
        ready = self._ready_in(like, cure)
        lasts: list[int] = (
            ready.searchsorted([shuts for _, shuts in fine], side="right") - 1
        ).tolist()
        return lasts

    def _ready_in(self, like: _Like, cure: Cure) -> "Moments":
        if (like, cure) not in self._ready:
            self._ready[like, cure] = self._of(like).ready(cure)
        return self._ready[like, cure]

    def _of(self, like: _Like) -> "PlaceHours":
        if like not in self._hours:
            from scheduler.normalise.climate_hours import PlaceHours

            self._hours[like] = PlaceHours(self._climate, self._example[like], self._days)
        return self._hours[like]

    def _like(self, place: PlaceId | None) -> _Like:
        """Return what stands for all places of which the same is expected as of one."""
        if place not in self._likeness:
            like = self._climate.likeness(place)
            self._likeness[place] = like
            self._example.setdefault(like, place)
        return self._likeness[place]

    def _alike(self, places: Places) -> frozenset[_Like]:
        if places not in self._alike_places:
            self._alike_places[places] = frozenset(map(self._like, places))
        return self._alike_places[places]

    @cached_property
    def _days(self) -> "Days":
        from scheduler.normalise.climate_hours import days_of

        return days_of(self._grid)

    @property
    def _climate(self) -> Climate:
        return self._walk.climate

    @cached_property
    def _always(self) -> Hour:
        """Return the one hour there is where nothing is known."""
        return self._climate.expected(None, self._grid.origin)

    @property
    def _until(self) -> datetime:
        """Return when nothing that is still curing matters any more."""
        return self._grid.end + timedelta(days=1)


@lru_cache(maxsize=1024)
def _plain_wait(cure_hours: Decimal) -> Wait:
    return Wait(least=hours_up(cure_hours))
