"""Bettering a schedule for as long as one likes: jobs shifted, all settled, parts solved anew.

Every schedule that counts has passed the judge. With seconds two parts are solved at once, each
on a thread and with a worker of its own; models are built and judged on the caller's thread.
With effort one follows the other, and the same seed and effort give the same schedule.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from random import Random

from scheduler.aims import Levels, levels
from scheduler.calendar import Index
from scheduler.chances import Chances, gain
from scheduler.excerpt import Excerpt, excerpt, merge
from scheduler.grid import DAY_STEPS
from scheduler.judge import is_sound
from scheduler.model.departures import let_leave
from scheduler.model.part import Ended, PartFound, PartLimits, Solving, Task, solving_part
from scheduler.model.part_days import GivenDays
from scheduler.model.starts import StartTable
from scheduler.neighbours import CHOOSE, POLISH, Kind, Look
from scheduler.problem import Schedule
from scheduler.pull import tighten
from scheduler.regret import regrets
from scheduler.settle import settle
from scheduler.shifts import improve_by_shifts
from scheduler.stop import WHOLE_SHARE, Stop, Until, pause
from scheduler.taken import Taken

OnBetter = Callable[[Schedule, Levels], None]
SHIFTS_SHARE, SHIFTS_SHARE_IN_TIME = 350, 60
"""So many thousandths of the whole go to shifting jobs: while any is late or short, and if none."""
SETTLE_SHARE = 800
"""Up to so many thousandths of the whole a schedule is settled; the rest goes to parts."""
REACH_STEPS = 10 * DAY_STEPS
"""So far from where it is a free stage may go."""
PART_SECONDS = 10.0
PART_EFFORT = 40
EASY_OF_TEN = 4
LEAST_STAGES = 4
IDLE_MAX = 80
"""So many parts in a row that hold nothing better: then nothing is left to gain."""
_POLL_SECONDS = 0.002


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """How parts are solved. threads: so many at once. seconds, effort: what each may take."""

    threads: int = 1
    seconds: float | None = None
    effort: int | None = PART_EFFORT
    reach_steps: int = REACH_STEPS


IN_SECONDS = Pace(threads=2, seconds=PART_SECONDS)
BY_EFFORT = Pace()


def improve(
    index: Index,
    schedule: Schedule,
    *,
    seed: int,
    stop: Stop,
    pace: Pace = BY_EFFORT,
    on_better: OnBetter | None = None,
) -> Schedule:
    """Return the best schedule found until the rule says stop or nothing is left to gain.

    schedule: a sound one. A pass spends one unit of effort, a part what the solver says.
    on_better: told of each schedule with better levels, on the caller's thread.
    """
    if not index.problem.jobs:
        return schedule
    in_time = not any(levels(index.problem, schedule)[:4])
    share = SHIFTS_SHARE_IN_TIME if in_time else SHIFTS_SHARE
    gone = stop.share()

    def until(share: int) -> Stop:
        return Until(stop, stop.share(), gone + (WHOLE_SHARE - gone) * share // WHOLE_SHARE)

    shifted = improve_by_shifts(index, schedule, seed=seed, stop=until(share), on_better=on_better)
    tight = tighten(index, shifted, stop)
    if on_better is not None and tight is not shifted:
        on_better(tight, levels(index.problem, tight))
    settled = settle(index, tight, seed=seed, stop=until(SETTLE_SHARE), on_better=on_better)
    search = _Parts(index, settled, seed, stop, pace, on_better)
    search.run()
    return search.best


class _Parts:
    """The search by parts."""

    def __init__(
        self,
        index: Index,
        schedule: Schedule,
        seed: int,
        stop: Stop,
        pace: Pace,
        on_better: OnBetter | None,
    ) -> None:
        self._index = index
        self._draw = Random(seed)
        self._stop = stop
        self._pace = pace
        self._on_better = on_better
        self._chances = Chances()
        self._table = StartTable(index)
        self._idle = 0
        self._take(schedule)

    def _take(self, schedule: Schedule) -> None:
        self.best = schedule
        self._levels = levels(self._index.problem, schedule)
        self._taken = Taken(self._index, schedule)
        self._given = GivenDays(self._index, schedule)
        self._look = Look(self._index, schedule, regrets(self._index, schedule))

    def run(self) -> None:
        """Solve parts until it is time to stop."""
        running: list[_Running] = []
        with ThreadPoolExecutor(self._pace.threads) as threads:
            while running or self._goes_on():
                if len(running) < self._pace.threads and self._goes_on():
                    begun = self._begin(running, threads)
                    if begun is not None:
                        running.append(begun)
                    continue
                done = self._first_done(running)
                running.remove(done)
                left = self._sent(done, threads)
                if left is not None:
                    running.append(left)

    def _goes_on(self) -> bool:
        return self._idle < IDLE_MAX and self._stop.reason() is None

    def _begin(
        self, running: Sequence["_Running"], threads: ThreadPoolExecutor
    ) -> "_Running | None":
        """Begin with another part that has no stage with those under way in common."""
        is_costly = any(self._look.costs)
        kind = self._chances.draw(self._draw, is_costly=is_costly)
        size = self._chances.size(kind)
        stages = set(CHOOSE[kind](self._look, self._draw, size))
        for other in running:
            stages -= other.stages
        part = None
        if len(stages) >= min(LEAST_STAGES, len(self._look.by_start)):
            part = excerpt(self._index, self._taken, stages, self._pace.reach_steps)
        if part is None:
            self._idle += 1
            return None
        keeps_ways = kind in POLISH and self._draw.randrange(4) > 0
        limits = PartLimits(
            seconds=self._pace.seconds,
            effort=self._pace.effort,
            seed=self._draw.getrandbits(20),
            keeps_ways=keeps_ways,
        )
        solving = solving_part(part, self._given, self._table, limits)
        one = _Try(kind=kind, part=part, base=self.best, solving=solving)
        return self._asked(one, None, threads)

    def _sent(self, done: "_Running", threads: ThreadPoolExecutor) -> "_Running | None":
        return self._asked(done.one, done.future.result(), threads)

    def _asked(
        self, one: "_Try", status: Ended | None, threads: ThreadPoolExecutor
    ) -> "_Running | None":
        """Go on with a part until its next model is being solved; None once it is over."""
        try:
            task = next(one.solving) if status is None else one.solving.send(status)
        except StopIteration as ended:
            self._hear(one, ended.value)
            return None
        return _Running(one=one, task=task, future=threads.submit(task.run))

    def _first_done(self, running: Sequence["_Running"]) -> "_Running":
        """Wait for the first to be done; once it is time to stop all are told so."""
        while True:
            for each in running:
                if each.future.done():
                    return each
            if self._stop.reason() is not None:
                for each in running:
                    each.task.stop()
            pause(_POLL_SECONDS)

    def _hear(self, one: "_Try", found: PartFound) -> None:
        """Take what was found of a part if it is better and sound, and note what came of it."""
        self._stop.spend(max(1, found.effort))
        before = self._levels
        is_better, won = False, 0
        schedule = None if found.schedule is None else self._merged(one.part, found.schedule)
        if schedule is not None:
            reached = levels(self._index.problem, schedule)
            if reached < before and is_sound(self._index, self._taken, schedule):
                is_better, won = True, gain(one.kind, before, reached)
                self._take(schedule)
                if self._on_better is not None:
                    self._on_better(schedule, reached)
        self._idle = 0 if is_better or not found.is_proved else self._idle + 1
        most = PART_EFFORT if self._pace.effort is None else self._pace.effort
        self._chances.note(
            one.kind,
            won,
            found.effort,
            is_proved=found.is_proved,
            is_easy=found.is_proved and found.effort * 10 < most * EASY_OF_TEN,
        )

    def _merged(self, part: Excerpt, found: Schedule) -> Schedule:
        return let_leave(self._index, merge(self.best, part, found))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Try:
    """A part that is being solved: how it was chosen, of which schedule it is."""

    kind: Kind
    part: Excerpt
    base: Schedule
    solving: Solving


@dataclass(frozen=True, slots=True, kw_only=True)
class _Running:
    """A part with a model of it that is being solved."""

    one: _Try
    task: Task
    future: Future[Ended]

    @property
    def stages(self) -> frozenset[int]:
        """Return the stages that are free in it, by number in the whole."""
        return frozenset(self.one.part.stages[at] for at in self.one.part.free)
