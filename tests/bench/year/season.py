"""A year in a world, planned by somebody: morning after morning, until every window is over."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Protocol

from shared.book import Book, ExtraHours, Job, Journey, Person, Stage
from shared.ids import JobId, PersonId, StepId
from tests.bench.year.abrading import abrade_before, put, run_out
from tests.bench.year.clock import DAY, START, Hours, at, day_of, local
from tests.bench.year.commissions import abraded_way
from tests.bench.year.floor import Floor
from tests.bench.year.plans import ByTheSheet, Told
from tests.bench.year.reality import Reality
from tests.bench.year.rides import Ride, journey_of, latest_leave
from tests.bench.year.shop import YEAR_DAYS, hours_of, ill, shop_hours
from tests.bench.year.tasks import How, hows_of, tasks_of
from tests.bench.year.truth import Material
from tests.bench.year.world import World
from tests.books.making import FIT

MORNING = (7, 30)
LAST_DAYS = YEAR_DAYS + 90


class Planner(Protocol):
    """Somebody who plans."""

    name: str

    def accepts(self, season: "Season", job: Job) -> bool:
        """Return whether a rush is taken on that is asked for this morning."""

    def plan(self, season: "Season") -> Told:
        """Return what people are told this morning."""

    def saturday(self, season: "Season", told: Told) -> tuple[PersonId, ...]:
        """Return who of those who offer the coming Saturday is asked to come."""

    def warned(self, season: "Season", told: Told) -> frozenset[JobId]:
        """Return the jobs whose windows are said to be in danger this morning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """How a job ended."""

    job: JobId
    window_end: int
    kept: bool
    is_rush: bool


