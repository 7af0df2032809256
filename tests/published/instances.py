"""A published instance in its own terms, and the plain integer problem that says the same."""

from dataclasses import dataclass
from fractions import Fraction

from scheduler.problem import Edge, Need, Problem, Room, Stage, Use, Way, Worker


@dataclass(frozen=True, slots=True, kw_only=True)
class Mode:
    """One way to do an activity: how long, units of each resource, units used up for good."""

    duration: int
    units: tuple[int, ...] = ()
    used_up: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """What a file says.

    follows: pairs (i, j), j starts no sooner than i ends. lags: (i, j, w), start of j at least
    start of i + w. people: the skills of each. places: by activity, people needed per skill.
    """

    modes: tuple[tuple[Mode, ...], ...]
    follows: tuple[tuple[int, int], ...] = ()
    lags: tuple[tuple[int, int, int], ...] = ()
    capacities: tuple[int, ...] = ()
    stocks: tuple[int, ...] = ()
    people: tuple[frozenset[int], ...] = ()
    places: tuple[tuple[int, ...], ...] = ()

    @property
    def horizon(self) -> int:
        """An end by which every instance that has a schedule has an optimal one.

        Each activity's longest duration or lag, added up: M. Bartusch, R.H. Moehring,
        F.J. Radermacher, Annals of Operations Research 16 (1988) 201-240.
        """
        longest = [max(mode.duration for mode in modes) for modes in self.modes]
        for i, _, lag in self.lags:
            longest[i] = max(longest[i], lag)
        return sum(longest)


def problem_of(instance: Instance) -> Problem:
    """The instance as a plain problem: its last activity is the one to start soonest."""
    return Problem(
        horizon=instance.horizon,
        stages=tuple(_stage(instance, at) for at in range(len(instance.modes))),
        edges=tuple(_edges(instance)),
        workers=tuple(Worker(calendar=None, can=can, helps=can) for can in instance.people),
        rooms=tuple(Room(capacity=capacity) for capacity in instance.capacities),
        consumables=instance.stocks,
        makespan=len(instance.modes) - 1,
    )


def _stage(instance: Instance, at: int) -> Stage:
    needs: tuple[Need, ...] = ()
    if instance.places:
        asked = enumerate(instance.places[at])
        needs = tuple(Need(skill=skill, can=count) for skill, count in asked if count)
    return Stage(ways=tuple(_way(mode, needs) for mode in instance.modes[at]))


def _way(mode: Mode, needs: tuple[Need, ...]) -> Way:
    return Way(
        needs=needs,
        work=Fraction(mode.duration),
        uses=tuple(Use(room=room, units=units) for room, units in enumerate(mode.units) if units),
        consumes=tuple((stock, units) for stock, units in enumerate(mode.used_up) if units),
    )


def _edges(instance: Instance) -> list[Edge]:
    return [Edge(before=i, after=j) for i, j in instance.follows] + [
        Edge(before=i, after=j, least=lag, from_start=True) for i, j, lag in instance.lags
    ]
