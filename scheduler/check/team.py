"""Who does it: a known way, so many hands, each giving one skill, certified, and those asked for.

A need of `can` wants people who can or lead; a need of `helps` takes anybody with the skill.
"""

from collections.abc import Iterator

from scheduler.check.clock import day_after, midnight
from scheduler.check.tell import listed, names_of, of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Person, SkillLevel, Way
from shared.ids import PersonId, SkillId

_DOES = frozenset({SkillLevel.CAN, SkillLevel.LEADS})
_HELPS = frozenset(SkillLevel)

Chair = tuple[SkillId, frozenset[SkillLevel]]


def teams(world: World) -> Iterator[Breach]:
    """Give what is done in no known way or by the wrong people."""
    for task in world.tasks.values():
        if task.done:
            continue
        if not task.work or not task.ways:
            yield from _nobody(task)
        elif task.way is None:
            yield of_task(Rule.WAY, task, way=task.placement.way)
        else:
            yield from _hands(world, task, task.way)
        if task.certificates and not _is_told(task):
            yield from _certificates(world, task)
        if task.asked or task.pin is not None:
            yield from _asked(world, task)


def _is_told(task: Task) -> bool:
    """Return whether people were told to be at it: whoever they are, no plan is to blame."""
    return task.running is not None and bool(task.running.people)


def _nobody(task: Task) -> Iterator[Breach]:
    """Give what has no way and yet names one, or holds somebody."""
    if task.placement.way:
        yield of_task(Rule.WAY, task, way=task.placement.way)
    if task.placement.people:
        count = len(task.placement.people)
        yield of_task(Rule.TEAM, task, people_count=count, hands_count=0)


def _hands(world: World, task: Task, way: Way) -> Iterator[Breach]:
    people = task.placement.people
    if _is_told(task):
        return
    different, hands = len(set(people)), way.hands_count
    if not len(people) == different == hands:
        facts = {"people_count": different, "hands_count": hands}
        yield of_task(Rule.TEAM, task, **facts)
        return
    key = (people, way.needs)
    if key not in world.seated:
        members = [world.people[person] for person in people if person in world.people]
        world.seated[key] = _seated(members, _chairs(way))
    if not world.seated[key]:
        yield of_task(
            Rule.SKILL,
            task,
            people=names_of(people, _names(world)),
            skills=listed(need.skill for need in way.needs),
        )


def _names(world: World) -> dict[PersonId, str]:
    return {person.id: person.name for person in world.book.people}


def _chairs(way: Way) -> list[Chair]:
    """Return one chair for each pair of hands, with the levels that may sit on it."""
    return [
        (need.skill, levels)
        for need in way.needs
        for count, levels in ((need.can, _DOES), (need.helps, _HELPS))
        for _ in range(count)
    ]


def _fits(person: Person, chair: Chair) -> bool:
    skill, levels = chair
    return any(held.skill == skill and held.level in levels for held in person.skills)


def _seated(people: list[Person], chairs: list[Chair]) -> bool:
    """Return whether every chair finds somebody of their own, moving others where needed."""
    sitter: dict[int, int] = {}

    def seat(chair: int, asked: set[int]) -> bool:
        for index, person in enumerate(people):
            if index in asked or not _fits(person, chairs[chair]):
                continue
            asked.add(index)
            if index not in sitter or seat(sitter[index], asked):
                sitter[index] = chair
                return True
        return False

    return all(seat(chair, set()) for chair in range(len(chairs)))


def _certificates(world: World, task: Task) -> Iterator[Breach]:
    members = (world.people[one] for one in task.placement.people if one in world.people)
    for person in members:
        for wanted in task.certificates:
            held = [one for one in person.certificates if one.certificate == wanted]
            days = [one.expires for one in held]
            if any(day is None or task.end <= midnight(day_after(day), world.zone) for day in days):
                continue
            last = max((day for day in days if day is not None), default=None)
            yield of_task(
                Rule.CERTIFICATE,
                task,
                person=person.name,
                certificate=wanted,
                expires=None if last is None else last.isoformat(),
            )


def _asked(world: World, task: Task) -> Iterator[Breach]:
    if _is_told(task):
        return
    pinned = task.pin.people if task.pin is not None else ()
    for said_by, people in (("step", task.asked), ("pin", pinned)):
        for person in people:
            if person not in task.placement.people:
                name = _names(world).get(person, person)
                yield of_task(Rule.ASKED, task, person=name, said_by=said_by)
