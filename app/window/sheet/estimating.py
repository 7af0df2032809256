"""Hours that nobody has typed follow the sizes; a typed figure stays. No Qt."""

from collections import defaultdict
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from app.window.sheet.writing import job as job_of
from shared.book import Book, Gate, Hours, MaterialNeed, Stage, Step, Way
from shared.edits import Edited, change_job
from shared.ids import JobId, StepId

if TYPE_CHECKING:
    from collections.abc import Iterable

    from shared.estimate.entries import Entry

_PLACES = 3
_TENTH = Decimal("0.1")


def typed_steps(book: Book, job: JobId) -> frozenset[StepId]:
    """Return the steps whose hours are somebody's own, not those of a way of making.

    Sessions of one stage are as the way of making has them if that is what they come to together.
    """
    from shared.estimate.entries import entries_of_job

    found = entries_of_job(book, job_of(book, job))
    groups = _groups(found)
    plain = {entry.step.id for group in groups if _comes_to(group) for entry in group}
    return frozenset(
        entry.step.id
        for entry in found
        if entry.own and entry.step.ways and entry.step.id not in plain
    )


def following(before: Book, edited: Edited, job: JobId) -> Edited:
    """Return an edit in which the estimated hours of a job follow what was changed in its segments.

    Where a stage would fall into another number of sessions than it has, those it has share them.
    """
    from shared.estimate.entries import entries_of_job

    own = typed_steps(before, job)
    after = edited.book
    made: dict[StepId, Step] = {}
    for group in _groups(entries_of_job(after, job_of(after, job))):
        if not any(entry.step.id in own for entry in group):
            made |= _estimated(group)
    owner = job_of(after, job)
    steps = tuple(made.get(step.id, step) for step in owner.steps)
    if steps == owner.steps:
        return edited
    followed = change_job(after, replace(owner, steps=steps)).book
    return replace(edited, book=replace(followed, revision=after.revision))


def _groups(entries: "Iterable[Entry]") -> "list[list[Entry]]":
    """Return the steps of one origin on the same segments together."""
    groups: dict[object, list[Entry]] = defaultdict(list)
    for entry in entries:
        if entry.origin is not None and entry.step.ways:
            pieces = tuple(piece.id for piece in entry.pieces)
            groups[entry.origin.step.id, pieces].append(entry)
    return list(groups.values())


def _parts(group: "list[Entry]") -> "tuple[Stage | Gate, ...]":
    """Return what the way of making has for a group now."""
    from shared.routes.growing import parts_for

    origin = group[0].origin
    assert origin is not None
    found = parts_for(origin.step, origin.rule, origin.amount)
    return tuple(part for part in found if isinstance(part, Stage | Gate) and part.ways)


def _comes_to(group: "list[Entry]") -> bool:
    """Say whether a group has as many hours as the way of making has for it."""
    has, wanted = _total(e.step for e in group), _total(_parts(group))
    near = _TENTH * len(group) / 10
    return all(abs(a - b) <= near for a, b in zip(has, wanted, strict=True))


def _total(steps: "Iterable[Step]") -> tuple[Decimal, Decimal, Decimal]:
    low = likely = high = Decimal(0)
    for step in steps:
        if isinstance(step, Stage | Gate) and step.ways:
            hours = step.ways[0].hours
            low, likely, high = low + hours.low, likely + hours.likely, high + hours.high
    return low, likely, high


def _estimated(group: "list[Entry]") -> dict[StepId, Step]:
    parts = _parts(group)
    if len(parts) != len(group):
        return _shared(group, parts)
    found: dict[StepId, Step] = {}
    for entry, part in zip(group, parts, strict=True):
        step = entry.step
        if len(part.ways) != len(step.ways):
            return {}
        ways = tuple(_grown(way, new) for way, new in zip(step.ways, part.ways, strict=True))
        made = replace(step, ways=ways)
        if isinstance(made, Stage) and isinstance(part, Stage):
            made = replace(made, materials=_needs(made.materials, part.materials))
        found[step.id] = made
    return found


def _shared(group: "list[Entry]", parts: "tuple[Stage | Gate, ...]") -> dict[StepId, Step]:
    """Return the steps of a group with an equal share each of the hours of other sessions."""
    low, likely, high = (round(total / len(group), _PLACES) for total in _total(parts))
    hours = Hours(low=low, likely=likely, high=high)
    return {
        entry.step.id: replace(
            entry.step, ways=tuple(replace(way, hours=hours) for way in entry.step.ways)
        )
        for entry in group
    }


def _grown(way: Way, new: Way) -> Way:
    return replace(way, hours=new.hours, materials=_needs(way.materials, new.materials))


def _needs(
    old: tuple[MaterialNeed, ...], new: tuple[MaterialNeed, ...]
) -> tuple[MaterialNeed, ...]:
    """Return as much of each material as there is now; what somebody has changed stays."""
    same = [need.material for need in old] == [need.material for need in new]
    return new if same else old
