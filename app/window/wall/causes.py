"""What decided when a stage begins: what it came after, and whose people or place it waited for.

Read off one plan. No Qt.
"""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from app.window.wall.hours import Hours
from shared.book import Book
from shared.ids import PersonId, PlaceId, StepId
from shared.order import afters_of
from shared.plan import Placement, Plan

if TYPE_CHECKING:
    from collections.abc import Mapping

    from scheduler.cured import Cured

LEAST_WAIT_MINUTES = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """What a placement came after, ready at an instant.

    held: whose work has its people or its place until it is free; people, place: which of them.
    """

    placed: Placement | None
    ready: datetime | None
    held: Placement | None = None
    until: datetime | None = None
    people: tuple[PersonId, ...] = ()
    place: PlaceId | None = None


class Causes:
    """Finds causes in one plan; what people and places do is looked up by when it ends."""

    def __init__(
        self,
        book: Book,
        plan: Plan | None,
        cured: "Mapping[StepId, Cured]",
        hours: Hours,
        now: datetime,
    ) -> None:
        self._cured, self._hours, self._now = cured, hours, now
        self._jobs = {step.id: job.id for job in book.jobs for step in job.steps}
        self._afters = {job.id: afters_of(job) for job in book.jobs}
        self.last: dict[StepId, Placement] = {}
        by: dict[str, list[tuple[datetime, int, Placement]]] = defaultdict(list)
        for number, one in enumerate(plan.placements if plan else ()):
            before = self.last.get(one.step)
            if before is None or before.end < one.end:
                self.last[one.step] = one
            for who in one.people:
                by[f"person {who}"].append((one.end, number, one))
            if one.place is not None:
                by[f"place {one.place}"].append((one.end, number, one))
        self._by = {key: sorted(found, key=lambda each: each[:2]) for key, found in by.items()}
        self._ends = {key: [end for end, _, _ in found] for key, found in self._by.items()}

    def waited(self, placed: Placement, cause: Cause) -> int:
        """Return for how many working minutes a placement waited, once it was ready."""
        free = max(cause.ready or self._now, self._now)
        return self._hours.spare_minutes(free, placed.start)

    def of(self, placed: Placement) -> Cause:
        """Return what a placement came after, and what held it up besides."""
        before: Placement | None = None
        ready: datetime | None = None
        for link in self._afters[self._jobs[placed.step]].get(placed.step, ()):
            one = self.last.get(link.step)
            if one is None:
                continue
            at = one.start if link.from_start else self._ready(one)
            if ready is None or at > ready:
                before, ready = one, at
        cause = Cause(placed=before, ready=ready)
        if self.waited(placed, cause) < LEAST_WAIT_MINUTES:
            return cause
        return self._held(placed, before, max(ready or self._now, self._now))

    def _ready(self, placed: Placement) -> datetime:
        cured = self._cured.get(placed.step)
        return cured.ready if cured is not None and not placed.part else placed.end

    def _ending(self, placed: Placement, free: datetime) -> Iterator[Placement]:
        """Give the work of the same people or place that ends from an instant to its start."""
        keys = [f"person {who}" for who in placed.people]
        keys += [f"place {placed.place}"] if placed.place is not None else []
        found: dict[int, Placement] = {}
        for key in keys:
            ends = self._ends[key]
            part = slice(bisect_right(ends, free), bisect_right(ends, placed.start))
            found |= {number: one for _, number, one in self._by[key][part]}
        return (found[number] for number in sorted(found))

    def _held(self, placed: Placement, before: Placement | None, free: datetime) -> Cause:
        """Return whose work has its people or its place until it begins, if any has."""
        best = Cause(placed=before, ready=free)
        for other in self._ending(placed, free):
            if other.step == placed.step:
                continue
            shared = tuple(p for p in placed.people if p in other.people)
            until = other.end
            if not shared:
                until = min(max(other.end, self._ready(other)), placed.start)
            if best.until is None or until > best.until:
                best = Cause(
                    placed=before,
                    ready=free,
                    held=other,
                    until=until,
                    people=shared,
                    place=None if shared else placed.place,
                )
        return best
