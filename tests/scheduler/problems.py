"""Made-up problems, small or workshop-sized, that use every field; the same seed, the same one."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from random import Random

from scheduler.problem import (
    Calendar,
    Edge,
    Hold,
    JobAim,
    Need,
    Problem,
    Room,
    Span,
    Spans,
    Stage,
    Table,
    Trip,
    Use,
    Wait,
    Way,
    Worker,
)
from tests.scheduler.goings import a_trip
from tests.scheduler.sharpened import sharpened

DAY = 96
WEEK = 7 * DAY
FOAM, LAMINATE, PAINT = range(3)
BAYS, BOOTH, FLOOR, VAN = range(4)
FORKLIFT_LICENCE = 0
RESIN = 0


def random_problem(
    seed: int,
    *,
    jobs: int = 2,
    segments: int = 3,
    workers: int = 4,
    weeks: int | None = None,
    spice: bool = True,
) -> Problem:
    """Return a workshop with jobs of some segments in all and a loading each.

    spice: also pins, told stages, leave, tables, trips and the like; without it only stages,
    skills, rooms and waits. weeks: to the horizon (None: what the work takes, generously).
    """
    maker = _Maker(seed, workers, weeks or 12 + 3 * segments // workers, spice=spice)
    problem = maker.make(jobs, segments)
    return sharpened(problem, seed) if spice else problem


class _Maker:
    def __init__(self, seed: int, workers: int, weeks: int, *, spice: bool) -> None:
        self.random = Random(seed)
        self.spice = spice
        self.days = weeks * 7
        self.horizon = weeks * WEEK
        self.stages: list[Stage] = []
        self.edges: list[Edge] = []
        self.holds: list[Hold] = []
        self.jobs: list[JobAim] = []
        self.segment_count = 0
        self.shut = self._closures()
        self.calendars = [self._worker_calendar() for _ in range(workers)]
        self.office = len(self.calendars)
        self.dock = self.office + 1
        self.calendars += [self._plain_calendar(36, 68), self._plain_calendar(28, 72)]
        self.workers = [self._worker(number, workers) for number in range(workers)]

    def make(self, job_count: int, segment_count: int) -> Problem:
        self.segment_count = segment_count
        for job in range(job_count):
            self._job(job, len(range(job, segment_count, job_count)), job_count)
        if self.spice:
            self._repair()
            self._bind()
        return Problem(
            horizon=self.horizon,
            stages=tuple(self.stages),
            edges=tuple(self.edges),
            calendars=tuple(self.calendars),
            workers=tuple(self.workers),
            rooms=self._rooms(job_count, segment_count),
            consumables=(3 * segment_count + 1,),
            holds=tuple(self.holds),
            jobs=tuple(self.jobs),
            shut=self.shut,
            days=tuple((day * DAY, (day + 1) * DAY) for day in range(self.days)),
            half_days=tuple((at, at + DAY // 2) for at in range(0, self.horizon, DAY // 2)),
            pieces_max=2 if self._chance(60) else None,
        )

    def _bind(self) -> None:
        """Add company, limits of a day and pairs; pieces are known by the first stage's place."""
        coats: list[int] = []
        for number, stage in enumerate(self.stages):
            skills = {need.skill for way in stage.ways for need in way.needs}
            given = stage.fixed_start is not None
            is_short = bool(skills) and all(way.work <= DAY // 4 for way in stage.ways)
            if stage.cure.least and PAINT in skills and stage.job == 0:
                coats.append(number)
            self.stages[number] = replace(
                stage,
                company=bool(skills) and not given and self._chance(30),
                piece=number // 7 if skills and self._chance(80) else None,
                sands=is_short and self._chance(30),
                under_way=given,
                quickest=Wait(least=stage.cure.least) if stage.cure.table else None,
            )
        for one, other in pairwise(coats):
            if self._chance(30):
                self.stages[other] = replace(self.stages[other], same_team_as=one)
        for number, worker in enumerate(self.workers):
            away = ((10 * DAY, 12 * DAY),) if self._chance(30) else ()
            self.workers[number] = replace(worker, sanding_max=30, away=away)

    def _chance(self, percent: int) -> bool:
        return self.spice and self.random.randrange(100) < percent

    def _closures(self) -> Spans:
        if not self.spice:
            return ()
        first = self.random.randrange(7, 20)
        return ((first * DAY, (first + self.random.randrange(1, 6)) * DAY),)

    def _plain_calendar(self, opens: int, closes: int) -> Calendar:
        days = [(day * DAY + opens, day * DAY + closes) for day in self._open_days(())]
        return Calendar(open=tuple(days), shifts=tuple(days))

    def _open_days(self, leave: Iterable[int]) -> list[int]:
        off = set(leave)
        shut = {day for start, end in self.shut for day in range(start // DAY, end // DAY)}
        return [day for day in range(self.days) if day % 7 < 5 and day not in shut | off]

    def _worker_calendar(self) -> Calendar:
        starts = self.random.choice([28, 28, 32])
        length = self.random.choice([34, 34, 34, 24])
        leave: Iterable[int] = ()
        if self._chance(60):
            first = self.random.randrange(self.days)
            leave = range(first, first + self.random.randrange(1, 12))
        bridged = self._chance(70)
        opened: list[Span] = []
        shifts: list[Span] = []
        for day in self._open_days(leave):
            a, z = day * DAY + starts, day * DAY + starts + length
            breaks = ((a + 16, a + 18),)
            pieces = [(a, breaks[0][0]), (breaks[0][1], z)]
            opened += pieces
            shifts += [(a, z)] if bridged else pieces
        return Calendar(open=tuple(opened), shifts=tuple(shifts))

    def _worker(self, number: int, count: int) -> Worker:
        main = number % 3
        can = {main} | ({self.random.randrange(3)} if self.random.randrange(2) else set())
        if count < 6:
            can |= {(number + 1) % 3}
        if count < 4:
            can = {FOAM, LAMINATE, PAINT}
        helps = can | {self.random.randrange(3)}
        start = self.random.randrange(self.horizon // 2)
        return Worker(
            calendar=None if self._chance(6) else number,
            can=frozenset(can),
            helps=frozenset(helps),
            pace=self.random.choice([Fraction(1)] * 4 + [Fraction(4, 5), Fraction(6, 5)])
            if self.spice
            else Fraction(1),
            busy=((start, start + self.random.randrange(10, 300)),) if self._chance(40) else (),
            certificates=((FORKLIFT_LICENCE, self.random.choice([self.horizon, 6 * WEEK])),)
            if self.spice and number % 2 == 0
            else (),
        )

    def _rooms(self, job_count: int, segment_count: int) -> tuple[Room, ...]:
        busy = ((10 * DAY, 12 * DAY, 1),) if self._chance(50) else ()
        most_in_job = -(-segment_count // job_count)
        return (
            Room(capacity=max(2, segment_count // 6), busy=busy),
            Room(capacity=1, busy=((3 * DAY, 4 * DAY, 1),) if self._chance(50) else ()),
            Room(capacity=3 * max(2 * most_in_job, most_in_job + 2, segment_count * 2 // 3)),
            Room(capacity=1),
        )

    def _add(self, stage: Stage) -> int:
        self.stages.append(stage)
        return len(self.stages) - 1

    def _link(self, before: int, after: int, least: int = 0, most: int | None = None) -> None:
        self.edges.append(Edge(before=before, after=after, least=least, most=most))

    def _work(self, low: int, high: int) -> Fraction:
        return Fraction(self.random.randrange(low * 2, high * 2), 2)

    def _job(self, job: int, segment_count: int, job_count: int) -> None:
        ready: list[int] = []
        firsts: list[int] = []
        for _ in range(segment_count):
            first, last = self._segment(job)
            firsts.append(first)
            ready.append(last)
        pack_ways = (_way(FOAM, 1, self._work(6, 20)), _way(FOAM, 2, self._work(3, 12)))
        pack = self._add(Stage(job=job, ways=pack_ways))
        loading = self._add(Stage(job=job, ways=(_way(FOAM, 1, self._work(2, 6), helps=1),)))
        if self._chance(50):
            gate = Way(calendar=self.dock, work=Fraction(4))
            self.stages[loading] = Stage(job=job, ways=(gate,), ends=self._dock_days())
        for last in ready:
            self._link(last, pack)
        self._link(pack, loading)
        for first in firsts:
            units = 1 if self.spice and self.random.randrange(2) else 2
            self.holds.append(Hold(room=FLOOR, units=units, first=first, last=loading))
        if self._chance(30):
            self.holds.append(Hold(room=FLOOR, units=1, first=None, last=loading))
        self._aim(job, loading, firsts, job_count)

    def _dock_days(self) -> Spans:
        return tuple((day * DAY + 30, day * DAY + 70) for day in range(0, self.days, 2))

    def _aim(self, job: int, loading: int, firsts: list[int], job_count: int) -> None:
        whole = 2 * WEEK + 1400 * self.segment_count // len(self.workers)
        latest = WEEK + whole * (job + 1) // job_count + self.random.randrange(-WEEK, WEEK)
        trip = self._trip(latest) if self._chance(60) else None
        self.jobs.append(
            JobAim(
                lasts=(loading,),
                latest=None if self._chance(5) else latest,
                wish=latest - 2 * DAY if self.random.randrange(3) else None,
                firm=not self._chance(20),
                floor=tuple((first, loading) for first in firsts),
                trip=trip,
            )
        )

    def _trip(self, latest: int) -> Trip:
        options = [(latest, latest + 60, latest + 104)]
        while options[-1][0] < self.horizon:
            leaves = options[-1][0] + self.random.choice([DAY, 2 * DAY])
            options.append((leaves, leaves + 60, leaves + 104))
        crew = tuple(sorted(self.random.sample(range(len(self.workers)), 1)))
        found = a_trip(*options, crew=crew, rooms=((VAN, 1),))
        # The van is fetched an hour before, and cleaned.
        longer = (
            replace(going, takes=tuple((room, a - 4, b + 2, n) for room, a, b, n in going.takes))
            for going in found.options
        )
        return Trip(options=tuple(longer))

    def _segment(self, job: int) -> tuple[int, int]:
        block = self._add(
            Stage(
                job=job,
                ways=(_way(FOAM, 1, self._work(8, 30), room=BAYS),),
                longest_pause=4 * DAY if self._chance(60) else None,
                release=self.random.randrange(4 * DAY) if self._chance(40) else 0,
            )
        )
        carve_ways: tuple[Way, ...] = (
            _way(FOAM, 1, self._work(30, 80), room=BAYS),
            _way(FOAM, 2, self._work(15, 50), room=BAYS),
        )
        if self._chance(40):
            carve_ways += (Way(work=Fraction(5 * DAY), cost=40),)
        carve = self._add(Stage(job=job, ways=carve_ways, longest_pause=6 * DAY))
        self._link(block, carve)
        answered = self._answer(job, carve)
        skinned = self._skin(job, answered)
        painted = self._paint(job, skinned)
        self._sprinkle(job, block, carve, painted)
        return block, painted

    def _answer(self, job: int, carve: int) -> int:
        pictures = self._add(Stage(job=job, ways=(Way(),)))
        answer = self._add(Stage(job=job, ways=(Way(calendar=self.office, work=Fraction(40)),)))
        self._link(carve, pictures)
        self._link(pictures, answer)
        if self._chance(30):
            ends = tuple((day * DAY + 68, day * DAY + 69) for day in range(self.days))
            self.stages[answer] = replace(self.stages[answer], ends=ends)
        return answer

    def _skin(self, job: int, before: int) -> int:
        first = self._laminate(job)
        second = self._laminate(job)
        fill = self._add(
            Stage(
                job=job,
                ways=(_way(LAMINATE, 1, self._work(8, 24)),),
                longest_pause=4 * DAY,
                certificates=(FORKLIFT_LICENCE,) if self._has_driver() else (),
            )
        )
        self._link(before, first)
        self._link(first, second, least=8, most=3 * DAY)
        self._link(second, fill, least=2)
        return fill

    def _has_driver(self) -> bool:
        licence = (FORKLIFT_LICENCE, self.horizon)
        able = any(
            LAMINATE in worker.can and licence in worker.certificates for worker in self.workers
        )
        return able and self._chance(20)

    def _laminate(self, job: int) -> int:
        ways: tuple[Way, ...] = (
            replace(
                _way(LAMINATE, 1, self._work(3, 7), helps=self.random.randrange(2)),
                consumes=((RESIN, 1),),
            ),
        )
        if self._chance(50):
            quick = _way(LAMINATE, 2, self._work(2, 7))
            ways += (replace(quick, consumes=((RESIN, 2),), cost=5),)
        cure = Wait(least=self.random.randrange(8, 30))
        if self._chance(50):
            cure = Wait(least=4, table=self._table())
        return self._add(Stage(job=job, ways=ways, one_go=True, watch=4, cure=cure))

    def _table(self) -> Table:
        knots = []
        value = 0
        for upto in range(12, self.horizon + DAY, 12):
            value = max(value, upto + 6 + (upto // WEEK) % 20)
            knots.append((upto, value))
        return Table.of(*knots)

    def _paint(self, job: int, before: int) -> int:
        chain = [before]
        for coat in range(self.random.randrange(2, 4)):
            booth = Use(room=BOOTH, units=1, before=2, after=4, through_cure=coat % 2 == 0)
            way = replace(_way(PAINT, 1, self._work(3, 8)), uses=(booth,))
            cure = Wait(least=self.random.randrange(6, 20))
            if self._chance(30):
                cure = Wait(least=4, table=self._table())
            chain.append(self._add(Stage(job=job, ways=(way,), one_go=True, cure=cure)))
        self._link(chain[0], chain[1], least=4)
        for first, second in pairwise(chain[1:]):
            self._link(first, second, most=self.random.choice([2, 3, 4]) * DAY)
        return chain[-1]

    def _sprinkle(self, job: int, block: int, carve: int, painted: int) -> None:
        if self._chance(20):
            self.edges.append(
                Edge(before=block, after=carve, least=4, most=40 * DAY, from_start=True)
            )
        if self._chance(20):
            sketch = self._add(Stage(job=job, ways=(Way(work=Fraction(6)),)))
            self.edges.append(Edge(before=carve, after=sketch, least=-4, from_start=True))
            self._link(sketch, painted)
        if self._chance(25):
            told = replace(
                self.stages[block],
                told_start=self.random.randrange(3 * DAY),
                told_team=(self.random.randrange(len(self.workers)),),
            )
            self.stages[block] = told
        if self._chance(15):
            self._ask_for(carve)
        if self._chance(15):
            self._may_sand(job, painted)

    def _ask_for(self, stage: int) -> None:
        able = [number for number, worker in enumerate(self.workers) if FOAM in worker.can]
        if able:
            only = self._chance(30)
            asked = (self.random.choice(able),)
            self.stages[stage] = replace(self.stages[stage], asked=asked, only_asked=only)

    def _may_sand(self, job: int, painted: int) -> None:
        """Let a sanding lie between the last two coats where the wait runs out."""
        waiting = (
            number
            for number, edge in enumerate(self.edges)
            if edge.after == painted and edge.most is not None
        )
        at = next(waiting, None)
        if at is None:
            return
        sand = self._add(Stage(job=job, ways=(_way(PAINT, 1, Fraction(3)),), optional=True))
        self.edges[at] = replace(self.edges[at], insert=sand)

    def _repair(self) -> None:
        """Add work that belongs to no job, some of it pinned."""
        self._add(Stage(ways=(_way(FOAM, 1, Fraction(20)),), start_by=self.horizon // 2))
        calendars = [
            (number, worker.calendar)
            for number, worker in enumerate(self.workers)
            if worker.calendar is not None and FOAM in worker.can and not worker.busy
        ]
        if calendars and self._chance(50):
            worker, calendar = self.random.choice(calendars)
            start = self.calendars[calendar].open[0][0]
            self._add(
                Stage(
                    ways=(_way(FOAM, 1, Fraction(10)),),
                    fixed_start=start,
                    asked=(worker,),
                    only_asked=True,
                )
            )


def _way(skill: int, can: int, work: Fraction, *, helps: int = 0, room: int | None = None) -> Way:
    uses = () if room is None else (Use(room=room, units=1),)
    return Way(needs=(Need(skill=skill, can=can, helps=helps),), work=work, uses=uses)
