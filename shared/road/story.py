"""From a label to an itinerary: stretches in order, each wait with its reason."""

from itertools import groupby

from shared.road.bans import ban_rule
from shared.road.itinerary import Because, Doing, Itinerary, Stretch
from shared.road.legs import Drive
from shared.road.machine import Machine
from shared.road.quarters import instant_of, next_week
from shared.road.rules import HoursRules
from shared.road.search import Label
from shared.road.world import Sort, World

_Step = tuple[Label, Label]
"""A label before a quarter and the one after it."""


def itinerary_of(world: World, rules: HoursRules, machine: Machine, label: Label) -> Itinerary:
    """Tell how a label came to where it is."""
    done: list[_Step] = []
    while label.before is not None:
        done.append((label.before, label))
        label = label.before
    done.reverse()
    told = []
    for _, group in groupby(done, key=_alike):
        told.append(_stretch(world, rules, machine, list(group)))
    return Itinerary(stretches=tuple(told))


def _alike(step: _Step) -> tuple[Doing | None, int, int]:
    before, after = step
    return after.doing, before.place.leg, after.wheel


def _stretch(world: World, rules: HoursRules, machine: Machine, same: list[_Step]) -> Stretch:
    (before, after), (_, last) = same[0], same[-1]
    doing = after.doing or Doing.REST
    because, rule = None, ""
    if doing is Doing.REST:
        because, rule = _reason(world, rules, machine, before, last.quarter)
    aboard = doing not in {Doing.DRIVE, Doing.WORK, Doing.REST, Doing.STAND}
    boards = doing in {Doing.BOARD, Doing.BOARD_IN_REST}
    return Stretch(
        doing=doing,
        leg=before.place.leg,
        start=instant_of(before.quarter),
        end=instant_of(last.quarter),
        because=because,
        rule=rule,
        sailing=(after if boards else before).place.sailing if aboard else None,
        wheel=after.wheel,
    )


def _reason(
    world: World, rules: HoursRules, machine: Machine, before: Label, end: int
) -> tuple[Because, str]:
    """Give what a rest waits for: what was shut at its end, else the driver's own need."""
    stage, start = before.place.stage, before.quarter
    if stage.sort is Sort.FERRY:
        return Because.SAILING, ""
    if end - 1 in stage.closed:
        if isinstance(stage.leg, Drive):
            return Because.BAN, ban_rule(stage.leg.road, world.journey.lorry, instant_of(end - 1))
        return Because.CLOSED, ""
    out_of_week = not machine.law.week_left(machine.states[before.state])
    if isinstance(stage.leg, Drive) and out_of_week and next_week(start) <= end:
        return Because.WEEK, "DR03a"
    if 0 < rules.weekly_rest <= end - start:
        return Because.WEEKLY_REST, rules.weekly_rule
    if end - start >= rules.reduced_rest:
        return Because.DAILY_REST, rules.rest_rule
    return Because.BREAK, rules.break_rule
