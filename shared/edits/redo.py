"""Doing again on one segment what was done: copies of its stages, and where they come in."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from shared.book import (
    NOT_BEGUN,
    After,
    Answer,
    Book,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Hours,
    Job,
    Journey,
    Kind,
    Stage,
    Step,
    Way,
)
from shared.edits.edited import fresh_id
from shared.edits.lookup import step_ids
from shared.ids import SegmentId, StepId
from shared.needs import grown_needs
from shared.order import afters_of, in_order, touched
from shared.repairs import First

AGAIN = "{name} again"
"""What a step is called that does another one again."""

_QUARTER = Decimal("0.25")
_CENT = Decimal("0.01")
_OVER = frozenset({FactKind.DONE, FactKind.RUNNING, FactKind.GONE})

_Afters = Mapping[StepId, tuple[After, ...]]
Shares = Sequence[tuple[Stage, Fraction]]
"""Stages to be done again, in their order, each with the share of its hours."""


class NotNow(Exception):  # noqa: N818 - it says what is wrong
    """The book as it stands gives no occasion for an edit: a code and facts for a sentence."""

    def __init__(self, code: str, **facts: str) -> None:
        """Keep what is in the way."""
        super().__init__(code, facts)
        self.code = code
        self.facts = facts


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """What was told of the steps that touch a segment.

    begun: done, under way, or answered with a yes. running: of these, not told to be done.
    awaited: answers whose pictures are out, or to which a no came.
    """

    begun: frozenset[StepId]
    running: frozenset[StepId]
    awaited: frozenset[StepId]


def past_of(book: Book, job: Job, segment: SegmentId) -> Past:
    """Return what was told of the steps that touch a segment.

    Raises
    ------
    NotNow
        "loaded_already" when its loading has begun or its lorry has gone.
    """
    mine = {step.id: step for step in job.steps if segment in touched(job, step)}
    told = [fact for fact in book.facts if fact.step in mine]
    begun = frozenset(fact.step for fact in told if _has_begun(fact))
    for step in begun:
        if _leaves(mine[step]):
            raise NotNow("loaded_already", job=job.name, step=mine[step].name)
    done = {fact.step for fact in told if fact.kind not in {FactKind.RUNNING, *NOT_BEGUN}}
    answers = (FactKind.PICTURES, FactKind.ANSWER)
    awaited = frozenset(fact.step for fact in told if fact.kind in answers) - begun
    return Past(begun=begun, running=begun - done, awaited=awaited)


def _has_begun(fact: Fact) -> bool:
    if fact.kind is FactKind.ANSWER:
        return fact.answer in (Answer.YES, Answer.CHANGES)
    return fact.kind in _OVER


def _leaves(step: Step) -> bool:
    return isinstance(step, Journey) or (isinstance(step, Gate) and step.gate is GateKind.LOADING)


def begun_stages(job: Job, past: Past) -> list[Stage]:
    """Return the stages that have begun, each behind those it comes after."""
    order = in_order(job, afters_of(job))
    return [step for step in order if isinstance(step, Stage) and step.id in past.begun]


@dataclass(frozen=True, slots=True, kw_only=True)
class Redone:
    """Steps that come in, in their order; copies: by the stage that each does again."""

    steps: tuple[Step, ...]
    copies: Mapping[StepId, StepId]

    def with_gate(self, gate: Gate) -> "Redone":
        """Return the steps with a gate behind the last of foam among them, else before all."""
        foam = [i for i, s in enumerate(self.steps) if isinstance(s, Stage) and s.kind is Kind.FOAM]
        at = foam[-1] + 1 if foam else 0
        rest = list(self.steps[at:])
        if rest and rest[0].after is not None:
            rest[0] = replace(rest[0], after=(*rest[0].after, After(step=gate.id)))
        return replace(self, steps=(*self.steps[:at], gate, *rest))


def redone(
    book: Book, job: Job, segment: SegmentId, past: Past, again: Shares, first: First
) -> Redone:
    """Return what is done again on a segment, and what comes first where there is such work."""
    again = _packed_last(again)
    taken = step_ids(book)
    made: list[Step] = []
    opening = _opening(job, segment, begun_stages(job, past), again, first)
    if opening is not None:
        made.append(replace(opening, id=StepId(fresh_id(opening.id, taken))))
        taken.add(made[0].id)
    copies: dict[StepId, StepId] = {}
    for stage, share in again:
        copies[stage.id] = StepId(fresh_id(f"{stage.id}-again", taken))
        taken.add(copies[stage.id])
        copy = _copy(job, segment, stage, share, copies, made[-1].id if made else None)
        made.append(replace(copy, takes_off=copy.takes_off if made else True))
    return Redone(steps=tuple(made), copies=copies)


def _packed_last(again: Shares) -> Shares:
    """Return what is done again without fitting in between: only what packs it is packing."""
    works = [i for i, (stage, _) in enumerate(again) if stage.kind is not Kind.PACK]
    last = works[-1] if works else -1
    return [
        (stage, share)
        for i, (stage, share) in enumerate(again)
        if stage.kind is not Kind.PACK or i > last
    ]


def _opening(
    job: Job, segment: SegmentId, begun: Sequence[Stage], again: Shares, first: First
) -> Stage | None:
    """Return what comes before all else: like a stage of the kind that was done, if one was."""
    like = [(stage, share) for stage, share in again if stage.kind is first.kind]
    done = [stage for stage in begun if stage.kind is first.kind]
    base = like[0][0] if like else (done[-1] if done else None)
    if base is None or not _likely(base):
        return None
    worked = like or [(base, Fraction(1))]
    hours = sum(_likely(stage) * share / len(touched(job, stage)) for stage, share in worked)
    share = Fraction(first.percent) / 100 * hours / _likely(base)
    return Stage(
        id=StepId(f"{segment}.{first.name.replace(' ', '-')}"),
        name=first.name,
        kind=Kind.FILL,
        segments=(segment,),
        ways=tuple(_scaled(_bare(way), share) for way in base.ways),
        does=first.does,
        takes_off=True,
    )


def _bare(way: Way) -> Way:
    """Return a way without what goes with the work it was for: its set-up and its materials."""
    return replace(way, setup_hours=None, materials=())


def _likely(stage: Stage) -> Fraction:
    return Fraction(stage.ways[0].hours.likely) if stage.ways else Fraction(0)


def _copy(
    job: Job,
    segment: SegmentId,
    stage: Stage,
    share: Fraction,
    copies: Mapping[StepId, StepId],
    behind: StepId | None,
) -> Stage:
    """Return a stage once more on one segment: its cure, limits, places and needs, not its pin."""
    pieces = len(touched(job, stage))
    return replace(
        stage,
        id=copies[stage.id],
        name=AGAIN.format(name=stage.name),
        segments=(segment,),
        ways=tuple(_scaled(way, share / pieces) for way in stage.ways),
        materials=grown_needs(stage.materials, share / pieces),
        same_people_as=None,
        not_before=None,
        pin=None,
        after=_copied_after(stage, copies, behind),
        moves_to=None,
    )


def _copied_after(
    stage: Stage, copies: Mapping[StepId, StepId], behind: StepId | None
) -> tuple[After, ...] | None:
    """Return the waits of a stage that run from others done again, and the one before it."""
    if stage.after is None:
        return None
    waits = [replace(a, step=copies[a.step]) for a in stage.after if a.step in copies]
    if behind is not None and behind not in {a.step for a in waits}:
        waits.append(After(step=behind))
    return tuple(waits) or None


def _scaled(way: Way, share: Fraction) -> Way:
    """Return a way with a share of its hours, set-up apart, of its cost and its materials."""
    hours = way.hours
    cost = (way.cost * share.numerator / share.denominator).quantize(_CENT, ROUND_CEILING)
    return replace(
        way,
        hours=Hours(
            low=_share_of(hours.low, way.setup_hours, share),
            likely=_share_of(hours.likely, way.setup_hours, share),
            high=_share_of(hours.high, way.setup_hours, share),
        ),
        cost=cost if way.cost else way.cost,
        materials=grown_needs(way.materials, share),
    )


def _share_of(hours: Decimal, setup_hours: Decimal | None, share: Fraction) -> Decimal:
    fixed = Fraction(min(setup_hours or Decimal(0), hours))
    exact = fixed + (Fraction(hours) - fixed) * share
    quarters = exact / Fraction(_QUARTER)
    return -(-quarters.numerator // quarters.denominator) * _QUARTER


def brought_in(job: Job, segment: SegmentId, past: Past, made: Redone) -> Job:
    """Return a job with steps behind the last that has begun on a segment.

    What has not begun there waits for the last of them, and where it named a stage that is done
    again, for that one's copy.
    """
    at = 1 + max(i for i, step in enumerate(job.steps) if step.id in past.begun)
    steps = (*job.steps[:at], *_behind_running(job, past, made, at), *job.steps[at:])
    known = afters_of(job)
    done = past.begun | _ancestors(past.begun, known)
    fresh = {step.id for step in made.steps}
    found = replace(job, steps=steps)
    for step in in_order(job, known):
        if step.id in done or step.id in past.awaited or segment not in touched(job, step):
            continue
        changed = _renamed(job, segment, step, made.copies)
        found = _with(found, changed)
        if step.id not in _behind(made.steps[-1].id, afters_of(found), past.awaited) | fresh:
            waits = afters_of(found)[step.id]
            last = After(step=made.steps[-1].id)
            found = _with(found, replace(changed, after=(*waits, last)))
    return found


def _behind_running(job: Job, past: Past, made: Redone, at: int) -> tuple[Step, ...]:
    """Return the steps that come in, the first of them behind all that is under way."""
    before = job.steps[at - 1].id
    if past.running <= {before}:
        return made.steps
    waits = [before, *(step.id for step in job.steps if step.id in past.running - {before})]
    head = replace(made.steps[0], after=tuple(After(step=each) for each in waits))
    return (head, *made.steps[1:])


def _renamed(job: Job, segment: SegmentId, step: Step, copies: Mapping[StepId, StepId]) -> Step:
    """Return a step that names the copies of stages done again, besides on other segments."""
    if step.after is None:
        return step
    keeps = touched(job, step) != {segment}
    waits: list[After] = []
    for after in step.after:
        if keeps or after.step not in copies:
            waits.append(after)
        if after.step in copies:
            waits.append(replace(after, step=copies[after.step]))
    return replace(step, after=tuple(waits))


def _with(job: Job, step: Step) -> Job:
    return replace(job, steps=tuple(step if old.id == step.id else old for old in job.steps))


def _ancestors(steps: Collection[StepId], afters: _Afters) -> frozenset[StepId]:
    """Return what some steps come after, near or far."""
    found: set[StepId] = set()
    left = list(steps)
    while left:
        fresh = {after.step for after in afters.get(left.pop(), ())} - found
        found |= fresh
        left += fresh
    return frozenset(found)


def _behind(first: StepId, afters: _Afters, but: Collection[StepId]) -> frozenset[StepId]:
    """Return what comes after a step, near or far, not by way of some others."""
    found = {first}
    is_growing = True
    while is_growing:
        fresh = {
            step
            for step, waits in afters.items()
            if step not in found and step not in but and any(a.step in found for a in waits)
        }
        found |= fresh
        is_growing = bool(fresh)
    return frozenset(found)
