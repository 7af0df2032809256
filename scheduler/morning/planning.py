"""Planning each morning: anew from what is known, but as told where that costs no window.

A plan that is repaired morning after morning keeps what was once reckoned late, and one that
is made anew sends people somewhere else each day. So both are made: one in which today and
tomorrow stay as told, one without what was told; and what was told stays unless windows are less
sure with it, by common draws.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from scheduler.aims import levels, loading_end, missed_jobs
from scheduler.chance.estimate import chances_of
from scheduler.chance.values import Chances
from scheduler.check import check
from scheduler.faults import broken
from scheduler.kept import Kept
from scheduler.levers.attendance import days_of
from scheduler.morning.fairness import as_few, fewest_first
from scheduler.morning.values import Coming, Morning
from scheduler.problem import Schedule
from scheduler.request import SolveRequest
from scheduler.shifts import improve_by_shifts
from scheduler.sooner import MISSED_LEVELS, as_soon
from scheduler.starting import Start, first_start
from scheduler.stop import AfterEffort
from scheduler.unfold import to_plan
from shared.as_told import with_as_told
from shared.book import Book, ExtraHours, Job, Person
from shared.files.write import digest
from shared.ids import JobId, PersonId
from shared.plan import MadeFrom, Plan
from shared.worktime import next_working_day
from shared.worktime.zones import local_date, local_instant

if TYPE_CHECKING:
    from scheduler.outcome import Breach

EFFORT = 60
"""Passes with which a plan is bettered that misses a window or has too little buffer."""
DRAWS = 200
TOLD_WORTH = 3
"""So many hundredths of a buffer more may be gone, all together, for what was told to stay."""
GAIN = 1
"""Extra hours have to win so many hundredths of a buffer, all jobs together."""
TAKEN_FROM, TAKEN_LOSS = 80, 20
"""Who asks is taken on from so many in a hundred, if it costs others so much of a buffer at most,
in hundredths, all together."""
SHORT_LEVELS = 4
AHEAD_DAYS = 7
"""So far ahead extra hours are looked at."""


class Mornings:
    """Plans one morning after the other; what is kept of one speeds up the next."""

    def __init__(self, kept: Kept | None = None, *, draws: int = DRAWS) -> None:
        """Begin with what an earlier question left, or with nothing."""
        self._kept = kept or Kept()
        self._draws = draws
        self._usual: tuple[Morning, float] | None = None

    def plan(self, request: SolveRequest) -> Morning:
        """Return the plan of a morning. request.effort: passes (None: as usual).

        Raises
        ------
        EngineFault
            If the check finds the engine's own plan broken.
        UnknownZone, UnknownCalendar
            If nothing is known of a zone or of the holidays of a country in the book.
        """
        untold = _untold(request.book, request.now)
        anew = _as_of_book(self._made(replace(request, book=untold)), request.book)
        if request.book.told is None:
            return anew
        held = self._made(request)
        if not held.normal.held and not held.normal.let_go:
            return anew
        is_worse = held.levels[:MISSED_LEVELS] > anew.levels[:MISSED_LEVELS]
        if is_worse or held.strain > anew.strain + TOLD_WORTH:
            return replace(anew, is_told_anew=True)
        return held

    def takes_on(self, request: SolveRequest, job: Job) -> bool:
        """Return whether a job may be taken on.

        It must be sure enough and in time with its buffer, and others must stay as sure as they
        were, but for little.
        """
        book = _untold(request.book, request.now)
        before = self._made(replace(request, book=book))
        after = self._made(replace(request, book=replace(book, jobs=(*book.jobs, job))))
        lost = 100 * sum(after.strains[each] - was for each, was in before.strains.items())
        return (
            job.id not in _short(after)
            and after.missed <= before.missed
            and after.chances[job.id] >= TAKEN_FROM
            and lost <= TAKEN_LOSS
        )

    def coming(
        self, request: SolveRequest, morning: Morning, offered: Mapping[PersonId, ExtraHours]
    ) -> Coming | None:
        """Return what extra hours that people offer are worth; None where nothing, or little.

        offered: of one day. The plan of the morning is replayed with them and without, by the same
        draws: another plan would be better or worse by more than a day's hours are worth.
        """
        if not offered or morning.strain < GAIN:
            return None
        people = (
            replace(one, overtime_taken=(*one.overtime_taken, offered[one.id]))
            if one.id in offered
            else one
            for one in request.book.people
        )
        with_them = replace(_untold(morning.book, request.now), people=tuple(people))
        gain = self._usual_strain(morning) - self._strain(with_them, morning.plan)
        if gain < GAIN:
            return None
        start = min(each.start for each in offered.values())
        return Coming(people=tuple(sorted(offered)), start=start, gain=round(gain))

    def asking(
        self, request: SolveRequest, morning: Morning, offered: Mapping[PersonId, ExtraHours]
    ) -> Coming | None:
        """Return whom to ask of those who offer hours of one day, who has fewest first.

        As few as win what all would, but for less than hours are worth asking for.
        """
        ranked = [person for person, _ in fewest_first(request.book, offered)]

        def won(people: tuple[PersonId, ...]) -> Coming | None:
            some = {person: offered[person] for person in people}
            found = self.coming(request, morning, some)
            return None if found is None else replace(found, people=people)

        return as_few(ranked, won, GAIN)

    def _made(self, request: SolveRequest) -> Morning:
        effort = request.effort or EFFORT
        start = first_start(request, self._kept)
        index, schedule = start.index, start.schedule
        if any(levels(index.problem, schedule)[:SHORT_LEVELS]):
            schedule = improve_by_shifts(
                index, schedule, seed=request.seed, stop=AfterEffort(effort)
            )
        schedule, plan = self._checked(request, start, schedule)
        missed = missed_jobs(index.problem, schedule)
        found = self._chances(request.book, plan)
        return Morning(
            book=request.book,
            normal=start.normal,
            schedule=schedule,
            plan=plan,
            chances={job.id: job.chance or 0 for job in found.jobs},
            strains={job.id: job.strain for job in found.jobs},
            missed=frozenset(start.normal.jobs[job].job.id for job in missed),
        )

    def _checked(
        self, request: SolveRequest, start: Start, schedule: Schedule
    ) -> tuple[Schedule, Plan]:
        """Return the schedule that begins soonest of those that stand up to the check."""
        found: tuple[Breach, ...] = ()
        for each in as_soon(start.index, schedule):
            plan = to_plan(start.normal, each, seed=request.seed)
            found = check(request.book, plan, self._kept.checks).breaches
            if not found:
                return each, plan
        raise broken(found)

    def _usual_strain(self, morning: Morning) -> float:
        """Return what a morning is without extra hours, replayed once for all who offer some."""
        if self._usual is None or self._usual[0] is not morning:
            book = _untold(morning.book, morning.plan.now)
            self._usual = morning, self._strain(book, morning.plan)
        return self._usual[1]

    def _strain(self, book: Book, plan: Plan) -> float:
        return 100 * sum(job.strain for job in self._chances(book, plan).jobs)

    def _chances(self, book: Book, plan: Plan) -> Chances:
        return chances_of(book, plan, draws=self._draws, kept=self._kept, with_overrun=False)


def _untold(book: Book, now: datetime) -> Book:
    """Return a book as if nobody was told what is to come; what is past stays as told."""
    return replace(with_as_told(book, now), told=None)


def _as_of_book(morning: Morning, book: Book) -> Morning:
    """Return a morning whose plan belongs to the book, made from it without what was told."""
    made = MadeFrom(revision=book.revision, digest=digest(book))
    return replace(morning, plan=replace(morning.plan, made_from=made))


def _short(morning: Morning) -> frozenset[JobId]:
    """Return the jobs that miss, or have too little buffer."""
    found = set(morning.missed)
    aims = zip(morning.normal.jobs, morning.normal.problem.jobs, strict=True)
    for name, aim in aims:
        if aim.wish is not None and loading_end(aim, morning.schedule) > aim.wish:
            found.add(name.job.id)
    return frozenset(found)


def handed_out(plan: Plan, book: Book) -> Plan:
    """Return what of a plan is on the sheets: today and the workshop's next working day."""
    zone = book.workshop.zone
    last = next_working_day(days_of(book), local_date(plan.now, zone))
    end = local_instant(last + timedelta(days=1), time(0), zone, opening=True)
    return replace(plan, placements=tuple(each for each in plan.placements if each.start < end))


def offered_by_day(book: Book, now: datetime) -> list[dict[PersonId, ExtraHours]]:
    """Return what extra hours people offer within a week from now, day by day.

    What is taken already, or lies in somebody's leave, is left out.
    """
    found: dict[date, dict[PersonId, ExtraHours]] = {}
    for person in book.people:
        for extra in person.overtime_offered:
            is_near = now <= extra.start < now + timedelta(days=AHEAD_DAYS)
            if is_near and extra not in person.overtime_taken and not _is_away(person, extra):
                day = local_date(extra.start, book.workshop.zone)
                found.setdefault(day, {}).setdefault(person.id, extra)
    return [found[day] for day in sorted(found)]


def _is_away(person: Person, extra: ExtraHours) -> bool:
    return any(away.start < extra.end and away.end > extra.start for away in person.leave)
