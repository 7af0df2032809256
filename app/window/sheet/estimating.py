"""Hours that nobody has typed follow the sizes; a typed figure stays. No Qt."""

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from app.window.sheet.writing import job as job_of
from shared.book import Book, Gate, MaterialNeed, Stage, Step, Way
from shared.edits import Edited, change_job
from shared.ids import JobId, StepId

if TYPE_CHECKING:
    from shared.estimate.entries import Entry


def typed_steps(book: Book, job: JobId) -> frozenset[StepId]:
    """Return the steps whose hours are somebody's own, not those of a way of making."""
    from shared.estimate.entries import entries_of_job

    found = entries_of_job(book, job_of(book, job))
    return frozenset(entry.step.id for entry in found if entry.own and entry.step.ways)


def following(before: Book, edited: Edited, job: JobId) -> Edited:
    """Return an edit in which the estimated hours of a job follow what was changed in its segments.

    Where a stage would fall into another number of sessions than it has, its hours stay.
    """
    from shared.estimate.entries import entries_of_job

    own = typed_steps(before, job)
    after = edited.book
    groups: dict[object, list[Entry]] = defaultdict(list)
    for entry in entries_of_job(after, job_of(after, job)):
        if entry.origin is not None and entry.step.id not in own:
            pieces = tuple(piece.id for piece in entry.pieces)
            groups[entry.origin.step.id, pieces].append(entry)
    made: dict[StepId, Step] = {}
    for group in groups.values():
        made |= _estimated(group)
    owner = job_of(after, job)
    steps = tuple(made.get(step.id, step) for step in owner.steps)
    if steps == owner.steps:
        return edited
    followed = change_job(after, replace(owner, steps=steps)).book
    return replace(edited, book=replace(followed, revision=after.revision))


def _estimated(group: "list[Entry]") -> dict[StepId, Step]:
    from shared.routes.growing import parts_for

    origin = group[0].origin
    assert origin is not None
    parts = tuple(parts_for(origin.step, origin.rule, origin.amount))
    if len(parts) != len(group):
        return {}
    found: dict[StepId, Step] = {}
    for entry, part in zip(group, parts, strict=True):
        step = entry.step
        if not isinstance(part, Stage | Gate) or len(part.ways) != len(step.ways):
            return {}
        ways = tuple(_grown(way, new) for way, new in zip(step.ways, part.ways, strict=True))
        made = replace(step, ways=ways)
        if isinstance(made, Stage) and isinstance(part, Stage):
            made = replace(made, materials=_needs(made.materials, part.materials))
        found[step.id] = made
    return found


def _grown(way: Way, new: Way) -> Way:
    return replace(way, hours=new.hours, materials=_needs(way.materials, new.materials))


def _needs(
    old: tuple[MaterialNeed, ...], new: tuple[MaterialNeed, ...]
) -> tuple[MaterialNeed, ...]:
    """Return as much of each material as there is now; what somebody has changed stays."""
    same = [need.material for need in old] == [need.material for need in new]
    return new if same else old
