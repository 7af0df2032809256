"""Rests of the crew that lie away from home, for each of which a bed is wanted."""

from datetime import datetime, time, timedelta

from shared.book import Book, Job
from shared.delivery.judged import ON_SITE
from shared.notices.instants import Travelled
from shared.plan import Doing, Stretch
from shared.trade.own import looked_up
from shared.worktime import local_instant
from shared.worktime.zones import local_date

_DAY = timedelta(days=1)
_NIGHT = (time(0), time(5))
"""A stretch away that holds these hours by the site's clock is a night. Common practice."""

_AT_REST = (Doing.REST, Doing.STAND)

Night = tuple[datetime, datetime]


def nights(book: Book, job: Job, on: Travelled) -> tuple[Night, ...]:
    """Return the rests of the crew away from home that are long enough for a bed (CP663).

    Where drivers' hours are judged, those on their own way and at the site; else, for a crew, the
    nights between getting to the site and the end. Drivers rest in their cab, but for a regular
    weekly rest (DR07b).
    """
    if not on.journey.crew:
        return ()
    if not on.trip.stretches:
        return _dark(job, on)
    at_site = frozenset(on.legs(*ON_SITE))
    here = tuple(each for each in on.trip.stretches if each.leg in at_site)
    least = timedelta(hours=float(looked_up(book.workshop)("CP663").amount))
    found = [*_rests(on.trip.travel), *_rests(here)]
    return tuple(sorted(each for each in found if each[1] - each[0] >= least))


def _rests(stretches: tuple[Stretch, ...]) -> tuple[Night, ...]:
    """Return the rests of some stretches, those that touch as one."""
    rests = sorted((each.start, each.end) for each in stretches if each.doing in _AT_REST)
    joined: list[Night] = []
    for start, end in rests:
        if joined and joined[-1][1] >= start:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return tuple(joined)


def _dark(job: Job, on: Travelled) -> tuple[Night, ...]:
    """Return the nights at the site of a journey without hours, each from midnight on."""
    zone = job.site.zone
    day, last = local_date(on.gate, zone), local_date(on.trip.end, zone)
    found = []
    while day <= last:
        start = local_instant(day, _NIGHT[0], zone, opening=True)
        end = local_instant(day, _NIGHT[1], zone, opening=False)
        if on.gate <= start and end <= on.trip.end:
            found.append((start, end))
        day += _DAY
    return tuple(found)
