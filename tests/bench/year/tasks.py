"""The steps of a job as tasks in whole quarters: who, where, how long, after what."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from shared.book import Book, Gate, GateKind, Job, Journey, Kind, Stage, Step, Way
from shared.ids import JobId, PersonId, PlaceId, SkillId, StepId
from tests.bench.year.clock import at

LOSS = Fraction(5, 100)
PAUSING = Fraction(16, 13)
"""A shift of 8 hours has 6.5 useful ones."""
WATCH = 4
"""So long a shift runs on after laminating, in quarters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class How:
    """One way and place of a task. work: quarters at the bench as estimated, not rounded."""

    way: str
    skill: SkillId
    hands: int
    work: Fraction
    hours: Decimal
    place: PlaceId | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A step. befores: tasks that come before it. release: the quarter from which it may start.

    cure, recoat: least and greatest wait after it, in quarters. watch: quarters that its shift
    runs on after its end. abrades: ways to abrade before what comes after it.
    """

    id: StepId
    job: JobId
    step: Step
    kind: Kind
    hows: tuple[How, ...] = ()
    befores: tuple[StepId, ...] = ()
    one_go: bool = False
    stays: bool = False
    cure: int = 0
    recoat: int | None = None
    release: int = 0
    watch: int = 0
    takes_off: bool = False

    is_answer: bool = False
    is_trip: bool = False


def tasks_of(job: Job) -> tuple[Task, ...]:
    """Return the tasks of a job in the order of its steps."""
    last: dict[str, StepId] = {}
    made = []
    for step in job.steps:
        pieces = [piece.id for piece in job.segments]
        if isinstance(step, Stage) and step.segments:
            pieces = list(step.segments)
        befores = tuple(dict.fromkeys(last[piece] for piece in pieces if piece in last))
        made.append(_task(job.id, step, befores))
        last |= dict.fromkeys(pieces, step.id)
    return tuple(made)


def _task(job: JobId, step: Step, befores: tuple[StepId, ...]) -> Task:
    if isinstance(step, Journey):
        return Task(
            id=step.id, job=job, step=step, kind=Kind.PACK, befores=befores, is_trip=True
        )  # fmt: skip
    recoat = step.recoat_hours if isinstance(step, Stage) else None
    kind = step.kind if isinstance(step, Stage) else Kind.PACK
    return Task(
        id=step.id,
        job=job,
        step=step,
        kind=kind,
        hows=tuple(how for way in step.ways for how in hows_of(way, is_one_go=step.in_one_go)),
        befores=befores,
        one_go=step.in_one_go,
        stays=isinstance(step, Stage) and step.stays,
        cure=int(step.cure_hours * 4),
        recoat=None if recoat is None else int(recoat * 4),
        release=0 if step.not_before is None else at(step.not_before, 0),
        watch=WATCH if kind is Kind.LAMINATE and step.in_one_go else 0,
        takes_off=isinstance(step, Stage) and bool(step.takes_off),
        is_answer=isinstance(step, Gate) and step.gate is GateKind.ANSWER,
    )


@lru_cache(maxsize=4096)
def hows_of(way: Way, *, is_one_go: bool) -> tuple[How, ...]:
    """Return a way in each of its places."""
    need = way.needs[0]
    work = bench_quarters(way.hours.likely, need.can, is_one_go=is_one_go)
    return tuple(
        How(
            way=way.id, skill=need.skill, hands=need.can, work=work, hours=way.hours.likely,
            place=place,
        )
        for place in way.places or (None,)
    )  # fmt: skip


def bench_quarters(hours: Decimal, hands: int, *, is_one_go: bool) -> Fraction:
    """Return quarters at the bench of so many person-hours by so many hands."""
    work = Fraction(hours) * 4 * (1 + LOSS * (hands - 1)) / hands
    return work if is_one_go else work * PAUSING


def person_hours(quarters: int, hands: int, *, is_one_go: bool) -> Decimal:
    """Return the person-hours that come to so many quarters at the bench, a hair less."""
    hours = Fraction(quarters) * hands / 4 / (1 + LOSS * (hands - 1))
    hours = hours if is_one_go else hours / PAUSING
    return Decimal(int(hours * 1000)) / 1000


def can_do(book: Book) -> dict[SkillId, tuple[PersonId, ...]]:
    """Return who can do each skill, those with the fewest skills first."""
    found: dict[SkillId, list[PersonId]] = {}
    for person in sorted(book.people, key=lambda each: (len(each.skills), each.id)):
        for skill in person.skills:
            found.setdefault(skill.skill, []).append(person.id)
    return {skill: tuple(people) for skill, people in found.items()}
