"""A law's states as small numbers, with what was worked out of each kept.

A quarter makes the same of the same state on every road and at every time of day, so nothing is
worked out twice. The rank of a state is packed into one integer: a field for each number, with a
spare bit above it, so that one subtraction compares them all.
"""

from collections.abc import Hashable
from struct import pack
from typing import Any

from shared.road.law import RANK_MOST, Law, Need

_WIDTH = 16
_MOST_STATES, _MOST_LEASTS = 100_000, 1_000_000
_FIELDS = 1_048_576
"""More quarters than a journey can have; of weeks and rests it has far fewer than 4096."""

Next = tuple[int, ...]
Wheels = tuple[tuple[int, int], ...]


class Machine:
    """The states of a law by number; each list holds None until it is asked for."""

    def __init__(self, law: Law[Any]) -> None:
        """Begin with no state."""
        self.law = law
        self.states: list[Any] = []
        self.ranks: tuple[list[int], list[int]] = ([], [])
        self.guards = [0, 0]
        self._numbers: dict[Hashable, int] = {}
        self._rested: tuple[list[Next | None], list[Next | None]] = ([], [])
        self._driven: list[Wheels | None] = []
        self._worked: list[Next | None] = []
        self._available: list[Next | None] = []
        self._interrupted: list[Next | None] = []
        self._fresh: dict[int, int] = {}
        self._least: dict[int, int] = {}
        self._alike: list[int] = []
        self._first_alike: dict[Hashable, int] = {}

    def number(self, state: Hashable) -> int:
        """Give the number of a state."""
        found = self._numbers.get(state)
        if found is not None:
            return found
        found = len(self.states)
        self._numbers[state] = found
        self.states.append(state)
        self._alike.append(self._first_alike.setdefault(self.law.for_least(state), found))
        for sea in (0, 1):
            self.ranks[sea].append(self._packed(state, sea))
            self._rested[sea].append(None)
        for each in (self._driven, self._worked, self._available, self._interrupted):
            each.append(None)
        return found

    def turned(self, number: int) -> int:
        """Give the state with a new fixed week begun."""
        return self.number(self.law.turned(self.states[number]))

    def rested(self, number: int, sea: int) -> Next:
        """Give what a quarter of rest makes; sea: 1 with a ferry with a bunk ahead."""
        found = self._rested[sea][number]
        if found is None:
            found = self._all(self.law.rested(self.states[number], sea_ahead=bool(sea)))
            self._rested[sea][number] = found
        return found

    def driven(self, number: int) -> Wheels:
        """Give what a quarter at the wheel makes, each with who is there."""
        found = self._driven[number]
        if found is None:
            news = self.law.driven(self.states[number])
            found = tuple((wheel, self.number(new)) for wheel, new in news)
            self._driven[number] = found
        return found

    def worked(self, number: int) -> Next:
        """Give what a quarter of other work makes."""
        found = self._worked[number]
        if found is None:
            found = self._all(self.law.worked(self.states[number]))
            self._worked[number] = found
        return found

    def available(self, number: int) -> Next:
        """Give what a quarter at sea without a bunk makes."""
        found = self._available[number]
        if found is None:
            found = self._all(self.law.available(self.states[number]))
            self._available[number] = found
        return found

    def interrupted(self, number: int) -> Next:
        """Give what boarding or landing inside a rest makes."""
        found = self._interrupted[number]
        if found is None:
            found = self._all(self.law.interrupted(self.states[number]))
            self._interrupted[number] = found
        return found

    def may_arrive(self, number: int) -> bool:
        """Say whether a journey may end so."""
        return self.law.may_arrive(self.states[number])

    def fresh(self, number: int) -> int:
        """Give the best state that any wait could make."""
        found = self._fresh.get(number)
        if found is None:
            found = self._fresh[number] = self.number(self.law.fresh(self.states[number]))
        return found

    def must_rest(self, number: int, elapsed: int) -> bool:
        """Say whether a daily rest ends before any work that begins so many quarters later."""
        return self.law.must_rest(self.states[number], elapsed)

    def least(
        self, number: int, driving: int, other: int, idle: int, weeks: int, rests: int = 0
    ) -> int:
        """Give quarters before which so much can't be over."""
        key = (
            (((self._alike[number] * _FIELDS + driving) * _FIELDS + other) * _FIELDS + idle) * 4096
            + weeks
        ) * 4096 + rests
        found = self._least.get(key)
        if found is None:
            need = Need(driving, other, idle, weeks, rests)
            found = self._least[key] = self.law.least(self.states[number], need)
        return found

    def is_full(self) -> bool:
        """Say whether so much is known that it is time to forget it."""
        return len(self.states) > _MOST_STATES or len(self._least) > _MOST_LEASTS

    def _all(self, states: tuple[Hashable, ...]) -> Next:
        return tuple(self.number(each) for each in states)

    def _packed(self, state: Hashable, sea: int) -> int:
        rank = self.law.rank(state, sea_ahead=bool(sea))
        if max(rank) > RANK_MOST:
            rank = tuple(min(each, RANK_MOST) for each in rank)
        if not self.guards[sea]:
            for _ in rank:
                self.guards[sea] = (self.guards[sea] << _WIDTH) | (RANK_MOST + 1)
        return int.from_bytes(pack(f">{len(rank)}H", *rank))


def machine_of(law: Law[Any]) -> Machine:
    """Give the machine of a law, with what it already knows unless that has become much."""
    found = _KEPT.pop(law, None)
    if found is None or found.is_full():
        found = Machine(law)
    _KEPT[law] = found
    while len(_KEPT) > _MOST_KEPT:
        del _KEPT[next(iter(_KEPT))]
    return found


_KEPT: dict[Law[Any], Machine] = {}
_MOST_KEPT = 6
