"""Quarters before which nobody can arrive: the road alone, and the driver alone."""

from shared.road.legs import Drive, Ferry
from shared.road.quarters import next_week
from shared.road.rules import HoursRules
from shared.road.search import Cut
from shared.road.state import State
from shared.road.world import Position, World


def bound_of(world: World, rules: HoursRules) -> Cut:
    """Give the greater of what the road needs without a driver and the driver without a road.

    Of the driver, breaks and rests count only where no ferry, ban or opening hour lies ahead:
    they hide inside waits. The fixed week's driving counts everywhere.
    """
    plain = _plain_from(world)
    ahead = _ahead(world)

    def bound(world: World, where: Position, state: State, quarter: int) -> int:
        road = world.earliest(where, quarter)
        if world.has_arrived(where):
            return road
        driving, other = ahead[where.leg]
        if isinstance(world.stages[where.leg].leg, Drive):
            driving -= where.done
        elif not _is_ferry(world, where.leg):
            other -= where.done
        road = max(road, _week_allows(rules, state, driving, quarter))
        if where.leg < plain:
            return road
        return max(road, quarter + driving + other + _rest_due(rules, state, driving, other))

    return bound


def _week_allows(rules: HoursRules, state: State, driving: int, quarter: int) -> int:
    """Give when so much driving can be over as far as it goes by the fixed weeks."""
    left = min(
        rules.drive_week - state.week, rules.drive_fortnight - state.week - state.week_before
    )
    if driving <= left:
        return quarter + driving
    return next_week(quarter) + driving - max(0, left)


def _plain_from(world: World) -> int:
    """Give the first leg from which on nothing closes."""
    plain = len(world.stages)
    while plain and not world.stages[plain - 1].closed and not _is_ferry(world, plain - 1):
        plain -= 1
    return plain


def _is_ferry(world: World, leg: int) -> bool:
    return isinstance(world.stages[leg].leg, Ferry)


def _ahead(world: World) -> list[tuple[int, int]]:
    """Give for each leg the driving and the other work from its beginning on."""
    sums = [(0, 0)]
    for stage in reversed(world.stages):
        driving, other = sums[-1]
        if isinstance(stage.leg, Drive):
            sums.append((driving + stage.quarters, other))
        else:
            sums.append((driving, other + stage.quarters))
    return sums[:0:-1]


def _rest_due(rules: HoursRules, state: State, driving: int, other: int) -> int:
    """Give the least rest in front of so much driving and work, what is had now taken off."""
    duty = rules.rest_within - rules.reduced_rest
    begun = max(0, state.clock)
    rests = max(
        _times_over(driving - (rules.drive_extended - state.driven), rules.drive_extended),
        _times_over(driving + other - max(0, duty - begun), duty),
        _times_over(driving + other - (rules.work_daily - state.worked), rules.work_daily),
    )
    unbroken = 0 if state.resting else state.unbroken
    breaks = _times_over(unbroken + driving, rules.drive_unbroken) - 1 - rests
    shortest = rules.break_second or rules.break_length
    due = max(0, breaks) * rules.break_length - (rules.break_length - shortest)
    return max(0, max(0, due) + rules.reduced_rest * rests - state.resting)


def _times_over(quarters: int, limit: int) -> int:
    return max(0, -(-quarters // limit))
