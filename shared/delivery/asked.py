"""What a delivery depends on, and nothing else of the book."""

from dataclasses import dataclass
from datetime import timedelta

from shared.book import Book, Equipment, EquipmentKind, Job, Journey, Leg, Site, Window, Workshop
from shared.delivery.judged import home_from
from shared.ids import EquipmentId

USUAL_DAYS = 7
"""How many days it may take from the departure to the site where the book doesn't say."""

BEFORE_WINDOW = timedelta(days=14)
"""How long before a window one may have to be at the site, for work that comes before it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A journey to a window of a site, from a workshop, with the equipment that it names.

    pieces: on board, at least one.
    """

    workshop: Workshop
    site: Site
    window: Window
    journey: Journey
    equipment: tuple[Equipment, ...]
    pieces: int

    @property
    def longest(self) -> timedelta:
        """Return how long it may take from the departure to the site."""
        days = self.journey.longest_days
        return timedelta(seconds=int((USUAL_DAYS if days is None else days) * 86400))

    @property
    def home(self) -> int:
        """Return the number of the first leg of the way home."""
        return home_from(self.journey)

    def vehicles(self, ids: tuple[EquipmentId, ...]) -> tuple[Equipment, ...]:
        """Return the vehicles of some ids, those that the book does not know left out."""
        wanted = self.named(ids)
        return tuple(each for each in wanted if each.kind is EquipmentKind.VEHICLE)

    def named(self, ids: tuple[EquipmentId, ...]) -> tuple[Equipment, ...]:
        """Return the equipment of some ids, what the book does not know left out."""
        return tuple(each for one in ids for each in self.equipment if each.id == one)


def asked_of(book: Book, job: Job, journey: Journey, window: Window) -> Asked:
    """Return what the delivery of a journey depends on."""
    wanted = set(journey.vehicles) | set(journey.travel_vehicles)
    for means in journey.means:
        wanted |= set(means.vehicles)
    for leg in _all_legs(journey):
        wanted |= set(leg.equipment)
    return Asked(
        workshop=book.workshop,
        site=job.site,
        window=window,
        journey=journey,
        equipment=tuple(each for each in book.equipment if each.id in wanted),
        pieces=max(1, len(journey.segments or job.segments)),
    )


def _all_legs(journey: Journey) -> tuple[Leg, ...]:
    return (*journey.legs, *journey.travel)
