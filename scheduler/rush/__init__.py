"""An enquiry laid beside the book: the same workshop with it and without, side by side."""

from scheduler.enquiring import Taking
from scheduler.rush.search import rush
from scheduler.rush.values import Harm, Promise, Rush, Side

__all__ = ["Harm", "Promise", "Rush", "Side", "Taking", "rush"]
