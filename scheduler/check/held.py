"""Whether a trip is held against drivers' hours, asked without reading the rules of any.

Books whose journeys go by their minutes alone pay for no rule of the road.
"""

from typing import TYPE_CHECKING

from scheduler.check.legs import is_judged
from scheduler.check.means import means_of
from scheduler.check.world import World
from shared.book import Journey
from shared.plan import Trip

if TYPE_CHECKING:
    from shared.road.rules import HoursRules


def is_held_to_hours(world: World, journey: Journey, trip: Trip) -> bool:
    """Return whether the stretches of a trip can be judged: its rules are known.

    What has left before now by a way that nobody worked out goes by its minutes.
    """
    if not is_judged(journey) or means_of(journey, trip) is None:
        return False
    gone = world.facts.running(journey.id) is not None and not trip.stretches
    return not gone and all(rules is not None for rules in _named(world, journey, trip))


def _named(world: World, journey: Journey, trip: Trip) -> "list[HoursRules | None]":
    """Return every rule set that the book names for a trip, None for one that isn't known."""
    means = means_of(journey, trip)
    named = [means.rules if means else None]
    named += [leg.rules for leg in (*journey.legs, *journey.travel)]
    return [rules_of(world, each) for each in named if each is not None]


def rules_of(world: World, rules_id: str) -> "HoursRules | None":
    """Return a set of hours by its name, with the workshop's own figures; None if unknown."""
    from shared.road.rules import UnknownRules, rule_set
    from shared.trade.own import looked_up

    try:
        return rule_set(rules_id, looked_up(world.book.workshop))
    except UnknownRules:
        return None
