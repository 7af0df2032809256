"""The chain of a stage: what decided when it can be, back to now, and what waits for it. No Qt.

It is read off the plan on show: of all that a step comes after, what is ready last; where it could
begin sooner than it does, also the work that has its people or its place until then.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from string import ascii_uppercase
from typing import TYPE_CHECKING

from app.window.wall.causes import LEAST_WAIT_MINUTES, Cause, Causes
from app.window.wall.derive import Shown
from app.window.wall.hours import Hours
from app.window.wall.items import Item, Role, Wall
from app.words import Words
from app.words import on_wall as say
from app.words import window as wording
from shared.book import Book, Gate, GateKind, Job, Step
from shared.ids import StepId
from shared.order import afters_of
from shared.plan import Placement, Plan

if TYPE_CHECKING:
    from collections.abc import Mapping

    from scheduler.cured import Cured

_MOST = 400
LETTERS_MOST = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """A wait on the chain: its letter, the dots it stands on, and what it is for."""

    letter: str
    item: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """Ids of all that is on it, by time, and its waits."""

    lit: frozenset[str]
    steps: tuple[StepId, ...]
    waits: tuple[Wait, ...]


class Chains:
    """Reads chains off one plan."""

    def __init__(self, shown: Shown, wall: Wall, words: Words, hours: Hours) -> None:
        self.wall, self.words, self._hours = wall, words, hours
        self._now = shown.now
        self._jobs: dict[StepId, Job] = {s.id: j for j in shown.book.jobs for s in j.steps}
        self._steps: dict[StepId, Step] = {s.id: s for j in shown.book.jobs for s in j.steps}
        self._people = {person.id: person.name for person in shown.book.people}
        self._places = {place.id: place for place in shown.book.places}
        plan = _of_book(shown.plan, self._steps)
        self._placed = list(plan.placements) if plan else []
        cures = _cured(shown.book, plan)
        self._causes = Causes(shown.book, plan, cures, hours, shown.now)
        self._first: dict[StepId, Placement] = {}
        for placed in self._placed:
            earliest = self._first.get(placed.step)
            if earliest is None or placed.start < earliest.start:
                self._first[placed.step] = placed
        self._followers: dict[StepId, list[StepId]] = defaultdict(list)
        for job in shown.book.jobs:
            for step, links in afters_of(job).items():
                for link in links:
                    self._followers[link.step].append(step)

    def of(self, item: Item) -> Chain | None:
        """Return the chain of an item's step; None where the plan has it nowhere."""
        start = self._first.get(item.step) if item.step else None
        if start is None:
            return None
        causes = [(start, self._causes.of(start)), *self._back(start)]
        causes += [(placed, self._causes.of(placed)) for placed in self._on(start)]
        on = [placed for placed, _ in causes]
        on += [cause.held for _, cause in causes if cause.held is not None]
        unique = list({(p.step, p.round, p.part): p for p in on}.values())
        unique.sort(key=lambda placed: placed.start)
        waits = tuple(self._waits(causes))
        lit = frozenset(self._lit(unique)) | {wait.item for wait in waits} | self._road(item)
        return Chain(lit=lit, steps=tuple(p.step for p in unique), waits=waits)

    def _back(self, start: Placement) -> Iterator[tuple[Placement, Cause]]:
        """Give what decided when it begins, and so on, back to now."""
        seen, here = {start.step}, start
        for _ in range(_MOST):
            before = self._causes.of(here).placed
            if before is None or before.step in seen or here.start <= self._now:
                return
            seen.add(before.step)
            here = before
            yield here, self._causes.of(here)

    def _on(self, start: Placement) -> Iterator[Placement]:
        """Give what waits for it, the first each time, on to the loading."""
        seen, here = {start.step}, start
        for _ in range(_MOST):
            after = [self._first[s] for s in self._followers[here.step] if s in self._first]
            after = [placed for placed in after if placed.step not in seen]
            held = [placed for placed in after if self._is_after(placed, here)] or after
            if not held:
                return
            here = min(held, key=lambda placed: (placed.start, placed.step))
            seen.add(here.step)
            yield here

    def _is_after(self, placed: Placement, before: Placement) -> bool:
        cause = self._causes.of(placed)
        return cause.placed is not None and cause.placed.step == before.step

    def _waits(self, causes: list[tuple[Placement, Cause]]) -> Iterator[Wait]:
        """Give letters to the longest waits, by time."""
        found: dict[str, tuple[int, int, str]] = {}
        for placed, cause in causes:
            if cause.ready is None:
                continue
            minutes = self._hours.spare_minutes(cause.ready, placed.start)
            if minutes < LEAST_WAIT_MINUTES and not self._is_answer(cause):
                continue
            item = self._dots(placed)
            if item is not None:
                found[item.id] = (minutes, item.start, self._why(placed, cause, minutes))
        longest = sorted(found.items(), key=lambda each: -each[1][0])[:LETTERS_MOST]
        in_order = sorted(longest, key=lambda each: each[1][1])
        for letter, (identity, (_, _, text)) in zip(ascii_uppercase, in_order, strict=False):
            yield Wait(letter=letter, item=identity, text=text)

    def _is_answer(self, cause: Cause) -> bool:
        step = self._steps.get(cause.placed.step) if cause.placed else None
        return isinstance(step, Gate) and step.gate is GateKind.ANSWER

    def _dots(self, placed: Placement) -> Item | None:
        """Return the dots before a placement on its first row."""
        mine = [item for item in self._items(placed) if item.role is Role.WAIT]
        return min(mine, key=lambda item: item.row, default=None)

    def _why(self, placed: Placement, cause: Cause, minutes: int) -> str:
        span = self.words.late(minutes)
        if self._is_answer(cause) and cause.held is None and cause.placed is not None:
            step, job = self._steps[cause.placed.step], self._jobs[placed.step]
            assert isinstance(step, Gate)
            who = (step.answered_by or job.client).name
            whole = self._hours.spare_minutes(cause.placed.start, placed.start)
            return self.words.say(say.CHAIN_WAIT_ANSWER, span=self.words.late(whole), who=who)
        if cause.held is None or cause.until is None:
            return self.words.say(say.CHAIN_WAIT_FREE, span=span)
        other = self.words.names.of("step", cause.held.step)
        owner = self._jobs[cause.held.step]
        if owner.id != self._jobs[placed.step].id:
            other = self.words.say(say.ITEM_OF_JOB, job=owner.name, item=other)
        template = say.CHAIN_WAIT_PERSON if cause.people else say.CHAIN_WAIT_PLACE
        who = self.words.series([self._people.get(p, p) for p in cause.people])
        if cause.place is not None:
            who = self._places[cause.place].name
        until = wording.short_moment(self.words, cause.until)
        return self.words.say(template, span=span, who=who, other=other, until=until)

    def _items(self, placed: Placement) -> Iterator[Item]:
        for item in self.wall.items:
            is_it = item.step == placed.step and item.part == placed.part
            if is_it and item.round == placed.round and item.role is not Role.LEG:
                yield item

    def _lit(self, chain: list[Placement]) -> Iterator[str]:
        for placed in chain:
            for item in self._items(placed):
                if item.role is not Role.WAIT:
                    yield item.id

    def _road(self, item: Item) -> frozenset[str]:
        band = self.wall.band_of(item.job)
        if band is None:
            return frozenset()
        ends = [*band.legs, *([band.window] if band.window else [])]
        return frozenset(each.id for each in ends)


def _of_book(plan: Plan | None, steps: "Mapping[StepId, Step]") -> Plan | None:
    """Return a plan without what the book has no longer: it may be of the book before an edit."""
    if plan is None:
        return None
    return replace(plan, placements=tuple(p for p in plan.placements if p.step in steps))


def _cured(book: Book, plan: Plan | None) -> "Mapping[StepId, Cured]":
    # It brings in all that reads books for the engine.
    from scheduler.cured import cured

    return cured(book, plan) if plan else {}


def chain_of(shown: Shown, wall: Wall, words: Words, item: Item) -> Chain | None:
    """Return the chain of an item on a wall."""
    start = datetime.fromtimestamp(wall.first * 60, UTC)
    end = datetime.fromtimestamp(wall.last * 60, UTC)
    return Chains(shown, wall, words, Hours(shown.book, start, end)).of(item)
