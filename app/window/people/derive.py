"""A book and its plan to what stands in the foreman's view; pure, once per plan. No Qt."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.window.people import days
from app.window.people.items import Bar, Board, Line, Sort
from app.window.wall.derive import Shown
from app.window.wall.describe import Teller
from app.window.wall.hours import person_calendar
from app.window.wall.items import minute_of
from app.window.wall.parts import is_work, kind_of
from app.words import Words
from app.words import people_view as say
from app.words import window as said
from app.words.voice import capital
from scheduler.asks import Asked, asks
from scheduler.dues import dues
from scheduler.outcome import CheckResult
from shared.book import (
    Book,
    FactKind,
    Gate,
    Job,
    Journey,
    Leave,
    Person,
    Place,
    SkillLevel,
    Stage,
)
from shared.ids import PersonId, SegmentId, StepId
from shared.plan import Placement, Plan, Trip
from shared.worktime import Span, clip, intersect, open_spans, union

if TYPE_CHECKING:
    from collections.abc import Mapping

    from scheduler.cured import Cured

_A_DAY = timedelta(days=1)
_CURES_REACH, _RECOATS_REACH = timedelta(days=60), timedelta(days=21)
_OVER = frozenset({FactKind.DONE, FactKind.GONE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """Which days are looked at: the first of them and how many."""

    first: date
    count: int


def derive(shown: Shown, words: Words, sight: Sight, before: Plan | None = None) -> Board:
    """Return the rows of people and of places over some days.

    before: the plan that what is changed is marked against; None: the one that people were told.
    """
    return _Maker(shown, words, sight, before).board()


class _Maker:
    def __init__(self, shown: Shown, words: Words, sight: Sight, before: Plan | None) -> None:
        self.before = {(p.step, p.round, p.part): p for p in before.placements} if before else None
        self.shown, self.words, self.book = shown, words, shown.book
        zone = self.book.workshop.zone
        self.first = days.midnight(sight.first, zone)
        self.last = days.midnight(sight.first + sight.count * _A_DAY, zone)
        self.sight = sight
        self.hours = days.hours_for(self.book, self.first, self.last)
        self.jobs = {job.id: job for job in self.book.jobs}
        self.steps = {step.id: step for job in self.book.jobs for step in job.steps}
        self.segments = {s.id: s for job in self.book.jobs for s in job.segments}
        self.names = {person.id: person.name for person in self.book.people}
        self.places = {place.id: place.name for place in self.book.places}
        self.over = {fact.step for fact in self.book.facts if fact.kind in _OVER}
        self.running = {f.step for f in self.book.facts if f.kind is FactKind.RUNNING} - self.over
        self._there = {
            person.id: days.there(self.book, person, self.first - _A_DAY, self.last + _A_DAY)
            for person in self.book.people
        }
        self.near = self._near_plan()
        self.cured = _cured(self.book, self.near)
        self.teller = self._teller()
        self.of_person: dict[str, list[Bar]] = defaultdict(list)
        self.of_place: dict[str, list[Bar]] = defaultdict(list)

    def _near_plan(self) -> Plan | None:
        """Return what of the plan can matter in these days: cures reach on from before."""
        plan = self.shown.plan
        if plan is None:
            return None
        first, last = self.first - _CURES_REACH, self.last + _RECOATS_REACH
        near = (p for p in plan.placements if p.start < last and p.end > first)
        return replace(plan, placements=tuple(near))

    def _teller(self) -> Teller:
        told = self.book.told.plan.placements if self.book.told else ()
        plan, outcome = self.near, self.shown.outcome
        return Teller(
            self.book,
            self.words,
            {(p.step, p.round, p.part): p for p in told},
            self.hours,
            {each.id: each for each in outcome.jobs} if outcome else {},
            cured=self.cured,
            dues=dues(self.book, plan, self.shown.now, self.cured) if plan else (),
        )

    def board(self) -> Board:
        for placed in self._placed():
            self._work(placed)
        for trip in self.shown.plan.trips if self.shown.plan else ():
            self._road(trip)
        self._other()
        people = tuple(self._person(person) for person in self.book.people)
        places = tuple(self._place(place) for place in self.book.places)
        worked = [
            (_instant(start), _instant(end))
            for line in people
            for bar in line.bars
            if bar.sort is not Sort.AWAY
            for start, end in bar.pieces
        ]
        shown = days.hours_on_show(self.book, worked)
        return Board(
            now=minute_of(self.shown.now),
            columns=days.columns(
                self.book, self.words, self.sight.first, self.sight.count, shown, self.shown.now
            ),
            lines=tuple(
                replace(line, description=self._line_told(line)) for line in (*people, *places)
            ),
            shop=self.hours.shop_pieces(),
            unsaid=tuple(self._unsaid()),
            to_ask=self._to_ask(),
        )

    def _to_ask(self) -> tuple[Asked, ...]:
        """Return of what people are asked by name."""
        shown = self.shown
        if shown.plan is None or self.book.told is None:
            return ()
        found = asks(self.book, shown.plan, shown.now, CheckResult())
        return tuple(each for each in found if each.by_name and each.people)

    def _placed(self) -> Iterator[Placement]:
        for placed in self.near.placements if self.near else ():
            step = self.steps.get(placed.step)
            if step is None or isinstance(step, Journey) or not is_work(step, placed):
                continue
            until = self._until(placed)
            if placed.start < self.last and until > self.first:
                yield placed

    def _until(self, placed: Placement) -> datetime:
        """Return until when a placement holds its place."""
        step, cured = self.steps[placed.step], self.cured.get(placed.step)
        if cured is None or not isinstance(step, Stage) or not step.stays or placed.part:
            return placed.end
        return max(placed.end, cured.ready)

    def _unsaid(self) -> Iterator[Bar]:
        """Give work that was to be over before, of which nobody has said that it is."""
        for placed in self.shown.plan.placements if self.shown.plan else ():
            step, job = self.steps.get(placed.step), self.jobs.get(placed.job)
            if not isinstance(step, Stage | Gate) or job is None or placed.part:
                continue
            is_before = placed.end <= min(self.first, self.shown.now)
            if is_before and placed.people and step.id not in self.over and is_work(step, placed):
                yield self._bar(job, step, placed)

    # Work.

    def _work(self, placed: Placement) -> None:
        step, job = self.steps[placed.step], self.jobs[placed.job]
        assert isinstance(step, Stage | Gate)
        bar = self._bar(job, step, placed)
        if placed.end > self.first:
            for person in placed.people:
                self.of_person[person].append(replace(bar, beside=self._beside(placed, person)))
        if placed.place is None:
            return
        if placed.end > self.first:
            who = self.words.series(self.names.get(one, one) for one in placed.people)
            self.of_place[placed.place].append(replace(bar, beside=who))
        if self._until(placed) > placed.end and isinstance(step, Stage):
            self.of_place[placed.place].append(self._cure(bar, step, placed))

    def _bar(self, job: Job, step: Stage | Gate, placed: Placement) -> Bar:
        over = tuple(s for s in step.segments or [s.id for s in job.segments])
        one_go = step.in_one_go and not placed.part
        fine = self._worked(placed.people, placed.start, placed.end)
        whole = ((minute_of(placed.start), minute_of(placed.end)),)
        name, description = self._told(job, step, placed, over)
        stage = said.part_of(self.words, placed.part, step.name) if placed.part else step.name
        is_unsure = placed.end <= self.shown.now and step.id not in self.over
        return Bar(
            id=f"{step.id}|{placed.round}|{placed.part}",
            sort=Sort.WORK,
            start=whole[0][0],
            end=whole[0][1],
            pieces=whole if one_go else fine,
            what=self._what(job, over),
            stage=stage,
            job_word=_last_word(job.name),
            name=name,
            description=description + self._standing(step.id, is_unsure=is_unsure),
            kind=kind_of(step, placed),
            job=job.id,
            step=step.id,
            part=placed.part,
            round=placed.round,
            segments=over,
            people=placed.people,
            is_anew=self._is_anew(placed),
            is_pinned=step.pin is not None,
            is_done=step.id in self.over,
            is_unsure=is_unsure,
            is_running=step.id in self.running,
            is_one_go=one_go,
        )

    def _is_anew(self, placed: Placement) -> bool:
        if self.before is None or self.book.told is not None:
            return self.teller.is_anew(placed)
        was = self.before.get((placed.step, placed.round, placed.part))
        if was is None:
            return True
        mine = (placed.start, placed.end, set(placed.people), placed.place)
        return (was.start, was.end, set(was.people), was.place) != mine

    def _worked(
        self, people: tuple[PersonId, ...], start: datetime, end: datetime
    ) -> tuple[tuple[int, int], ...]:
        """Return when a team is at it: while all of them are there; all of it if they never are."""
        mine = days.at_work(people, start, end, self._there)
        return days.pieces_of(mine) or ((minute_of(start), minute_of(end)),)

    def _told(
        self, job: Job, step: Stage | Gate, placed: Placement, over: tuple[SegmentId, ...]
    ) -> tuple[str, str]:
        if not over:
            return self.teller.gate(job, step, placed) if isinstance(step, Gate) else ("", "")
        name = self.teller.block_name(over[0], step, placed)
        description = self.teller.block(over[0], job, step, placed)
        if len(over) == 1:
            return name, description
        what = self.words.both(self.segments[s].name for s in over)
        mine = self.words.say(said.STAGE_NAME, segment=what, stage=step.name)
        return mine, description.replace(name, mine, 1)

    def _standing(self, step: StepId, *, is_unsure: bool) -> str:
        if step in self.over:
            return " " + self.words.say(say.DONE_TOLD)
        if is_unsure:
            return " " + self.words.say(say.UNSURE_TOLD)
        return " " + self.words.say(say.RUNNING_TOLD) if step in self.running else ""

    def _what(self, job: Job, over: tuple[SegmentId, ...]) -> str:
        if len(over) == len(job.segments) and len(over) != 1:
            return job.name
        first = self.segments[over[0]].name
        if len(over) == 1:
            return first
        return self.words.say(say.AND_MORE, segment=first, count=len(over) - 1)

    def _beside(self, placed: Placement, person: PersonId) -> str:
        others = [self.names.get(one, one) for one in placed.people if one != person]
        place = self.places.get(placed.place, "") if placed.place else ""
        if not others:
            return place
        people = self.words.both(others)
        if place:
            return self.words.say(say.WITH_AT, people=people, place=place)
        return self.words.say(say.WITH, people=people)

    def _cure(self, bar: Bar, step: Stage, placed: Placement) -> Bar:
        until = self._until(placed)
        hours = -(-int((until - placed.end).total_seconds()) // 3600)
        cures = said.cure_label(self.words, step.kind, str(hours))
        facts = {"cures": cures, "moment": said.short_moment(self.words, until)}
        segment = bar.what
        place = capital(self.places.get(placed.place, "") if placed.place else "")
        text = self.words.say(say.CURE_TOLD, segment=segment, place=place, **facts)
        whole = ((minute_of(placed.end), minute_of(until)),)
        return replace(
            bar,
            id=f"cure {bar.id}",
            sort=Sort.CURE,
            start=whole[0][0],
            end=whole[0][1],
            pieces=whole,
            what=self.words.say(say.CURE_UNTIL, **facts),
            stage="",
            job_word="",
            beside="",
            name=self.words.say(say.CURE_NAME, segment=segment, cures=cures),
            description=text,
            is_unsure=False,
            is_anew=False,
            is_pinned=False,
        )

    # The road, other work, who is away.

    def _road(self, trip: Trip) -> None:
        step, job = self.steps.get(trip.step), self.jobs.get(trip.job)
        start = trip.crew_from or trip.start
        if not isinstance(step, Journey) or job is None:
            return
        if start >= self.last or trip.free <= self.first:
            return
        span = said.short_span(self.words, start, trip.end)
        people = self.words.both(self.names.get(one, one) for one in step.crew)
        facts = {"journey": step.name, "job": job.name}
        whole = ((minute_of(start), minute_of(trip.end)),)
        bar = Bar(
            id=f"{step.id}|0|trip",
            sort=Sort.ROAD,
            start=whole[0][0],
            end=whole[0][1],
            pieces=whole,
            what=job.name,
            stage=self.words.say(say.ROAD),
            name=self.words.say(say.ROAD_NAME, **facts),
            description=self.words.say(say.ROAD_TOLD, people=people, span=span, **facts),
            job=job.id,
            step=step.id,
            people=step.crew,
        )
        for person in step.crew:
            self.of_person[person].append(bar)

    def _other(self) -> None:
        for work in self.book.other_work:
            if work.start >= self.last or work.end <= self.first:
                continue
            span = said.short_span(self.words, work.start, work.end)
            names = self.words.both(self.names.get(one, one) for one in work.people)
            template = say.OTHER_TOLD if names else say.OTHER_TOLD_BARE
            bar = Bar(
                id=f"other {work.id}",
                sort=Sort.OTHER,
                start=minute_of(work.start),
                end=minute_of(work.end),
                pieces=self._worked(work.people, work.start, work.end),
                what=capital(work.name),
                name=capital(work.name),
                description=self.words.say(
                    template, name=capital(work.name), people=names, span=span
                ),
                people=work.people,
            )
            for person in work.people:
                self.of_person[person].append(bar)
            for place in work.places:
                self.of_place[place].append(bar)

    def _person(self, person: Person) -> Line:
        bars = [*self.of_person[person.id], *self._leaves(person)]
        free = clip(self._there[person.id], self.first, self.last)
        day_end = days.midnight(self.sight.first + _A_DAY, self.book.workshop.zone)
        away = any(b.sort is Sort.AWAY and b.start < minute_of(day_end) for b in bars)
        return Line(
            id=person.id,
            name=person.name,
            is_place=False,
            bars=tuple(sorted(bars, key=lambda bar: (bar.start, bar.end, bar.id))),
            there=days.pieces_of(free),
            is_away=away and not clip(free, self.first, day_end),
        )

    def _leaves(self, person: Person) -> Iterator[Bar]:
        usual = replace(person_calendar(self.book, person), away=())
        worked = open_spans(usual, self.first - _A_DAY, self.last + _A_DAY)
        for number, leave in enumerate(person.leave):
            if leave.start >= self.last or leave.end <= self.first or leave.start >= leave.end:
                continue
            span = union(Span(start=leave.start, end=leave.end))
            yield self._leave(person, leave, number, days.pieces_of(intersect(worked, span)))

    def _leave(
        self, person: Person, leave: Leave, number: int, pieces: tuple[tuple[int, int], ...]
    ) -> Bar:
        back = say.back(self.words, leave.end, max(leave.start, self.first))
        reason = leave.reason or self.words.say(say.AWAY)
        span = said.short_span(self.words, leave.start, leave.end)
        template = say.AWAY_TOLD_WHY if leave.reason else say.AWAY_TOLD
        facts = {"who": person.name, "span": span, "reason": leave.reason}
        return Bar(
            id=f"away {number}",
            sort=Sort.AWAY,
            start=minute_of(leave.start),
            end=minute_of(leave.end),
            pieces=_by_day(pieces),
            what=self.words.series((reason, back)),
            stage=self.words.say(say.ONLY_YOU, back=back) if leave.reason else "",
            name=self.words.series((person.name, reason, back)),
            description=self.words.say(template, **facts),
            people=(person.id,),
        )

    def _place(self, place: Place) -> Line:
        bars = list(self.of_place[place.id])
        for number, booking in enumerate(place.bookings):
            if booking.start < self.last and booking.end > self.first:
                name = capital(booking.name or self.words.say(say.BOOKED))
                span = said.short_span(self.words, booking.start, booking.end)
                whole = ((minute_of(booking.start), minute_of(booking.end)),)
                bars.append(
                    Bar(
                        id=f"booked {number}",
                        sort=Sort.OTHER,
                        start=whole[0][0],
                        end=whole[0][1],
                        pieces=whole,
                        what=name,
                        name=name,
                        description=self.words.say(say.OTHER_TOLD_BARE, name=name, span=span),
                    )
                )
        return Line(
            id=f"place {place.id}",
            name=place.name,
            is_place=True,
            bars=tuple(sorted(bars, key=lambda bar: (bar.start, bar.end, bar.id))),
        )

    # What is read of a row.

    def _line_told(self, line: Line) -> str:
        zone = self.book.workshop.zone
        end = minute_of(days.midnight(self.sight.first + _A_DAY, zone))
        today = self.shown.now.astimezone(ZoneInfo(zone)).date()
        day = capital(say.day_label(self.words, self.sight.first, today))
        mine = [bar.name for bar in line.bars if bar.start < end]
        if mine:
            doing = self.words.series(mine)
        elif line.is_place or any(start < end for start, _ in line.there):
            doing = self.words.say(say.FREE_ALL_DAY)
        else:
            doing = self.words.say(say.NOT_HERE)
        if line.is_place:
            return self.words.say(say.PLACE_ROW, place=line.name, day=day, doing=doing)
        person = next(each for each in self.book.people if each.id == line.id)
        can = [s.skill for s in person.skills if s.level is not SkillLevel.HELPS]
        helps = [s.skill for s in person.skills if s.level is SkillLevel.HELPS]
        template = say.PERSON_TOLD_HELPS if helps else say.PERSON_TOLD
        return self.words.say(
            template,
            who=line.name,
            can=self.words.series(can) or "–",
            helps=self.words.series(helps),
            day=day,
            doing=doing,
        )


def _cured(book: Book, plan: Plan | None) -> "Mapping[StepId, Cured]":
    # As on the wall: it brings in all that reads books for the engine.
    from scheduler.cured import cured

    return cured(book, plan) if plan else {}


def _by_day(pieces: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Join what lies within one day: a break is no return."""
    made: list[tuple[int, int]] = []
    for start, end in pieces:
        if made and start - made[-1][1] <= 120:
            made[-1] = (made[-1][0], end)
        else:
            made.append((start, end))
    return tuple(made)


def _instant(minute: int) -> datetime:
    return datetime.fromtimestamp(minute * 60, UTC)


def _last_word(name: str) -> str:
    return name.split()[-1] if name.split() else name
