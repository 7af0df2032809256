"""An enquiry laid beside the book: the same workshop with it and without, side by side."""

from scheduler.enquiring import Taking
from scheduler.rush.search import more_dates, rush
from scheduler.rush.values import Harm, Late, Promise, Rush, Side

__all__ = ["Harm", "Late", "Promise", "Rush", "Side", "Taking", "more_dates", "rush"]
