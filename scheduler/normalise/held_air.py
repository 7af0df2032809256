"""Who shares which air, and which acts still hold it when a plan begins."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from shared.book import Act, Book, Place
from shared.ids import PlaceId
from shared.trade import defaults
from shared.units import elapsed

Air = tuple[str, str]
"""The name that places share, or "" and the id of a place that shares with none."""


Noted = tuple[PlaceId, Collection[Act], datetime, Decimal, bool]
"""A place, the acts that hold its air, their end, how long it stays wet, and whether it is over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """An act that holds an air up to an instant. is_over: it is done, not under way."""

    act: Act
    until: datetime
    is_over: bool


class HeldAir:
    """The acts that are kept apart, the air of each place, and what holds it already."""

    def __init__(self, book: Book) -> None:
        """Start with nothing held."""
        apart = book.workshop.apart
        self.pairs = defaults.APART if apart is None else apart
        self._airs = {place.id: air_of(place) for place in book.places}
        self._held: dict[Air, list[Held]] = defaultdict(list)
        self.log: list[Noted] = []

    def of(self, place: PlaceId) -> Air:
        """Return the air of a place."""
        return self._airs[place]

    def note(
        self,
        place: PlaceId,
        acts: Collection[Act],
        end: datetime,
        wet_hours: Decimal,
        *,
        is_over: bool,
    ) -> None:
        """Note that acts hold the air of a place to their end, what is wet for longer."""
        self.log.append((place, acts, end, wet_hours, is_over))
        if place not in self._airs:
            return
        for act in sorted(acts):
            until = end + elapsed(wet_hours) if act is Act.WET else end
            self._held[self._airs[place]].append(Held(act=act, until=until, is_over=is_over))

    def done_in(self, air: Air) -> list[Held]:
        """Return what is done and may still hold an air."""
        return [held for held in self._held.get(air, ()) if held.is_over]

    @property
    def held(self) -> tuple[tuple[Air, tuple[Held, ...]], ...]:
        """Return what is noted."""
        return tuple((air, tuple(held)) for air, held in self._held.items())

    def free_from(self, place: PlaceId, acts: Collection[Act]) -> datetime | None:
        """Return when nothing that is noted keeps acts from a place; None: nothing does."""
        air = self._airs.get(place)
        held = () if air is None else self._held.get(air, ())
        return max((until for each in held for until in self._keeps_off(each, acts)), default=None)

    def _keeps_off(self, held: Held, acts: Collection[Act]) -> Iterator[datetime]:
        for pair in self.pairs:
            if held.act is pair.first and pair.second in acts:
                yield held.until + timedelta(minutes=pair.minutes)
            if held.act is pair.second and pair.first in acts:
                yield held.until


def air_of(place: Place) -> Air:
    """Return the air of a place: shared by name, else its own."""
    return (place.air, "") if place.air else ("", place.id)
