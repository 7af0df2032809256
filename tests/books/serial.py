"""A plain planner that places one step after the other, for books with a known plan.

It shares nothing with the engine: slow, greedy, and right by the definitions of the rules. It
plans without greatest waits; the caller writes those down from the gaps that it left.
"""

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from fractions import Fraction
from itertools import combinations
from zoneinfo import ZoneInfo

from shared.book import (
    After,
    Book,
    Gate,
    GateKind,
    Job,
    Journey,
    Person,
    SkillLevel,
    Stage,
    Step,
    Way,
)
from shared.ids import EquipmentId, PersonId, PlaceId, SegmentId
from shared.plan import LegTime, Placement, Trip
from shared.units import ceil_to_step, floor_to_step
from shared.worktime import (
    DayCalendar,
    HolidayRule,
    Span,
    Spans,
    WorkCalendar,
    intersect,
    local_instant,
    nth_working_day_after,
    open_spans,
    shift_spans,
)

QUARTER = timedelta(minutes=15)
REACH = timedelta(days=500)


class NoShiftHolds(LookupError):  # noqa: N818 - it says what is wrong
    """A team too slow for a stage in one go."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A stage that found its place."""

    start: datetime
    end: datetime
    team: tuple[PersonId, ...]
    place: PlaceId | None


@dataclass(slots=True)
class Diary:
    """Who and what is taken when, as plain lists."""

    people: dict[str, list[tuple[datetime, datetime]]] = field(default_factory=dict)
    rooms: dict[str, list[tuple[datetime, datetime, Fraction]]] = field(default_factory=dict)

    def person_until(self, who: str, start: datetime, end: datetime) -> datetime | None:
        """Give the end of a booking of a person that overlaps, or None."""
        taken = [b for a, b in self.people.get(who, ()) if a < end and start < b]
        return max(taken, default=None)

    def room_until(
        self, room: str, start: datetime, end: datetime, units: Fraction, capacity: Fraction
    ) -> datetime | None:
        """Give when to look again if a room is too full in a stretch, or None if it fits."""
        near = [use for use in self.rooms.get(room, ()) if use[0] < end and start < use[1]]
        moments = [start, *(a for a, _, _ in near if a > start)]
        for moment in moments:
            used = sum((u for a, b, u in near if a <= moment < b), Fraction(0))
            if used + units > capacity:
                return min(b for a, b, _ in near if a <= moment < b)
        return None


