"""What a plan has otherwise than people were told: work by work, weighed, and person by person.

Weights are common practice, no source: other people count 4, another day 2, an hour or more on the
same day 1, another place 1, and only the greatest of them; what was told for today or tomorrow
counts three times, for this week once, for the next three tenths, for later a tenth.
"""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from enum import StrEnum

from shared.book import Book, Fact, FactKind, Journey
from shared.ids import JobId, PersonId, PlaceId, StepId
from shared.plan import Placement, Plan, Trip
from shared.worktime.zones import local_date

PEOPLE, DAY, HOUR, PLACE = 4, 2, 1, 1
SOON, THIS_WEEK, NEXT_WEEK, LATER = Decimal(3), Decimal(1), Decimal("0.3"), Decimal("0.1")
_AN_HOUR = timedelta(hours=1)
_BEGUN = (FactKind.DONE, FactKind.RUNNING, FactKind.GONE, FactKind.ANSWER, FactKind.PICTURES)


class Otherwise(StrEnum):
    """What is otherwise of something told."""

    PEOPLE = "people"
    DAY = "day"
    TIME = "time"
    PLACE = "place"
    LENGTH = "length"
    OFF = "off"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """Work or a journey as a sheet has it: when, by whom, where."""

    start: datetime
    end: datetime
    people: tuple[PersonId, ...]
    place: PlaceId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Something told that a plan has otherwise, or not at all (`now` is None).

    is_soon: it was told for today or tomorrow, or now is. points: what it counts.
    """

    job: JobId
    step: StepId
    round: int
    part: str
    kinds: tuple[Otherwise, ...]
    told: Stint
    now: Stint | None
    is_soon: bool
    points: Decimal


class Line(StrEnum):
    """What one person is told of a change."""

    OFF = "off"
    ON = "on"
    MOVED = "moved"


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonLine:
    """One change as one person hears it. others: who does it instead, or did it before."""

    person: PersonId
    line: Line
    change: Change
    others: tuple[PersonId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """All changes of a plan against what was told, by the start that was told.

    people: whose sheet for today or tomorrow is another. points: the sum of what they count.
    """

    each: tuple[Change, ...] = ()
    people: tuple[PersonId, ...] = ()

    @property
    def points(self) -> Decimal:
        """Return what all changes count together."""
        return sum((change.points for change in self.each), Decimal(0))

    def lines(self) -> tuple[PersonLine, ...]:
        """Return the changes person by person, both sides of a swap, in order of time."""
        found = [line for change in self.each for line in _lines(change)]
        order = {line.person: None for line in found}
        return tuple(line for person in order for line in found if line.person == person)


def told_changes(
    book: Book, plan: Plan, now: datetime, *, missing: Collection[PersonId] = ()
) -> Changes:
    """Return what a plan has otherwise than the book's told plan, from now on.

    missing: people of whom nothing that they were told counts any more.
    """
    if book.told is None:
        return Changes()
    told, made = dict(_stints(book, book.told.plan)), dict(_stints(book, plan))
    begun = {fact.step for fact in book.facts if _has_begun(fact)}
    zone = book.workshop.zone
    found = [
        change
        for slot, stint in told.items()
        if slot[1] not in begun and stint.end > now and slot[0] in plan.jobs
        if (change := _change(slot, stint, made.get(slot), (now, zone), missing)) is not None
    ]
    found.sort(key=lambda one: (one.told.start, one.job, one.step, one.round, one.part))
    return Changes(each=tuple(found), people=_told_anew(found, missing))


def _has_begun(fact: Fact) -> bool:
    return fact.kind in _BEGUN


Slot = tuple[JobId, StepId, int, str]


def _stints(book: Book, plan: Plan) -> Iterator[tuple[Slot, Stint]]:
    """Give what a plan has for people to do, by job, step, round and part."""
    crews = {
        step.id: step.crew for job in book.jobs for step in job.steps if isinstance(step, Journey)
    }
    known = {step.id for job in book.jobs for step in job.steps}
    for placed in plan.placements:
        if placed.people and placed.step in known:
            yield (placed.job, placed.step, placed.round, placed.part), _stint(placed)
    for trip in plan.trips:
        if crews.get(trip.step):
            yield (trip.job, trip.step, 0, "trip"), _ride(trip, crews[trip.step])


def _stint(placed: Placement) -> Stint:
    return Stint(start=placed.start, end=placed.end, people=placed.people, place=placed.place)


def _ride(trip: Trip, crew: tuple[PersonId, ...]) -> Stint:
    return Stint(start=trip.crew_from or trip.start, end=trip.end, people=crew)


def _change(
    slot: Slot,
    told: Stint,
    made: Stint | None,
    at: tuple[datetime, str],
    missing: Collection[PersonId],
) -> Change | None:
    now, zone = at
    kinds = _kinds(told, made, zone)
    if not kinds:
        return None
    job, step, round_, part = slot
    days = _days_away(told.start, now, zone)
    was_missing = bool(missing) and set(told.people) <= set(missing)
    points = (
        Decimal(0) if was_missing else _weight(kinds, told, made) * _distance(told.start, now, zone)
    )
    return Change(
        job=job,
        step=step,
        round=round_,
        part=part,
        kinds=kinds,
        told=told,
        now=made,
        is_soon=days < 2 or (made is not None and _days_away(made.start, now, zone) < 2),
        points=points,
    )


def _kinds(told: Stint, made: Stint | None, zone: str) -> tuple[Otherwise, ...]:
    if made is None:
        return (Otherwise.OFF,)
    found = []
    if set(told.people) != set(made.people):
        found.append(Otherwise.PEOPLE)
    if local_date(told.start, zone) != local_date(made.start, zone):
        found.append(Otherwise.DAY)
    elif told.start != made.start:
        found.append(Otherwise.TIME)
    if told.place != made.place:
        found.append(Otherwise.PLACE)
    if not found and told.end != made.end:
        found.append(Otherwise.LENGTH)
    return tuple(found)


def _weight(kinds: Iterable[Otherwise], told: Stint, made: Stint | None) -> int:
    is_much = made is not None and abs(made.start - told.start) >= _AN_HOUR
    weights = {
        Otherwise.OFF: PEOPLE,
        Otherwise.PEOPLE: PEOPLE,
        Otherwise.DAY: DAY,
        Otherwise.TIME: HOUR if is_much else 0,
        Otherwise.PLACE: PLACE,
        Otherwise.LENGTH: 0,
    }
    return max(weights[kind] for kind in kinds)


def _days_away(instant: datetime, now: datetime, zone: str) -> int:
    return (local_date(instant, zone) - local_date(now, zone)).days


def _distance(told: datetime, now: datetime, zone: str) -> Decimal:
    if _days_away(told, now, zone) < 2:
        return SOON
    weeks = (_monday(local_date(told, zone)) - _monday(local_date(now, zone))).days // 7
    return (THIS_WEEK, NEXT_WEEK)[weeks] if weeks < 2 else LATER


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _told_anew(changes: Iterable[Change], missing: Collection[PersonId]) -> tuple[PersonId, ...]:
    """Return whose sheet for today or tomorrow is another; a mere length changes no sheet."""
    found: dict[PersonId, None] = {}
    for change in changes:
        if change.is_soon and change.kinds != (Otherwise.LENGTH,):
            for line in _lines(change):
                found[line.person] = None
    return tuple(sorted(person for person in found if person not in missing))


def _lines(change: Change) -> Iterator[PersonLine]:
    told = change.told.people
    now = () if change.now is None else change.now.people
    come, gone = _without(now, told), _without(told, now)
    for person in told:
        if person not in now:
            yield PersonLine(person=person, line=Line.OFF, change=change, others=come)
        elif change.kinds != (Otherwise.PEOPLE,):
            yield PersonLine(person=person, line=Line.MOVED, change=change)
    for person in come:
        yield PersonLine(person=person, line=Line.ON, change=change, others=gone)


def _without(people: tuple[PersonId, ...], others: tuple[PersonId, ...]) -> tuple[PersonId, ...]:
    return tuple(person for person in people if person not in others)
