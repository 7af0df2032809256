"""What is used when: the materials of every step that stands in a plan."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from shared.book import (
    Act,
    Book,
    FactKind,
    Gate,
    Job,
    Kind,
    MaterialKind,
    MaterialNeed,
    Stage,
    Step,
    Way,
)
from shared.ids import JobId, MaterialId, StepId
from shared.order import afters_of, touched
from shared.plan import Placement, Plan
from shared.trade.defaults import acts_of
from shared.worktime.zones import local_date

_WORKED = (FactKind.DONE, FactKind.RUNNING, FactKind.GONE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """A step that takes so much of a material, in its unit, nothing wasted.

    starts: when it begins; first, last: its days in the workshop's zone. is_provided: the work has
    begun, or it was told that the material is there. coat: the day on which a hard coat seals the
    piece that the foam is for.
    """

    material: MaterialId
    job: JobId
    step: StepId
    net: Fraction
    starts: datetime
    first: date
    last: date
    is_provided: bool = False
    coat: date | None = None


def uses_of(book: Book, plan: Plan, now: datetime) -> tuple[Use, ...]:
    """Return all uses of the steps in a plan, by the day on which they begin."""
    if not book.materials:
        return ()
    return tuple(sorted(_Uses(book, plan, now).found(), key=_order))


def _order(use: Use) -> tuple[datetime, JobId, StepId]:
    return use.starts, use.job, use.step


def undated(book: Book, plan: Plan) -> tuple[StepId, ...]:
    """Return the steps of planned jobs that take material and stand nowhere in the plan."""
    placed = {each.step for each in plan.placements}
    told = {fact.step for fact in book.facts if fact.kind in (*_WORKED, FactKind.MATERIAL)}
    return tuple(
        step.id
        for job in book.jobs
        if job.id in plan.jobs
        for step in job.steps
        if step.id not in placed | told and needs_anything(step)
    )


def needs_anything(step: Step) -> bool:
    """Return whether a step itself takes material, at least when it is done in its first way."""
    if isinstance(step, Stage) and step.materials:
        return True
    return isinstance(step, Stage | Gate) and any(way.materials for way in step.ways[:1])


class _Uses:
    def __init__(self, book: Book, plan: Plan, now: datetime) -> None:
        self._book, self._now = book, now
        self._zone = book.workshop.zone
        self._by_job: dict[JobId, list[Placement]] = defaultdict(list)
        for each in plan.placements:
            self._by_job[each.job].append(each)
        self._worked = {fact.step for fact in book.facts if fact.kind in _WORKED}
        self._there = {f.step for f in book.facts if f.kind is FactKind.MATERIAL}
        self._kinds = {material.id: material.kind for material in book.materials}

    def found(self) -> Iterator[Use]:
        for job in self._book.jobs:
            steps = {step.id: step for step in job.steps}
            for placed in self._by_job.get(job.id, ()):
                step = steps.get(placed.step)
                if step is not None:
                    yield from self._of_placement(job, step, placed)

    def _of_placement(self, job: Job, step: Step, placed: Placement) -> Iterator[Use]:
        for need in _needs(job, step, placed):
            is_foam = self._kinds.get(need.material) is MaterialKind.FOAM
            yield Use(
                material=need.material,
                job=job.id,
                step=step.id,
                net=Fraction(need.quantity),
                starts=placed.start,
                first=local_date(placed.start, self._zone),
                last=max(local_date(placed.start, self._zone), local_date(placed.end, self._zone)),
                is_provided=self._is_provided(step, placed),
                coat=self._coat(job, step, placed) if is_foam else None,
            )

    def _is_provided(self, step: Step, placed: Placement) -> bool:
        if placed.start < self._now or step.id in self._there:
            return True
        return not placed.part and step.id in self._worked

    def _coat(self, job: Job, step: Step, placed: Placement) -> date | None:
        """Return the day of the first hard coat that follows on one of the same pieces."""
        pieces = touched(job, step)
        coats = {
            each.id
            for each in job.steps
            if isinstance(each, Stage) and self._seals(each) and pieces & touched(job, each)
        }
        starts = [
            each.start
            for each in self._by_job[job.id]
            if each.step in coats and not each.part and each.start >= placed.start
        ]
        return local_date(min(starts), self._zone) if starts else None

    def _seals(self, stage: Stage) -> bool:
        needs = (*stage.materials, *(need for way in stage.ways for need in way.materials))
        if any(self._kinds.get(need.material) is MaterialKind.HARD_COAT for need in needs):
            return True
        return stage.kind is Kind.COAT and Act.ISOCYANATE in acts_of(stage)


def _needs(job: Job, step: Step, placed: Placement) -> tuple[MaterialNeed, ...]:
    """Return what is taken by the way that a plan has chosen; what is put in has only ways."""
    own = step.materials if isinstance(step, Stage) and not placed.part else ()
    way = next((way for way in _ways(job, step, placed.part) if way.id == placed.way), None)
    return own if way is None else (*own, *way.materials)


def _ways(job: Job, step: Step, part: str) -> tuple[Way, ...]:
    if part == "abrade":
        return _abrading_before(job, step)
    if isinstance(step, Gate) and part:
        put_in = {"rework": step.rework, "changes": step.changes}.get(part)
        return put_in.ways if put_in else ()
    return step.ways if isinstance(step, Stage | Gate) else ()


def _abrading_before(job: Job, step: Step) -> tuple[Way, ...]:
    """Return the ways to abrade that the coats before a step name."""
    before = {after.step for after in afters_of(job)[step.id]}
    coats = [each for each in job.steps if isinstance(each, Stage) and each.id in before]
    return tuple(way for coat in coats if coat.abrade for way in coat.abrade.ways)
