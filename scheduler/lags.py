"""How long something must or may wait after an end: fixed steps, or a table; and backwards."""

from dataclasses import dataclass
from typing import Protocol

from scheduler.problem import Edge, Table, Wait
from scheduler.sorted_ints import row_left, row_right


class Lag(Protocol):
    """A monotone function from an end to the moment from which the next may start."""

    def of(self, t: int) -> int | None:
        """Return from when on, or None where t is not allowed."""

    def inverse(self, s: int) -> int | None:
        """Return the latest t with of(t) <= s, or None where there is none."""


class Limit(Protocol):
    """A monotone function from an end to the moment by which the next must start."""

    def of(self, t: int) -> int | None:
        """Return by when, or None where there is no limit."""

    def inverse(self, s: int) -> int | None:
        """Return the least t of which s is within the limit, or None where any is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixed:
    """A wait of so many steps, whenever it begins; least or greatest."""

    steps: int

    def of(self, t: int) -> int:
        """Return t and the steps."""
        return t + self.steps

    def inverse(self, s: int) -> int:
        """Return s less the steps."""
        return s - self.steps


@dataclass(frozen=True, slots=True, kw_only=True)
class Tabled:
    """A wait from a table, and at least so many steps. uptos, values: the table's knots."""

    steps: int
    uptos: tuple[int, ...]
    values: tuple[int, ...]

    def of(self, t: int) -> int | None:
        """Return the later of t and the steps and the table's value, None past its last knot."""
        at = row_left(self.uptos, t)
        return None if at == len(self.uptos) else max(t + self.steps, self.values[at])

    def inverse(self, s: int) -> int | None:
        """Return the latest t ready by s."""
        at = row_right(self.values, s) - 1
        return None if at < 0 else min(self.uptos[at], s - self.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """A lag with time running backwards from the horizon: what was after comes before."""

    lag: Lag
    horizon: int

    def of(self, t: int) -> int | None:
        """Return the soonest turned time for what comes before, t being that of what is after."""
        latest = self.lag.inverse(self.horizon - t)
        return None if latest is None else self.horizon - latest

    def inverse(self, s: int) -> int | None:
        """Return the latest turned time of what is after."""
        ready = self.lag.of(self.horizon - s)
        return None if ready is None else self.horizon - ready


@dataclass(frozen=True, slots=True, kw_only=True)
class TabledLimit:
    """A greatest wait from a table, and of so many steps at most (None: of any)."""

    steps: int | None
    uptos: tuple[int, ...]
    values: tuple[int, ...]

    def of(self, t: int) -> int | None:
        """Return the sooner of t and the steps and the table's value, if it still has one."""
        at = row_left(self.uptos, t)
        by_steps = None if self.steps is None else t + self.steps
        if at == len(self.uptos):
            return by_steps
        return self.values[at] if by_steps is None else min(by_steps, self.values[at])

    def inverse(self, s: int) -> int | None:
        """Return the least t that lets what follows start at s."""
        at = row_left(self.values, s)
        by_steps = None if self.steps is None else s - self.steps
        if at == 0:
            return by_steps
        past = self.uptos[at - 1] + 1
        return past if by_steps is None else max(by_steps, past)


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnedLimit:
    """A limit with time running backwards from the horizon."""

    limit: Limit
    horizon: int

    def of(self, t: int) -> int | None:
        """Return by when, turned, what comes before must end, t being that of what is after."""
        least = self.limit.inverse(self.horizon - t)
        return None if least is None else self.horizon - least

    def inverse(self, s: int) -> int | None:
        """Return the least turned time of what is after."""
        latest = self.limit.of(self.horizon - s)
        return None if latest is None else self.horizon - latest


def lag_of_cure(cure: Wait) -> Lag:
    """Return the lag from a stage's end to the moment it is cured."""
    return _lag(cure.least, cure.table)


def lag_of_edge(cure: Wait, edge: Edge) -> Lag:
    """Return the lag from the end of a stage to the start of what follows by an edge."""
    return _lag(max(cure.least, edge.least), cure.table)


def limit_of(steps: int | None, table: Table | None) -> Limit | None:
    """Return the limit of a greatest wait in steps, by a table, or both; None for neither."""
    if table is None:
        return None if steps is None else Fixed(steps=steps)
    return TabledLimit(steps=steps, uptos=table.uptos, values=table.values)


def _lag(least: int, table: Table | None) -> Lag:
    if table is None:
        return Fixed(steps=least)
    return Tabled(steps=least, uptos=table.uptos, values=table.values)


def turned(lag: Lag, horizon: int) -> Lag:
    """Return the lag with time running backwards."""
    return lag if isinstance(lag, Fixed) else Turned(lag=lag, horizon=horizon)


def turned_limit(limit: Limit, horizon: int) -> Limit:
    """Return the limit with time running backwards."""
    return limit if isinstance(limit, Fixed) else TurnedLimit(limit=limit, horizon=horizon)
