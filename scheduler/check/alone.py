"""How soon a step of a job can end with nobody else's work in the way, by plain counting.

Everybody who may do it is free, the fastest come, rooms, air, company and greatest waits are left
out. So no plan has it sooner; that is all that is claimed.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from functools import cached_property

from scheduler.check.answers import due_at
from scheduler.check.climate_waits import cured_in
from scheduler.check.clock import DAY, QUARTER, down, hours, midnight, seconds, up
from scheduler.check.facts import Facts
from scheduler.check.hours import Hours, HourTables
from scheduler.check.job_table import JobTable
from scheduler.check.weather import Weather
from shared.book import (
    Book,
    FactKind,
    Gate,
    GateKind,
    Job,
    Journey,
    Kind,
    Need,
    Person,
    SkillLevel,
    Stage,
    Step,
    Way,
)
from shared.climate import Climate
from shared.ids import PersonId, PlaceId, StepId

Work = Stage | Gate
_FAR = 400 * DAY
_ONE = Decimal(1)
_DOES = frozenset({SkillLevel.CAN, SkillLevel.LEADS})


class Alone:
    """One job by itself; all moments in seconds, work in quarters of an hour."""

    def __init__(self, book: Book, job: Job, now: datetime) -> None:
        """Take a job of a book as of an instant."""
        self.book, self.job, self.now = book, job, seconds(now)
        self.table = JobTable(job)
        self.facts = Facts(book.facts)
        self.steps: dict[StepId, Step] = {step.id: step for step in job.steps}
        self.people = {person.id: person for person in book.people}

    @cached_property
    def hours(self) -> Hours:
        """Return when people work, for longer than any window is away."""
        window = self.job.held_window
        last = self.now if window is None else max(self.now, seconds(window.end))
        tables = HourTables()
        tables.cover(self.now - 7 * DAY, last + _FAR)
        return Hours(self.book, tables)

    @cached_property
    def _weather(self) -> Weather:
        return Weather(Climate(self.book), self.book.workshop.zone)

    # What comes before what

    def links(self, step: Step) -> Iterator[tuple[StepId, int, bool]]:
        """Give what a step comes after: which, by at least how many seconds, from its start."""
        named = {link.before for link in self.table.links(step)}
        for link in self.table.links(step):
            if link.before in self.steps:
                yield link.before, link.least, link.from_start
        if isinstance(step, Gate) and step.gate is GateKind.LOADING:
            mine = self.table.pieces(step)
            for before in self.table.earlier(step):
                if before.id not in named and not mine.isdisjoint(self.table.pieces(before)):
                    yield before.id, 0, False

    def behind_journey(self, step: Step) -> bool:
        """Return whether a step comes after a journey, near or far."""
        line, seen = [step], {step.id}
        while line:
            for before, _, _ in self.links(line.pop()):
                if isinstance(self.steps[before], Journey):
                    return True
                if before not in seen:
                    seen.add(before)
                    line.append(self.steps[before])
        return False

    # How soon

    def soonest(self, step: Work, ready: int) -> tuple[int, int] | None:
        """Return the least start and end of a step that is ready then; None where it never can."""
        done = self.facts.done(step.id)
        if done is not None:
            return seconds(done.at), seconds(done.at)
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
            return self._answered(step, max(self.now, ready))
        running = self.facts.running(step.id)
        if running is not None:
            least = running.remaining_hours or Decimal(0)
            hands = max(1, len(running.people))
            needed = down(hours(least / hands))
            return self.now, self.now + max(0, needed - 1) * QUARTER
        begin = self._not_before(step, max(self.now, ready))
        ends = [end for way in step.ways if (end := self._by_way(step, way, begin)) is not None]
        if not step.ways:
            return up(begin) * QUARTER, up(begin) * QUARTER
        return (up(begin) * QUARTER, min(ends)) if ends else None

    def ready_after(self, step: Step, end: int) -> int:
        """Return from when on what follows a step that ended may start, at the soonest."""
        if isinstance(step, Journey):
            return end
        if not isinstance(step, Stage) or step.cure_celsius is None:
            return end + hours(step.cure_hours)
        told = self.facts.done(step.id)
        places: Iterable[PlaceId | None] = self._places(step)
        if told is not None and told.place is not None:
            places = (told.place,)
        return min(
            cured_in(self._weather, place, step.cure_hours, step.cure_celsius, end)
            for place in places
        )

    def _places(self, step: Stage) -> tuple[PlaceId | None, ...]:
        """Return where a stage may be done."""
        found: dict[PlaceId | None, None] = {}
        for way in step.ways:
            found.update(dict.fromkeys(way.places))
            kinds = (place.id for place in self.book.places if place.kind in way.place_kinds)
            found.update(dict.fromkeys(kinds))
            if not way.places and not way.place_kinds:
                found[None] = None
        return tuple(found) or (None,)

    def _not_before(self, step: Work, ready: int) -> int:
        zone = self.book.workshop.zone
        days = [day for day in (self.job.not_before, step.not_before) if day is not None]
        pin = step.pin
        if pin is not None and pin.day is not None:
            days.append(pin.day)
        begin = max([ready, *(midnight(day, zone) for day in days)])
        if pin is not None and pin.not_before is not None:
            begin = max(begin, seconds(pin.not_before))
        if pin is not None and pin.start is not None:
            begin = max(begin, down(seconds(pin.start)) * QUARTER)
        return begin

    def _answered(self, gate: Gate, ready: int) -> tuple[int, int]:
        """Return when pictures go out and the last planned answer is due; rework takes no time."""
        asked = gate.answered_by or self.job.client
        answers = self.facts.answers(gate.id)
        if self.facts.said_yes(gate.id):
            return ready, ready
        shown = self.facts.in_order(gate.id, FactKind.PICTURES)
        rounds = max(1, 1 + gate.allow_no - len(answers))
        end = ready
        if len(shown) > len(answers):
            end = max(self.now, due_at(asked, gate, seconds(shown[-1].at)))
            rounds -= 1
        for _ in range(rounds):
            end = due_at(asked, gate, end)
        return ready, end

    # Work

    def _by_way(self, step: Work, way: Way, begin: int) -> int | None:
        """Return the least end of a step done in a way, whoever of those who may comes."""
        able = self.able(step, way)
        needed = self.quarters(step, way, able)
        first = up(begin)
        if not needed:
            return first * QUARTER
        if not way.needs:
            end = self._fit((), step, first, needed)
            return None if end is None else end * QUARTER
        ends = {person.id: self._fit((person.id,), step, first, needed) for person in able}
        bounds = [_nth(ends.values(), way.hands_count)]
        for need in way.needs:
            those = (ends[person.id] for person in able if _may(person, need, helps=False))
            bounds.append(_nth(those, need.can))
        for person in self._asked(step):
            bounds.append(_nth([ends.get(person)], 1))
        if any(bound is None for bound in bounds):
            return None
        return max(bound for bound in bounds if bound is not None) * QUARTER

    def able(self, step: Work, way: Way) -> list[Person]:
        """Return who could be one of those who do a step in a way."""
        wanted = step.certificates if isinstance(step, Stage) else ()
        return [
            person
            for person in self.book.people
            if any(_may(person, need, helps=True) for need in way.needs)
            and {each.certificate for each in person.certificates}.issuperset(wanted)
        ]

    def _asked(self, step: Work) -> Sequence[PersonId]:
        people = step.people if isinstance(step, Stage) else ()
        return (*people, *(step.pin.people if step.pin is not None else ()))

    def quarters(self, step: Work, way: Way, able: Sequence[Person]) -> int:
        """Return the open quarters that a way takes the fastest of those who may do it."""
        workshop, hands = self.book.workshop, max(1, way.hands_count)
        paces = sorted((Fraction(person.pace) for person in able), reverse=True)[:hands]
        pace = sum(paces, Fraction()) / len(paces) if paces else Fraction(1)
        bench = Fraction(way.hours.likely) / hands / max(pace, Fraction(1, 100))
        bench *= 1 + Fraction(workshop.pair_loss_percent) / 100 * (hands - 1)
        if not step.in_one_go:
            bench *= Fraction(workshop.shift_hours) / Fraction(workshop.useful_hours)
        exact = bench * 3600 / QUARTER
        return -(-exact.numerator // exact.denominator)

    def _fit(self, people: tuple[PersonId, ...], step: Work, first: int, needed: int) -> int | None:
        """Return the least end, in quarters, of so much work begun at a quarter or later."""
        if step.in_one_go:
            return self._in_one_go(people, step, first, needed)
        left = needed
        for start, end in self.hours.team(people).pairs:
            there = end - max(start, first)
            if there >= left:
                return max(start, first) + left
            left -= max(0, there)
        return None

    def _in_one_go(
        self, people: tuple[PersonId, ...], step: Work, first: int, needed: int
    ) -> int | None:
        watch = self._watch(step)
        is_open = self.hours.team(people)
        shifts = self.hours.shifts(people[0] if people else None)
        for start, end in shifts.pairs:
            left = needed
            for opens, shuts in is_open.pairs if end > first else ():
                if opens >= end or shuts <= max(start, first):
                    continue
                begin = max(opens, start, first)
                there = min(shuts, end) - begin
                if there >= left:
                    if begin + left + watch <= end:
                        return begin + left
                    break
                left -= max(0, there)
        return None

    def _watch(self, step: Work) -> int:
        if not isinstance(step, Stage):
            return 0
        minutes = step.watch_minutes
        if minutes is None:
            is_laminate = step.kind is Kind.LAMINATE
            minutes = self.book.workshop.watch_minutes if is_laminate else 0
        return up(60 * minutes)


def _may(person: Person, need: Need, *, helps: bool) -> bool:
    """Return whether a person may take a place of a need; helps: one of those who help, too."""
    levels = frozenset(SkillLevel) if helps and need.helps else _DOES
    return any(held.skill == need.skill and held.level in levels for held in person.skills)


def _nth(ends: Iterable[int | None], count: int) -> int | None:
    """Return by when so many of some are done at the soonest, 0 for none of them."""
    if count <= 0:
        return 0
    known = sorted(end for end in ends if end is not None)
    return known[count - 1] if len(known) >= count else None
