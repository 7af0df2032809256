"""Four hand rules, from the simplest to an experienced foreman.

Earliest window: the job whose window shuts first goes first. First come: the job that was booked
first. Monday's slack: the job with the least slack goes first, counted each Monday. Foreman: the
task with the least slack, counted anew every morning, less the same buffer that the engine is asked
for; no coat is begun that can't be followed in its recoat time; running recoat times go first.

All keep to hours, skills, places and cures, all are offered the same Saturdays and take them by
the same custom: a rule that sees on its last planning day of a week that a job will be late
has everybody in who offers the Saturday. The foreman does so as soon as half of the buffer is
gone.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from shared.ids import JobId, StepId
from tests.bench.year.clock import DAY, Hours
from tests.bench.year.floor import Floor
from tests.bench.year.plans import Told
from tests.bench.year.tasks import Task
from tests.bench.year.thinking import Habits

SHIFT = 32
"""Quarters of a normal working day."""
BUFFER = 3 * SHIFT
STANDARD_LEAD = 70 * DAY
"""What simpler rules ask of a rush: ten weeks from the day it is asked to its window."""
HURRY_BELOW = SHIFT


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A hand rule. habits: of the floor as it is, with ranks of jobs as of Monday.

    buffer: how much working time before the latest departure it wants loading to end.
    tries: a rush is tried in the plan before it is accepted; else its lead time decides.
    """

    name: str
    habits: Callable[[Floor, Hours, Mapping[JobId, float]], Habits]
    buffer: int = 0
    tries: bool = False


def slacks_of(floor: Floor, shop: Hours) -> dict[StepId, int]:
    """Return by task how long it can slip, everything behind it alone, in working quarters.

    Counted back from the latest departure: cures and agreed answers as elapsed time, work by
    the hours of the shop, by the fewest hands; as somebody would with a calendar and a pencil.
    """
    found: dict[StepId, int] = {}
    for job in floor.jobs.values():
        mine = [floor.tasks[step.id] for step in job.steps]
        latest: dict[StepId, int] = {}
        for task in reversed(mine):
            end = latest.pop(task.id, floor.leave_by[job.id])
            begin = _begin_by(floor, shop, task, end)
            for before in task.befores:
                wait = floor.tasks[before].cure
                latest[before] = min(latest.get(before, begin - wait), begin - wait)
            found[task.id] = _between(shop, floor.now, begin)
    return found


def _begin_by(floor: Floor, shop: Hours, task: Task, end: int) -> int:
    if task.is_trip or task.id in floor.over:
        return end
    if task.is_answer:
        return end - DAY * 7 * floor.jobs[task.job].client.answer_days // 5
    work = task.hows[0].work
    turn = floor.running.get(task.id)
    whole = -(-work.numerator // work.denominator)
    if turn is not None:
        whole = max(1, whole - floor.worked(turn))
    if task.one_go:
        return min(end - whole, shop.begin(end, whole))
    return shop.begin(end, whole)


def _between(shop: Hours, first: int, last: int) -> int:
    return shop.worked(first, last) if last >= first else -shop.worked(last, first)


def job_slacks(floor: Floor, shop: Hours) -> dict[JobId, float]:
    """Return the least slack of each job's tasks that are not over."""
    found: dict[JobId, float] = {}
    for step, slack in slacks_of(floor, shop).items():
        if step not in floor.over:
            job = floor.tasks[step].job
            found[job] = min(found.get(job, slack), slack)
    return found


def _by_window(floor: Floor, shop: Hours, ranks: Mapping[JobId, float]) -> Habits:
    del shop, ranks
    due = {job.id: floor.leave_by[job.id] for job in floor.jobs.values()}
    return Habits(urgency=lambda _, task: (due[task.job],))


def _by_coming(floor: Floor, shop: Hours, ranks: Mapping[JobId, float]) -> Habits:
    del shop, ranks
    order = {job: position for position, job in enumerate(floor.jobs)}
    return Habits(urgency=lambda _, task: (order[task.job],))


def _by_monday(floor: Floor, shop: Hours, ranks: Mapping[JobId, float]) -> Habits:
    today = job_slacks(floor, shop)
    return Habits(urgency=lambda _, task: (ranks.get(task.job, today.get(task.job, 0)),))


def _by_foreman(floor: Floor, shop: Hours, ranks: Mapping[JobId, float]) -> Habits:
    del ranks
    slack = slacks_of(floor, shop)

    def urgency(ahead: Floor, task: Task) -> tuple[float, ...]:
        left = slack.get(task.id, slack.get(_coat_of(task.id), 0)) - BUFFER
        runs = any(ahead.tasks[before].recoat is not None for before in task.befores)
        return (0 if runs else 1, left)

    def hurried(task: Task) -> bool:
        return slack.get(task.id, BUFFER * 2) - BUFFER < HURRY_BELOW

    return Habits(urgency=urgency, knows_recoat=True, hurried=hurried)


def _coat_of(task: StepId) -> StepId:
    return StepId(task.removesuffix(".abrade"))


EARLIEST_WINDOW = Rule(name="earliest window first", habits=_by_window)
FIRST_COME = Rule(name="first come first served", habits=_by_coming)
MONDAYS_SLACK = Rule(name="least slack each Monday", habits=_by_monday)
FOREMAN = Rule(name="experienced foreman", habits=_by_foreman, buffer=BUFFER, tries=True)
RULES = (EARLIEST_WINDOW, FIRST_COME, MONDAYS_SLACK, FOREMAN)


def short_jobs(told: Told, floor: Floor, shop: Hours, buffer: int) -> frozenset[JobId]:
    """Return the jobs that a plan loads later than so long before their latest departure."""
    found = set(told.late)
    for job in floor.jobs.values():
        by = shop.begin(floor.leave_by[job.id], buffer) if buffer else floor.leave_by[job.id]
        if told.loaded.get(job.id, 0) > by:
            found.add(job.id)
    return frozenset(found)
