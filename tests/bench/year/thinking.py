"""How somebody plans by hand: day by day in the head, the most urgent that can begin first.

Everything is estimated hours, agreed days and today's knowledge of who is there. Calendars, skills,
places, cures and recoat times are kept to the quarter of an hour.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from shared.book import Job
from shared.ids import PersonId, SkillId, StepId
from shared.worktime import next_working_day, nth_working_day_after
from tests.bench.year.abrading import abrade_before
from tests.bench.year.clock import DAY, NEVER, Hours, at, day_of
from tests.bench.year.commissions import WORKDAYS
from tests.bench.year.floor import Floor, Team, Turn, is_loaded
from tests.bench.year.plans import Item, Told, can_go, leave_in_time, quarters, trip_of
from tests.bench.year.rides import by_hand, journey_of, ride
from tests.bench.year.tasks import How, Task

Urgency = Callable[[Floor, Task], tuple[float, ...]]
THINKS_DAYS = 210


class Guess:
    """What is believed of the future: hours as estimated, answers on the agreed day."""

    def __init__(self, since: int) -> None:
        """Take the moment of planning."""
        self._since = since

    def work(self, task: Task, how: How) -> int:
        """Return the estimated quarters."""
        del task
        return quarters(how)

    def answer(self, floor: Floor, task: Task, pictures: int) -> int:
        """Return when an answer is due; overdue, by the end of the client's next working day."""
        return due(floor.jobs[task.job].client.answer_days, pictures, self._since)

    def over(self, floor: Floor, turn: Turn) -> None:
        """Think nothing of it."""


def due(days: int, pictures: int, since: int) -> int:
    """Return the quarter by which an answer is awaited."""
    found = max(pictures, at(nth_working_day_after(WORKDAYS, day_of(pictures), days), 17))
    if found >= since:
        return found
    return at(next_working_day(WORKDAYS, day_of(since)), 17)


def told_left(floor: Floor, turn: Turn) -> int:
    """Return the quarters that people say are left: from the middle on they know."""
    assert turn.how is not None
    worked, estimated = floor.worked(turn), quarters(turn.how)
    if 2 * worked >= estimated:
        return max(1, turn.work - worked)
    return max(1, estimated - worked)


