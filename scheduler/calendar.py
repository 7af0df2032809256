"""The index of a problem: cached working hours and teams, and the only time arithmetic.

The rule: a team works when all its members do and the way's calendar is open. Work starts at an
open step and ends with its last open step; a standstill inside, shut days not counted, is no
longer than the stage allows. In one go, start and end lie in one shift of all, which runs on for
the stage's watch. A way without needs and calendar runs on elapsed time; no work takes no time.
Start and end lie together in one of the stretches that the way has clear.
"""

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar, cast

from scheduler.company import Company
from scheduler.hours import (
    Hours,
    Runs,
    moment_by,
    moment_from,
    one_go_stretches,
    pausing_stretches,
)
from scheduler.problem import Problem, Spans, Stage
from scheduler.recall import Recall, World
from scheduler.spans import common, less
from scheduler.tables import Crew, Mark, Marks, Store, Tables
from scheduler.teams import (
    TEAMS_MAX,
    Call,
    Team,
    call_of,
    eligible,
    team_count,
    teams_among,
    work_steps,
)
from scheduler.terms import Bounds, Terms, terms_of

Calendars = tuple[int, ...]
RunsOf = tuple[Calendars, bool, int, int | None, Spans | None]
Made = TypeVar("Made")


class Index:
    """A problem with what is worth computing once.

    terms: what a placement pass reads. watch_first: time runs backwards. tables: what earlier
    indexes left, and what this one will leave; one thread at a time may ask for new indexes.
    recall: what was found of single stages before; None for an index made like another.
    """

    def __init__(
        self,
        problem: Problem,
        *,
        terms: Terms | None = None,
        watch_first: bool = False,
        tables: Tables | None = None,
        like: "Index | None" = None,
    ) -> None:
        """Index a problem; like: another with the same calendars, workers and direction."""
        self.problem = problem
        self.terms = terms_of(problem) if terms is None else terms
        self.watch_first = watch_first
        if like is None:
            self.tables: Tables = Tables() if tables is None else tables
            self._store: Store = self.tables.store(problem, watch_first=watch_first)
            self._crew: Crew = self.tables.crew(problem.workers)
            self._marks: list[Mark] = _marks(problem, self._store)
            self._hours: dict[Calendars, Hours] = {}
            self._runs: dict[RunsOf, Runs] = {}
            self.recall: Recall | None = self._store.recall(self._world(), problem)
        else:
            self.recall = None
            self.tables, self._store, self._crew = like.tables, like._store, like._crew
            self._marks, self._hours, self._runs = like._marks, like._hours, like._runs
        self._calls: dict[tuple[int, int], Call] = {}
        self._steps: dict[tuple[int, int, Team], int] = {}
        self._is_usual = [worker.pace == 1 for worker in problem.workers]
        self._hours_at: dict[tuple[int, int, Team], Hours] = {}
        self._made: dict[object, object] = {}

    def _world(self) -> World:
        workers, marks = self.problem.workers, self._marks
        return World(
            crew=self._crew,
            paces=tuple(worker.pace for worker in workers),
            calendars=tuple(marks[: len(self.problem.calendars)]),
            hours=tuple(
                None if worker.calendar is None else marks[worker.calendar] for worker in workers
            ),
        )

    def once(self, make: Callable[["Index"], Made]) -> Made:
        """Return what `make` makes of this index, made only once."""
        if make not in self._made:
            self._made[make] = make(self)
        return cast("Made", self._made[make])

    def variant(self, problem: Problem, bounds: tuple[Bounds, ...]) -> "Index":
        """Return an index that shares all that was made of this one.

        Its problem may differ only in what is taken of workers and rooms.
        """
        other = self._sharing(problem, replace(self.terms, bounds=bounds))
        other._calls, other._steps, other._hours_at = self._calls, self._steps, self._hours_at
        other._made = self._made
        return other

    def excerpt(self, problem: Problem, terms: Terms) -> "Index":
        """Return the index of a part of the problem, sharing hours and teams with this one.

        Calendars must be the same, and so must be when workers work and what they can.
        """
        other = self._sharing(problem, terms)
        if Company in self._made:
            other._made[Company] = self._made[Company]
        return other

    def _sharing(self, problem: Problem, terms: Terms) -> "Index":
        return Index(problem, terms=terms, watch_first=self.watch_first, like=self)

    def span(self, team: Team, way: int, stage: int, t: int) -> tuple[int, int] | None:
        """Return start and end of a stage begun at t or soonest after; None past the horizon.

        It ends where the stage's end may lie. Monotone in t.
        """
        asked = self.problem.stages[stage]
        work = self.steps(team, way, stage)
        found = self._fit(team, way, stage, t, work)
        while found is not None and asked.ends is not None:
            gap_end = next_allowed(asked.ends, found[1])
            if gap_end == found[1]:
                break
            found = None if gap_end is None else self.ending_at(team, way, stage, gap_end)
        return found if found is not None and found[1] <= self.problem.horizon else None

    def span_back(self, team: Team, way: int, stage: int, e: int) -> tuple[int, int] | None:
        """Return start and end of a stage that ends at e or latest before; None before step 0."""
        asked = self.problem.stages[stage]
        work = self.steps(team, way, stage)
        found = self._fit_back(team, way, stage, e, work)
        while found is not None and asked.ends is not None:
            last = last_allowed(asked.ends, found[1])
            if last == found[1]:
                break
            found = None if last is None else self._fit_back(team, way, stage, last, work)
        return found

    def ending_at(self, team: Team, way: int, stage: int, e: int) -> tuple[int, int] | None:
        """Return start and end of a stage that ends at e or soonest after, wherever that is."""
        work = self.steps(team, way, stage)
        if not work:
            return moment_from(self.problem.stages[stage].ways[way].clear, e)
        return self.runs(team, way, stage).fit_end(e, work)

    def _fit(self, team: Team, way: int, stage: int, t: int, work: int) -> tuple[int, int] | None:
        if not work:
            return moment_from(self.problem.stages[stage].ways[way].clear, t)
        return self.runs(team, way, stage).fit(t, work)

    def _fit_back(
        self, team: Team, way: int, stage: int, e: int, work: int
    ) -> tuple[int, int] | None:
        if not work:
            found = moment_by(self.problem.stages[stage].ways[way].clear, e)
            return found if found is not None and found[0] >= 0 else None
        return self.runs(team, way, stage).fit_back(e, work)

    def steps(self, team: Team, way: int, stage: int) -> int:
        """Return the working steps that a team needs for a stage done in this way."""
        key = (stage, way, team)
        found = self._steps.get(key)
        if found is None:
            if team and all(map(self._is_usual.__getitem__, team)):
                found = self.steps((), way, stage)
            else:
                workers = self.problem.workers
                work = self.problem.stages[stage].ways[way].work
                found = work_steps(work, [workers[worker].pace for worker in team])
            self._steps[key] = found
        return found

    def runs(self, team: Team, way: int, stage: int) -> Runs:
        """Return where the work of a stage may lie with this team and way."""
        asked = self.problem.stages[stage]
        calendars = self.calendars_of(team, asked.ways[way].calendar, company=asked.company)
        return self.runs_of(calendars, asked, asked.ways[way].clear)

    def hours_at(self, team: Team, way: int, stage: int) -> Hours:
        """Return the hours in which a team works on a stage in this way."""
        key = (stage, way, team)
        found = self._hours_at.get(key)
        if found is None:
            found = self._hours_at[key] = self.runs(team, way, stage).hours
        return found

    def runs_of(self, calendars: Calendars, stage: Stage, clear: Spans | None) -> Runs:
        """Return where the work of a stage may lie under these calendars together.

        clear: as of the way.
        """
        watch = stage.watch if stage.one_go and calendars else 0
        key = (calendars, stage.one_go, watch, stage.longest_pause, clear)
        found = self._runs.get(key)
        if found is None:
            known = (self._marks_of(calendars), stage.one_go, watch, stage.longest_pause, clear)
            found = self._store.runs.get(known)
            if found is None:
                found = self._make_runs(calendars, stage, watch, clear)
                self._store.runs[known] = found
            self._runs[key] = found
        return found

    def _marks_of(self, calendars: Calendars) -> Marks:
        return tuple(self._marks[calendar] for calendar in calendars)

    def _make_runs(
        self, calendars: Calendars, stage: Stage, watch: int, clear: Spans | None
    ) -> Runs:
        hours = self.hours(calendars)
        stretches = pausing_stretches(hours, stage.longest_pause, self.problem.shut)
        if stage.one_go:
            shifts = one_go_stretches(hours, watch, watch_first=self.watch_first)
            if calendars and self.is_company(calendars[-1]):
                shifts = common(shifts, self._unbroken(calendars, hours))
            stretches = shifts if len(stretches) == 1 else common(shifts, stretches)
        if clear is not None:
            stretches = common(stretches, clear)
        return Runs(hours, stretches)

    def _unbroken(self, calendars: Calendars, hours: Hours) -> Spans:
        """Return the stretches in which nobody breaks off for want of company."""
        broken_off = less(self.hours(calendars[:-1]).open, hours.open)
        return less(((0, self.problem.horizon),), broken_off)

    def calendars_of(self, team: Team, calendar: int | None, *, company: bool = False) -> Calendars:
        """Return the calendars that a team and a way's calendar keep together, in order.

        company: a team of one must have it. When each worker has is a calendar as well, numbered
        behind those of the problem.
        """
        workers = self.problem.workers
        found = {workers[worker].calendar for worker in team}
        found.add(calendar)
        if company and len(team) == 1 and self.once(Company).hours(team[0]) is not None:
            found.add(len(self.problem.calendars) + team[0])
        return tuple(sorted(each for each in found if each is not None))

    def kept_company(self) -> dict[Mark, Hours | None]:
        """Return when workers have company, as far as earlier indexes asked, by mark."""
        return self._store.company

    def company_mark(self, worker: int) -> Mark:
        """Return what the company of a worker is known by."""
        return self._marks[len(self.problem.calendars) + worker]

    def is_company(self, calendar: int) -> bool:
        """Return whether a calendar says when somebody has company."""
        return calendar >= len(self.problem.calendars)

    def hours(self, calendars: Calendars) -> Hours:
        """Return the working hours of these calendars together (none: always)."""
        found = self._hours.get(calendars)
        if found is None:
            marks = self._marks_of(calendars)
            found = self._store.hours.get(marks)
            if found is None:
                found = self._store.hours[marks] = self._make_hours(calendars)
            self._hours[calendars] = found
        return found

    def _make_hours(self, calendars: Calendars) -> Hours:
        if not calendars:
            return _always(self.problem.horizon)
        if len(calendars) > 1:
            return self.hours(calendars[:-1]).together(self.hours(calendars[-1:]))
        if self.is_company(calendars[0]):
            company = self.once(Company).hours(calendars[0] - len(self.problem.calendars))
            return self.hours(()) if company is None else company
        calendar = self.problem.calendars[calendars[0]]
        return Hours(calendar.open, calendar.shifts)

    def call(self, stage: int, way: int) -> Call:
        """Return whom a way of a stage calls for."""
        found = self._calls.get((stage, way))
        if found is None:
            asked = self.problem.stages[stage]
            found = self._calls[stage, way] = call_of(asked, asked.ways[way])
        return found

    def eligible(self, call: Call) -> Team:
        """Return the workers who could take some place of a call."""
        found = self._crew.eligible.get(call)
        if found is None:
            found = self._crew.eligible[call] = eligible(self.problem.workers, call)
        return found

    def has_too_many_teams(self, call: Call) -> bool:
        """Return whether its teams are too many to list."""
        return team_count(call, len(self.eligible(call))) > TEAMS_MAX

    def all_teams(self, call: Call) -> tuple[Team, ...]:
        """Return every team for a call, in order; a call for nobody has the empty team."""
        found = self._crew.teams.get(call)
        if found is None:
            among = self.eligible(call)
            found = self._crew.teams[call] = tuple(teams_among(self.problem.workers, call, among))
        return found


