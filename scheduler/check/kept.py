"""Values that are kept from one check to the next while what they were made from is the same."""

from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Made = TypeVar("Made")


class Kept(Generic[Key, Made]):
    """Values by key; what two checks in a row did not ask for is forgotten."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self._asked: dict[Key, tuple[object, Made]] = {}
        self._before: dict[Key, tuple[object, Made]] = {}

    def of(self, key: Key, made_from: object, make: Callable[[], Made]) -> Made:
        """Return the value of a key: the kept one if it was made from the same, else a new one."""
        found = self._asked.get(key) or self._before.get(key)
        if found is None or found[0] != made_from:
            found = (made_from, make())
        self._asked[key] = found
        return found[1]

    def items(self) -> dict[Key, Made]:
        """Return what is kept."""
        return {key: made for key, (_, made) in (self._before | self._asked).items()}

    def turn(self) -> None:
        """Begin another check."""
        self._before, self._asked = self._asked, {}
