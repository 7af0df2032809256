"""What everybody does on one day by a plan, row by row. No Qt."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from app.window.people import days
from app.window.sheets.day import Row, Sort
from app.window.wall.parts import is_work, kind_of
from app.words import Words
from app.words import sheets as say
from app.words import window as wording
from app.words.voice import capital
from shared.book import (
    Book,
    EquipmentKind,
    FactKind,
    Gate,
    Job,
    Journey,
    PlaceKind,
    Segment,
    Stage,
)
from shared.ids import PersonId, PlaceId, StepId
from shared.plan import Placement, Plan, Trip
from shared.worktime import Span, clip, union

_A_DAY = timedelta(days=1)
_OVER = frozenset({FactKind.DONE, FactKind.GONE})
A_BREAK = timedelta(hours=2)
"""What somebody goes on with after so long at most stands in one row."""
STILL_SAME = timedelta(hours=1)
"""An end that moves by less than that is no other row: it is work that takes a little longer."""
_MIDNIGHT = "24:00"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """A row with its instants. source: what it is a part of; step: the work, for its cautions."""

    source: str
    start: datetime
    end: datetime
    row: Row
    step: StepId | None = None

    def is_as(self, other: "Stint") -> bool:
        """Return whether it is told in the same words, its end apart by less than an hour."""
        mine = replace(self.row, end="", is_done=False)
        theirs = replace(other.row, end="", is_done=False)
        return mine == theirs and abs(self.end - other.end) < STILL_SAME


class Day:
    """One day of a book: who is there, and what they do by one plan or another."""

    def __init__(self, book: Book, words: Words, day: date) -> None:
        self.book, self.words, self.day = book, words, day
        self.zone = book.workshop.zone
        self.first = days.midnight(day, self.zone)
        self.last = days.midnight(day + _A_DAY, self.zone)
        self._near = (self.first - _A_DAY, self.last + _A_DAY)
        self.there = {each.id: days.there(book, each, *self._near) for each in book.people}
        self._jobs = {job.id: job for job in book.jobs}
        self._steps = {step.id: step for job in book.jobs for step in job.steps}
        self._names = {each.id: each.name for each in book.people}
        self._places: dict[PlaceId, str] = {each.id: each.name for each in book.places}
        self._booths = {each.id for each in book.places if each.kind is PlaceKind.BOOTH}
        self._cranes = {each.id for each in book.equipment if each.kind is EquipmentKind.CRANE}
        self._over = {fact.step for fact in book.facts if fact.kind in _OVER}

    def is_there(self, person: PersonId) -> bool:
        """Return whether somebody works at all on the day."""
        return bool(clip(self.there.get(person, ()), self.first, self.last))

    @property
    def begins(self) -> datetime:
        """Return when the first comes in; the first hour of a day on which nobody does."""
        found = (clip(each, self.first, self.last) for each in self.there.values())
        return min((spans[0].start for spans in found if spans), default=self.first)

    def stints(self, plan: Plan) -> Mapping[PersonId, tuple[Stint, ...]]:
        """Return what everybody does by a plan, in the order of time."""
        found: dict[PersonId, list[Stint]] = defaultdict(list)
        for person, stint in (*self._placed(plan), *self._trips(plan), *self._others()):
            found[person].append(stint)
        return {person: _joined(each) for person, each in found.items()}

    # Work at the bench.

    def _placed(self, plan: Plan) -> Iterator[tuple[PersonId, Stint]]:
        for placed in plan.placements:
            step, job = self._steps.get(placed.step), self._jobs.get(placed.job)
            if placed.start >= self.last or placed.end <= self.first or not placed.people:
                continue
            if placed.start == placed.end:  # told as done before it was to begin
                continue
            if step is None or job is None or isinstance(step, Journey):
                continue
            if is_work(step, placed):
                yield from self._work(job, step, placed)

    def _work(
        self, job: Job, step: Stage | Gate, placed: Placement
    ) -> Iterator[tuple[PersonId, Stint]]:
        stage = step.name
        if placed.part:
            stage = wording.part_of(self.words, placed.part, step.name)
        elif step.in_one_go:
            stage = self.words.say(say.ONE_GO, stage=step.name)
        row = Row(
            sort=Sort.WORK,
            segment=segment_text(self.words, job, self._segments(job, step)),
            piece=piece_text(self.words, job, self._segments(job, step)),
            kind=kind_of(step, placed),
            stage=stage,
            place=self._places.get(placed.place, "") if placed.place else "",
            job=job.id,
            is_done=step.id in self._over and not placed.part,
        )
        source = f"{step.id}|{placed.round}|{placed.part}"
        is_whole = step.in_one_go and not placed.part
        yield from self._each(
            source,
            row,
            placed.people,
            (placed.start, placed.end),
            step.id,
            is_whole=is_whole,
            is_rough=not self._is_fine(placed),
        )

    def _is_fine(self, placed: Placement) -> bool:
        """Return whether quarter hours matter: in the booth and under the crane."""
        return placed.place in self._booths or not self._cranes.isdisjoint(placed.equipment)

    def _segments(self, job: Job, step: Stage | Gate) -> tuple[Segment, ...]:
        wanted = set(step.segments)
        return tuple(each for each in job.segments if not wanted or each.id in wanted)

    def _each(
        self,
        source: str,
        row: Row,
        people: tuple[PersonId, ...],
        when: tuple[datetime, datetime],
        step: StepId | None = None,
        *,
        is_whole: bool = False,
        is_rough: bool = False,
    ) -> Iterator[tuple[PersonId, Stint]]:
        """Give each of a team their rows: while all of them are there."""
        start, end = max(when[0], self.first), min(when[1], self.last)
        spans = () if is_whole else days.at_work(people, start, end, self.there)
        if not spans:
            is_near = when[0] >= self._near[0] and when[1] <= self._near[1]
            if not is_whole and (not is_near or days.at_work(people, *when, self.there)):
                return
            spans = union(Span(start=start, end=end))
        for person in people:
            beside = self.words.both(self._names.get(one, one) for one in people if one != person)
            mine = replace(row, beside=beside)
            for span in spans:
                row = self._timed(mine, span, person, is_rough=is_rough)
                yield (
                    person,
                    Stint(source=source, start=span.start, end=span.end, row=row, step=step),
                )

    def _timed(self, row: Row, span: Span, person: PersonId, *, is_rough: bool) -> Row:
        """Return a row with its times: work at the bench in half hours, unless it is shorter.

        When somebody comes, goes or has a break is always told as it is.
        """
        start, end = span.start, span.end
        if is_rough:
            known = {t for each in self.there.get(person, ()) for t in (each.start, each.end)}
            told = tuple(t if t in known else days.half_hour(t, self.zone) for t in (start, end))
            start, end = told if told[0] < told[1] else (start, end)
        return replace(row, start=self.words.clock(start), end=self._until(end))

    def _until(self, end: datetime) -> str:
        return _MIDNIGHT if end >= self.last else self.words.clock(end)

    # The road, and work of no job.

    def _trips(self, plan: Plan) -> Iterator[tuple[PersonId, Stint]]:
        for trip in plan.trips:
            step, job = self._steps.get(trip.step), self._jobs.get(trip.job)
            if isinstance(step, Journey) and job is not None:
                yield from self._trip(job, step, trip)

    def _trip(self, job: Job, step: Journey, trip: Trip) -> Iterator[tuple[PersonId, Stint]]:
        start, end = max(trip.crew_from or trip.start, self.first), min(trip.end, self.last)
        if start >= end:
            return
        stage = step.name
        if trip.end > self.last:
            moment = wording.short_moment(self.words, trip.end)
            stage = self.words.say(say.GO_ON, stage=stage, moment=moment)
        row = Row(
            sort=Sort.ROAD,
            segment=job.name,
            stage=stage,
            place=self.words.say(say.ON_THE_ROAD),
            job=job.id,
            is_done=step.id in self._over,
        )
        yield from self._each(
            f"{step.id}|trip", row, step.crew, (start, end), step.id, is_whole=True
        )

    def _others(self) -> Iterator[tuple[PersonId, Stint]]:
        for work in self.book.other_work:
            if work.start >= self.last or work.end <= self.first:
                continue
            places = self.words.series(self._places.get(one, one) for one in work.places)
            row = Row(sort=Sort.OTHER, segment=capital(work.name), place=places)
            yield from self._each(f"other {work.id}", row, work.people, (work.start, work.end))


def segment_text(words: Words, job: Job, segments: tuple[Segment, ...]) -> str:
    """Return what of a job is worked on: the job alone where it is all of it."""
    if len(segments) == len(job.segments):
        return job.name
    facts = {"job": job.name, "segment": segments[0].name if segments else ""}
    if len(segments) == 1:
        return words.say(say.OF_JOB, **facts)
    return words.say(say.MORE, count=len(segments) - 1, **facts)


def piece_text(words: Words, job: Job, segments: tuple[Segment, ...]) -> str:
    """Return what is worked on within a job, "" where it is all of it."""
    if len(segments) == len(job.segments) or not segments:
        return ""
    if len(segments) == 1:
        return segments[0].name
    return words.say(say.MORE_PIECES, segment=segments[0].name, count=len(segments) - 1)


def _joined(stints: list[Stint]) -> tuple[Stint, ...]:
    """Join what goes on after a break, with nothing else between."""
    made: list[Stint] = []
    for each in sorted(stints, key=lambda one: (one.start, one.end, one.source)):
        last = made[-1] if made else None
        if last and last.source == each.source and each.start - last.end <= A_BREAK:
            row = replace(last.row, end=each.row.end)
            made[-1] = replace(last, end=each.end, row=row)
        else:
            made.append(each)
    return tuple(made)


def changed(now: tuple[Stint, ...], told: tuple[Stint, ...]) -> tuple[tuple[Row, ...], bool]:
    """Return rows, marked where they are not as they were told, and whether any is otherwise."""
    rows = []
    for each in now:
        is_anew = not any(each.is_as(other) for other in told)
        rows.append(replace(each.row, is_changed=is_anew))
    is_gone = any(not any(other.is_as(each) for each in now) for other in told)
    return tuple(rows), is_gone or any(row.is_changed for row in rows)
