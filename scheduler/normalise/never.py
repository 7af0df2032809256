"""Whether a step can be done at all, with company and within the limits of a day."""

from dataclasses import replace
from fractions import Fraction

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.normalise.frame import Frame
from scheduler.place import place
from scheduler.problem import Problem, Stage, Wait
from scheduler.reasons import Reason
from scheduler.spans import less, merged
from scheduler.teams import Team, call_of, eligible, work_steps

_NO_WAIT = Wait()


class Never:
    """Looks for steps that nobody can ever do, though company or limits aside somebody could."""

    def __init__(self, frame: Frame) -> None:
        """Take the people, all of whom are free for it."""
        self._frame = frame
        self._alone: dict[int, bool] = {}
        self._why: dict[Stage, Reason | None] = {}

    def why(self, stage: Stage) -> Reason | None:
        """Return why nobody can ever do a stage, None where somebody can, or nobody anyway.

        Every place is free for it, too.
        """
        if not (self._lacks_company(stage) or self._sands_long(stage)):
            return None
        bare = _bare(stage)
        if bare not in self._why:
            self._why[bare] = self._tried(bare)
        return self._why[bare]

    def _lacks_company(self, stage: Stage) -> bool:
        """Return whether nobody who can do it has company in all their hours."""
        ways = [way for way in stage.ways if way.work]
        if not stage.company or any(way.hands_count > 1 for way in ways):
            return False
        able = set(self._able(stage))
        able &= set(stage.asked) or able
        return all(self._is_ever_alone(worker) for worker in able)

    def _is_ever_alone(self, worker: int) -> bool:
        if worker not in self._alone:
            self._alone[worker] = self._is_alone(worker)
        return self._alone[worker]

    def _is_alone(self, worker: int) -> bool:
        workers, made = self._frame.workers, self._frame.calendars.made
        used = {one.calendar for at, one in enumerate(workers) if at != worker}
        shifts = merged(span for at in used if at is not None for span in made[at].shifts)
        mine = workers[worker].calendar
        return mine is not None and bool(less(made[mine].open, shifts))

    def _sands_long(self, stage: Stage) -> bool:
        """Return whether somebody who can do it might not get it done in a day."""
        if not stage.sands:
            return False
        able, limits = self._able(stage), self._frame.laws.sanding
        paces = [self._frame.workers[worker].pace for worker in able]
        slowest = min(paces, default=Fraction(1))
        longest = max(
            (work_steps(way.work, [slowest] * way.hands_count) for way in stage.ways), default=0
        )
        return longest > min((limits[worker] for worker in able), default=0)

    def _able(self, stage: Stage) -> Team:
        workers = self._frame.workers
        calls = {call_of(stage, way) for way in stage.ways if way.work}
        return tuple(sorted({worker for call in calls for worker in eligible(workers, call)}))

    def _tried(self, bare: Stage) -> Reason | None:
        """Return why a stage has no place in an otherwise empty workshop."""
        if self._is_placed(bare):
            return None
        if bare.company and self._is_placed(replace(bare, company=False)):
            return Reason.NOBODY_ELSE
        if bare.sands and self._is_placed(replace(bare, sands=False)):
            return Reason.SANDING_TOO_LONG
        both = bare.company and bare.sands
        if both and self._is_placed(replace(bare, company=False, sands=False)):
            return Reason.NOBODY_ELSE
        return None

    def _is_placed(self, bare: Stage) -> bool:
        frame = self._frame
        workers = tuple(replace(worker, busy=(), away=()) for worker in frame.workers)
        problem = Problem(
            horizon=frame.grid.horizon,
            stages=(bare,),
            calendars=tuple(frame.calendars.made),
            workers=workers,
            shut=frame.shut,
        )
        return not isinstance(place(Index(frame.laws.complete(problem)), [0]), Unfit)


def _bare(stage: Stage) -> Stage:
    """Return a stage with nothing to take but people's time."""
    ways = (replace(way, uses=(), consumes=(), cost=0) for way in stage.ways)
    return replace(
        stage,
        ways=tuple(ways),
        job=-1,
        cure=_NO_WAIT,
        told_start=None,
        told_team=None,
        same_team_as=None,
        piece=None,
        optional=False,
    )
