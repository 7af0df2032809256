"""Looking into a normalised book by the book's own names."""

from datetime import datetime

from scheduler.normalise import Normal, normalise
from scheduler.outcome import JobOutcome, Outcome
from scheduler.problem import Edge, JobAim, Room, Stage, Worker
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book, Job
from shared.ids import JobId
from shared.plan import Placement, Trip
from shared.units import instant_of
from tests.builders import NOW, a_book, a_floor, a_gate, a_job, a_journey, a_place


def normal_of(book: Book, now: datetime = NOW, asked: tuple[str, ...] = ()) -> Normal:
    return normalise(book, now, tuple(JobId(job) for job in asked))


def position(normal: Normal, step: str, round_: int = 0, part: str = "") -> int:
    """Give the position of the stage that stands for a step."""
    found = [
        at
        for at, name in enumerate(normal.stages)
        if (name.step, name.round, name.part) == (step, round_, part)
    ]
    (only,) = found
    return only


def stage_of(normal: Normal, step: str, round_: int = 0, part: str = "") -> Stage:
    return normal.problem.stages[position(normal, step, round_, part)]


def edges_of(normal: Normal, before: str, after: str, round_: int = 0) -> list[Edge]:
    """Give the edges between two steps; round_: of the one before."""
    first, second = position(normal, before, round_), position(normal, after)
    edges = normal.problem.edges
    return [edge for edge in edges if (edge.before, edge.after) == (first, second)]


def worker_of(normal: Normal, person: str) -> Worker:
    workers: tuple[str, ...] = normal.workers
    return normal.problem.workers[workers.index(person)]


def room_of(normal: Normal, name: str) -> Room:
    names = [room.place or room.equipment for room in normal.rooms]
    return normal.problem.rooms[names.index(name)]  # type: ignore[arg-type]


def aim_of(normal: Normal, job: str) -> JobAim:
    names = [name.job.id for name in normal.jobs]
    return normal.problem.jobs[names.index(JobId(job))]


def opens(normal: Normal, person: str) -> list[tuple[datetime, datetime]]:
    """Give a person's open stretches as instants."""
    calendar = worker_of(normal, person).calendar
    assert calendar is not None
    return [
        (instant_of(normal.origin, start), instant_of(normal.origin, end))
        for start, end in normal.problem.calendars[calendar].open
    ]


def codes(normal: Normal) -> list[str]:
    return [clash.code for _, clash in normal.clashes]


def solved(
    book: Book, now: datetime = NOW, effort: int = 3, asked: tuple[str, ...] = ()
) -> Outcome:
    """Give the answer for a book; its check must have found nothing."""
    ids = tuple(JobId(job) for job in asked)
    outcome = solve(SolveRequest(book=book, now=now, asked=ids, effort=effort))
    assert not outcome.check.breaches
    return outcome


def placed(outcome: Outcome, step: str, round_: int = 0, part: str = "") -> Placement:
    (found,) = [
        each
        for each in outcome.plan.placements
        if (each.step, each.round, each.part) == (step, round_, part)
    ]
    return found


def trip_of(outcome: Outcome, step: str) -> Trip:
    (found,) = [trip for trip in outcome.plan.trips if trip.step == step]
    return found


def job_of(outcome: Outcome, job: str) -> JobOutcome:
    (found,) = [each for each in outcome.jobs if each.id == job]
    return found


def of_steps(*steps: object, **changes: object) -> Book:
    """Give a book of one job with these steps, then loading and a journey."""
    job: Job = a_job(
        steps=(*steps, a_gate(), a_journey()),  # type: ignore[arg-type]
        **{"segments": None, **changes},  # type: ignore[arg-type]
    )
    return a_book(job, places=(a_place(), a_floor()))


__all__ = [name for name in dir() if not name.startswith("_")]
