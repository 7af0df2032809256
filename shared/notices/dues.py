"""Every notice and paper of a job by its latest date, from the book and the trips of a plan."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from shared.book import Before, Book, Job, Journey, Notice
from shared.notices.counting import earliest, knows_holidays, last_moment, latest
from shared.notices.values import Called, Due, Paper
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
    trips = tuple(plan.trips if isinstance(plan, Plan) else plan)
    found: list[Due] = []
    first = True
    for step in job.steps:
        trip = next((each for each in trips if each.step == step.id), None)
        if isinstance(step, Journey) and trip is not None:
            found += _of_trip(book, job, step, trip, trips, is_first=first)
            first = False
    told = (_told(due, now) for due in found)
    return tuple(sorted(told, key=lambda due: (last_moment(due.by, due.receiver), due.id)))


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


def _of_trip(
    book: Book,
    job: Job,
    journey: Journey,
    trip: Trip,
    trips: tuple[Trip, ...],
    *,
    is_first: bool,
) -> Iterator[Due]:
    """Give the dues of one trip; notices of no journey belong to the job's first."""
    from shared.notices.papers import papers_of

    notices = {
        notice.id: notice
        for notice in job.notices
        if notice.journey == journey.id or (notice.journey is None and is_first)
    }
    everywhere = {notice.id: notice for notice in job.notices if notice.journey is None}
    seen: Counter[str] = Counter()
    by_code: dict[Paper, Due] = {}
    for called in papers_of(book, job, journey, trip, trips):
        seen[called.code] += 1
        number = seen[called.code]
        name = str(called.code) if number == 1 else f"{called.code}-{number}"
        due = _derived(job, journey, called, name, by_code)
        by_code.setdefault(called.code, due)
        notice = notices.pop(name, None) or everywhere.get(name)
        yield due if notice is None else _replaced(book, job, journey, trip, due, notice)
    for notice in notices.values():
        yield _own(book, job, journey, trip, notice)


def _derived(
    job: Job, journey: Journey, called: Called, name: str, by_code: Mapping[Paper, Due]
) -> Due:
    at = called.at
    if called.ahead_of is not None:
        at = last_moment(by_code[called.ahead_of].by, by_code[called.ahead_of].receiver)
    receiver, by = earliest(called.receivers, at, called.lead, called.counted)
    because = called.because
    if not knows_holidays(receiver):
        because = (*because, ("holidays", "unknown"))
    return Due(
        id=name,
        code=called.code,
        job=job.id,
        journey=journey.id,
        by=by,
        before=called.before,
        at=called.at,
        lead=called.lead,
        counted=called.counted,
        receiver=receiver,
        figures=called.figures,
        because=because,
    )


def _replaced(book: Book, job: Job, journey: Journey, trip: Trip, due: Due, notice: Notice) -> Due:
    """Return a derived due as the book has it; what calls for it stays told."""
    own = _own(book, job, journey, trip, notice)
    return replace(own, code=due.code, because=due.because, figures=due.figures)


def _own(book: Book, job: Job, journey: Journey, trip: Trip, notice: Notice) -> Due:
    from shared.notices.instants import Travelled
    from shared.notices.receivers import Receivers

    on = Travelled(journey=journey, trip=trip)
    at = on.at(notice.before)
    because = () if at is not None else (("instead_of", str(notice.before)),)
    receiver = Receivers(book, job, journey).of_notice(notice)
    at = trip.start if at is None else at
    return Due(
        id=notice.id,
        code=Paper.OWN,
        job=job.id,
        journey=journey.id,
        by=latest(receiver, at, notice.lead, notice.counted),
        before=notice.before if not because else Before.DEPARTURE,
        at=at,
        lead=notice.lead,
        counted=notice.counted,
        receiver=receiver,
        name=notice.name,
        because=because,
        done=notice.done,
    )


def _told(due: Due, now: datetime) -> Due:
    """Return a due with whether it is too late now, and by how many days."""
    if due.done is not None or now < last_moment(due.by, due.receiver):
        return due
    today = local_date(now, due.receiver.zone)
    return replace(due, is_over=True, late_days=max(0, (today - due.day).days))
