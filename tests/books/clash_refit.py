"""A job beside the one that a clash is about: a refit of one piece that takes what both need."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

from shared.book import (
    Book,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Hours,
    Job,
    Journey,
    Kind,
    Need,
    Pin,
    Stage,
    Step,
    Way,
)
from shared.ids import FactId, PersonId, PlaceId, SkillId, StepId
from shared.worktime import DayCalendar, HolidayRule, is_working_day
from tests.books.clash_ground import Ground, another
from tests.books.clash_setting import Plant, named
from tests.books.clash_timing import DAY, Held
from tests.books.commissions import at
from tests.books.making import FINISH, SPRAY
from tests.books.serial import Planner, worked

BOOTH, DUSTY = PlaceId("booth"), PlaceId("bay-2")
FOAM_BAY, RESIN_BAY, FILL_BAY = PlaceId("bay-1"), PlaceId("bay-3"), PlaceId("bay-4")
SHARED_AIR = "hall"
Stretch = tuple[datetime, datetime]


def refit(made: Ground, stage: Stage) -> Book:
    """Give the book with its last job a refit: one stage on one piece, loading, journey."""
    last = made.book.jobs[-1]
    piece = last.segments[0]
    kept: list[Step] = [replace(stage, segments=(piece.id,))]
    for step in last.steps:
        if isinstance(step, Journey) or (isinstance(step, Gate) and step.gate is GateKind.LOADING):
            kept.append(step)
    job = replace(last, segments=(piece,), steps=tuple(kept))
    return replace(made.book, jobs=(*made.book.jobs[:-1], job))


def stage_id(made: Ground, word: str) -> StepId:
    """Give the id of a stage of the refit."""
    return StepId(f"{made.book.jobs[-1].segments[0].id}.{word}")


def _way(skill: SkillId, hours: Decimal, where: PlaceId) -> Way:
    need = Need(skill=skill)
    told = Hours(low=hours, likely=hours, high=hours)
    return Way(id="1 person", needs=(need,), hours=told, places=(where,))


def _workday(made: Ground, instant: datetime) -> datetime:
    """Give the morning of the last working day that is no later, but none before now."""
    shop, day = made.book.workshop, instant.date()
    rule = HolidayRule(country=shop.country, subdivision=shop.subdivision)
    days = DayCalendar(holidays=rule)
    while not is_working_day(days, day):
        day -= DAY
    return max(at(day, 8), at(made.now.date(), 8))


def _all_there(book: Book) -> Book:
    """Let nobody be on leave."""
    return replace(book, people=tuple(replace(each, leave=()) for each in book.people))


def pinned_coat(made: Ground, mine: list[Stage], when: Stretch) -> Plant:
    """Let the foreman have pinned another piece into the booth, where it stays till it is hard."""
    start = _workday(made, when[0])
    hours = Decimal(made.draw.randrange(3, 5))
    hard = Decimal(int((when[1] - start) / timedelta(hours=1)) - int(hours))
    coat = Stage(
        id=stage_id(made, "enamel"),
        name="enamel",
        kind=Kind.PAINT,
        ways=(_way(SPRAY, hours, BOOTH),),
        in_one_go=True,
        stays=True,
        cure_hours=hard,
        pin=Pin(start=start),
    )
    return Plant(
        twin=_all_there(refit(made, replace(coat, pin=None))),
        book=_all_there(refit(made, coat)),
        cause=named("place", BOOTH),
        undo=named("lift_pin", coat.id),
        held=Held(not_before={stage.id: when[1] for stage in mine}),
    )


def in_own_air(made: Ground) -> Ground:
    """Give carving, resin and dust their own bays, so that only a refit shares air with spray."""
    bays = {"block": FOAM_BAY, "carve": FOAM_BAY, "hollow": FILL_BAY, "fair": FILL_BAY}
    bays |= {"sand": FILL_BAY}

    def moved(step: Step) -> Step:
        if not isinstance(step, Stage) or BOOTH in step.ways[0].places:
            return step
        where = bays.get(step.name, RESIN_BAY)
        ways = tuple(replace(w, places=(where,) if w.places else ()) for w in step.ways)
        return replace(step, ways=ways)

    def of(job: Job) -> Job:
        return replace(job, steps=tuple(moved(step) for step in job.steps))

    workshop = replace(made.book.workshop, apart=None)
    jobs = tuple(of(job) for job in made.book.jobs)
    return replace(made, book=_all_there(replace(made.book, workshop=workshop, jobs=jobs)))


def dusty_work(
    made: Ground, days: int, start: datetime | None
) -> tuple[Book, tuple[PersonId, datetime, datetime]]:
    """Give the book with a refit that is sanded for so many working days: by whom, from, until.

    start: None means that it is under way; else it is pinned to the morning of such a day.
    """
    who = another(made, FINISH)
    made = replace(made, book=replace(made.book, people=(*made.book.people, who)))
    hours = days * made.book.workshop.useful_hours
    sanding = Stage(
        id=stage_id(made, "strip"),
        name="strip",
        kind=Kind.FILL,
        ways=(_way(FINISH, hours, DUSTY),),
    )
    begins = made.now if start is None else _workday(made, start)
    planner = Planner(made.book, made.now)
    need = planner.bench_quarters(sanding.ways[0], (who,), pauses=True)
    _, end = worked(planner.hours_of(who)[0], need, begins)
    if start is not None:
        return refit(made, replace(sanding, pin=Pin(start=begins, people=(who.id,)))), (
            who.id,
            begins,
            end,
        )
    fact = Fact(
        id=FactId("strip-runs"),
        kind=FactKind.RUNNING,
        step=sanding.id,
        at=made.now - DAY * 3,
        told_by="the foreman",
        people=(who.id,),
        place=DUSTY,
        remaining_hours=hours,
    )
    return replace(refit(made, sanding), facts=(fact,)), (who.id, begins, end)


def sharing(book: Book, *, is_shared: bool) -> Book:
    """Let the dusty bay and the booth share their air, or not."""
    air = SHARED_AIR if is_shared else None
    places = (replace(each, air=air) if each.id in (BOOTH, DUSTY) else each for each in book.places)
    return replace(book, places=tuple(places))
