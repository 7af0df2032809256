"""What is done in a task, as far as its air and its place go by it."""

from scheduler.check.clock import hours
from scheduler.check.order import links
from scheduler.check.world import Task, World
from shared.book import Act, Job, Place, PlaceKind, Stage, Step
from shared.trade import defaults


def acts_of(world: World, task: Task) -> set[Act]:
    """Return what is done: as the stage says, else the usual; isocyanates are always sprayed."""
    if task.placement.part == "abrade":
        return set(defaults.ABRADING)
    found: set[Act] = set()
    for stage in _stages(world, task.job, task.step, task.placement.part):
        found.update(defaults.acts_of(stage))
    if Act.ISOCYANATE in found:
        found.add(Act.SPRAY)
    return found


def wet_seconds(world: World, task: Task) -> int:
    """Return how long after its end dust spoils what a task leaves wet."""
    longest = 0
    for stage in _stages(world, task.job, task.step, task.placement.part):
        if Act.WET in defaults.acts_of(stage):
            told = stage.wet_hours
            longest = max(longest, hours(defaults.WET_HOURS[stage.kind] if told is None else told))
    return longest


def _stages(world: World, job: Job, step: Step, part: str) -> list[Stage]:
    """Return the stages by which a task goes: for what an answer calls for, those shown for it."""
    if part == "abrade":
        return []
    if not part:
        return [step] if isinstance(step, Stage) else []
    shown = {link.before for link in links(world, job, step)}
    return [each for each in job.steps if isinstance(each, Stage) and each.id in shown]


def clear_out_seconds(place: Place, acts: set[Act]) -> int:
    """Return how long after a task its place stays shut: a booth clears after spraying."""
    minutes = place.clear_out_minutes
    if not minutes and place.kind is PlaceKind.BOOTH and Act.SPRAY in acts:
        minutes = defaults.CLEARANCE_MINUTES
    return minutes * 60
