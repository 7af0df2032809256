"""The plan of a morning: what is done today, what may go wrong, and who is asked to come."""

from scheduler.morning.fairness import Extra, extra_hours
from scheduler.morning.planning import Mornings, handed_out, offered_by_day
from scheduler.morning.values import Coming, Morning

__all__ = [
    "Coming",
    "Extra",
    "Morning",
    "Mornings",
    "extra_hours",
    "handed_out",
    "offered_by_day",
]
