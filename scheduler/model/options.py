"""In which ways a stage can be done, as the model sees it: options, each with its starts.

An option is one way with one team, or one way whose team is chosen person by person (where
everybody who may do it keeps the same hours at the same pace, so that who comes changes nothing
but who is busy).
"""

from dataclasses import dataclass

Ranges = tuple[tuple[int, int], ...]
"""Inclusive ranges of starts, sorted."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Starts:
    """When an option can start, by how long it then takes: (steps from start to end, starts).

    Two options with the same hours share one object; so equality is identity. or_longer: it may
    take any number of steps more.
    """

    pieces: tuple[tuple[int, Ranges], ...]
    or_longer: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """A way with its team (None: the team is chosen person by person)."""

    way: int
    team: tuple[int, ...] | None
    starts: Starts


@dataclass(frozen=True, slots=True, kw_only=True)
class Menu:
    """All options of a stage.

    missing: teams were left out, so that what is not in the menu is not proved impossible.
    """

    options: tuple[Option, ...]
    missing: bool = False


def ends_of(menu: Menu, horizon: int) -> tuple[int, int]:
    """Return the first and the last end that a stage may have; (0, -1) where it has none."""
    pieces = [piece for option in menu.options for piece in option.starts.pieces]
    first = min((size + inside[0][0] for size, inside in pieces), default=0)
    if any(option.starts.or_longer for option in menu.options):
        return first, horizon
    return first, max((size + inside[-1][1] for size, inside in pieces), default=-1)
