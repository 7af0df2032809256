"""Rows that were read become things of a book: all of them, or none where one can't be. No Qt."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from app.exchange.bring.columns import Found
from app.exchange.bring.names import Known, Misnamed, Taken, slug
from shared.asking import country_named
from shared.book import (
    AT_SEA,
    Book,
    Client,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Hours,
    Job,
    Journey,
    Need,
    Person,
    Segment,
    Site,
    Skill,
    SkillLevel,
    Stage,
    Standing,
    Timetable,
    Way,
    Window,
)
from shared.ids import FactId, JobId, PersonId, SegmentId, SkillId, StepId, WindowId

_WINDOW = "window"


@dataclass(slots=True)
class Context:
    """What rows are taken into. now: nothing recorded lies behind it. by: who tells it."""

    book: Book
    known: Known
    now: datetime
    by: str
    left_count: int = 0


Values = Mapping[str, Any]


def take_jobs(context: Context, rows: Sequence[Found], taken: Taken) -> Book:
    """Add jobs; those whose names are there already are left as they are."""
    made: list[Job] = []
    for row in rows:
        with taken.row(row):
            name = row.values["job"]
            if context.known.jobs(name):
                context.left_count += 1
                continue
            taken.once("job", name)
            made.append(_job(context, row.values))
    return replace(context.book, jobs=(*context.book.jobs, *made))


def _job(context: Context, values: Values) -> Job:
    country = country_named(values["country"])
    if country is None:
        raise Misnamed("country", "unknown_country", value=values["country"])
    zone = ZoneInfo(country.zone)
    start, end = (values[each].replace(tzinfo=zone) for each in ("start", "end"))
    if start >= end:
        raise Misnamed("end", "ends_first", value=str(values["end"]))
    standing = values.get("standing", Standing.FIRM)
    until = values.get("pencilled_until")
    if standing is Standing.PENCILLED and until is None:
        raise Misnamed("pencilled_until", "cell_missing")
    place: dict[str, Any] = {
        "zone": country.zone,
        "country": country.code,
        "subdivision": country.subdivision,
    }
    client = Client(name=values["client"], answer_days=values.get("answer_days", 10), **place)
    return Job(
        id=JobId(context.known.fresh("job", slug(values["job"]))),
        name=values["job"],
        client=client,
        site=Site(name=values.get("site", values["client"]), **place),
        windows=(Window(id=WindowId(_WINDOW), start=start, end=end),),
        segments=(),
        steps=(),
        standing=standing,
        pencilled_until=until if standing is Standing.PENCILLED else None,
        not_before=values.get("not_before"),
        price=values.get("price"),
    )


def take_stages(context: Context, rows: Sequence[Found], taken: Taken) -> Book:
    """Add stages to jobs of the book in the order of the rows, before the loading."""
    segments: dict[JobId, dict[str, Segment]] = {}
    stages: dict[JobId, list[Stage]] = defaultdict(list)
    for row in rows:
        with taken.row(row):
            job = context.known.job(row.values["job"])
            mine = segments.setdefault(job.id, {each.name: each for each in job.segments})
            stage = _stage(context, job, mine, row.values)
            stages[job.id].append(stage)
    jobs = tuple(
        _with_stages(job, tuple(segments[job.id].values()), tuple(stages[job.id]))
        if job.id in stages
        else job
        for job in context.book.jobs
    )
    return replace(context.book, jobs=jobs)


def _with_stages(job: Job, segments: tuple[Segment, ...], stages: tuple[Stage, ...]) -> Job:
    at = next(
        (
            at
            for at, step in enumerate(job.steps)
            if isinstance(step, Journey)
            or (isinstance(step, Gate) and step.gate is GateKind.LOADING)
        ),
        len(job.steps),
    )
    return replace(job, segments=segments, steps=(*job.steps[:at], *stages, *job.steps[at:]))


def _stage(context: Context, job: Job, mine: dict[str, Segment], values: Values) -> Stage:
    likely = values["likely"]
    low, high = values.get("low", likely), values.get("high", likely)
    if not low <= likely <= high:
        raise Misnamed("likely", "not_between", value=str(likely))
    places = tuple(context.known.place(each) for each in values.get("places", ()))
    name = values.get("segment", "")
    segment = _segment(context, job, mine, name, values) if name else None
    head = f"{job.id}.{slug(name)}" if name else str(job.id)
    hands = values.get("hands", 1)
    skill = values.get("skill")
    if skill is not None:
        context.known.skill(skill)
    needs = (Need(skill=SkillId(skill), can=hands),) if skill is not None else ()
    if skill is None and "hands" in values:
        raise Misnamed("skill", "cell_missing")
    way = Way(
        id="usual",
        needs=needs,
        hours=Hours(low=low, likely=likely, high=high),
        places=places,
    )
    return Stage(
        id=StepId(context.known.fresh("step", f"{head}.{slug(values['stage'])}")),
        name=values["stage"],
        kind=values["kind"],
        segments=(segment.id,) if segment else (),
        ways=(way,),
        in_one_go=values.get("in_one_go", False),
        cure_hours=values.get("cure", Decimal(0)),
    )


def _segment(
    context: Context, job: Job, mine: dict[str, Segment], name: str, values: Values
) -> Segment:
    if name not in mine:
        identity = SegmentId(context.known.fresh("segment", f"{job.id}.{slug(name)}"))
        mine[name] = Segment(
            id=identity,
            name=name,
            length_m=values.get("length"),
            width_m=values.get("width"),
            height_m=values.get("height"),
        )
    return mine[name]


def take_people(context: Context, rows: Sequence[Found], taken: Taken) -> Book:
    """Add people; those whose names are there already are left as they are."""
    made: list[Person] = []
    for row in rows:
        with taken.row(row):
            name = row.values["name"]
            if context.known.has_person(name):
                context.left_count += 1
                continue
            taken.once("name", name)
            made.append(_person(context, row.values))
    return replace(context.book, people=(*context.book.people, *made))


def _person(context: Context, values: Values) -> Person:
    first, last = values.get("works_from"), values.get("works_until")
    if first is not None and last is not None and last < first:
        raise Misnamed("works_until", "ends_first", value=str(last))
    levels = ((SkillLevel.CAN, "skills"), (SkillLevel.HELPS, "helps"))
    skills = {each: level for level, name in reversed(levels) for each in values.get(name, ())}
    return Person(
        id=PersonId(context.known.fresh("person", slug(values["name"]))),
        name=values["name"],
        skills=tuple(Skill(skill=SkillId(each), level=level) for each, level in skills.items()),
        pace=values.get("pace", Decimal(1)),
        rate_per_hour=values.get("rate"),
        works_from=first,
        works_until=last,
        under_18=values.get("under_18", False),
    )


def take_timetables(context: Context, rows: Sequence[Found], taken: Taken) -> Book:
    """Add recurring departures to legs at sea, or by train, of journeys of the book."""
    tables: dict[tuple[StepId, int], list[Timetable]] = defaultdict(list)
    for row in rows:
        with taken.row(row):
            job = context.known.job(row.values["job"])
            leg = _leg(job, row.values.get("leg"))
            tables[leg].append(_timetable(context, row.values))
    jobs = tuple(
        replace(
            job,
            steps=tuple(
                _sailing(step, tables) if isinstance(step, Journey) else step for step in job.steps
            ),
        )
        for job in context.book.jobs
    )
    return replace(context.book, jobs=jobs)


def _leg(job: Job, name: str | None) -> tuple[StepId, int]:
    legs = [
        (step.id, at, leg.name)
        for step in job.steps
        if isinstance(step, Journey)
        for at, leg in enumerate(step.legs)
        if leg.kind in AT_SEA and (name is None or leg.name.casefold() == name.casefold())
    ]
    if len(legs) != 1:
        field = "job" if name is None else "leg"
        raise Misnamed(field, "no_leg" if not legs else "several_legs", value=name or job.name)
    return legs[0][0], legs[0][1]


def _timetable(context: Context, values: Values) -> Timetable:
    zone = values.get("zone", context.book.workshop.zone)
    for field in ("zone", "arrives_zone"):
        context.known.zone(field, values.get(field, zone))
    first, last = values.get("first"), values.get("last")
    if first is not None and last is not None and last < first:
        raise Misnamed("last", "ends_first", value=str(last))
    return Timetable(
        weekdays=values["weekdays"],
        leaves=values["leaves"],
        arrives=values["arrives"],
        zone=zone,
        arrives_zone=values.get("arrives_zone"),
        days_later=values.get("days_later", 0),
        first=first,
        last=last,
        check_in_minutes=values.get("check_in"),
        price=values.get("price", Decimal(0)),
    )


def _sailing(step: Journey, tables: Mapping[tuple[StepId, int], list[Timetable]]) -> Journey:
    legs = tuple(
        replace(leg, timetable=(*leg.timetable, *tables.get((step.id, at), ())))
        for at, leg in enumerate(step.legs)
    )
    return replace(step, legs=legs)


def take_hours(context: Context, rows: Sequence[Found], taken: Taken) -> Book:
    """Write down when stages were begun and done, and by whom; what is done already is left."""
    done = {fact.step for fact in context.book.facts if fact.kind is FactKind.DONE}
    facts: list[Fact] = []
    for row in rows:
        with taken.row(row):
            step = context.known.stage(row.values)
            if step.id in done:
                context.left_count += 1
                continue
            taken.once("stage", step.id)
            facts += _facts(context, step, row.values)
    return replace(context.book, facts=(*context.book.facts, *facts))


def _facts(context: Context, step: Stage, values: Values) -> tuple[Fact, Fact]:
    zone = ZoneInfo(context.book.workshop.zone)
    begun, done = (values[each].replace(tzinfo=zone) for each in ("begun", "done"))
    if done <= begun:
        raise Misnamed("done", "ends_first", value=str(values["done"]))
    if done > context.now:
        raise Misnamed("done", "yet_to_come", value=str(values["done"]))
    people = tuple(context.known.person(each) for each in values["people"])
    told: dict[str, Any] = {
        "step": step.id,
        "told_by": context.by,
        "told_at": context.now,
        "people": people,
    }
    return (
        Fact(
            id=FactId(context.known.fresh("fact", f"{step.id}.begun")),
            kind=FactKind.RUNNING,
            at=begun,
            remaining_hours=Decimal(0),
            **told,
        ),
        Fact(
            id=FactId(context.known.fresh("fact", f"{step.id}.done")),
            kind=FactKind.DONE,
            at=done,
            **told,
        ),
    )


TAKES: dict[str, Callable[[Context, Sequence[Found], Taken], Book]] = {
    "jobs": take_jobs,
    "stages": take_stages,
    "people": take_people,
    "timetables": take_timetables,
    "hours": take_hours,
}
"""By the word for the kind of table on the command line."""
