"""Edits of a book that is planned and told, as they come in a workshop; the same draw, the same."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from random import Random

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.edited import Before
from scheduler.normalise import normalise
from scheduler.shifts import first_schedule, improve_by_shifts
from scheduler.stop import AfterEffort
from scheduler.unfold import to_plan
from shared.book import Book, Fact, FactKind, Job, Leave, Stage, Told
from shared.edits import add_job, add_leave, change_step, move_window, remove_job, tell_fact
from shared.edits.jobs import renamed
from shared.ids import FactId, JobId
from shared.plan import Placement, Plan

ILL_DAYS = 3
LONGER_HOURS = 3
NEW_STAGES = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A book that is planned and told, as of now, with what the engine knew of it."""

    book: Book
    now: datetime
    plan: Plan
    before: Before


Edit = Callable[[Planned, Random], Book]


def planned(book: Book, passes: int = 0) -> Planned:
    """Plan a book, better the plan by so many passes, and tell everybody."""
    now = book.as_of
    assert now is not None
    normal = normalise(book, now)
    index = Index(normal.problem)
    found = first_schedule(index, 1)
    assert not isinstance(found, Unfit)
    found = improve_by_shifts(index, found, seed=1, stop=AfterEffort(passes))
    plan = to_plan(normal, found)
    told = replace(book, told=Told(plan=plan, at=now, told_by="Mira"), plan=plan)
    before = Before(normal=normalise(told, now), schedule=found)
    return Planned(book=told, now=now, plan=plan, before=before)


def longer(was: Planned, draw: Random) -> Book:
    """Let a stage take three hours longer for each pair of hands."""
    stages = [
        step
        for job in was.book.jobs
        for step in job.steps
        if isinstance(step, Stage) and step.ways and not step.in_one_go
    ]
    step = draw.choice(stages)
    ways = tuple(
        replace(way, hours=replace(way.hours, likely=more, high=max(more, way.hours.high)))
        for way in step.ways
        if (more := way.hours.likely + LONGER_HOURS * sum(need.can for need in way.needs))
    )
    return change_step(was.book, replace(step, ways=ways)).book


def ill(was: Planned, draw: Random) -> Book:
    """Let somebody be ill for three days of the plan, when they have something to do."""
    hit = draw.choice([one for one in was.plan.placements if one.people])
    since = hit.start.replace(hour=0, minute=0)
    away = Leave(start=since, end=since + timedelta(days=ILL_DAYS), reason="ill")
    return add_leave(was.book, draw.choice(hit.people), away).book


def new_job(was: Planned, draw: Random) -> Book:
    """Take on a job of about forty steps, like one that there is, some weeks after it."""
    job = min(was.book.jobs, key=lambda one: (abs(len(one.steps) - NEW_STAGES), one.id))
    copy = renamed(was.book, job, JobId(f"{job.id}-more"))
    held = copy.held_window
    assert held is not None
    weeks = timedelta(weeks=draw.randrange(2, 9))
    book = add_job(was.book, replace(copy, name="One more")).book
    return move_window(book, copy.id, held.start + weeks, held.end + weeks).book


def sooner(was: Planned, draw: Random) -> Book:
    """Let a window be a day earlier."""
    job = _drawn_job(was, draw)
    held = job.held_window
    assert held is not None
    day = timedelta(days=1)
    return move_window(was.book, job.id, held.start - day, held.end - day).book


def removed(was: Planned, draw: Random) -> Book:
    """Let a job go."""
    return remove_job(was.book, _drawn_job(was, draw).id).book


def done(was: Planned, draw: Random) -> Book:
    """Let the first stage of the plan be done already."""
    first = _first_stage(was)
    fact = Fact(id=FactId("done"), kind=FactKind.DONE, step=first.step, at=was.now, told_by="Mira")
    return tell_fact(was.book, fact).book


def smaller(was: Planned, draw: Random) -> Book:
    """Let one of the places counted by area be a quarter smaller."""
    floors = [place for place in was.book.places if place.area_m2 is not None]
    floor = draw.choice(floors)
    assert floor.area_m2 is not None
    less = replace(floor, area_m2=floor.area_m2 * 3 / 4)
    places = tuple(less if place is floor else place for place in was.book.places)
    return replace(was.book, places=places, revision=was.book.revision + 1)


def _drawn_job(was: Planned, draw: Random) -> Job:
    return draw.choice([one for one in was.book.jobs if one.held_window is not None])


def _first_stage(was: Planned) -> Placement:
    stages = {step.id for job in was.book.jobs for step in job.steps if isinstance(step, Stage)}
    found = [one for one in was.plan.placements if one.step in stages and not one.part]
    return min(found, key=lambda one: (one.start, one.step))
