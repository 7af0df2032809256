"""What an answer does with each piece of work, read from what changes against what was told."""

from collections.abc import Collection

from scheduler.away.values import Move, MoveKind
from scheduler.held_told import Slot
from scheduler.told_changes import Change, Changes, Otherwise
from shared.ids import PersonId


def moves_of(
    changes: Changes, hit: Collection[Slot], missing: Collection[PersonId]
) -> tuple[Move, ...]:
    """Return what becomes of what is hit and of all else that changes, in the order of changes.

    hit: slots of what is hit. missing: people who are away. What only takes longer is no move.
    """
    found = []
    for change in changes.each:
        if change.kinds == (Otherwise.LENGTH,):
            continue
        if change.now is None:
            found.append(Move(kind=MoveKind.OFF, job=change.job, step=change.step))
            continue
        slot = (change.step, change.round, change.part)
        kind = _of_hit(change) if slot in hit else _of_other(change)
        if _is_hit_by_people(change, missing):
            kind = _of_hit(change)
        found.append(Move(kind=kind, job=change.job, step=change.step))
    return tuple(found)


def _is_hit_by_people(change: Change, missing: Collection[PersonId]) -> bool:
    assert change.now is not None
    now = change.now.people
    return any(person in change.told.people and person not in now for person in missing)


def _of_hit(change: Change) -> MoveKind:
    if Otherwise.PEOPLE in change.kinds:
        return MoveKind.TAKEN_OVER
    if Otherwise.DAY in change.kinds or Otherwise.TIME in change.kinds:
        is_sooner = change.now is not None and change.now.start < change.told.start
        return MoveKind.BROUGHT_FORWARD if is_sooner else MoveKind.WAITS
    return MoveKind.ELSEWHERE


def _of_other(change: Change) -> MoveKind:
    if change.part == "trip":
        return MoveKind.LEAVES
    return MoveKind.SWAPPED if Otherwise.PEOPLE in change.kinds else MoveKind.MOVED
