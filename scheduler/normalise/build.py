"""A book as an integer problem, with the names for the way back."""

from collections.abc import Collection, Mapping
from datetime import datetime

from scheduler.grid import Grid, origin_of
from scheduler.normalise.air import keep_apart, note_done
from scheduler.normalise.frame import Frame
from scheduler.normalise.gaps import not_honoured
from scheduler.normalise.gone import gone_job, hold_crew
from scheduler.normalise.jobs import Jobs
from scheduler.normalise.memory import Memory
from scheduler.normalise.names import Normal
from scheduler.normalise.planned import horizon_of, in_order_of_need, planned_jobs
from scheduler.normalise.steps import Steps
from scheduler.problem import Problem
from shared.as_told import with_as_told
from shared.book import Book
from shared.files.write import digest
from shared.findings import Clash
from shared.ids import JobId, StepId
from shared.plan import MadeFrom


def normalise(
    book: Book,
    now: datetime,
    asked: Collection[JobId] = (),
    *,
    left_out: Mapping[StepId, Clash | None] | None = None,
    late: Mapping[JobId, int] | None = None,
    memory: Memory | None = None,
) -> Normal:
    """Return a book as an integer problem, as of `now`; the only place that rounds.

    asked: enquiries to plan beside the firm and the still pencilled jobs. left_out: steps that
    no way was found to place; they, and what follows them, stand as unplaced. late: by job, from
    which step on departures that miss the window are wanted as well; others have them anyway where
    they cost nothing to find. memory: of a former call, of which it takes over what is still the
    same; it remembers this call afterwards.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of a zone or of the holidays of a country in the book.
    ValueError
        If steps of a job come after each other in a ring.
    """
    memory = Memory() if memory is None else memory
    written, book = book, with_as_told(book, now)
    planned = planned_jobs(book, now, asked)
    origin = origin_of(now)
    horizon = horizon_of(book, planned, origin, memory.hours(planned))
    grid = Grid(origin=origin, horizon=horizon, zone=book.workshop.zone)
    frame = Frame(book, now, grid, memory.laid(grid))
    found = {job.id: gone for job in planned if (gone := gone_job(frame, job)) is not None}
    for gone in found.values():
        hold_crew(frame, gone)
    note_done(frame, planned)
    here = tuple(job for job in planned if job.id not in found)
    steps = Steps(frame, here, left_out or {})
    jobs = Jobs(frame, steps, late or {}, memory.known(frame, steps))
    for job in in_order_of_need(here):
        jobs.add(job)
    keep_apart(frame, steps, [kept.part for kept in jobs.kept.values()])
    memory.keep(frame, jobs.kept)
    return Normal(
        book=book,
        made_from=MadeFrom(revision=book.revision, digest=digest(written, memory.texts)),
        now=now,
        origin=origin,
        problem=_problem(frame, steps, jobs),
        planned=tuple(job.id for job in planned),
        jobs=tuple(jobs.names),
        gone=tuple(found.values()),
        stages=tuple(steps.names),
        ways=tuple(steps.ways),
        workers=tuple(person.id for person in book.people),
        rooms=tuple(frame.rooms.names),
        clashes=tuple(steps.clashes),
        unplaced=tuple(steps.unplaced),
        not_honoured=not_honoured(book, planned),
    )


def _problem(frame: Frame, steps: Steps, jobs: Jobs) -> Problem:
    problem = Problem(
        horizon=frame.grid.horizon,
        stages=steps.bound(),
        edges=tuple(steps.edges),
        calendars=tuple(frame.calendars.made),
        workers=tuple(frame.workers),
        rooms=tuple(frame.rooms.made),
        holds=tuple(jobs.standings.holds),
        jobs=tuple(jobs.aims),
        shut=frame.shut,
    )
    return frame.laws.complete(problem)
