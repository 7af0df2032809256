"""How a segment is made, step by step, as the strip shows it. No Qt."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from app.window.sheet import typed, writing
from app.window.wall.items import Item
from app.words import Words
from app.words import editor as say
from app.words import window as window_words
from shared.book import Book, Gate, GateKind, Journey, Kind, Stage, Step
from shared.ids import JobId, SegmentId, StepId

MOST_HOURS = Decimal(60)
MOST_CURE = Decimal(72)
_MINUTES = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """One step of the strip.

    kind: of work; gate: of a gate; neither: a journey. hands: people together. length, cure: of
    block and cure, as parts of the longest shown (0 to 1). people, hours, range, waits: its
    figures in words, "" for none. is_typed: its hours are somebody's own. across: on several
    segments. is_pinned: pinned. read: as it is read out.
    """

    step: StepId
    name: str
    kind: Kind | None = None
    gate: GateKind | None = None
    hands: int = 1
    length: float = 0
    cure: float = 0
    people: str = ""
    hours: str = ""
    range: str = ""
    waits: str = ""
    across: str = ""
    is_typed: bool = False
    is_one_go: bool = False
    is_pinned: bool = False
    read: str = ""


def made_of(
    book: Book,
    job: JobId,
    segment: SegmentId | None,
    words: Words,
    *,
    own: frozenset[StepId],
    cures: Mapping[StepId, int],
) -> tuple[Made, ...]:
    """Return the steps that touch a segment, in their order.

    own: steps whose hours were typed. cures: hours of cures as planned, where they are.
    """
    owner = writing.job(book, job)
    telling = _Telling(book, words, own, cures)
    return tuple(telling.step(step) for step in writing.steps_of(owner, segment))


def cures_planned(blocks: tuple[Item, ...]) -> dict[StepId, int]:
    """Return the hours of cures as they stand on a wall's row, by step."""
    found: dict[StepId, int] = {}
    for cure in blocks:
        if cure.step is not None and not cure.part:
            found[cure.step] = -(-(cure.end - cure.start) // _MINUTES)
    return found


class _Telling:
    def __init__(
        self, book: Book, words: Words, own: frozenset[StepId], cures: Mapping[StepId, int]
    ) -> None:
        self._book, self._words, self._own, self._cures = book, words, own, cures

    def step(self, step: Step) -> Made:
        """Tell one step."""
        if isinstance(step, Journey):
            found = self._journey(step)
        elif isinstance(step, Gate):
            found = self._gate(step)
        else:
            found = self._stage(step)
        facts = (found.people, found.hours, found.range, found.waits, found.across)
        typed_word = self._words.say(say.TYPED) if found.is_typed else ""
        told = self._words.series(each for each in (*facts, typed_word) if each)
        return replace(found, read=self._words.say(say.STEP_READ, name=found.name, facts=told))

    def _stage(self, stage: Stage) -> Made:
        words = self._words
        way = stage.ways[0] if stage.ways else None
        hands = sum(need.can + need.helps for need in way.needs) if way else 1
        hours = way.hours if way else None
        cure = self._cures.get(stage.id) or int(stage.cure_hours)
        verb = window_words.cure_label(words, stage.kind, str(cure)) if cure else ""
        return Made(
            step=stage.id,
            name=stage.name,
            kind=stage.kind,
            hands=max(1, hands),
            length=_part(hours.likely if hours else Decimal(0), MOST_HOURS),
            cure=_part(Decimal(cure), MOST_CURE),
            people=words.say(say.PEOPLE, count=max(1, hands)),
            hours=words.say(say.HOURS, hours=typed.figure(hours.likely)) if hours else "",
            range=self._range(hours.low, hours.high) if hours else "",
            waits=verb,
            across=self._across(stage),
            is_typed=stage.id in self._own,
            is_one_go=stage.in_one_go,
            is_pinned=stage.pin is not None,
        )

    def _range(self, low: Decimal, high: Decimal) -> str:
        if low == high:
            return ""
        return self._words.say(say.RANGE, low=_round(low), high=_round(high))

    def _across(self, step: Step) -> str:
        count = len(step.segments)
        return self._words.say(say.ACROSS, count=count) if count > 1 else ""

    def _gate(self, gate: Gate) -> Made:
        words, waits = self._words, ""
        if gate.gate is GateKind.ANSWER:
            days = gate.answer_days
            if days is None and gate.answered_by is not None:
                days = gate.answered_by.answer_days
            if days is None:
                owner = next(job for job in self._book.jobs if gate in job.steps)
                days = owner.client.answer_days
            waits = words.say(say.DAYS, count=days)
        hours = gate.ways[0].hours if gate.ways else None
        return Made(
            step=gate.id,
            name=gate.name,
            gate=gate.gate,
            hours=words.say(say.HOURS, hours=typed.figure(hours.likely)) if hours else "",
            range=self._range(hours.low, hours.high) if hours else "",
            waits=waits,
            is_typed=bool(gate.ways) and gate.id in self._own,
            is_pinned=gate.pin is not None,
        )

    def _journey(self, journey: Journey) -> Made:
        minutes = sum(leg.minutes for leg in journey.legs)
        hours = typed.figure(round(Decimal(minutes) / _MINUTES, 1))
        return Made(
            step=journey.id,
            name=journey.name,
            people=self._words.say(say.PEOPLE, count=len(journey.crew)) if journey.crew else "",
            waits=self._words.say(say.LEG_WAIT, hours=hours) if minutes else "",
        )


def _part(value: Decimal, most: Decimal) -> float:
    return float(min(Decimal(1), value / most))


def _round(value: Decimal) -> str:
    return typed.figure(round(value, 1) if value < 10 else round(value))