def believed(floor: Floor) -> Floor:
    """Return a copy of the real floor for thinking ahead: what runs is left as people say."""
    ahead = floor.copy(Guess(floor.now))
    for task, turn in floor.running.items():
        left = told_left(floor, turn)
        end = floor.together(turn.team).end(floor.now, left)
        ahead.running[task] = replace(turn, work=left, left_from=floor.now, end=end)
    return ahead


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How somebody chooses: the least urgency first.

    knows_recoat: no coat is begun that can't be followed in time. hurried: to which tasks all
    hands are put that there are, even where other work waits for them.
    """

    urgency: Urgency
    knows_recoat: bool = False
    hurried: Callable[[Task], bool] = lambda task: False


class Dispatcher:
    """Begins, at each moment, the most urgent tasks that can begin."""

    def __init__(self, habits: Habits) -> None:
        """Take how somebody chooses."""
        self._habits = habits
        self.begun: list[Item] = []

    def __call__(self, floor: Floor) -> None:
        """Begin with whatever can begin now."""
        self._leave(floor)
        ready = []
        for task in floor.open_tasks():
            if task.is_answer or task.is_trip:
                continue
            since = floor.ready(task)
            if since is not None and since <= floor.now:
                ready.append(task)
        if not ready:
            return
        ready.sort(key=lambda task: (*self._habits.urgency(floor, task), task.id))
        asking: dict[SkillId, int] = {}
        for task in ready:
            asking[task.hows[0].skill] = asking.get(task.hows[0].skill, 0) + 1
        free = self._free(floor)
        for task in ready:
            asking[task.hows[0].skill] -= 1
            if not free:
                return
            if floor.recoat_by(task) < floor.now:
                abrade_before(floor, task.id)
                task = floor.tasks[StepId(f"{task.id}.abrade")]
            self._try(floor, task, free, asking.get(task.hows[0].skill, 0))

    def _free(self, floor: Floor) -> set[PersonId]:
        busy = floor.busy()
        return {
            person
            for person in floor.away
            if person not in busy and floor.hours(person).is_open(floor.now)
        }

    def _leave(self, floor: Floor) -> None:
        leave_in_time(floor)
        for task in floor.open_tasks():
            if not task.is_trip or task.job in floor.gone or not is_loaded(floor, task):
                continue
            job = floor.jobs[task.job]
            leaves = by_hand(job, max(floor.now, floor.van_until))
            if leaves > floor.now:
                floor.wake(leaves)
            elif can_go(floor, ride(job, leaves).crew) and floor.busy().isdisjoint(
                ride(job, leaves).crew
            ):
                floor.leave(task.job, ride(job, leaves))

    def _try(self, floor: Floor, task: Task, free: set[PersonId], asking: int) -> None:
        hows = [how for how in task.hows if floor.room(how)]
        able = [p for p in floor.shop.able[task.hows[0].skill] if p in free]
        spare = len(able) - 1 - asking
        if not self._habits.hurried(task) and spare < 1:
            hows = hows[:1]
        for how in sorted(hows, key=lambda how: -how.hands):
            team = self._team(floor, task, how, able)
            if team is not None:
                self._begin(floor, task, how, team)
                free.difference_update(team)
                return

    def _team(self, floor: Floor, task: Task, how: How, able: list[PersonId]) -> Team | None:
        """Return the first of those who can, free of any departure that is near."""
        there = []
        for person in able:
            end = floor.foreseen_end(task, how, (person,), quarters(how))
            if end is None or self._leaves_within(floor, person, end):
                continue
            if self._habits.knows_recoat and self._keeps_free(floor, task, person, end):
                continue
            there.append(person)
        if len(there) < how.hands:
            return None
        team = tuple(sorted(there[: how.hands]))
        end = floor.foreseen_end(task, how, team, quarters(how))
        if end is None or any(self._leaves_within(floor, person, end) for person in team):
            return None
        if self._habits.knows_recoat and not self._can_follow(floor, task, end):
            return None
        return team

    def _leaves_within(self, floor: Floor, person: PersonId, end: int) -> bool:
        """Return whether somebody has to leave with a lorry before a task would end."""
        for job in floor.jobs.values():
            if job.id in floor.gone or person not in ride_crew(job):
                continue
            if floor.now < floor.leave_by[job.id] < end:
                return True
            if is_loaded(floor, trip_of(floor, job.id)):
                leaves = by_hand(job, floor.now)
                if floor.now <= leaves < end:
                    return True
        return False

    def _can_follow(self, floor: Floor, task: Task, end: int) -> bool:
        """Return whether a coat can be followed by the next before its time runs out."""
        if task.recoat is None:
            return True
        nexts = [each for each in floor.tasks.values() if task.id in each.befores]
        first, last = end + task.cure, end + task.recoat
        return all(
            len(self._fit_for(floor, each, first, last)) >= each.hows[0].hands for each in nexts
        )

    def _keeps_free(self, floor: Floor, wanted: Task, person: PersonId, end: int) -> bool:
        """Return whether a coat that must soon be followed would miss somebody busy until then."""
        for task, first, last in floor.due_coats():
            if last < floor.now or task.id == wanted.id:
                continue
            fit = self._fit_for(floor, task, max(first, floor.now), last)
            if person not in fit or len(fit) > task.hows[0].hands:
                continue
            if not _fits_a_shift(floor.hours(person), max(first, end), last, _length(task)):
                return True
        return False

    def _fit_for(self, floor: Floor, task: Task, first: int, last: int) -> list[PersonId]:
        """Return who can do a task that is begun between two quarters, as far as is known."""
        until = {p: turn.end for turn in floor.running.values() for p in turn.team}
        return [
            person
            for person in floor.shop.able[task.hows[0].skill]
            if _fits_a_shift(
                floor.hours(person), max(first, until.get(person, 0)), last, _length(task)
            )
        ]

    def _begin(self, floor: Floor, task: Task, how: How, team: Team) -> None:
        floor.begin(task, how, team)
        turn = floor.running[task.id]
        self.begun.append(
            Item(task=task.id, start=turn.start, end=turn.end, team=team, how=how)
        )  # fmt: skip


def ride_crew(job: Job) -> Team:
    """Return who goes with a job."""
    return journey_of(job).crew


def _length(task: Task) -> int:
    return quarters(task.hows[0]) + task.watch


def _fits_a_shift(hours: Hours, first: int, last: int, work: int) -> bool:
    """Return whether so much work in one go can begin between two quarters."""
    quarter = hours.opens(first)
    while quarter <= last and quarter < NEVER:
        if hours.end(quarter, work) <= hours.shift_end(quarter):
            return True
        quarter = hours.opens(hours.shift_end(quarter))
    return False


def think(floor: Floor, habits: Habits, openings: list[int]) -> Told:
    """Return the plan that somebody makes in the morning, to the end of all that is known."""
    return think_on(believed(floor), habits, openings)


def think_on(ahead: Floor, habits: Habits, openings: list[int]) -> Told:
    """Go on from a floor to the end of all that is known; return what is begun and when."""
    dispatcher = Dispatcher(habits)
    until = ahead.now + THINKS_DAYS * DAY
    ahead.advance(until, dispatcher, openings)
    items = [_as_item(item) for item in dispatcher.begun]
    leaves = {job: ahead.gone[job].leaves for job in ahead.jobs if job in ahead.gone}
    loaded = {
        job.id: max((ahead.over[b].ready for b in ahead.tasks[job.steps[-1].id].befores
                     if b in ahead.over), default=NEVER)
        for job in ahead.jobs.values()
    }  # fmt: skip
    late = {
        job.id
        for job in ahead.jobs.values()
        if job.id not in ahead.gone or not ahead.gone[job.id].in_time
    }
    return Told(
        items=tuple(sorted(items, key=lambda item: (item.start, item.task))),
        leaves=leaves,
        loaded=loaded,
        late=frozenset(late),
    )


def _as_item(item: Item) -> Item:
    if not item.task.endswith(".abrade"):
        return item
    return replace(item, is_abrade=True)