class Season:
    """A year as it goes."""

    def __init__(self, world: World, planner: Planner) -> None:
        """Begin on the first Monday with an empty workshop."""
        self.world, self.planner = world, planner
        self.book: Book = world.book
        self.floor = Floor(
            world.shop, Reality(world.truth), _hours(world.book), at(START, *MORNING)
        )  # fmt: skip
        self.shop_hours = shop_hours(world.book)
        self.accepted: list[JobId] = []
        self.declined: list[JobId] = []
        self.ended: list[Ended] = []
        self.saturday_quarters = 0
        self.changes = 0
        self.person_days = 0
        self.warnings: dict[JobId, list[date]] = {}
        self.on_the_road: dict[JobId, Ride] = {}
        self.today = START
        self.mornings: list[date] = []
        self._told = Told()
        self._materials: dict[JobId, list[Material]] = {}
        self._asked = list(world.commissions)
        self._ill = list(world.truth.illnesses(world.book))

    def run(self) -> "Season":
        """Go through all mornings."""
        for day in mornings_of(self.shop_hours):
            if not self._asked and not self.floor.jobs:
                break
            self.morning(day)
        return self

    def morning(self, day: date) -> None:
        """Go on to a working day's morning, take in what is new, plan, and tell."""
        now = at(day, *MORNING)
        self.floor.advance(now, ByTheSheet(self._told), self.openings(self.floor.now))
        self.today = day
        self.mornings.append(day)
        self._note_gone()
        self._note_ill()
        self._note_materials()
        for coat in run_out(self.floor):
            abrade_before(self.floor, coat)
        self._answer_enquiries()
        told = self.planner.plan(self)
        if _is_last_of_week(day, self.shop_hours):
            asked = self.planner.saturday(self, told)
            if asked:
                self._take_saturday(asked)
                told = self.planner.plan(self)
        told = self._with_abrading(told)
        self._count(told)
        self._told = told

    def openings(self, since: int) -> list[int]:
        """Return the moments from one on at which somebody's hours begin."""
        starts = {
            start
            for person in self.book.people
            for start, _ in self.floor.hours(person.id).spans
            if start >= since
        }
        return sorted(starts)

    @property
    def abrade_how(self) -> How:
        """Return how a coat is abraded."""
        return hows_of(abraded_way(), is_one_go=False)[0]

    @property
    def last(self) -> Told:
        """Return what people were told last."""
        return self._told

    def with_job(self, job: Job) -> Job:
        """Return a job as it is booked today: nothing begins before its material is promised."""
        for material in self.world.truth.materials(job, self.today):
            job = waiting(job, material.steps, material.promised)
        return job

    def _note_gone(self) -> None:
        for job_id, ride in list(self.floor.gone.items()):
            job = self.floor.jobs.get(job_id)
            if job is None:
                continue
            is_rush = any(c.is_rush for c in self.world.commissions if c.job.id == job_id)
            self.ended.append(
                Ended(
                    job=job_id, window_end=at(job.windows[0].end.date(), 20), kept=ride.in_time,
                    is_rush=is_rush,
                )
            )  # fmt: skip
            self.on_the_road[job_id] = ride
            self.floor.remove(job_id)

    def _note_ill(self) -> None:
        new = [each for each in self._ill if each.first <= self.today]
        self._ill = [each for each in self._ill if each.first > self.today]
        for each in new:
            self._change(each.person, lambda person, e=each: ill(person, e.first, e.back))
        if new:
            self.floor.set_hours(_hours(self.book))
        self._stand_in()

    def _change(self, person: PersonId, change: "Change") -> None:
        people = tuple(change(one) if one.id == person else one for one in self.book.people)
        self.book = replace(self.book, people=people)

    def _stand_in(self) -> None:
        """Let somebody else go where one of a crew is ill until after the last departure."""
        for job in list(self.floor.jobs.values()):
            latest = latest_leave(job)
            crew = journey_of(job).crew
            there = {p.id for p in self.book.people if _is_there(p, latest, self.floor.now)}
            missing = [person for person in crew if person not in there]
            if not missing or latest - self.floor.now > 14 * DAY:
                continue
            able = [
                person.id
                for person in self.book.people
                if any(skill.skill == FIT for skill in person.skills)
                and person.id in there
                and person.id not in crew
            ]
            kept = [person for person in crew if person in there]
            made = tuple(sorted([*kept, *able][:2]))
            if len(made) == 2:
                steps = tuple(
                    replace(step, crew=made) if isinstance(step, Journey) else step
                    for step in job.steps
                )
                put(self.floor, replace(job, steps=steps))

    def _note_materials(self) -> None:
        for job_id, materials in self._materials.items():
            for material in [each for each in materials if each.promised <= self.today]:
                materials.remove(material)
                if job_id in self.floor.jobs and material.comes > material.promised:
                    job = self.floor.jobs[job_id]
                    put(self.floor, waiting(job, material.steps, material.comes))

    def _answer_enquiries(self) -> None:
        for each in [each for each in self._asked if each.asked <= self.today]:
            self._asked.remove(each)
            job = self.with_job(each.job)
            if each.is_rush and not self.planner.accepts(self, job):
                self.declined.append(job.id)
                continue
            self.accepted.append(job.id)
            self.floor.add(job, tasks_of(job))
            self._materials[job.id] = list(self.world.truth.materials(each.job, self.today))

    def coming_saturday(self) -> dict[PersonId, ExtraHours]:
        """Return who offers the Saturday after today and is there then."""
        day = self.today + timedelta(days=5 - self.today.weekday())
        return {
            person.id: extra
            for person in self.book.people
            for extra in person.overtime_offered
            if extra.start.date() == day
            and all(away.end <= extra.start or away.start >= extra.end for away in person.leave)
        }

    def _take_saturday(self, people: Iterable[PersonId]) -> None:
        offered = self.coming_saturday()
        for person in people:
            extra = offered[person]
            self._change(
                person,
                lambda one, e=extra: replace(one, overtime_taken=(*one.overtime_taken, e)),
            )
            self.saturday_quarters += round((extra.end - extra.start).total_seconds()) // 900
        self.floor.set_hours(_hours(self.book))

    def _with_abrading(self, told: Told) -> Told:
        """Let what is to be abraded before the next morning become a step of its job."""
        until = at(self.today + timedelta(days=1), 0)
        items = []
        for item in told.items:
            if item.is_abrade and item.start < until:
                coat = StepId(item.task.removesuffix(".abrade"))
                if item.task not in self.floor.tasks:
                    abrade_before(self.floor, coat)
                item = replace(item, is_abrade=False)
            items.append(item)
        return replace(told, items=tuple(items))

    def _count(self, told: Told) -> None:
        """Count who is told something else for today than yesterday, and who is warned of."""
        first, last = at(self.today, 0), at(self.today + timedelta(days=1), 0)
        now = {
            (person, item.task)
            for item in told.of_day(first, last)
            for person in item.team
        }  # fmt: skip
        there = {p.id for p in self.book.people if self._works_today(p.id)}
        self.person_days += len(there)
        for item in self._told.of_day(first, last):
            if item.task in self.floor.over or item.task in self.floor.running:
                continue
            if item.task not in self.floor.tasks:
                continue
            taken = [p for p in item.team if p in there and (p, item.task) not in now]
            self.changes += len(taken)
        for job in self.planner.warned(self, told):
            self.warnings.setdefault(job, []).append(self.today)

    def _works_today(self, person: PersonId) -> bool:
        first = at(self.today, 0)
        return self.floor.hours(person).worked(first, first + DAY) > 0


class Change(Protocol):
    """An edit of a person."""

    def __call__(self, person: Person) -> Person:
        """Return the person as they are now."""


def _hours(book: Book) -> dict[PersonId, Hours]:
    return {person.id: hours_of(book, person) for person in book.people}


def mornings_of(shop: Hours) -> Iterable[date]:
    """Give the mornings on which the workshop works."""
    for days in range(LAST_DAYS):
        day = START + timedelta(days=days)
        if shop.worked(at(day, 0), at(day, 23)):
            yield day


def _is_last_of_week(day: date, shop: Hours) -> bool:
    """Return whether no more normal work is done before the coming Saturday."""
    if day.weekday() > 4:
        return False
    saturday = day + timedelta(days=5 - day.weekday())
    return not shop.worked(at(day + timedelta(days=1), 0), at(saturday, 0))


def _is_there(person: Person, latest: int, now: int) -> bool:
    """Return whether somebody is not on leave around the last departure."""
    first, last = local(day_of(max(latest, now)), 0), local(day_of(max(latest, now)), 23)
    return all(away.end <= first or away.start >= last for away in person.leave)


def waiting(job: Job, steps: tuple[StepId, ...], until: date) -> Job:
    """Return a job of which some steps wait for a day."""
    return replace(
        job,
        steps=tuple(
            replace(step, not_before=until)
            if isinstance(step, Stage) and step.id in steps
            else step
            for step in job.steps
        ),
    )
