"""What people are told in the morning: who does what, where and when, and when lorries leave."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shared.ids import JobId, PersonId, StepId
from tests.bench.year.clock import DAY, NEVER
from tests.bench.year.floor import Floor, Team, is_loaded
from tests.bench.year.rides import ride
from tests.bench.year.tasks import How, Task

AHEAD = 21 * DAY
"""Work that is planned for later than this is not begun early."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One task as it is planned. is_abrade: it is done before the coat, whose time runs out."""

    task: StepId
    start: int
    end: int
    team: Team
    how: How
    is_abrade: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A plan as people are told it: items by their start, departures by job."""

    items: tuple[Item, ...] = ()
    leaves: Mapping[JobId, int] = field(default_factory=dict)
    loaded: Mapping[JobId, int] = field(default_factory=dict)
    late: frozenset[JobId] = frozenset()

    def of_day(self, first: int, last: int) -> tuple[Item, ...]:
        """Return what is to begin between two quarters."""
        return tuple(item for item in self.items if first <= item.start < last)


def quarters(how: How) -> int:
    """Return the whole quarters at the bench that a way is estimated to take."""
    return -(-how.work.numerator // how.work.denominator)


class ByTheSheet:
    """How people go through a day by what they were told.

    In the order of the plan. What is due is begun once its people and its place are free; whoever
    would stand about begins with what is planned for later, if that holds nothing up that is
    planned before it.
    """

    def __init__(self, told: Told) -> None:
        """Take what was told."""
        self._told = told
        self._starts = {item.task: item.start for item in told.items if not item.is_abrade}
        self._behind: dict[StepId, list[StepId]] = {}

    def __call__(self, floor: Floor) -> None:
        """Begin with whatever can begin now."""
        self._leave(floor)
        if not self._behind:
            for task in floor.tasks.values():
                for before in task.befores:
                    self._behind.setdefault(before, []).append(task.id)
        waiting: list[Item] = []
        busy = floor.busy()
        for item in self._told.items:
            if item.is_abrade or item.task not in floor.waiting:
                continue
            task = floor.waiting[item.task]
            if busy.isdisjoint(item.team) and self._begins(floor, task, item, waiting):
                busy.update(item.team)
            else:
                waiting.append(item)

    def _leave(self, floor: Floor) -> None:
        leave_in_time(floor)
        for job, leaves in self._told.leaves.items():
            if leaves > floor.now or job in floor.gone or job not in floor.jobs:
                continue
            if not is_loaded(floor, trip_of(floor, job)) or floor.van_until > floor.now:
                continue
            going = ride(floor.jobs[job], floor.now)
            if not going.in_time and job not in self._told.late:
                continue
            if can_go(floor, going.crew):
                floor.leave(job, going)

    def _begins(self, floor: Floor, task: Task, item: Item, waiting: list[Item]) -> bool:
        ready = floor.ready(task)
        if ready is None or ready > floor.now or not floor.room(item.how):
            return False
        if floor.recoat_by(task) < floor.now:
            return False
        end = floor.foreseen_end(task, item.how, item.team, quarters(item.how))
        if end is None or (
            item.start > floor.now and not self._may_early(item, task, end, waiting)
        ):
            return False
        floor.begin(task, item.how, item.team)
        return True

    def _may_early(self, item: Item, task: Task, end: int, waiting: list[Item]) -> bool:
        """Return whether a task may begin before its time and hold nothing up."""
        if item.start > end + AHEAD:
            return False
        if task.recoat is not None:
            nexts = (self._starts.get(each, NEVER) for each in self._behind.get(task.id, ()))
            if min(nexts, default=0) > end + task.recoat:
                return False
        team, place = set(item.team), item.how.place
        return all(
            end <= other.start
            for other in waiting
            if team.intersection(other.team) or (place is not None and other.how.place == place)
        )


def leave_in_time(floor: Floor) -> None:
    """Let what is loaded leave at the last moment at which it makes its window.

    Whatever its crew is on stands still until they are back, unless it is done in one go.
    """
    for job in floor.jobs:
        last = floor.leave_by[job]
        if job in floor.gone or last < floor.now or not is_loaded(floor, trip_of(floor, job)):
            continue
        if last > floor.now:
            floor.wake(last)
        elif floor.van_until <= floor.now:
            going = ride(floor.jobs[job], floor.now)
            if can_go(floor, going.crew):
                floor.leave(job, going)


def trip_of(floor: Floor, job: JobId) -> Task:
    """Return the journey of a job on the floor."""
    return floor.tasks[floor.jobs[job].steps[-1].id]


def can_go(floor: Floor, crew: Team) -> bool:
    """Return whether a crew can leave: at no work in one go, nor on the road."""
    tied = {
        person
        for turn in floor.running.values()
        if floor.tasks[turn.task].one_go
        for person in turn.team
    }
    return tied.isdisjoint(crew) and not any(
        first <= floor.now < last for person in crew for first, last in floor.away[person]
    )


def busy_of(items: tuple[Item, ...]) -> dict[PersonId, list[Item]]:
    """Return by person what they are told."""
    found: dict[PersonId, list[Item]] = {}
    for item in items:
        for person in item.team:
            found.setdefault(person, []).append(item)
    return found
