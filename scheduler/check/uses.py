"""Something that is held in time, and whether there is enough of it at every moment."""

import heapq
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import lcm
from typing import NamedTuple

from scheduler.check.clock import day_after, iso, midnight, seconds
from scheduler.check.tell import Fact, of_step, of_task
from scheduler.check.world import Task
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Booking, Job, Journey, OtherWork, Segment

_EVER_BEFORE, _EVER_AFTER = -(10**12), 10**12


class Use(NamedTuple):
    """A stretch, in seconds, in which a task, a journey or a waiting segment holds something.

    by: None for what is booked. given: it is there whatever the plan, so no plan is to blame.
    """

    start: int
    end: int
    need: Fraction
    by: Task | tuple[Job, Journey] | None
    waiting: Segment | None = None
    given: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A stretch, in seconds, in which something can't be had, and why."""

    start: int
    end: int
    why: str

    def meets(self, use: Use) -> bool:
        """Return whether a use falls into it."""
        return max(self.start, use.start) < min(self.end, use.end)

    @property
    def facts(self) -> dict[str, str | None]:
        """Return the stretch for a sentence, None for an end it doesn't have."""
        return {
            "start": None if self.start == _EVER_BEFORE else iso(self.start),
            "end": None if self.end == _EVER_AFTER else iso(self.end),
            "why": self.why,
        }


def fullness(uses: Sequence[Use], room: Fraction) -> Iterator[tuple[Use, str, Fraction]]:
    """Give each use that finds too little room when it begins, the moment, and what is taken.

    Where what begins is there whatever the plan, the planned use that began last is given.
    """
    running: list[tuple[int, int]] = []
    parts = lcm(room.denominator, *(use.need.denominator for use in uses))
    needs = [use.need.numerator * (parts // use.need.denominator) for use in uses]
    most, taken = room.numerator * (parts // room.denominator), 0
    order = sorted(range(len(uses)), key=lambda index: _begins(uses[index]))
    for index in order:
        use = uses[index]
        while running and running[0][0] <= use.start:
            taken -= needs[heapq.heappop(running)[1]]
        if use.start >= use.end:
            continue
        heapq.heappush(running, (use.end, index))
        taken += needs[index]
        if taken > most:
            planned = [uses[each] for _, each in running if not uses[each].given]
            blamed = max(planned, default=None, key=_begins) if use.given else use
            if blamed is not None:
                yield blamed, iso(use.start), Fraction(taken, parts)


def _begins(use: Use) -> tuple[int, bool, int]:
    return use.start, not use.given, use.end


def told_of_use(rule: Rule, use: Use, **facts: Fact) -> Breach:
    """Return the breach of a use."""
    assert use.by is not None, "nobody is to blame for what is booked"
    if isinstance(use.by, Task):
        return of_task(rule, use.by, **facts)
    job, journey = use.by
    return of_step(rule, job, journey, **facts)


def shut_spans(stretches: Iterable[Booking | OtherWork], why: str) -> Iterator[Taken]:
    """Give stretches in which something is taken."""
    for each in stretches:
        yield Taken(start=seconds(each.start), end=seconds(each.end), why=why)


def shut_days(
    zone: str, first: date | None, last: date | None, why: str = "usable"
) -> Iterator[Taken]:
    """Give what lies before the first and after the last day of use."""
    if first is not None:
        yield Taken(start=_EVER_BEFORE, end=midnight(first, zone), why=why)
    if last is not None:
        yield Taken(start=midnight(day_after(last), zone), end=_EVER_AFTER, why=why)
