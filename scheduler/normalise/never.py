"""Whether a step can be done at all, with company and within the limits of a day."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from scheduler.calendar import Index
from scheduler.company import alone
from scheduler.daily import Daily
from scheduler.hours import Runs
from scheduler.normalise.frame import Frame
from scheduler.problem import Problem, Stage, Way
from scheduler.reasons import Reason
from scheduler.teams import Call, Team, call_of, eligible, until, work_steps
from scheduler.terms import FOREVER

TEAMS_MAX = 1000
"""Where more teams can do a step, one is taken to be found that may."""


class Never:
    """Looks for steps that nobody can ever do, though company or limits aside somebody could."""

    def __init__(self, frame: Frame) -> None:
        """Take the people, all of whom are free for it."""
        self._frame = frame
        self._alone: dict[int, bool] = {}
        self._able_by_call: dict[Call, Team] = {}
        self._made: Index | None = None

    def why(self, stage: Stage) -> Reason | None:
        """Return why nobody can ever do a stage, None where somebody can, or nobody anyway.

        Every place is free for it, too.
        """
        if not (self._lacks_company(stage) or self._sands_long(stage)) or self._can_do(stage):
            return None
        if stage.company and self._can_do(replace(stage, company=False)):
            return Reason.NOBODY_ELSE
        if stage.sands and self._can_do(replace(stage, sands=False)):
            return Reason.SANDING_TOO_LONG
        both = replace(stage, company=False, sands=False)
        return Reason.NOBODY_ELSE if both != stage and self._can_do(both) else None

    def _lacks_company(self, stage: Stage) -> bool:
        """Return whether nobody who can do it has company in all their hours."""
        if not stage.company or any(way.work and way.hands_count > 1 for way in stage.ways):
            return False
        able = self._able(stage)
        if stage.asked:
            able = tuple(worker for worker in able if worker in stage.asked)
        return all(self._is_ever_alone(worker) for worker in able)

    def _is_ever_alone(self, worker: int) -> bool:
        found = self._frame.reads.alone[worker] = self.is_alone(worker)
        return found

    def is_alone(self, worker: int) -> bool:
        """Return whether somebody works at times when nobody else is there."""
        found = self._alone.get(worker)
        if found is None:
            found = self._alone[worker] = self._has_lonely_hours(worker)
        return found

    def _has_lonely_hours(self, worker: int) -> bool:
        workers, made = self._frame.workers, self._frame.calendars.made
        mine = workers[worker].calendar
        if mine is None:
            return False
        used = {
            one.calendar
            for at, one in enumerate(workers)
            if at != worker and one.calendar is not None
        }
        others = [made[at].shifts for at in sorted(used, key=lambda at: at != mine)]
        return not made[mine].open or bool(alone(made[mine].open, others))

    def _sands_long(self, stage: Stage) -> bool:
        """Return whether somebody who can do it might not get it done in a day."""
        if not stage.sands:
            return False
        able, limits = self._able(stage), self._frame.laws.sanding
        slowest = min((self._frame.workers[worker].pace for worker in able), default=None)
        if slowest is None:
            return False
        longest = max(
            work_steps(way.work, [slowest] * way.hands_count) for way in _distinct(stage.ways)
        )
        return longest > min(limits[worker] for worker in able)

    def _able(self, stage: Stage) -> Team:
        workers = self._frame.workers
        calls = {call_of(stage, way) for way in _distinct(stage.ways) if way.work}
        for call in calls - self._able_by_call.keys():
            self._able_by_call[call] = eligible(workers, call)
        if len(calls) == 1:
            return self._able_by_call[calls.pop()]
        return tuple(sorted({worker for call in calls for worker in self._able_by_call[call]}))

    def _can_do(self, stage: Stage) -> bool:
        """Return whether some team could do a stage in an otherwise empty workshop."""
        self._frame.reads.hours = True
        daily = Daily(self._index, (stage,)) if stage.sands else None
        first = stage.release if stage.fixed_start is None else stage.fixed_start
        last = _least(stage.start_by, stage.fixed_start)
        for team, way in self._teams(stage):
            if team is None or self._has_start(stage, team, way, (first, last), daily):
                return True
        return False

    def _teams(self, stage: Stage) -> Iterator[tuple[Team | None, int]]:
        """Give every team with its way; None for one that is taken to be found."""
        for way, asked in enumerate(stage.ways):
            call = call_of(stage, asked)
            if not call.needs or self._index.has_too_many_teams(call):
                yield None, way
                continue
            teams = self._index.all_teams(call)
            yield from ((team, way) for team in (teams if len(teams) <= TEAMS_MAX else (None,)))

    def _has_start(
        self, stage: Stage, team: Team, way: int, bounds: tuple[int, int], daily: Daily | None
    ) -> bool:
        index, asked = self._index, stage.ways[way]
        calendars = index.calendars_of(team, asked.calendar, company=stage.company)
        runs = index.runs_of(calendars, stage, asked.clear)
        work = work_steps(asked.work, [index.problem.workers[worker].pace for worker in team])
        valid = until(index.problem.workers, call_of(stage, asked), team)
        if daily is not None and stage.one_go and self._is_too_long(team, runs, work):
            return False
        start, last = bounds
        while start <= last:
            found = runs.fit(start, work)
            if found is None or found[0] > last or found[1] > _least(valid):
                return False
            later = -1 if daily is None else daily.later(0, team, runs.hours, found)
            if later < 0:
                return True
            start = max(later, found[0] + 1)
        return False

    def _is_too_long(self, team: Team, runs: Runs, work: int) -> bool:
        """Return whether work in one go is more than a day may have, and no shift has two days."""
        limits = self._frame.laws.sanding
        if work <= min(limits[worker] for worker in team):
            return False
        return not runs.has_midnight(self._frame.laws.days())

    @property
    def _index(self) -> Index:
        if self._made is None:
            frame = self._frame
            problem = Problem(
                horizon=frame.grid.horizon,
                stages=(),
                calendars=tuple(frame.calendars.made),
                workers=tuple(
                    replace(worker, busy=(), away=(), sanding_max=most)
                    for worker, most in zip(frame.workers, frame.laws.sanding, strict=True)
                ),
                shut=frame.shut,
                days=frame.laws.days(),
            )
            self._made = Index(problem)
        return self._made


def _distinct(ways: Iterable[Way]) -> Iterable[Way]:
    """Return ways of which no two are the same but for their place."""
    return {(id(way.needs), id(way.work)): way for way in ways}.values()


def _least(*steps: int | None) -> int:
    return min((step for step in steps if step is not None), default=FOREVER)
