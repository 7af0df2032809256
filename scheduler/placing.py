"""One board on which what broke is placed around what is kept, each unit near its plan."""

from collections.abc import Mapping, Sequence

from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.grid import DAY_STEPS
from scheduler.leaving import Leaving
from scheduler.net import Net
from scheduler.overtaken import overtaken
from scheduler.ready import Queue
from scheduler.search import Spot, Why
from scheduler.teams import Team
from scheduler.terms import FOREVER

SOONER_STEPS = (DAY_STEPS, 7 * DAY_STEPS)
"""By so much sooner what fits nowhere may begin before its neighbours are let go."""
SAME_TEAM_STEPS = 48
"""By so much later the people who were planned may end and still do it."""
Found = dict[int, Spot]


class Placing:
    """One board on which everything is placed that is not there yet."""

    def __init__(
        self,
        index: Index,
        net: Net,
        board: Board,
        leaving: Leaving,
        same: dict[int, tuple[int, Team]],
    ) -> None:
        self._index, self._net, self._board, self._leaving = index, net, board, leaving
        self._same = same
        self.in_the_way: set[int] = set()
        self._was: Mapping[int, Spot] = {}
        self._hopes: Sequence[int] = ()

    def run(self, was: Mapping[int, Spot], hopes: Sequence[int]) -> list[Unfit]:
        """Place what is missing; what got stuck is returned, what waits for it not tried.

        was, hopes: by stage, where it was and when it is wanted.
        """
        self._was, self._hopes = was, hopes
        net, board = self._net, self._board
        ranks = [min(hopes[stage] for stage in unit) for unit in net.units]
        queue = Queue(net.waits, net.followers, ranks)
        stuck: list[Unfit] = []
        put_back: dict[int, Unfit] = {}
        while (unit := queue.pop()) is not None:
            stages = net.units[unit]
            left = [stage for stage in stages if stage not in board.spots]
            trouble = self._place(unit, left) if left else None
            if trouble is not None:
                if trouble.why is Why.ROOM and board.stands.any_open():
                    put_back[unit] = trouble
                else:
                    stuck.append(trouble)
                    self._note_in_the_way(unit, left)
                continue
            queue.done(unit)
            if left:
                self._leaving.settle({self._index.problem.stages[stage].job for stage in left})
            if left and put_back and board.stands.close_with(left):
                queue.put_back(put_back)
                put_back = {}
        return [*stuck, *put_back.values()]

    def _place(self, unit: int, left: Sequence[int]) -> Unfit | None:
        """Place a unit where it was planned, else not sooner, else a little sooner, else soon."""
        board = self._board
        mark = board.busy.mark()
        mine = self._tried(unit, left, 0, same=True) if self._has_all(left) else None
        if mine is not None:
            if all(mine[stage].start == self._hopes[stage] for stage in left):
                return None
            board.undo(left, mark)
        others = self._tried(unit, left, 0)
        if mine is not None and (others is None or _end(mine) <= _end(others) + SAME_TEAM_STEPS):
            if others is not None:
                board.undo(left, mark)
            for stage, spot in mine.items():
                board.book(stage, spot)
            return None
        if others is not None:
            return None
        can_be_sooner = self._can_be_sooner(left)
        for sooner in SOONER_STEPS if can_be_sooner else ():
            if self._tried(unit, left, sooner) is not None:
                return None
        hopes = None if can_be_sooner else self._hopes
        return self._leaving.place_unit(unit, hopes, strict=True)

    def _has_all(self, left: Sequence[int]) -> bool:
        return all(stage in self._was for stage in left)

    def _can_be_sooner(self, left: Sequence[int]) -> bool:
        """Return whether what comes before a unit lets it begin before it was planned."""
        for stage in left:
            ready = self._index.terms.bounds[stage].earliest_start
            links = self._net.ins[stage]
            if any(link.before in left for link in links if link.lag is not None):
                continue
            for link in links:
                spot = self._board.spots.get(link.before)
                if spot is not None and link.lag is not None and not link.to_end:
                    came = link.lag.of(spot.end if link.from_end else spot.start)
                    ready = FOREVER if came is None else max(ready, came)
            if ready < self._hopes[stage]:
                return True
        return False

    def _note_in_the_way(self, unit: int, left: Sequence[int]) -> None:
        """Note what would be pushed away if a unit that is stuck took its place all the same."""
        spots = self._board.spots
        after = {link.after for stage in left for link in self._net.outs[stage]}
        hidden = {one: spots.pop(one) for one in after - set(self._net.units[unit]) if one in spots}
        mark = self._board.busy.mark()
        found = self._tried(unit, left, 0) if hidden else None
        if found is not None:
            self._board.undo(left, mark)
        spots.update(hidden)
        if found is not None:
            self.in_the_way |= overtaken(self._index, self._net, spots, found)

    def _tried(
        self, unit: int, left: Sequence[int], sooner: int, *, same: bool = False
    ) -> Found | None:
        """Place a unit and return where it is, None where that can't be.

        sooner: by how much it may be before it was planned. same: only with the same people.
        """
        hopes = [max(0, hope - sooner) for hope in self._hopes] if sooner else self._hopes
        if same:
            self._same.update((one, (self._was[one].way, self._was[one].team)) for one in left)
        trouble = self._leaving.place_unit(unit, hopes, strict=True)
        self._same.clear()
        if trouble is not None:
            return None
        return {stage: self._board.spots[stage] for stage in left}


def _end(found: Found) -> int:
    return max(spot.end for spot in found.values())
