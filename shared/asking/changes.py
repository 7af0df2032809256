"""A yes with changes that is planned for: what it asks for stands behind the answer."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from shared.book import (
    Act,
    After,
    Gate,
    GateKind,
    Hours,
    Job,
    Kind,
    Measure,
    Segment,
    Stage,
    Step,
    Way,
)
from shared.edits.edited import fresh_id
from shared.ids import SegmentId, StepId
from shared.routes.measures import amount_of
from shared.units import decimal_of

_QUARTERS = 4
_PLACES = 4


def with_changes(job: Job) -> Job:
    """Return a job in which each answer with changes is followed by the work that they ask for.

    The answer is still one yes; what comes after it waits for the changes on its own segments. The
    work is shared out among the segments by their skins.
    """
    making = _Changing(job)
    return replace(job, steps=tuple(making.steps()))


class _Changing:
    """Steps with changes put in behind the answers; by gate and segment the changes on it."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._taken = {str(step.id) for step in job.steps}
        self._segments = {segment.id: segment for segment in job.segments}
        self._behind: dict[StepId, dict[SegmentId, StepId]] = {}

    def steps(self) -> Iterator[Step]:
        """Give the steps in their order."""
        for step in self._job.steps:
            yield self._waiting(step)
            if isinstance(step, Gate) and step.gate is GateKind.ANSWER and step.changes:
                yield from self._changes(step, step.changes.ways)

    def _changes(self, gate: Gate, ways: Sequence[Way]) -> Iterator[Stage]:
        over = gate.segments or tuple(self._segments)
        pieces = [self._segments[each] for each in over if each in self._segments]
        for piece, share in zip(pieces, _shares(pieces), strict=True):
            name = StepId(fresh_id(f"{piece.id}.changes", self._taken))
            self._taken.add(name)
            self._behind.setdefault(gate.id, {})[piece.id] = name
            yield Stage(
                id=name,
                name=f"changes ({gate.name})",
                kind=Kind.FOAM,
                segments=(piece.id,),
                ways=tuple(_shared(way, share) for way in ways),
                after=(After(step=gate.id),),
                does=(Act.DUST,),
            )

    def _waiting(self, step: Step) -> Step:
        """Return a step that waits for changes where it waited for their answer."""
        if step.after is None:
            return step
        after = [each for link in step.after for each in self._links(step, link)]
        return replace(step, after=tuple(after))

    def _links(self, step: Step, link: After) -> Iterator[After]:
        changes = self._behind.get(link.step)
        if changes is None:
            yield link
            return
        over = step.segments or tuple(self._segments)
        yield from (replace(link, step=changes[each]) for each in over if each in changes)


def _shares(pieces: Sequence[Segment]) -> list[Fraction]:
    """Give the share of each piece in the skin of all."""
    is_alone = len(pieces) == 1
    skins = [Fraction(amount_of(each, Measure.SURFACE, is_alone=is_alone)) for each in pieces]
    total = sum(skins, Fraction(0))
    return [skin / total for skin in skins]


def _shared(way: Way, share: Fraction) -> Way:
    """Return a way with its share of the hours, up to a quarter."""

    def part(hours: Decimal) -> Decimal:
        exact = decimal_of(Fraction(hours) * share, _PLACES)
        return (exact * _QUARTERS).to_integral_value(ROUND_CEILING) / _QUARTERS

    old = way.hours
    return replace(
        way, hours=Hours(low=part(old.low), likely=part(old.likely), high=part(old.high))
    )