class Planner:
    """Places the jobs of one book, one after the other."""

    def __init__(self, book: Book, now: datetime) -> None:
        self.book = book
        self.now = ceil_to_step(now)
        self.diary = Diary()
        self.placements: list[Placement] = []
        self.trips: list[Trip] = []
        self._open: dict[PersonId, Spans] = {}
        self._shifts: dict[PersonId, Spans] = {}
        self._joint: dict[tuple[PersonId, ...], tuple[Spans, Spans]] = {}

    def calendar(self, person: Person) -> WorkCalendar:
        """Give the working calendar of a person."""
        shop = self.book.workshop
        return WorkCalendar(
            zone=shop.zone,
            shifts=person.hours or shop.shifts,
            holidays=HolidayRule(country=shop.country, subdivision=shop.subdivision),
        )

    def hours_of(self, person: Person) -> tuple[Spans, Spans]:
        """Give a person's open stretches and shifts on the grid."""
        if person.id not in self._open:
            cal, until = self.calendar(person), self.now + REACH
            bridge = self.book.workshop.bridged_break_minutes
            whole = shift_spans(cal, self.now, until, bridged_break_minutes=bridge)
            self._open[person.id] = on_grid(open_spans(cal, self.now, until))
            self._shifts[person.id] = on_grid(whole)
        return self._open[person.id], self._shifts[person.id]

    def plan_job(self, job: Job) -> datetime:
        """Place every step of a job but its journey; give the end of loading."""
        ready: dict[SegmentId, datetime] = {s.id: self.now for s in job.segments}
        last = self.now
        for step in job.steps:
            over = step.segments or tuple(s.id for s in job.segments)
            begin = max(ready[s] for s in over)
            for link in step.after or ():
                begin = max(begin, self.waited(link))
            if isinstance(step, Journey):
                continue
            last, done = self.place_step(job, step, begin)
            for s in over:
                ready[s] = done
        return last

    def waited(self, link: After) -> datetime:
        """Give when the least wait after a step named is over."""
        end = next(p.end for p in self.placements if p.step == link.step)
        return ceil_to_step(end + timedelta(seconds=int(link.least_hours * 3600)))

    def place_step(
        self, job: Job, step: Stage | Gate, begin: datetime
    ) -> tuple[datetime, datetime]:
        """Place one step; give its end and when what follows may start."""
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
            due = self.answer_due(job, step, begin)
            self.note(job, step, Fitted(start=begin, end=due, team=(), place=None), "", round_=1)
            return due, due
        fitted, way = self.fit(job, step, begin)
        self.note(job, step, fitted, way.id)
        cure = timedelta(seconds=int(step.cure_hours * 3600))
        return fitted.end, ceil_to_step(fitted.end + cure)

    def answer_due(self, job: Job, step: Gate, out: datetime) -> datetime:
        """Give when the answer to pictures that go out now is due."""
        client = job.client
        days = DayCalendar(
            holidays=HolidayRule(country=client.country, subdivision=client.subdivision)
        )
        count = client.answer_days if step.answer_days is None else step.answer_days
        day = nth_working_day_after(days, local_day(out, client.zone), count)
        return ceil_to_step(local_instant(day, step.answer_by, client.zone, opening=False))

    def fit(self, job: Job, step: Stage | Gate, begin: datetime) -> tuple[Fitted, Way]:
        """Find the earliest end of a step over its ways, teams and places."""
        found: list[tuple[datetime, int, Fitted, Way]] = []
        for way in step.ways:
            for team in self.teams(way)[:8]:
                for place in way.places or (None,):
                    try:
                        got = self.earliest(job, step, way, team, place, begin)
                    except NoShiftHolds:
                        continue
                    found.append((got.end, len(found), got, way))
        _, _, best, way = min(found, key=lambda item: item[:2])
        return best, way

    def teams(self, way: Way) -> list[tuple[Person, ...]]:
        """List the teams that can do a way which asks for one skill."""
        (need,) = way.needs
        able = [p for p in self.book.people if level(p, need.skill) is not SkillLevel.HELPS]
        able = [p for p in able if level(p, need.skill) is not None]
        near = [p for p in self.book.people if level(p, need.skill) is not None]
        teams = []
        for doers in combinations(able, need.can):
            rest = [p for p in near if p not in doers]
            teams += [doers + mates for mates in combinations(rest, need.helps)]
        return sorted(teams, key=lambda team: self.load(p.id for p in team))

    def load(self, ids: Iterable[PersonId]) -> int:
        """Count the bookings of people, so that work is spread."""
        return sum(len(self.diary.people.get(who, ())) for who in ids)

    def bench_quarters(self, way: Way, team: tuple[Person, ...], *, pauses: bool) -> int:
        """Give the quarters at the bench: person-hours shared, with loss, pace and useful hours."""
        shop, hands = self.book.workshop, len(team)
        loss = Fraction(shop.pair_loss_percent) / 100
        hours = Fraction(way.hours.likely) * (1 + loss * (hands - 1)) / hands
        hours /= sum((Fraction(p.pace) for p in team), Fraction(0)) / hands
        if pauses:
            hours *= Fraction(shop.shift_hours) / Fraction(shop.useful_hours)
        return -int(-hours * 4 // 1)

    def earliest(
        self,
        job: Job,
        step: Stage | Gate,
        way: Way,
        team: tuple[Person, ...],
        place: PlaceId | None,
        begin: datetime,
    ) -> Fitted:
        """Find the earliest time for one team at one place."""
        need = self.bench_quarters(way, team, pauses=not step.in_one_go)
        open_, shifts = self.joint(team)
        t = begin
        while True:
            start, end = self.span(step, open_, shifts, need, t)
            late = self.clash(job, step, way, team, place, start, end)
            if late is None:
                ids = tuple(sorted(p.id for p in team))
                return Fitted(start=start, end=end, team=ids, place=place)
            t = max(late, start + QUARTER)

    def joint(self, team: tuple[Person, ...]) -> tuple[Spans, Spans]:
        """Give the open stretches and shifts that a team has in common."""
        ids = tuple(p.id for p in team)
        if ids not in self._joint:
            self._joint[ids] = self._joint_hours(team)
        return self._joint[ids]

    def _joint_hours(self, team: tuple[Person, ...]) -> tuple[Spans, Spans]:
        open_, shifts = self.hours_of(team[0])
        for person in team[1:]:
            more = self.hours_of(person)
            open_, shifts = intersect(open_, more[0]), intersect(shifts, more[1])
        return open_, shifts

    def span(
        self, step: Stage | Gate, open_: Spans, shifts: Spans, need: int, t: datetime
    ) -> tuple[datetime, datetime]:
        """Give start and end of so many quarters from an instant, pausing or in one go."""
        if not step.in_one_go:
            return worked(open_, need, t)
        watch = timedelta(minutes=self.watch(step))
        for shift in shifts[after(shifts, t) :]:
            start, end = worked(open_, need, max(t, shift.start))
            if start >= shift.start and end + watch <= shift.end:
                return start, end
        raise NoShiftHolds(step.id)

    def watch(self, step: Stage | Gate) -> int:
        """Give the minutes that a shift must run on after a step in one go."""
        if not isinstance(step, Stage):
            return 0
        if step.watch_minutes is not None:
            return step.watch_minutes
        return self.book.workshop.watch_minutes if step.kind.value == "laminate" else 0

    def clash(
        self,
        job: Job,
        step: Stage | Gate,
        way: Way,
        team: tuple[Person, ...],
        place: PlaceId | None,
        start: datetime,
        end: datetime,
    ) -> datetime | None:
        """Give when to look again if anybody or anything is taken, else None."""
        late = [self.diary.person_until(p.id, start, end) for p in team]
        for room, (a, b), units, capacity in self.uses(job, step, way, place, start, end):
            late.append(self.diary.room_until(room, a, b, units, capacity))
        return max((moment for moment in late if moment is not None), default=None)

    def uses(
        self,
        job: Job,
        step: Stage | Gate,
        way: Way,
        place: PlaceId | None,
        start: datetime,
        end: datetime,
    ) -> list[tuple[str, tuple[datetime, datetime], Fraction, Fraction]]:
        """List the rooms that a step takes: name, stretch, units, capacity."""
        used = []
        for tool in way.equipment:
            owned = next(e for e in self.book.equipment if e.id == tool.equipment)
            used.append((str(owned.id), (start, end), Fraction(tool.count), Fraction(owned.count)))
        for at in self.book.places:
            if at.id != place:
                continue
            capacity = Fraction(1) if at.area_m2 is None else Fraction(at.area_m2)
            whole = at.whole or way.whole_place or at.area_m2 is None
            units = capacity if whole else self.area(job, step)
            until = end + self.stays(step) + timedelta(minutes=at.clear_out_minutes)
            used.append((str(at.id), (start, ceil_to_step(until)), units, capacity))
        return used

    def stays(self, step: Stage | Gate) -> timedelta:
        """Give how long a piece stays where it was worked on."""
        stays = isinstance(step, Stage) and step.stays
        return timedelta(seconds=int(step.cure_hours * 3600)) if stays else timedelta()

    def area(self, job: Job, step: Step) -> Fraction:
        """Give the floor that the pieces of a step take at work."""
        room = 2 * Fraction(self.book.workshop.working_room_m)
        over = [s for s in job.segments if not step.segments or s.id in step.segments]
        sizes = ((Fraction(s.length_m or 0), Fraction(s.width_m or 0)) for s in over)
        return sum(((a + room) * (b + room) for a, b in sizes), Fraction(0))

    def note(
        self, job: Job, step: Stage | Gate, fitted: Fitted, way: str, *, round_: int = 0
    ) -> None:
        """Write a placement down and book what it takes."""
        used = next((w for w in step.ways if w.id == way), None)
        tools: tuple[EquipmentId, ...] = ()
        if used is not None:
            tools = tuple(n.equipment for n in used.equipment)
            for room, (a, b), units, _ in self.uses(
                job, step, used, fitted.place, fitted.start, fitted.end
            ):
                self.diary.rooms.setdefault(room, []).append((a, b, units))
        for who in fitted.team:
            self.diary.people.setdefault(who, []).append((fitted.start, fitted.end))
        self.placements.append(
            Placement(
                job=job.id,
                step=step.id,
                start=fitted.start,
                end=fitted.end,
                way=way,
                people=fitted.team,
                place=fitted.place,
                equipment=tools,
                round=round_,
            )
        )

    def drive(self, job: Job, loaded: datetime) -> Trip:
        """Send the lorry off once crew and van are free; legs follow one another at once."""
        journey = next(s for s in job.steps if isinstance(s, Journey))
        leaves = ceil_to_step(loaded)
        while True:
            trip = self.trip(job, journey, leaves)
            late = [self.diary.person_until(who, trip.start, trip.free) for who in journey.crew]
            for van in journey.vehicles:
                late.append(
                    self.diary.room_until(van, trip.start, trip.back, Fraction(1), Fraction(1))
                )
            waits = [moment for moment in late if moment is not None]
            if not waits:
                break
            leaves = ceil_to_step(max(waits))
        self.trips.append(trip)
        for who in journey.crew:
            self.diary.people.setdefault(who, []).append((trip.start, trip.free))
        for van in journey.vehicles:
            self.diary.rooms.setdefault(van, []).append((trip.start, trip.back, Fraction(1)))
        return trip

    def trip(self, job: Job, journey: Journey, leaves: datetime) -> Trip:
        """Write a journey down whose legs take their minutes and nothing else."""
        legs, clock = [], leaves
        for leg in journey.legs:
            legs.append(LegTime(start=clock, end=clock + timedelta(minutes=leg.minutes)))
            clock = legs[-1].end
        back = clock + timedelta(minutes=journey.back_minutes)
        rest = timedelta(seconds=int(self.book.workshop.rest_hours * 3600))
        return Trip(
            job=job.id,
            step=journey.id,
            start=leaves,
            end=clock,
            back=back,
            free=back + rest,
            legs=tuple(legs),
        )


def level(person: Person, skill: str) -> SkillLevel | None:
    """Give how well a person does a skill."""
    return next((s.level for s in person.skills if s.skill == skill), None)


def local_day(instant: datetime, zone: str) -> date:
    """Give the date of an instant in a zone."""
    return instant.astimezone(ZoneInfo(zone)).date()


def on_grid(spans: Spans) -> Spans:
    """Round stretches to whole quarters: openings up, closings down."""
    rounded = ((ceil_to_step(s.start), floor_to_step(s.end)) for s in spans)
    return tuple(Span(start=a, end=b) for a, b in rounded if a < b)


def after(spans: Spans, t: datetime) -> int:
    """Give the position of the first stretch that ends after an instant."""
    return bisect_right(spans, t, key=lambda span: span.end)


def worked(open_: Spans, need: int, t: datetime) -> tuple[datetime, datetime]:
    """Give start and end of so many open quarters, none of them before t."""
    start: datetime | None = None
    left = need * QUARTER
    for index in range(after(open_, t), len(open_)):
        span = open_[index]
        begin = max(span.start, t)
        start = begin if start is None else start
        if span.end - begin >= left:
            return start, begin + left
        left -= span.end - begin
    raise NoShiftHolds(t)
