"""A planner who knew all draws: true hours, answers, illness, deliveries and what will be asked.

Orders of the jobs are drawn, each is gone through once with what will truly happen, by everybody's
hours and every Saturday that is offered; the best counts. Not the least there is, but what
somebody could have kept.
"""

from collections.abc import Collection, Mapping
from dataclasses import replace
from random import Random

from shared.book import Job, Stage
from shared.ids import JobId, PersonId, StepId
from tests.bench.year.clock import DAY, START, Hours, at
from tests.bench.year.commissions import Commission
from tests.bench.year.floor import Floor
from tests.bench.year.reality import Reality
from tests.bench.year.rules import BUFFER, slacks_of
from tests.bench.year.season import LAST_DAYS, MORNING, waiting
from tests.bench.year.shop import hours_of, ill, shop_hours
from tests.bench.year.tasks import Task, tasks_of
from tests.bench.year.thinking import Dispatcher, Habits
from tests.bench.year.world import World

TRIES = 24
SHAKEN_DAYS = 20


class Knowing:
    """What can be kept of a world by somebody who knows it."""

    def __init__(self, world: World) -> None:
        """Take the world."""
        self._world = world
        self._hours = _true_hours(world)
        self._shop = shop_hours(world.book)

    def missed(self, accepted: Collection[JobId], tries: int = TRIES) -> int:
        """Return the fewest windows missed of some jobs, as far as orders were tried."""
        draw = Random(self._world.seed)
        taken = [each for each in self._world.commissions if each.job.id in accepted]
        best, shakes = len(taken) + 1, dict.fromkeys((each.job.id for each in taken), 0.0)
        for number in range(tries):
            wish = shakes if not number else _shaken(shakes, draw)
            missed = self._gone_through(taken, wish)
            if missed <= best:
                best, shakes = missed, wish
            if not best:
                break
        return best

    def _gone_through(self, taken: list[Commission], shakes: Mapping[JobId, float]) -> int:
        floor = Floor(
            self._world.shop, Reality(self._world.truth), self._hours, at(START, *MORNING)
        )
        for each in taken:
            job = self._known(each)
            floor.add(job, tasks_of(job))
        slack = slacks_of(floor, self._shop)

        def urgency(ahead: Floor, task: Task) -> tuple[float, ...]:
            runs = any(ahead.tasks[before].recoat is not None for before in task.befores)
            left = slack.get(_named(task.id), 0) + shakes[task.job]
            return (0 if runs else 1, left)

        habits = Habits(
            urgency=urgency,
            knows_recoat=True,
            hurried=lambda task: slack.get(_named(task.id), 0) < BUFFER,
        )
        starts = sorted({start for hours in self._hours.values() for start, _ in hours.spans})
        floor.advance(floor.now + LAST_DAYS * DAY, Dispatcher(habits), starts)
        kept = sum(ride.in_time for ride in floor.gone.values())
        return len(taken) - kept

    def _known(self, each: Commission) -> Job:
        """Return a job whose work begins no sooner than its material truly comes."""
        job = each.job
        for material in self._world.truth.materials(job, each.asked):
            job = waiting(job, material.steps, material.comes)
        steps = tuple(
            replace(step, not_before=each.asked)
            if isinstance(step, Stage) and step.name == "block" and step.not_before is None
            else step
            for step in job.steps
        )
        return replace(job, steps=steps)


def would_have_fitted(knowing: Knowing, accepted: list[JobId], declined: list[JobId]) -> int:
    """Return how many declined jobs could have been kept with all the others."""
    base = knowing.missed(accepted)
    return sum(knowing.missed([*accepted, job]) <= base for job in declined)


def _named(task: StepId) -> StepId:
    for word in (".abrade", ".again"):
        task = StepId(task.removesuffix(word))
    return task


def _shaken(shakes: Mapping[JobId, float], draw: Random) -> dict[JobId, float]:
    some = draw.sample(sorted(shakes), max(1, len(shakes) // 3))
    return {
        job: shake + (draw.gauss(0, SHAKEN_DAYS * 8) if job in some else 0)
        for job, shake in shakes.items()
    }


def _true_hours(world: World) -> dict[PersonId, Hours]:
    people = {
        person.id: replace(person, overtime_taken=person.overtime_offered)
        for person in world.book.people
    }
    for each in world.truth.illnesses(world.book):
        people[each.person] = ill(people[each.person], each.first, each.back)
    return {name: hours_of(world.book, person) for name, person in people.items()}
