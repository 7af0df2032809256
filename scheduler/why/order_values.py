"""What the order of a schedule is told in: arcs between stages, bars that never move."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from scheduler.calendar import Index
from scheduler.lags import Lag, Limit
from scheduler.problem import Going, Schedule
from scheduler.terms import FOREVER

Kind = Literal["wait", "person", "room", "air", "trip"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """One stage after another: by the book, or since both need somebody or something.

    from_end, to_end, lag, most: as of terms.Link. worker, room: what both need. stands: what the
    first leaves is the floor that its segment stood on.
    """

    kind: Kind
    before: int
    after: int
    from_end: bool = True
    to_end: bool = False
    lag: Lag | None = None
    most: Limit | None = None
    worker: int | None = None
    room: int | None = None
    stands: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """Something that never moves and lies before or after a stage.

    low, low_end: the least start and end it lets the stage have; high: the greatest end. worker,
    room: whose or where. job: whose journey it is, None for what is booked.
    """

    kind: Kind
    stage: int
    low: int = 0
    low_end: int = 0
    high: int = FOREVER
    worker: int | None = None
    room: int | None = None
    job: int | None = None
    stands: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What counts no more when an order is asked 'and without it?'.

    people, rooms: stages that hold nobody, that take no room. workers, booked: workers and rooms
    of which nothing that is booked counts. cures: stages after which nothing has to wait.
    """

    people: frozenset[int] = field(default_factory=frozenset)
    rooms: frozenset[int] = field(default_factory=frozenset)
    workers: frozenset[int] = field(default_factory=frozenset)
    booked: frozenset[int] = field(default_factory=frozenset)
    cures: frozenset[int] = field(default_factory=frozenset)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spots:
    """A schedule as the order of its rooms is read from it. placed: stages by their starts."""

    index: Index
    schedule: Schedule
    placed: tuple[int, ...]
    goings: Mapping[int, Going]
    left: Left


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A wait until what a stage took is free again: its cure, if it is held on, and some steps."""

    tail: Lag | None
    more: int

    def of(self, t: int) -> int | None:
        """Return from when on it is free."""
        ready = t if self.tail is None else self.tail.of(t)
        return None if ready is None else ready + self.more

    def inverse(self, s: int) -> int | None:
        """Return the latest end with which it is free at s."""
        return s - self.more if self.tail is None else self.tail.inverse(s - self.more)
