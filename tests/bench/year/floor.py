"""The workshop's floor from event to event: what is done, what runs, who and what is taken.

The same code runs the real days, with true hours, and the days that a hand rule thinks through,
with estimated ones; they differ in the `Fate` that is asked how long a task takes. It keeps
to hours, skills, places, cures and recoat times, by code of its own.
"""

import heapq
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Protocol

from shared.book import Job, Stage, Window
from shared.ids import JobId, PersonId, PlaceId, SkillId, StepId
from tests.bench.year.clock import NEVER, Hours, Span
from tests.bench.year.rides import Ride, latest_leave
from tests.bench.year.tasks import How, Task

Team = tuple[PersonId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """A task that runs or is over: from when to when, by whom, where.

    end: as it is now foreseen. left_from: the quarter since when `work` quarters were left.
    """

    task: StepId
    job: JobId
    start: int
    end: int
    team: Team
    how: How | None
    work: int = 0
    left_from: int = 0
    ready: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """What never changes in a year: who can do what, how many fit where, clear-outs in quarters.

    shut: when all is closed. longest_pause: so long a task may stand still, shut days apart.
    """

    able: Mapping[SkillId, Team]
    slots: Mapping[PlaceId, int]
    clear_out: Mapping[PlaceId, int]
    shut: tuple[Span, ...] = ()
    longest_pause: int = NEVER


class Fate(Protocol):
    """How long things take, and what comes of them."""

    def work(self, task: Task, how: How) -> int:
        """Return the quarters at the bench that a task takes."""

    def answer(self, floor: "Floor", task: Task, pictures: int) -> int:
        """Return the quarter of the answer to pictures; as it is known now."""

    def over(self, floor: "Floor", turn: Turn) -> None:
        """Hear that a task is over."""


Chooser = Callable[["Floor"], None]


class Floor:
    """The floor at a moment."""

    def __init__(self, shop: Shop, fate: Fate, hours: Mapping[PersonId, Hours], now: int) -> None:
        """Begin with nothing on it."""
        self.shop, self.fate, self.now = shop, fate, now
        self.tasks: dict[StepId, Task] = {}
        self.waiting: dict[StepId, Task] = {}
        self.leave_by: dict[JobId, int] = {}
        self.jobs: dict[JobId, Job] = {}
        self.over: dict[StepId, Turn] = {}
        self.running: dict[StepId, Turn] = {}
        self.shown: dict[StepId, int] = {}
        self.gone: dict[JobId, Ride] = {}
        self.held: dict[PlaceId, list[tuple[int, StepId]]] = {place: [] for place in shop.slots}
        self.away: dict[PersonId, list[Span]] = {person: [] for person in hours}
        self.overtime = 0
        self.van_until = 0
        self._hours = dict(hours)
        self._common: dict[Team, Hours] = {}
        self._events: list[int] = []

    def copy(self, fate: Fate) -> "Floor":
        """Return the same floor for thinking ahead."""
        other = Floor(self.shop, fate, self._hours, self.now)
        other.tasks, other.jobs = dict(self.tasks), dict(self.jobs)
        other.waiting, other.leave_by = dict(self.waiting), dict(self.leave_by)
        other.over, other.running = dict(self.over), dict(self.running)
        other.shown, other.gone = dict(self.shown), dict(self.gone)
        other.held = {place: list(held) for place, held in self.held.items()}
        other.away = {person: list(away) for person, away in self.away.items()}
        other.van_until = self.van_until
        other._common = self._common
        return other

    # What there is.

    def add(self, job: Job, tasks: Iterable[Task]) -> None:
        """Put a job on the books, or its steps as they are now."""
        self.jobs[job.id] = job
        if job.id not in self.leave_by:
            self.leave_by[job.id] = latest_leave(job)
        for task in tasks:
            self.tasks[task.id] = task
            if task.id not in self.over and task.id not in self.running:
                self.waiting[task.id] = task

    def remove(self, job: JobId) -> None:
        """Forget a job that has been delivered."""
        del self.jobs[job], self.leave_by[job]
        for task in [task.id for task in self.tasks.values() if task.job == job]:
            del self.tasks[task]
            for known in (self.over, self.running, self.shown, self.waiting):
                known.pop(task, None)

    def set_hours(self, hours: Mapping[PersonId, Hours]) -> None:
        """Let people have other hours from now on; what runs ends accordingly."""
        self._hours = {
            person: each.without(self.away[person]) if self.away[person] else each
            for person, each in hours.items()
        }
        self._common = {}
        self._foresee(self.running)

    def hours(self, person: PersonId) -> Hours:
        """Return when somebody is at the bench."""
        return self._hours[person]

    def together(self, team: Team) -> Hours:
        """Return when a whole team is at the bench."""
        if team not in self._common:
            found = self._hours[team[0]]
            for person in team[1:]:
                found = found.common(self._hours[person])
            self._common[team] = found
        return self._common[team]

    def busy(self) -> set[PersonId]:
        """Return who is on a task."""
        return {person for turn in self.running.values() for person in turn.team}

    def ready(self, task: Task) -> int | None:
        """Return from when on a task may start, None as long as something before it isn't over."""
        found = task.release
        for before in task.befores:
            turn = self.over.get(before)
            if turn is None:
                return None
            found = max(found, turn.ready)
        return found

    def recoat_by(self, task: Task) -> int:
        """Return by when a task must start for the coats before it."""
        if task.takes_off:
            return NEVER
        found = NEVER
        for before in task.befores:
            most = self.tasks[before].recoat
            if most is not None:
                found = min(found, self.over[before].end + most)
        return found

    def due_coats(self) -> list[tuple[Task, int, int]]:
        """Return the tasks that wait behind one coat, from when to when they may begin."""
        found = []
        for task in self.waiting.values():
            if task.takes_off or len(task.befores) != 1:
                continue
            before = self.tasks[task.befores[0]]
            turn = self.over.get(before.id) or self.running.get(before.id)
            if before.recoat is not None and turn is not None:
                found.append((task, turn.end + before.cure, turn.end + before.recoat))
        return found

    def open_tasks(self) -> list[Task]:
        """Return the tasks that neither run nor are over, in no order that matters."""
        return list(self.waiting.values())

    # What can be done now.

    def room(self, how: How) -> bool:
        """Return whether a place has room for one more now."""
        if how.place is None:
            return True
        taken = sum(until > self.now for until, _ in self.held[how.place])
        return taken < self.shop.slots[how.place]

    def foreseen_end(self, task: Task, how: How, team: Team, work: int) -> int | None:
        """Return when a task ends that a team begins now; None where it can't begin now."""
        hours = self.together(team)
        if not hours.is_open(self.now):
            return None
        end = hours.end(self.now, work)
        if task.one_go:
            shift = min(self._hours[person].shift_end(self.now) for person in team)
            if end + task.watch > shift:
                return None
        elif hours.standstill(self.now, end, self.shop.shut) > self.shop.longest_pause:
            return None
        del how
        return end

    def begin(self, task: Task, how: How, team: Team) -> None:
        """Begin a task now, which `foreseen_end` must allow by its estimated hours."""
        work = self.fate.work(task, how)
        turn = Turn(
            task=task.id, job=task.job, start=self.now, end=self.now, team=team, how=how,
            work=work, left_from=self.now,
        )  # fmt: skip
        self.running[task.id] = turn
        del self.waiting[task.id]
        self._foresee([task.id])
        if how.place is not None:
            self.held[how.place].append((NEVER, task.id))

    def leave(self, job: JobId, ride: Ride) -> None:
        """Let the lorry of a job leave now."""
        self.gone[job] = ride
        self.van_until = ride.back
        for person in ride.crew:
            self.away[person].append((ride.leaves, ride.free))
            self._hours[person] = self._hours[person].without([(ride.leaves, ride.free)])
        crew = set(ride.crew)
        self._common = {
            team: hours for team, hours in self._common.items() if crew.isdisjoint(team)
        }
        mine = [task for task, turn in self.running.items() if crew.intersection(turn.team)]
        self._foresee(mine)
        self._tell(ride.free)

    def worked(self, turn: Turn) -> int:
        """Return how many quarters of what was left have been worked since."""
        if turn.how is None:
            return 0
        return min(turn.work, self.together(turn.team).worked(turn.left_from, self.now))

    def _foresee(self, tasks: Iterable[StepId]) -> None:
        """Work out anew when what runs ends."""
        for task in list(tasks):
            turn = self.running[task]
            hours = self.together(turn.team)
            end = hours.end(turn.left_from, turn.work)
            if self.tasks[task].one_go:
                end = self._late_end(turn, end)
            self.running[task] = replace(turn, end=end)
            self._tell(end)

    def _late_end(self, turn: Turn, end: int) -> int:
        """Let a team stay on with what can't be left for the next day."""
        shift = min(self._hours[person].shift_end(turn.start) for person in turn.team)
        if end <= shift:
            return end
        return shift + turn.work - self.together(turn.team).worked(turn.left_from, shift)

    # Time.

    def wake(self, quarter: int) -> None:
        """Ask to be asked again at a quarter."""
        self._tell(quarter)

    def _tell(self, quarter: int) -> None:
        if self.now < quarter < NEVER:
            heapq.heappush(self._events, quarter)

    def advance(self, until: int, chooser: Chooser, openings: Iterable[int]) -> None:
        """Go on to a quarter; at each event and opening the chooser may begin with tasks."""
        for quarter in openings:
            if quarter < until:
                self._tell(quarter)
        for task in self.open_tasks():
            self._tell(task.release)
        for turn in (*self.running.values(), *self.over.values()):
            self._tell(turn.end)
            self._tell(turn.ready)
        for held in self.held.values():
            for free, _ in held:
                self._tell(free)
        while True:
            self._settle()
            chooser(self)
            self._settle()
            while self._events and self._events[0] <= self.now:
                heapq.heappop(self._events)
            if not self._events or self._events[0] >= until:
                break
            self.now = self._events[0]
        self.now = until

    def _settle(self) -> None:
        """Note what is over by now, and show pictures of what is carved."""
        while True:
            ended = [turn for turn in self.running.values() if turn.end <= self.now]
            for turn in sorted(ended, key=lambda each: (each.end, each.task)):
                self._end(turn)
            if not ended and not self._show():
                return

    def _end(self, turn: Turn) -> None:
        task = self.tasks[turn.task]
        del self.running[turn.task]
        turn = replace(turn, ready=turn.end + task.cure)
        self.over[turn.task] = turn
        self._tell(turn.ready)
        if turn.how is not None and turn.how.place is not None:
            place = turn.how.place
            free = (turn.ready if task.stays else turn.end) + self.shop.clear_out[place]
            held = [each for each in self.held[place] if each[1] != turn.task]
            self.held[place] = [*(each for each in held if each[0] > self.now), (free, turn.task)]
            self._tell(free)
        if task.one_go:
            shift = min(self._hours[person].shift_end(turn.start) for person in turn.team)
            self.overtime += max(0, turn.end - shift) * len(turn.team)
        self.fate.over(self, turn)

    def _show(self) -> bool:
        """Send pictures out, and take in answers that have come; whether there were any."""
        is_changed = False
        for task in self.open_tasks():
            if not task.is_answer:
                continue
            ready = self.ready(task)
            if ready is None or ready > self.now:
                continue
            if task.id not in self.shown:
                self.shown[task.id] = ready
            due = self.fate.answer(self, task, self.shown[task.id])
            if due > self.now:
                self._tell(due)
                continue
            turn = Turn(
                task=task.id, job=task.job, start=self.shown[task.id], end=due, team=(),
                how=None, ready=due,
            )  # fmt: skip
            self.over[task.id] = turn
            del self.waiting[task.id]
            self.fate.over(self, turn)
            is_changed = True
        return is_changed


def window_of(job: Job) -> Window:
    """Return the only window of a job."""
    return job.windows[0]


def is_loaded(floor: Floor, trip: Task) -> bool:
    """Return whether everything before a journey is over."""
    ready = floor.ready(trip)
    return ready is not None and ready <= floor.now


def stage_of(task: Task) -> Stage:
    """Return the stage of a task that is one."""
    assert isinstance(task.step, Stage)
    return task.step
