"""Who receives the notices of a journey: offices of workshop, site, roads, lines and customs."""

from datetime import datetime

from shared.book import Book, Job, Journey, LegKind, Notice
from shared.notices.areas import countries_of
from shared.notices.instants import Travelled
from shared.notices.values import Receiver

_BRITAIN = "GB"
_BRITISH = ("ENG", "SCT")
"""Whose holidays are held where it is not told through which part of Great Britain a road goes."""


class Receivers:
    """The offices that a journey has to do with."""

    def __init__(self, book: Book, job: Job, journey: Journey) -> None:
        self._book, self._job, self._journey = book, job, journey

    def workshop(self) -> Receiver:
        """Return the office in the workshop's country."""
        here = self._book.workshop
        return Receiver(
            zone=here.zone,
            country=here.country,
            subdivision=here.subdivision,
            categories=here.holiday_categories,
        )

    def site(self) -> Receiver:
        """Return the office at the site."""
        there = self._job.site
        return Receiver(zone=there.zone, country=there.country, subdivision=there.subdivision)

    def of(self, country: str) -> Receiver:
        """Return the office of a country: workshop's or site's where it is theirs."""
        if country == self._book.workshop.country:
            return self.workshop()
        if country == self._job.site.country:
            return self.site()
        return Receiver(zone=self._zone(country), country=country)

    def of_road(self, country: str) -> tuple[Receiver, ...]:
        """Return the offices of a country's roads, one for each of its parts that is told."""
        zone = self._zone(country)
        parts = self._parts(country)
        return tuple(Receiver(zone=zone, country=country, subdivision=part) for part in parts)

    def british(self) -> tuple[Receiver, ...]:
        """Return the offices in Great Britain whose areas a road lies in."""
        known = [part for part in self._parts(_BRITAIN) if part is not None]
        return tuple(
            Receiver(zone="Europe/London", country=_BRITAIN, subdivision=part)
            for part in known or _BRITISH
        )

    def line(self, index: int) -> Receiver:
        """Return the office of a line: in the country that its sailing leaves from."""
        before = self._journey.legs[:index]
        met = [each for leg in before for each in countries_of(leg, self._job)]
        return self.of(met[-1] if met else self._book.workshop.country)

    def of_notice(self, notice: Notice) -> Receiver:
        """Return the office that a notice of the book names; the site's where it names none."""
        site = self._job.site
        country = notice.country or site.country
        is_there = country == site.country
        zone = notice.zone or (site.zone if is_there else self._zone(country))
        part = notice.subdivision or (site.subdivision if is_there else None)
        return Receiver(
            zone=zone,
            country=country,
            subdivision=part,
            name=notice.office,
            closes=notice.office_closes,
        )

    def abroad(self) -> tuple[str, ...]:
        """Return the countries on whose roads it goes, Great Britain aside."""
        return tuple(country for country in self._roads() if country != _BRITAIN)

    def on_the_road(self, country: str, on: Travelled) -> datetime:
        """Return when the lorry is first on the roads of a country."""
        return on.begins(self._roads().get(country, 0)) if self._roads() else on.trip.start

    def _roads(self) -> dict[str, int]:
        """Return the countries of the road, each with the leg in which it is first met."""
        drives = [
            (index, leg)
            for index, leg in enumerate(self._journey.legs)
            if leg.kind is LegKind.DRIVE
        ]
        if not drives:
            return {}
        found = {self._book.workshop.country: drives[0][0]}
        for index, leg in drives:
            for country in countries_of(leg, self._job):
                found.setdefault(country, index)
        found.setdefault(self._job.site.country, drives[-1][0])
        return found

    def _parts(self, country: str) -> tuple[str | None, ...]:
        """Return the parts of a country through which a road goes; None where none is told."""
        found: list[str | None] = []
        for place in (self._book.workshop, self._job.site):
            if place.country == country:
                found.append(place.subdivision)
        for leg in self._journey.legs:
            shares = leg.shares if leg.kind is LegKind.DRIVE else ()
            found += [share.subdivision for share in shares if share.country == country]
        told = [part for part in dict.fromkeys(found) if part is not None]
        return tuple(told) or (None,)

    def _zone(self, country: str) -> str:
        if country == self._book.workshop.country:
            return self._book.workshop.zone
        if country == self._job.site.country:
            return self._job.site.zone
        from shared.asking.countries import country_named

        known = country_named(country)
        return self._book.workshop.zone if known is None else known.zone
