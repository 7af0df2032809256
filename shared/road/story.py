"""From a label to an itinerary: stretches in order, each wait with its reason."""

from itertools import groupby

from shared.road.bans import ban_rule
from shared.road.itinerary import Because, Doing, Itinerary, Stretch
from shared.road.legs import Drive
from shared.road.quarters import instant_of, next_week
from shared.road.rules import HoursRules
from shared.road.search import Label
from shared.road.world import Position, World

_Quarter = tuple[Doing, Label, Position]


def itinerary_of(world: World, rules: HoursRules, label: Label, departure: int) -> Itinerary:
    """Tell how a label that left at the quarter `departure` came to where it is."""
    done: list[_Quarter] = []
    while label.before is not None and label.doing is not None:
        done.append((label.doing, label.before, label.where))
        label = label.before
    done.reverse()
    told, quarter = [], departure
    for (doing, leg), group in groupby(done, key=lambda each: (each[0], each[1].where.leg)):
        same = list(group)
        end = quarter + len(same)
        told.append(_stretch(world, rules, doing, leg, quarter, end, same))
        quarter = end
    return Itinerary(stretches=tuple(told))


def _stretch(
    world: World,
    rules: HoursRules,
    doing: Doing,
    leg: int,
    start: int,
    end: int,
    same: list[_Quarter],
) -> Stretch:
    because, rule = None, ""
    if doing is Doing.REST:
        because, rule = _reason(world, rules, same[0][1], start, end)
    _, before, after = same[0]
    aboard = doing not in {Doing.DRIVE, Doing.WORK, Doing.REST}
    boards = doing in {Doing.BOARD, Doing.BOARD_IN_REST}
    return Stretch(
        doing=doing,
        leg=leg,
        start=instant_of(start),
        end=instant_of(end),
        because=because,
        rule=rule,
        sailing=(after if boards else before.where).sailing if aboard else None,
    )


def _reason(
    world: World, rules: HoursRules, before: Label, start: int, end: int
) -> tuple[Because, str]:
    """Give what a rest waits for: what was shut at its end, else the driver's own need."""
    stage = world.stages[before.where.leg]
    if stage.sailings:
        return Because.SAILING, ""
    if end - 1 in stage.closed:
        if isinstance(stage.leg, Drive):
            return Because.BAN, ban_rule(stage.leg.road)
        return Because.CLOSED, ""
    if isinstance(stage.leg, Drive) and not _week_left(rules, before) and next_week(start) <= end:
        return Because.WEEK, "DR03a"
    if end - start >= rules.reduced_rest:
        return Because.DAILY_REST, rules.rest_rule
    return Because.BREAK, rules.break_rule


def _week_left(rules: HoursRules, label: Label) -> bool:
    """Say whether any driving is left in the fixed week."""
    state = label.state
    return bool(
        state.week < rules.drive_week and state.week + state.week_before < rules.drive_fortnight
    )
