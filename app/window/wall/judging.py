"""Where a stage may be moved to, reckoned from the book and the plan on show in a moment. No Qt.

What the engine makes of it comes after. Times are minutes since 1970, in quarters of an hour.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time
from typing import TYPE_CHECKING

from app.window.wall.derive import Shown
from app.window.wall.hours import Hours
from app.window.wall.items import DAY_MINUTES, Item, Piece, minute_of
from shared.book import Book, Gate, GateKind, Job, Kind, Person, SkillLevel, Stage, Way
from shared.ids import PersonId, SkillId, StepId
from shared.order import afters_of
from shared.plan import Placement
from shared.worktime import local_instant

if TYPE_CHECKING:
    from collections.abc import Mapping

    from scheduler.cured import Cured

QUARTER = 15
_FARTHEST = 21 * DAY_MINUTES
_CAN = frozenset({SkillLevel.CAN, SkillLevel.LEADS})


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """Something that keeps a stage from an instant. code: of a sentence. about: a step or skill."""

    code: str
    minute: int = 0
    about: str = ""
    people: tuple[PersonId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """Where it comes to lie when somebody wishes it at an instant.

    bar: why it is not there where it was wished, None where it is. abraded: the coat whose recoat
    time is over by then, so that it is abraded first. away: of its planned people, who is not
    there then. busy: who has other work then, with that work's step.
    """

    start: int
    end: int
    bar: Bar | None = None
    abraded: StepId | None = None
    away: tuple[PersonId, ...] = ()
    busy: tuple[tuple[PersonId, StepId], ...] = ()


class Judge:
    """Judges one placement of the plan on show."""

    def __init__(self, shown: Shown, placed: Placement, item: Item) -> None:
        book = shown.book
        self.placed, self.item = placed, item
        self._book = book
        job, step = _owner(book, placed.step)
        self.step = step
        first = datetime.fromtimestamp(min(item.start, minute_of(shown.now)) * 60, UTC)
        reach = max(item.end, minute_of(shown.now)) + 12 * 7 * DAY_MINUTES
        last = datetime.fromtimestamp(reach * 60, UTC)
        hours = Hours(book, first, last)
        team = placed.people
        _, self._shop = hours.pieces((), first, last)
        self._starts = [start for start, _ in self._shop]
        self._ends = [end for _, end in self._shop]
        self._own = {person: hours.pieces((person,), first, last)[1] for person in team}
        self._people = {person.id: person for person in book.people}
        self._there: dict[PersonId, tuple[Piece, ...]] = {}
        self._hours, self._first, self._last = hours, first, last
        self.length = self._length()
        self._watch = _watch(book, step)
        self._needs = tuple(_needs(step, placed.way))
        before = {link.step for link in afters_of(job).get(step.id, ())}
        cured = _cured(shown, before)
        self._floor = self._floor_of(shown, job, cured)
        self._roof = _roof(job, step, cured)
        self._others = _others(shown, placed)

    def _length(self) -> int:
        """Return how long it takes: as it stands in one go, else of working time."""
        start, end = minute_of(self.placed.start), minute_of(self.placed.end)
        if self.is_one_go:
            return end - start
        pieces = self.item.fine or ((start, end),)
        return max(QUARTER, sum(b - a for a, b in pieces))

    @property
    def is_one_go(self) -> bool:
        """Whether it is done within one shift."""
        return self.step.in_one_go

    def at(self, wished: int) -> Judged:
        """Return where it lies when it is wished at an instant."""
        wished = round(wished / QUARTER) * QUARTER
        bar = self._bar(wished)
        start = wished if bar is None else self._nearest(wished)
        end = self._end(start)
        abraded = None
        if self._roof is not None and start > self._roof[0] and self._roof[2]:
            abraded = self._roof[1]
        return Judged(
            start=start,
            end=end,
            bar=bar,
            abraded=abraded,
            away=tuple(p for p, own in self._own.items() if not _is_in(own, start)),
            busy=tuple(self._busy(start, end)),
        )

    def _bar(self, start: int) -> Bar | None:
        """Return what keeps it from an instant."""
        if start < self._floor.minute:
            return self._floor
        if self._roof is not None and start > self._roof[0] and not self._roof[2]:
            return Bar(code="recoat", minute=self._roof[0], about=self._roof[1])
        piece = self._piece(start)
        if piece is None:
            return Bar(code="closed")
        if self.is_one_go and start + self.length + self._watch > piece[1]:
            return Bar(code="shift", minute=self.length)
        return self._nobody(start)

    def _piece(self, start: int) -> Piece | None:
        at = bisect_right(self._starts, start) - 1
        if at < 0 or self._ends[at] <= start:
            return None
        return self._shop[at]

    def _nobody(self, start: int) -> Bar | None:
        """Return the skill that nobody has who is there, or who is away of those asked for."""
        named = self.step.pin.people if self.step.pin else ()
        if isinstance(self.step, Stage):
            named = (*named, *self.step.people)
        away = tuple(person for person in named if not self._is_there(person, start))
        if away:
            return Bar(code="people", people=away)
        for skill, count in self._needs:
            can = (p.id for p in self._book.people if _can(p, skill))
            if sum(1 for person in can if self._is_there(person, start)) < count:
                return Bar(code="skill", about=skill)
        return None

    def _is_there(self, person: PersonId, minute: int) -> bool:
        if person not in self._people:
            return False
        if person not in self._there:
            found = self._hours.pieces((person,), self._first, self._last)[1]
            self._there[person] = found
        return _is_in(self._there[person], minute)

    def _nearest(self, wished: int) -> int:
        """Return the allowed instant nearest to a wished one; where it was if none is near."""
        low = max(wished, self._floor.minute)
        for step in range(0, _FARTHEST, QUARTER):
            for start in (low + step, wished - step):
                if self._bar(start) is None:
                    return start
        return minute_of(self.placed.start)

    def _end(self, start: int) -> int:
        if self.is_one_go:
            return start + self.length
        left, at = self.length, max(0, bisect_right(self._starts, start) - 1)
        for a, b in self._shop[at:]:
            if b <= start:
                continue
            here = max(a, start)
            if here + left <= b:
                return here + left
            left -= b - here
        return start + self.length

    def _busy(self, start: int, end: int) -> Iterator[tuple[PersonId, StepId]]:
        for person, taken in self._others.items():
            at = bisect_left(taken, (start, 0, ""))
            for a, b, step in taken[max(0, at - 1) : at + 1]:
                if a < end and start < b:
                    yield person, StepId(step)
                    break

    def _floor_of(self, shown: Shown, job: Job, cured: "Mapping[StepId, Cured]") -> Bar:
        """Return before when it can't be, and why."""
        found = [Bar(code="now", minute=-(-minute_of(shown.now) // QUARTER) * QUARTER)]
        steps = {step.id: step for step in job.steps}
        last: dict[StepId, Placement] = {}
        for placed in shown.plan.placements if shown.plan else ():
            one = last.get(placed.step)
            if placed.step in steps and (one is None or one.end < placed.end):
                last[placed.step] = placed
        for link in afters_of(job).get(self.placed.step, ()):
            before, step = last.get(link.step), steps.get(link.step)
            if before is None or step is None:
                continue
            if link.from_start:
                found.append(Bar(code="after", minute=minute_of(before.start), about=link.step))
            elif isinstance(step, Gate) and step.gate is GateKind.ANSWER:
                found.append(Bar(code="answer", minute=minute_of(before.end), about=link.step))
            elif link.step in cured and cured[link.step].ready > before.end:
                ready = minute_of(cured[link.step].ready)
                found.append(Bar(code="cure", minute=ready, about=link.step))
            else:
                found.append(Bar(code="after", minute=minute_of(before.end), about=link.step))
        if self.step.not_before is not None:
            found.append(Bar(code="day", minute=self._morning()))
        return max(found, key=lambda bar: bar.minute)

    def _morning(self) -> int:
        assert self.step.not_before is not None
        zone = self._book.workshop.zone
        return minute_of(local_instant(self.step.not_before, time(0), zone, opening=True))


def _owner(book: Book, wanted: StepId) -> tuple[Job, Stage | Gate]:
    for job in book.jobs:
        for step in job.steps:
            if step.id == wanted and isinstance(step, Stage | Gate):
                return job, step
    raise KeyError(wanted)


def _watch(book: Book, step: Stage | Gate) -> int:
    """Return how long the shift must run on after its end."""
    if not isinstance(step, Stage) or not step.in_one_go:
        return 0
    if step.watch_minutes is not None:
        return step.watch_minutes
    return book.workshop.watch_minutes if step.kind is Kind.LAMINATE else 0


def _needs(step: Stage | Gate, way: str) -> Iterator[tuple[SkillId, int]]:
    found: Way | None = next((each for each in step.ways if each.id == way), None)
    for need in found.needs if found else ():
        if need.can:
            yield need.skill, need.can


def _can(person: Person, skill: SkillId) -> bool:
    return any(each.skill == skill and each.level in _CAN for each in person.skills)


def _is_in(pieces: tuple[Piece, ...], minute: int) -> bool:
    at = bisect_right(pieces, (minute, 1 << 40)) - 1
    return at >= 0 and pieces[at][0] <= minute < pieces[at][1]


def _roof(
    job: Job, step: Stage | Gate, cured: "Mapping[StepId, Cured]"
) -> tuple[int, StepId, bool] | None:
    """Return until when it may start after a coat, which one, and whether that can be abraded."""
    if isinstance(step, Stage) and step.takes_off:
        return None
    coats = {each.id: each for each in job.steps if isinstance(each, Stage)}
    found = []
    for link in afters_of(job).get(step.id, ()):
        coat, known = coats.get(link.step), cured.get(link.step)
        if coat is not None and known is not None and known.coat_by is not None:
            can = coat.abrade is not None and bool(coat.abrade.ways)
            found.append((minute_of(known.coat_by), link.step, can))
    return min(found, default=None)


def _others(shown: Shown, placed: Placement) -> dict[PersonId, list[tuple[int, int, str]]]:
    """Return the other work of its people, by start."""
    found: dict[PersonId, list[tuple[int, int, str]]] = {person: [] for person in placed.people}
    for other in shown.plan.placements if shown.plan else ():
        if other.step == placed.step:
            continue
        for person in other.people:
            if person in found:
                found[person].append((minute_of(other.start), minute_of(other.end), other.step))
    return {person: sorted(taken) for person, taken in found.items()}


def _cured(shown: Shown, wanted: AbstractSet[StepId]) -> "Mapping[StepId, Cured]":
    """Return when these steps have cured; of the others nothing is reckoned."""
    # It brings in all that reads books for the engine.
    from scheduler.cured import cured

    if shown.plan is None:
        return {}
    few = tuple(placed for placed in shown.plan.placements if placed.step in wanted)
    return cured(shown.book, replace(shown.plan, placements=few))
