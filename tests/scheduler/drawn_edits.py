"""Edits as they are drawn: what somebody may change in a book from one question to the next."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from decimal import Decimal
from random import Random
from typing import Any

from shared.book import (
    After,
    Answer,
    Book,
    Closure,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Job,
    Journey,
    Leave,
    Offer,
    OtherWork,
    Reading,
    Stage,
    Standing,
    Step,
    Temperature,
    Told,
)
from shared.findings import Clash
from shared.ids import FactId, JobId, OfferId, PersonId, StepId
from shared.plan import MadeFrom, Placement, Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """All that normalising is given."""

    book: Book
    now: datetime
    asked: tuple[JobId, ...] = ()
    left_out: dict[StepId, Clash | None] | None = None
    late: dict[JobId, int] | None = None


def edited(question: Question, rng: Random) -> Question:
    """Give the next question: one thing is changed in the book, or in what is asked of it."""
    if rng.random() < 0.2:
        return rng.choice(_ASKED)(question, rng)
    book = rng.choice(_EDITS)(question.book, question.now, rng)
    return replace(question, book=replace(book, revision=book.revision + 1))


def _now_moved(question: Question, rng: Random) -> Question:
    minutes = rng.choice((1, 7, 15, 90, 24 * 60, 5 * 24 * 60))
    return replace(question, now=question.now + timedelta(minutes=minutes))


def _asked_otherwise(question: Question, rng: Random) -> Question:
    enquiries = [job.id for job in question.book.jobs if job.standing is Standing.ENQUIRY]
    return replace(question, asked=tuple(job for job in enquiries if rng.random() < 0.5))


def _left_out_otherwise(question: Question, rng: Random) -> Question:
    steps = [step.id for job in question.book.jobs for step in job.steps]
    clash = Clash(code="fits_nowhere", facts=(("step", "any"),))
    left = {step: rng.choice((None, None, clash)) for step in rng.sample(steps, min(2, len(steps)))}
    clash = replace(clash, code="no_way")
    left = {step: why and clash for step, why in left.items()}
    return replace(question, left_out=left if rng.random() < 0.6 else None)


def _late_otherwise(question: Question, rng: Random) -> Question:
    jobs = [job.id for job in question.book.jobs]
    late = {job: rng.randrange(0, 4000) for job in jobs if rng.random() < 0.5}
    return replace(question, late=late or None)


_ASKED = (_now_moved, _now_moved, _asked_otherwise, _left_out_otherwise, _late_otherwise)


def _job_of(book: Book, rng: Random) -> Job | None:
    return rng.choice(book.jobs) if book.jobs else None


def _with_job(book: Book, job: Job, **changes: object) -> Book:
    made = replace(job, **changes)  # type: ignore[arg-type]
    return replace(book, jobs=tuple(made if each is job else each for each in book.jobs))


def _with_step(book: Book, rng: Random, change: Callable[[Any, Job], Step], *kinds: type) -> Book:
    job = _job_of(book, rng)
    found = [] if job is None else [step for step in job.steps if isinstance(step, kinds)]
    if job is None or not found:
        return book
    chosen = rng.choice(found)
    made = change(chosen, job)
    return _with_job(book, job, steps=tuple(made if each is chosen else each for each in job.steps))


def _hours(book: Book, _now: datetime, rng: Random) -> Book:
    more = Decimal(rng.choice(("0.5", "3", "12.25", "80")))

    def change(step: Stage, _job: Job) -> Step:
        ways = tuple(
            replace(
                way,
                hours=replace(
                    way.hours, likely=way.hours.likely + more, high=way.hours.high + more
                ),
            )
            for way in step.ways
        )
        return replace(step, ways=ways)

    return _with_step(book, rng, change, Stage)


def _stage_changed(book: Book, _now: datetime, rng: Random) -> Book:
    def change(step: Stage, job: Job) -> Step:
        stages = [each.id for each in job.steps if isinstance(each, Stage) and each != step]
        changes: list[dict[str, object]] = [
            {"cure_hours": Decimal(rng.randrange(0, 60)), "cure_celsius": Decimal(20)},
            {"coldest_celsius": Decimal(rng.choice((10, 15, 18, 40)))},
            {"recoat_hours": Decimal(rng.randrange(4, 70))},
            {"in_one_go": not step.in_one_go},
            {"ways": step.ways[:1]},
            {"people": (rng.choice(book.people).id,)},
            {"same_people_as": rng.choice(stages) if stages else None},
            {"stays": True},
            {"certificates": ("first aid",)},
            {"moves_to": rng.choice(book.places).id},
        ]
        return replace(step, **rng.choice(changes))  # type: ignore[arg-type]

    return _with_step(book, rng, change, Stage)


def _after_another_job(book: Book, _now: datetime, rng: Random) -> Book:
    """Let a step come after one of a job that stands before its own: there is no ring."""
    before = [step.id for job in book.jobs[:-1] for step in job.steps if not _is_journey(step)]
    last = book.jobs[-1:]
    if not before or not last or not last[0].steps:
        return book
    first = last[0].steps[0]
    if _is_journey(first):
        return book
    changes: dict[str, object] = {"after": (After(step=rng.choice(before)),)}
    if isinstance(first, Stage) and rng.random() < 0.5:
        others = [s.id for job in book.jobs[:-1] for s in job.steps if isinstance(s, Stage)]
        changes = {"same_people_as": rng.choice(others) if others else None}
    made = replace(first, **changes)  # type: ignore[arg-type]
    return _with_job(book, last[0], steps=(made, *last[0].steps[1:]))


def _is_journey(step: Step) -> bool:
    return isinstance(step, Journey)


def _segment_larger(book: Book, _now: datetime, rng: Random) -> Book:
    job = _job_of(book, rng)
    if job is None or not job.segments:
        return book
    first = replace(job.segments[0], length_m=Decimal(rng.choice(("0.4", "3.1", "40"))))
    return _with_job(book, job, segments=(first, *job.segments[1:]))


def _window_moved(book: Book, _now: datetime, rng: Random) -> Book:
    job = _job_of(book, rng)
    if job is None or not job.windows:
        return book
    by = timedelta(days=rng.choice((-30, -1, 1, 60)))
    moved = tuple(replace(each, start=each.start + by, end=each.end + by) for each in job.windows)
    return _with_job(book, job, windows=moved)


def _job_removed(book: Book, _now: datetime, rng: Random) -> Book:
    job = _job_of(book, rng)
    return replace(book, jobs=tuple(each for each in book.jobs if each is not job))


def _job_added(book: Book, _now: datetime, rng: Random) -> Book:
    job = _job_of(book, rng)
    if job is None:
        return book
    tag = f"{rng.randrange(10**6)}-"

    def renamed(step: Step) -> Step:
        after = step.after
        if after is not None:
            after = tuple(replace(each, step=StepId(tag + each.step)) for each in after)
        made: Step = replace(step, id=StepId(tag + step.id), after=after)
        if isinstance(made, Stage) and made.same_people_as is not None:
            made = replace(made, same_people_as=StepId(tag + made.same_people_as))
        return made

    copy = replace(job, id=JobId(tag + job.id), steps=tuple(renamed(step) for step in job.steps))
    at = rng.randrange(len(book.jobs) + 1)
    return replace(book, jobs=(*book.jobs[:at], copy, *book.jobs[at:]))


def _standing_changed(book: Book, _now: datetime, rng: Random) -> Book:
    job = _job_of(book, rng)
    return book if job is None else _with_job(book, job, standing=rng.choice(list(Standing)))


def _person_away(book: Book, now: datetime, rng: Random) -> Book:
    start = now + timedelta(hours=rng.randrange(-30, 4000))
    leave = Leave(start=start, end=start + timedelta(days=rng.choice((1, 3, 400))))
    return _with_person(book, rng, lambda person: {"leave": (*person.leave, leave)})


def _person_changed(book: Book, _now: datetime, rng: Random) -> Book:
    changes: list[Callable[[Any], dict[str, object]]] = [
        lambda person: {"skills": person.skills[1:]},
        lambda _person: {"pace": Decimal("0.8")},
        lambda person: {"certificates": person.certificates[1:]},
        lambda _person: {"leave": ()},
    ]
    return _with_person(book, rng, rng.choice(changes))


def _with_person(book: Book, rng: Random, changes: Callable[[Any], dict[str, object]]) -> Book:
    at = rng.randrange(len(book.people))
    made = replace(book.people[at], **changes(book.people[at]))  # type: ignore[arg-type]
    return replace(book, people=(*book.people[:at], made, *book.people[at + 1 :]))


def _person_gone(book: Book, _now: datetime, rng: Random) -> Book:
    return replace(book, people=book.people[rng.choice((0, 0, 1)) :][:12] or book.people)


def _place_changed(book: Book, now: datetime, rng: Random) -> Book:
    at = rng.randrange(len(book.places))
    day = now.date() + timedelta(days=rng.randrange(60))
    changes: list[dict[str, object]] = [
        {"closures": (Closure(first=day, last=day + timedelta(days=4)),)},
        {"air": rng.choice((None, "hall"))},
        {"clear_out_minutes": rng.choice((0, 45))},
        {"usable_until": day + timedelta(days=200)},
    ]
    made = replace(book.places[at], **rng.choice(changes))  # type: ignore[arg-type]
    return replace(book, places=(*book.places[:at], made, *book.places[at + 1 :]))


def _workshop_changed(book: Book, now: datetime, rng: Random) -> Book:
    day = now.date() + timedelta(days=rng.randrange(90))
    changes: list[dict[str, object]] = [
        {"closures": (*book.workshop.closures, Closure(first=day, last=day))},
        {"pieces_per_half_day": rng.choice((None, 1, 0))},
        {"apart": rng.choice((None, ()))},
        {"never_alone": rng.choice((None, ()))},
        {"sanding_hours_per_day": rng.choice((None, Decimal(2)))},
        {"useful_hours": book.workshop.useful_hours - Decimal("0.25")},
        {"longest_pause_days": rng.choice((2, 4))},
    ]
    workshop = replace(book.workshop, **rng.choice(changes))  # type: ignore[arg-type]
    return replace(book, workshop=workshop)


def _temperature_changed(book: Book, now: datetime, rng: Random) -> Book:
    if rng.random() < 0.3:
        at = now + timedelta(hours=rng.randrange(-20, 40))
        reading = Reading(at=at, celsius=Decimal(rng.randrange(9, 30)))
        return replace(book, workshop=replace(book.workshop, readings=(reading,)))
    if rng.random() < 0.3:
        offer = Offer(
            id=OfferId(f"warm-{rng.randrange(10**6)}"), name="Warm", kind="heating", taken=True,
            celsius=Decimal(21), heated=book.workshop.shifts,
        )  # fmt: skip
        return replace(book, offers=(*book.offers, offer))
    found = Temperature(
        months=tuple(range(1, 13)),
        day_celsius=Decimal(rng.randrange(14, 30)),
        night_celsius=Decimal(rng.randrange(8, 20)),
        place=rng.choice((None, *(place.id for place in book.places))),
    )
    temperatures = (found, *book.workshop.temperatures)[:4]
    return replace(book, workshop=replace(book.workshop, temperatures=temperatures))


def _other_work(book: Book, now: datetime, rng: Random) -> Book:
    start = now + timedelta(hours=rng.randrange(0, 3000))
    work = OtherWork(
        id=f"other-{rng.randrange(10**6)}",
        name="cleaning",
        start=start,
        end=start + timedelta(hours=9),
        people=(PersonId(rng.choice(book.people).id),),
        equipment=tuple(thing.id for thing in book.equipment[:1]),
    )
    return replace(book, other_work=(*book.other_work, work)[-3:])


def _told(book: Book, now: datetime, rng: Random) -> Book:
    """Tell a plan of some steps, or of none."""
    steps = [(job, step) for job in book.jobs for step in job.steps if not _is_journey(step)]
    chosen = rng.sample(steps, len(steps) // 3)
    placements = tuple(
        Placement(
            job=job.id,
            step=step.id,
            start=now + timedelta(hours=at),
            end=now + timedelta(hours=at + 2),
            people=(rng.choice(book.people).id,),
        )
        for at, (job, step) in enumerate(chosen)
    )
    plan = Plan(made_from=MadeFrom(revision=1, digest=""), now=now, placements=placements)
    return replace(book, told=rng.choice((None, Told(plan=plan, at=now))))


def _fact(book: Book, now: datetime, rng: Random) -> Book:
    """Tell what happened to the next step of a job that nothing is told of, or take a fact back."""
    if book.facts and rng.random() < 0.25:
        return replace(book, facts=book.facts[:-1])
    job = _job_of(book, rng)
    known = {fact.step for fact in book.facts if fact.kind is FactKind.DONE}
    steps = [] if job is None else [step for step in job.steps if step.id not in known]
    if not steps:
        return book
    step = steps[min(len(steps) - 1, rng.choice((0, 0, 0, 1, 5)))]
    made = _told_of(step, book, now - timedelta(hours=rng.randrange(0, 90)), rng)
    return replace(book, facts=(*book.facts, made))


def _told_of(step: Step, book: Book, at: datetime, rng: Random) -> Fact:
    fact = Fact(
        id=FactId(f"fact-{rng.randrange(10**9)}"),
        kind=rng.choice((FactKind.DONE, FactKind.DONE, FactKind.RUNNING)),
        step=step.id,
        at=at,
        told_by="somebody",
    )
    if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
        answer = rng.choice((Answer.YES, Answer.NO, Answer.CHANGES))
        kind = rng.choice((FactKind.ANSWER, FactKind.PICTURES))
        return replace(fact, kind=kind, answer=answer if kind is FactKind.ANSWER else None)
    if isinstance(step, Journey):
        return replace(fact, kind=FactKind.GONE)
    ways = step.ways
    place = next((place for way in ways for place in way.places), None)
    people = (rng.choice(book.people).id,) if rng.random() < 0.7 else ()
    return replace(
        fact,
        people=people,
        place=place,
        way=ways[0].id if ways else "",
        remaining_hours=Decimal(3) if fact.kind is FactKind.RUNNING else None,
    )


_EDITS: tuple[Callable[[Book, datetime, Random], Book], ...] = (
    _hours,
    _hours,
    _stage_changed,
    _stage_changed,
    _after_another_job,
    _segment_larger,
    _window_moved,
    _window_moved,
    _job_removed,
    _job_added,
    _job_added,
    _standing_changed,
    _person_away,
    _person_changed,
    _person_gone,
    _place_changed,
    _workshop_changed,
    _temperature_changed,
    _other_work,
    _told,
    _fact,
    _fact,
    _fact,
    _fact,
)
