"""What stands in calendars: a plan's work, moments, journeys, cures and windows. No Qt."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from app.exchange.given import Given
from app.exchange.work import Worked, joined, stage_text, worked
from app.window.wall.parts import is_work
from app.words import give as say
from app.words import sheets as on_sheets
from app.words import window as wording
from app.words.voice import capital
from shared.book import FactKind, Gate, GateKind, Job, Journey, Stage, Standing
from shared.ids import JobId, PersonId, PlaceId
from shared.journeys.clocks import clocks_of
from shared.plan import Placement, Trip

if TYPE_CHECKING:
    from scheduler.cured import Cured

_BEGUN = frozenset({FactKind.DONE, FactKind.PICTURES})


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry of a calendar.

    key: what it is known by in every plan of the book. end: None for a moment. zone, end_zone: by
    whose clocks start and end are written. takes_time: whoever it is about is not free then.
    is_sure: of a firm job. people, places, job: whose calendars it stands in.
    """

    key: str
    start: datetime
    end: datetime | None
    zone: str
    end_zone: str
    title: str
    where: str = ""
    lines: tuple[str, ...] = ()
    takes_time: bool = True
    is_sure: bool = True
    people: tuple[PersonId, ...] = ()
    places: tuple[PlaceId, ...] = ()
    job: JobId | None = None


def entries(given: Given) -> tuple[Entry, ...]:
    """Return all entries of a plan, by their starts.

    Why somebody is away stands in none, nor that they are.
    """
    work = tuple(worked(given.book, given.plan, given.words))
    found = (*_of_work(given, work), *_moments(given), *_trips(given), *_others(given))
    every = (*found, *_cures(given, work), *_windows(given))
    return tuple(sorted(every, key=lambda each: (each.start, each.key)))


def _of_work(given: Given, work: tuple[Worked, ...]) -> Iterator[Entry]:
    words, zone = given.words, given.book.workshop.zone
    for each in work:
        placed = each.placed
        for at, span in enumerate(joined(each.spans)):
            yield Entry(
                key=f"{each.key}|{at}",
                start=span.start,
                end=span.end,
                zone=zone,
                end_zone=zone,
                title=words.say(say.ENTRY, what=each.what, stage=each.stage),
                where=words.names.of("place", placed.place) if placed.place else "",
                lines=(wording.kind(words, each.kind),),
                is_sure=_is_sure(each.job),
                people=placed.people,
                places=(placed.place,) if placed.place else (),
                job=each.job.id,
            )


def _is_sure(job: Job) -> bool:
    return job.standing is Standing.FIRM


def _moments(given: Given) -> Iterator[Entry]:
    """Give pictures, answers, and gates at which nobody works."""
    words, zone = given.words, given.book.workshop.zone
    jobs = {job.id: job for job in given.book.jobs}
    steps = {step.id: step for job in given.book.jobs for step in job.steps}
    out = {fact.step for fact in given.book.facts if fact.kind in _BEGUN}
    for placed in given.plan.placements:
        job, step = jobs.get(placed.job), steps.get(placed.step)
        if job is None or not isinstance(step, Gate) or is_work(step, placed):
            continue
        key = f"{step.id}|{placed.round}|{placed.part}"
        moment = Entry(
            key=key,
            start=placed.start,
            end=None,
            zone=zone,
            end_zone=zone,
            title=words.say(say.ENTRY, what=job.name, stage=stage_text(words, step, placed)),
            takes_time=False,
            is_sure=_is_sure(job),
            job=job.id,
        )
        if step.gate is not GateKind.ANSWER:
            yield moment
            continue
        if step.id not in out or placed.round > 1:
            pictures = capital(words.say(on_sheets.DUE_PICTURES, job=job.name))
            yield replace(moment, key=f"{key}|pictures", title=pictures)
        answer = capital(words.say(on_sheets.DUE_ANSWER, job=job.name))
        yield replace(moment, start=placed.end, title=answer)


