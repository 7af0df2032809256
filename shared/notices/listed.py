"""Every notice and paper of a job by its latest date, from the book and the trips of a plan."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime

from shared.book import Book, Job, Journey, Notice
from shared.notices.counting import last_moment
from shared.notices.instants import Travelled
from shared.notices.quiet import is_quiet
from shared.notices.values import ONCE, Due
from shared.plan import Plan, Trip
from shared.worktime.zones import local_date


def dues(book: Book, job: Job, plan: Plan | Sequence[Trip], now: datetime) -> tuple[Due, ...]:
    """Return what is to be given, asked for and had for a job, the soonest first.

    A journey without a trip has no dates, so nothing is due for it. A notice of the book takes
    the place of the derived one with its id, and stays besides where there is none.

    Raises
    ------
    UnknownZone
        If a notice names a zone that is none.
    """
    if is_quiet(book, job):
        return ()
    from shared.notices.of_trip import OfTrip

    trips = tuple(plan.trips if isinstance(plan, Plan) else plan)
    found: list[Due] = []
    first = True
    for step in job.steps:
        trip = next((each for each in trips if each.step == step.id), None)
        if isinstance(step, Journey) and trip is not None:
            of = OfTrip(book, job, Travelled(journey=step, trip=trip))
            found += of.found(trips, is_first=first)
            first = False
    found.sort(key=lambda due: (last_moment(due.by, due.receiver), due.id))
    return tuple(_told(due, now) for due in _once(found))


def _once(found: list[Due]) -> Iterator[Due]:
    """Give dues in their order, of what a job has once the first only."""
    seen = set()
    for due in found:
        if due.code not in ONCE or due.id not in seen:
            yield due
        seen.add(due.id)


def notice_of(due: Due) -> Notice:
    """Return a due as a notice of the book that stands in its place."""
    receiver = due.receiver
    return Notice(
        id=due.id,
        name=due.name,
        lead=due.lead,
        counted=due.counted,
        before=due.before,
        journey=due.journey,
        office=receiver.name,
        country=receiver.country,
        subdivision=receiver.subdivision,
        zone=receiver.zone,
        office_closes=receiver.closes,
        done=due.done,
    )


def _told(due: Due, now: datetime) -> Due:
    """Return a due with whether it is too late now, and by how many days."""
    if due.done is not None or now < last_moment(due.by, due.receiver):
        return due
    today = local_date(now, due.receiver.zone)
    return replace(due, is_over=True, late_days=max(0, (today - due.day).days))
