"""By whose clock people on each leg of a journey read the time."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shared.asking.countries import country_named
from shared.book import Book, Job, Leg, LegKind
from shared.delivery.judged import AT_SEA, ON_SITE


@dataclass(frozen=True, slots=True, kw_only=True)
class Clock:
    """Zones of a leg: where it begins, where it ends, and by share of its road."""

    start: str
    end: str
    shares: tuple[str, ...] = ()

    def of_share(self, share: int) -> str:
        """Return the zone of a share of the road, counted from 0."""
        return self.shares[share] if share < len(self.shares) else self.end


def clocks_of(book: Book, job: Job, legs: Sequence[Leg]) -> tuple[Clock, ...]:
    """Give the clocks of legs that begin at the workshop, one for each."""
    return tuple(_walked(book, job, legs))


def _walked(book: Book, job: Job, legs: Sequence[Leg]) -> Iterator[Clock]:
    here = book.workshop.zone
    for at, leg in enumerate(legs):
        clock = _crossed(book, job, legs, at, here) if leg.kind in AT_SEA else None
        clock = clock or _clock(book, job, leg, here)
        yield clock
        here = clock.end


def _crossed(book: Book, job: Job, legs: Sequence[Leg], at: int, here: str) -> Clock:
    """Give the clocks of a crossing: as its timetable says, else as one goes on behind it."""
    table = next(iter(legs[at].timetable), None)
    if table is not None:
        return Clock(start=table.zone, end=table.arrives_zone or table.zone)
    if legs[at].country is not None:
        return Clock(start=here, end=_zone(book, job, legs[at].country or "") or here)
    behind = (leg for leg in legs[at + 1 :] if leg.kind not in AT_SEA)
    landed = next((_clock(book, job, leg, here).start for leg in behind), here)
    return Clock(start=here, end=landed)


def _clock(book: Book, job: Job, leg: Leg, here: str) -> Clock:
    if leg.kind in ON_SITE:
        return Clock(start=job.site.zone, end=job.site.zone)
    if leg.kind is LegKind.RETURN:
        return Clock(start=here, end=book.workshop.zone)
    if leg.kind is LegKind.DRIVE and leg.shares:
        zones = tuple(_zone(book, job, share.country) or here for share in leg.shares)
        return Clock(start=zones[0], end=zones[-1], shares=zones)
    own = leg.zone or (_zone(book, job, leg.country) if leg.country else None) or here
    return Clock(start=own, end=own)


def _zone(book: Book, job: Job, country: str) -> str | None:
    """Give the zone of a country; those of the workshop and the site as the book has them."""
    for known in (book.workshop, job.site):
        if known.country == country:
            return known.zone
    found = country_named(country)
    return None if found is None else found.zone