def _trips(given: Given) -> Iterator[Entry]:
    jobs = {job.id: job for job in given.book.jobs}
    steps = {step.id: step for job in given.book.jobs for step in job.steps}
    for trip in given.plan.trips:
        job, step = jobs.get(trip.job), steps.get(trip.step)
        if job is not None and isinstance(step, Journey):
            yield _whole(given, job, step, trip)
            yield from _legs(given, job, step, trip)


def _whole(given: Given, job: Job, step: Journey, trip: Trip) -> Entry:
    """Return a journey as its crew have it, from when they leave."""
    zone = given.book.workshop.zone
    clocks = clocks_of(given.book, job, step.legs)
    return Entry(
        key=f"{step.id}|trip",
        start=trip.crew_from or trip.start,
        end=trip.end,
        zone=zone,
        end_zone=clocks[-1].end if clocks else zone,
        title=given.words.say(say.ENTRY, what=job.name, stage=step.name),
        where=job.site.name,
        is_sure=_is_sure(job),
        people=step.crew,
    )


def _legs(given: Given, job: Job, step: Journey, trip: Trip) -> Iterator[Entry]:
    words = given.words
    clocks = clocks_of(given.book, job, step.legs)
    for at, (leg, clock, times) in enumerate(zip(step.legs, clocks, trip.legs, strict=True)):
        name = leg.name or capital(wording.leg(words, leg.kind))
        yield Entry(
            key=f"{step.id}|leg|{at}",
            start=times.start,
            end=times.end if times.end > times.start else None,
            zone=clock.start,
            end_zone=clock.end,
            title=words.say(say.ENTRY, what=job.name, stage=name),
            where=job.site.name if leg.inside else "",
            is_sure=_is_sure(job),
            job=job.id,
        )


def _others(given: Given) -> Iterator[Entry]:
    words, zone = given.words, given.book.workshop.zone
    for work in given.book.other_work:
        yield Entry(
            key=f"other|{work.id}",
            start=work.start,
            end=work.end,
            zone=zone,
            end_zone=zone,
            title=capital(work.name),
            where=words.series(words.names.of("place", one) for one in work.places),
            people=work.people,
            places=work.places,
        )


def _cures(given: Given, work: tuple[Worked, ...]) -> Iterator[Entry]:
    # As on the sheets: it brings in all that reads books for the engine.
    from scheduler.cured import cured

    known = cured(given.book, given.plan)
    for each in work:
        one = known.get(each.step.id)
        if one is None or one.ready <= one.end or each.placed.part:
            continue
        if isinstance(each.step, Stage):
            yield _cure(given, each, one)


def _cure(given: Given, each: Worked, one: "Cured") -> Entry:
    words, zone = given.words, given.book.workshop.zone
    placed: Placement = each.placed
    cures = wording.cure_label(words, each.kind, str(one.hours))
    return Entry(
        key=f"{each.key}|cure",
        start=one.end,
        end=one.ready,
        zone=zone,
        end_zone=zone,
        title=words.say(on_sheets.CURE_WHAT_BARE, what=each.what, cures=cures),
        where=words.names.of("place", placed.place) if placed.place else "",
        lines=(words.say(say.LEAVE_ALONE),),
        takes_time=False,
        is_sure=_is_sure(each.job),
        places=(placed.place,) if placed.place else (),
        job=each.job.id,
    )


def _windows(given: Given) -> Iterator[Entry]:
    for job in given.book.jobs:
        held = job.held_window
        if job.id not in given.plan.jobs or held is None:
            continue
        yield Entry(
            key=f"{job.id}|window",
            start=held.start,
            end=held.end,
            zone=job.site.zone,
            end_zone=job.site.zone,
            title=given.words.say(say.WINDOW, job=job.name),
            where=job.site.name,
            takes_time=False,
            is_sure=_is_sure(job),
            job=job.id,
        )
