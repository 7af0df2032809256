"""What comes before what, and how long between.

A step follows, for each of its segments, the nearest earlier step in the job's list that
touches the segment; where the book names what it comes after, it follows exactly those. After a
step its cure must pass; past its recoat time the next may not start, unless it takes off what is
there or an abrade stage lies between. Nothing starts before the answer it follows is due or
given, nor before the changes that a yes asked for are done; these start when all is over that the
answer follows. Loading starts when every earlier step on its segments is ready.
"""

from collections.abc import Iterator

from scheduler.check.climate_waits import coat_by, ready_after
from scheduler.check.clock import iso
from scheduler.check.job_table import Link
from scheduler.check.tell import of_step, of_task
from scheduler.check.world import World, is_answer, is_loading
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Job, Journey, Stage, Step
from shared.ids import StepId


def order(world: World) -> Iterator[Breach]:
    """Give what starts too soon, or too late, after what it follows."""
    for job, step in world.steps.values():
        start = world.start_of(step.id)
        if start is None or world.facts.has_begun(step.id):
            yield from _changes(world, job, step)
            continue
        found = world.links(job, step)
        for link in found:
            yield from _soon(world, job, step, link, start)
            yield from _late(world, job, step, link)
        if is_loading(step):
            named = {link.before for link in found}
            yield from _packed(world, job, step, named, start)
        yield from _abraded(world, step)


def _soon(world: World, job: Job, step: Step, link: Link, start: int) -> Iterator[Breach]:
    before = world.any_step(link.before)
    ended = world.end_of(link.before)
    if before is None or ended is None:
        return
    if link.from_start:
        begun = world.start_of(link.before)
        begun = ended if begun is None else begun
        ready = begun + link.least
        rule = Rule.ORDER if start < begun else Rule.CURE
    else:
        ready = max(ready_after(world, before, ended), ended + link.least)
        rule = Rule.ORDER if start < ended else Rule.CURE
    if start >= ready:
        return
    if is_answer(before):
        changes = world.changes_of(link.before)
        rule = Rule.BEFORE_ANSWER if changes is None else Rule.BEFORE_CHANGES
    elif is_loading(step):
        rule = Rule.LOADING
    elif isinstance(step, Journey):
        rule = Rule.LEAVES_EARLY
    facts = {"before": before.name, "start": iso(start), "ready": iso(ready)}
    if rule is Rule.CURE:
        facts["cured"] = before.kind.value if isinstance(before, Stage) else ""
    yield of_step(rule, job, step, **facts)


def _changes(world: World, job: Job, step: Step) -> Iterator[Breach]:
    """Give what the changes to an answer would have had to wait for."""
    changes = world.changes_of(step.id)
    if changes is not None and not changes.done:
        for link in world.links(job, step):
            yield from _soon(world, job, step, link, changes.start)


def is_unjudged_wait(world: World, step: Step, link: Link) -> bool:
    """Return whether a greatest wait runs to a journey or from an answer: not kept yet."""
    before = world.any_step(link.before)
    if isinstance(step, Journey):
        coat = isinstance(before, Stage) and _has_recoat_time(before)
        return link.most is not None or (coat and not link.from_start)
    return link.most is not None and before is not None and is_answer(before)


def _late(world: World, job: Job, step: Step, link: Link) -> Iterator[Breach]:
    before = world.any_step(link.before)
    is_coat = isinstance(before, Stage) and _has_recoat_time(before)
    if (link.most is None and not is_coat) or is_unjudged_wait(world, step, link):
        return
    start = world.main_start_of(step.id)
    begun, ended = world.start_of(link.before), world.end_of(link.before)
    if before is None or start is None or ended is None:
        return
    latest = []
    if link.most is not None:
        base = ended if not link.from_start or begun is None else begun
        latest.append(base + link.most)
    is_lifted = link.from_start or (isinstance(step, Stage) and step.takes_off)
    if isinstance(before, Stage) and not is_lifted:
        abrade = world.tasks.get((step.id, 0, "abrade"))
        until = coat_by(world, before, ended, start)
        if until is not None and (abrade is None or abrade.start < ended):
            latest.append(until)
    if latest and start > min(latest):
        facts = {"before": before.name, "start": iso(start), "latest": iso(min(latest))}
        yield of_step(Rule.RECOAT, job, step, **facts)


def _has_recoat_time(coat: Stage) -> bool:
    return coat.recoat_hours is not None or bool(coat.recoat_bands)


def _packed(
    world: World, job: Job, loading: Step, named: set[StepId], start: int
) -> Iterator[Breach]:
    """Give earlier steps on the segments of a loading that aren't ready when it starts."""
    pieces = world.table(job).pieces
    mine = pieces(loading)
    for step in world.table(job).earlier(loading):
        ended = world.end_of(step.id)
        if isinstance(step, Journey) or step.id in named or ended is None:
            continue
        ready = ready_after(world, step, ended)
        if start < ready and not mine.isdisjoint(pieces(step)):
            facts = {"before": step.name, "start": iso(start), "ready": iso(ready)}
            yield of_step(Rule.LOADING, job, loading, **facts)


def _abraded(world: World, step: Step) -> Iterator[Breach]:
    """Give a coat that starts before its abrade stage is over."""
    abrade = world.tasks.get((step.id, 0, "abrade"))
    coat = None if abrade is None else world.tasks.get((step.id, 0, ""))
    if abrade is not None and coat is not None and coat.start < abrade.end:
        facts = {"before": step.name, "start": iso(coat.start), "ready": iso(abrade.end)}
        yield of_task(Rule.ORDER, coat, **facts)
