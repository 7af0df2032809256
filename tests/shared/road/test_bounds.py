"""The bound against courses that a search without one has found."""

from collections.abc import Hashable
from datetime import timedelta
from random import Random

import pytest

from shared.road.bounds import Bound
from shared.road.countback import Trip, earliest_arrival
from shared.road.law import Need
from shared.road.laws import law_of
from shared.road.machine import Machine, machine_of
from shared.road.quarters import ceil_quarter, floor_quarter, instant_of
from shared.road.search import Label, Search
from shared.road.state import OneDriver
from shared.road.world import Place, World
from tests.shared.road.drawn_worlds import drawn_world
from tests.shared.road.small_worlds import short_world, small_world


class _Blind(Bound):
    """Knows only that time goes by."""

    def arrival(self, place: Place, state: int, quarter: int, upto: int) -> int:
        return quarter


class _BlindSearch(Search):
    """A search that nothing guides."""

    def __init__(self, world: World, machine: Machine, by: int, end_by: int) -> None:
        super().__init__(world, machine, by, end_by)
        self._bound = _Blind(world, machine, end_by)


def assert_never_too_late(trip: Trip, first: int, last: int) -> bool:
    """No bound on the way of what arrives first is later than that; whether anything does."""
    world = World(trip.journey, instant_of(first), instant_of(last))
    machine = Machine(law_of(trip.rules, trip.drivers))
    state = machine.number(machine.law.begin(trip.drivers, first))
    found: Label | None = _BlindSearch(world, machine, last, last).first(first, state)
    guided = Search(world, machine, last, last).first(first, state)

    assert (None if found is None else found.quarter) == (guided and guided.quarter)
    if found is None:
        return False
    bound, end = Bound(world, machine, last), len(world.stages) - 1
    label: Label | None = found
    while label is not None:
        earliest = bound.arrival(label.place, label.state, label.quarter, end)
        assert earliest <= found.quarter, label
        label = label.before
    return True


@pytest.mark.parametrize("number", range(40))
def test_the_bound_of_a_short_world_is_never_too_late(number: int) -> None:
    trip, leaves = short_world(number)
    first = floor_quarter(leaves)

    assert_never_too_late(trip, first, first + 40)


@pytest.mark.parametrize("number", range(30))
def test_the_bound_of_a_drawn_world_is_never_too_late(number: int) -> None:
    asked = drawn_world(number)
    first, last = ceil_quarter(asked.by - asked.longest), floor_quarter(asked.by)

    for leaves in range(first, last, 5):
        assert_never_too_late(asked.trip, leaves, last)


@pytest.mark.parametrize("number", range(0, 40, 4))
def test_the_bound_of_a_day_on_the_road_is_never_too_late(number: int) -> None:
    trip, leaves = small_world(number)
    found = earliest_arrival(trip, leaves, longest=timedelta(hours=26))
    if found is not None:
        assert assert_never_too_late(trip, floor_quarter(leaves), floor_quarter(found.arrival))


@pytest.mark.parametrize("number", range(24))
def test_the_least_is_the_same_where_what_it_looks_at_is(number: int) -> None:
    """Of all states that a search of a drawn world has met, by the law with weekly rests too."""
    draw = Random(number)
    asked = drawn_world(number)
    first, last = ceil_quarter(asked.by - asked.longest), floor_quarter(asked.by)
    world = World(asked.trip.journey, instant_of(first), instant_of(last))
    law = law_of(asked.trip.rules, asked.trip.drivers, weekly_rests=number % 2 == 1)
    machine = Machine(law)
    begun = machine.number(law.begin(asked.trip.drivers, first))
    _BlindSearch(world, machine, last, last).first(first, begun)
    needs = [Need(draw.randrange(9), draw.randrange(5), 0, 0, each % 2) for each in range(6)]
    known: dict[Hashable, list[int]] = {}
    for state in machine.states:
        found = [law.least(state, each) for each in needs]
        assert known.setdefault(law.for_least(state), found) == found, state


def test_what_the_least_looks_at_is_shared_by_many_states() -> None:
    asked = drawn_world(2)
    first, last = ceil_quarter(asked.by - asked.longest), floor_quarter(asked.by)
    world = World(asked.trip.journey, instant_of(first), instant_of(last))
    law = law_of(asked.trip.rules, asked.trip.drivers)
    machine = Machine(law)
    begun = machine.number(law.begin(asked.trip.drivers, first))
    _BlindSearch(world, machine, last, last).first(first, begun)

    assert len({law.for_least(each) for each in machine.states}) < len(machine.states)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (Need(0, 0, 1, 8), Need(0, 0, 2, 0)),
        (Need(8, 0, 0, 0, rests=2), Need(8, 0, 0, 1, rests=0)),
        (Need(4, 0, 0, 1), Need(8, 0, 0, 0)),
        (Need(0, 4096, 0, 0), Need(1, 0, 0, 0)),
        (Need(0, 0, 4096, 0), Need(0, 1, 0, 0)),
    ],
)
def test_what_is_remembered_of_one_need_is_not_taken_for_another(one: Need, other: Need) -> None:
    """Weeks that may begin, months of work, several rests: each in a field of its own."""
    trip, leaves = short_world(0)
    law = law_of(trip.rules, trip.drivers)
    begun = law.begin(trip.drivers, floor_quarter(leaves))
    for first, second in ((one, other), (other, one)):
        machine = Machine(law)
        state = machine.number(begun)
        machine.least(state, *first)
        assert machine.least(state, *second) == law.least(begun, second)


@pytest.mark.parametrize(("known", "kept"), [(2, True), (3, False), (4, False)])
def test_a_machine_that_knows_too_much_is_forgotten(
    monkeypatch: pytest.MonkeyPatch, known: int, *, kept: bool
) -> None:
    monkeypatch.setattr("shared.road.machine._MOST_LEASTS", 2)
    trip, leaves = short_world(0)
    law = OneDriver(trip.rules)
    machine = machine_of(law)
    state = machine.number(law.begin(trip.drivers, floor_quarter(leaves)))
    for driving in range(known):
        machine.least(state, driving, 0, 0, 0)

    assert (machine_of(law) is machine) == kept
