"""What the crew themselves need abroad, as reminders: passports, days of stay, posting.

Nobody's nationality is in the book, so nothing here is said as fact: whoever needs none of it
leaves it aside.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from shared.book import Before, Book, Counted, Job, Journey, Person
from shared.ids import PersonId
from shared.notices.areas import POSTING, countries_of, passport_area
from shared.notices.instants import Travelled, travellers
from shared.notices.receivers import Receivers
from shared.notices.values import Called, Paper
from shared.orders.days import usable_until
from shared.plan import Trip
from shared.trade.own import looked_up
from shared.worktime.zones import local_date

_SCHENGEN = "schengen"
_PASSPORT = "passport"
_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Abroad:
    """The people of a trip and where it goes."""

    book: Book
    job: Job
    on: Travelled
    people: tuple[PersonId, ...]

    @property
    def areas(self) -> set[str]:
        """Return the passport areas of the way, the workshop's own left out."""
        here = passport_area(self.book.workshop.country)
        return _areas(self.job, self.on.journey) - {here}


def abroad(of: Abroad, trips: tuple[Trip, ...]) -> Iterator[Called]:
    """Give the reminders for the people of a trip. trips: all of the plan."""
    into_schengen = _SCHENGEN in of.areas
    if of.areas:
        yield from _passports(of, into_schengen=into_schengen)
    if into_schengen:
        yield _stay(of, trips)
    there = of.job.site.country
    if there in POSTING and there != of.book.workshop.country:
        site = Receivers(of.book, of.job, of.on.journey).site()
        yield Called(
            code=Paper.POSTING,
            before=Before.SITE,
            at=of.on.gate,
            lead=int(looked_up(of.book.workshop)("CP661").amount),
            counted=Counted.WORKING_DAYS,
            receivers=(site,),
            figures=("CP661",),
            because=(("country", there),),
        )


def _passports(of: Abroad, *, into_schengen: bool) -> Iterator[Called]:
    look = looked_up(of.book.workshop)
    back = local_date(of.on.trip.back, of.book.workshop.zone)
    months = int(look("TR24b").amount) if into_schengen else 0
    needed = usable_until(back, months)
    crew = [person for person in of.book.people if person.id in of.people]
    ending = [person.id for person in crew if _ends(person, needed)]
    unknown = [person.id for person in crew if not _passports_of(person)]
    if ending or unknown:
        yield Called(
            code=Paper.PASSPORT,
            before=Before.DEPARTURE,
            at=of.on.trip.start,
            lead=int(look("CP660").amount),
            counted=Counted.WEEKS,
            receivers=(Receivers(of.book, of.job, of.on.journey).workshop(),),
            figures=("CP660", "TR24b") if into_schengen else ("CP660",),
            because=(
                ("until", needed.isoformat()),
                ("ending", " ".join(ending)),
                ("unknown", " ".join(unknown)),
            ),
        )


def _passports_of(person: Person) -> list[date]:
    return [
        each.expires
        for each in person.certificates
        if each.certificate == _PASSPORT and each.expires is not None
    ]


def _ends(person: Person, needed: date) -> bool:
    known = _passports_of(person)
    return bool(known) and max(known) < needed


def _stay(of: Abroad, trips: tuple[Trip, ...]) -> Called:
    """Return the reminder of the days of stay, with the most that the plan has for one of them."""
    last = local_date(of.on.trip.back, of.job.site.zone)
    look = looked_up(of.book.workshop)
    days = max(_days_of_stay(of.book, person, trips, last) for person in of.people)
    return Called(
        code=Paper.STAY,
        before=Before.DEPARTURE,
        at=of.on.trip.start,
        lead=0,
        counted=Counted.DAYS,
        receivers=(Receivers(of.book, of.job, of.on.journey).workshop(),),
        figures=("TR24",),
        because=(("days", days), ("most", int(look("TR24").amount))),
    )


def _days_of_stay(book: Book, person: PersonId, trips: tuple[Trip, ...], last: date) -> int:
    """Return the days in Schengen that a plan has for somebody, in the 180 up to a day (TR24)."""
    first = last - (_STAY_DAYS - 1) * _DAY
    found: set[date] = set()
    journeys = {step.id: (job, step) for job in book.jobs for step in job.steps}
    for trip in trips:
        job, step = journeys.get(trip.step, (None, None))
        if job is None or not isinstance(step, Journey) or person not in travellers(step, trip):
            continue
        if _SCHENGEN in _areas(job, step):
            day = local_date(trip.start, job.site.zone)
            back = local_date(trip.back, job.site.zone)
            found |= {day + n * _DAY for n in range((back - day).days + 1)}
    return sum(first <= day <= last for day in found)


def _areas(job: Job, journey: Journey) -> set[str]:
    met = {country for leg in journey.legs for country in countries_of(leg, job)}
    return {passport_area(country) for country in (*met, job.site.country)}


_STAY_DAYS = 180
"""The days of which TR24 names so many."""
