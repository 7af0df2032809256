"""Placing the stages of a unit one after another, moving earlier ones later where that helps."""

from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.board import Board
from scheduler.net import Net
from scheduler.search import Spot, Why
from scheduler.terms import Link

RESTARTS_MAX = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfit:
    """A stage that fits nowhere, and why. insert: an optional stage that might help."""

    stage: int
    why: Why
    insert: int | None = None


def place_unit(
    board: Board, net: Net, unit: int, hopes: Sequence[int] | None, *, strict: bool = False
) -> Unfit | None:
    """Place the stages of a unit that are not placed yet; on trouble the board is as before.

    hopes: by stage, a start before which it is not placed, while that is feasible. strict: nor
    when it is not.
    """
    board.hopes = hopes
    trouble = _place_chain(board, net, unit)
    if trouble is not None and hopes is not None and not strict:
        board.hopes = None
        trouble = _place_chain(board, net, unit)
    return trouble


def _place_chain(board: Board, net: Net, unit: int) -> Unfit | None:
    stages = [stage for stage in net.units[unit] if stage not in board.spots]
    if len(stages) > 1 and _place_quickly(board, net, stages):
        return None
    return _place_carefully(board, net, stages)


def _place_quickly(board: Board, net: Net, stages: Sequence[int]) -> bool:
    """Place a chain where each looks as if no greatest wait within it counted; else nothing.

    Where one then comes too late for an earlier one, that is moved later by as much. One search
    for each instead of two, and most often the same spots: only somebody who would end later and
    yet begin soon enough is passed over.
    """
    begin = board.busy.mark()
    marks = [begin] * len(stages)
    board.delays = {}
    at = restarts_count = 0
    while at < len(stages):
        marks[at] = board.busy.mark()
        spot = board.find(stages[at], waits_free=stages[:at])
        back = None if spot is None else _moved(board, net, stages, at, spot)
        if spot is None or restarts_count == RESTARTS_MAX:
            board.undo(stages[:at], begin)
            return False
        if back is None:
            board.book(stages[at], spot)
            at += 1
            continue
        restarts_count += 1
        board.undo(stages[back:at], marks[back])
        at = back
    return True


def _place_carefully(board: Board, net: Net, stages: Sequence[int]) -> Unfit | None:
    """Place a chain where each keeps to the greatest waits from those before it."""
    marks = [board.busy.mark()] * (len(stages) + 1)
    board.delays = {}
    asked: dict[int, Unfit] = {}
    at = restarts_count = 0
    while at < len(stages):
        marks[at] = board.busy.mark()
        spot = board.find(stages[at])
        if spot is not None:
            board.book(stages[at], spot)
            at += 1
            continue
        trouble = _trouble(board, net, stages[at])
        if trouble.why is Why.NO_TIME:
            # It came late because somebody else asked it to: that is where a wait runs out.
            trouble = asked.get(stages[at], trouble)
        back = _push(board, net, stages, at) if restarts_count < RESTARTS_MAX else None
        board.undo(stages[back or 0 : at], marks[back or 0])
        if back is None:
            return trouble
        restarts_count += 1
        at = back
        asked[stages[at]] = trouble
    return None


def _trouble(board: Board, net: Net, stage: int) -> Unfit:
    waits = [
        link
        for link in (*net.ins[stage], *net.outs[stage])
        if link.most is not None and (link.before in board.spots or link.after in board.spots)
    ]
    inserts = [link.insert for link in waits if link.insert is not None]
    why = Why.WAIT if board.why is Why.NO_TIME and waits else board.why
    return Unfit(stage=stage, why=why, insert=inserts[0] if inserts else None)


def _push(board: Board, net: Net, stages: Sequence[int], at: int) -> int | None:
    """Ask an earlier stage of the chain to come later, so that the one at `at` can follow.

    Returns the position of that stage, or None where nothing helps.
    """
    spot = board.find(stages[at], waits_free=stages[:at])
    return None if spot is None else _moved(board, net, stages, at, spot)


def _moved(board: Board, net: Net, stages: Sequence[int], at: int, spot: Spot) -> int | None:
    """Ask the first stage of the chain for which a spot is too late to come later by as much.

    Returns the position of that stage, or None where there is none.
    """
    waits = [link for link in net.ins[stages[at]] if link.most is not None]
    for position, stage in enumerate(stages[:at] if waits else ()):
        for link in waits:
            if link.before == stage:
                lateness = _lateness(board, link, spot)
                if lateness > 0:
                    _delay(board, link, lateness)
                    return position
    return None


def _lateness(board: Board, link: Link, spot: Spot) -> int:
    before = board.spots[link.before]
    came = before.end if link.from_end else before.start
    comes = spot.end if link.to_end else spot.start
    needed = None if link.most is None else link.most.inverse(comes)
    return 0 if needed is None else needed - came


def _delay(board: Board, link: Link, steps: int) -> None:
    spot = board.spots[link.before]
    start, end = board.delays.get(link.before, (0, 0))
    if link.from_end:
        end = max(end, spot.end + steps)
    else:
        start = max(start, spot.start + steps)
    board.delays[link.before] = (start, end)