def _marks(problem: Problem, store: Store) -> list[Mark]:
    """Return what each calendar is known by: those of the problem, then each worker's company."""
    numbers = store.numbers(problem.calendars)
    kept = tuple(
        None if worker.calendar is None else numbers[worker.calendar] for worker in problem.workers
    )
    return [*numbers, *((worker, kept) for worker in range(len(kept)))]


def teams(index: Index, stage: int, way: int) -> tuple[tuple[Team, int], ...]:
    """Return every team for a way of a stage, each with the working steps it needs."""
    found = index.all_teams(index.call(stage, way))
    return tuple((team, index.steps(team, way, stage)) for team in found)


def next_allowed(spans: Spans, t: int) -> int | None:
    """Return the first step at t or later that lies in the spans."""
    at = bisect_right(spans, t, key=_end_of)
    return None if at == len(spans) else max(t, spans[at][0])


def last_allowed(spans: Spans, t: int) -> int | None:
    """Return the last step at t or earlier that lies in the spans."""
    at = bisect_right(spans, t, key=_start_of) - 1
    return None if at < 0 else min(t, spans[at][1] - 1)


def _start_of(span: tuple[int, int]) -> int:
    return span[0]


def _end_of(span: tuple[int, int]) -> int:
    return span[1]


def _always(horizon: int) -> Hours:
    return Hours(((0, horizon),), ((0, horizon),))
