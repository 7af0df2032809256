"""Today and tomorrow stay as told: what lies otherwise must not have been able to stand.

Work of people that was told to begin from now on and before the end of tomorrow, and has not begun,
keeps its start, people, way and place. It may lie otherwise where it could not stand as told
beside what is a fact, what else is kept of these days, and what it comes after in this plan. Of a
job that has left nothing is to be kept. Where the plan says that it let something go, or has no
place for it, and nothing here shows why, that is not judged.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from scheduler.check.air import air
from scheduler.check.climate import climate
from scheduler.check.clock import day_after, day_of, iso, midnight, seconds
from scheduler.check.daily import daily
from scheduler.check.order import order
from scheduler.check.people import people
from scheduler.check.rooms import rooms
from scheduler.check.same_people import same_people
from scheduler.check.team import teams
from scheduler.check.tell import names_of, of_step
from scheduler.check.things import things
from scheduler.check.times import times
from scheduler.check.work import work
from scheduler.check.world import Slot, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import FactKind, Job, Journey
from shared.plan import Placement

_FAMILIES: tuple[Callable[[World], Iterator[Breach]], ...] = (
    times,
    teams,
    work,
    people,
    same_people,
    daily,
    rooms,
    air,
    things,
    order,
    climate,
)


def sheet(world: World) -> Iterator[Breach]:
    """Give what lies otherwise than it was told, could have stayed, and was not let go."""
    let_go = _let_go(world)
    for told in _otherwise(world):
        slot = _slot(told)
        if slot not in let_go and _could_stand(world, told):
            job, step = world.steps[told.step]
            task = world.tasks.get(slot)
            names = {person.id: person.name for person in world.book.people}
            yield of_step(
                Rule.TOLD,
                job,
                step,
                start=None if task is None else iso(task.start),
                told_start=iso(seconds(told.start)),
                people="" if task is None else names_of(task.placement.people, names),
                told=names_of(told.people, names),
            )


def let_go_unseen(world: World) -> Iterator[bool]:
    """Tell of what a plan let go of or has nowhere, where nothing shows why it could not stand."""
    let_go = _let_go(world)
    for told in _otherwise(world) if let_go else ():
        yield _slot(told) in let_go and _could_stand(world, told)


def _slot(placed: Placement) -> Slot:
    return placed.step, placed.round, placed.part


def _let_go(world: World) -> set[Slot]:
    nowhere = {(one.step, 0, "") for one in world.plan.unplaced}
    return nowhere | {(one.step, one.round, one.part) for one in world.plan.let_go}


def _soon(world: World) -> Iterator[Placement]:
    """Give what was told to people for today and tomorrow and has not begun."""
    if world.book.told is None:
        return
    tomorrow = day_after(day_of(world.now, world.zone))
    until = midnight(day_after(tomorrow), world.zone)
    for placed in world.book.told.plan.placements:
        is_work = placed.people and not placed.part and not placed.round
        if not is_work or not world.now <= seconds(placed.start) < until:
            continue
        is_open = placed.step in world.steps and not world.facts.has_begun(placed.step)
        if is_open and not _has_left(world, world.steps[placed.step][0]):
            yield placed


def _has_left(world: World, job: Job) -> bool:
    journeys = [step.id for step in job.steps if isinstance(step, Journey)]
    return bool(journeys) and all(
        world.facts.last(each, FactKind.GONE) or world.facts.done(each) for each in journeys
    )


def _otherwise(world: World) -> list[Placement]:
    return [told for told in _soon(world) if not _is_kept(world, told)]


def _is_kept(world: World, told: Placement) -> bool:
    task = world.tasks.get(_slot(told))
    return task is not None and _sheet(task.placement) == _sheet(told)


def _sheet(placed: Placement) -> tuple[object, ...]:
    return placed.start, frozenset(placed.people), placed.way, placed.place


def _could_stand(world: World, told: Placement) -> bool:
    """Return whether something would break no rule where it was told, by itself."""
    slot = _slot(told)
    if slot not in world.could_stand:
        world.could_stand[slot] = _stands(world, told)
    return world.could_stand[slot]


def _stands(world: World, told: Placement) -> bool:
    if any(person not in world.people for person in told.people):
        return False
    job, step = world.steps[told.step]
    before = {link.before for link in world.links(job, step)}
    kept = {_slot(each) for each in _soon(world) if _is_kept(world, each)}
    beside = tuple(
        each
        for each in world.plan.placements
        if each.step != told.step
        and (
            _slot(each) in kept
            or each.step in before
            or world.facts.done(each.step)
            or world.facts.running(each.step)
        )
    )
    if any(each.step in before for each in world.plan.unplaced):
        return False
    without = _broken(world, beside)
    return _broken(world, (*beside, told)) <= without


def _broken(world: World, placements: tuple[Placement, ...]) -> set[Breach]:
    plan = replace(world.plan, placements=placements)
    part = World(world.book, plan, world.now, world.memory)
    return {breach for family in _FAMILIES for breach in family(part)}
