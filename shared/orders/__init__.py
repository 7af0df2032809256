"""What to order for a plan: how much, from whom, by when and not before when."""

from shared.orders.buying import buying
from shared.orders.ordered import comes, usable_from
from shared.orders.uses import needs_anything
from shared.orders.values import Buying, Coming, Dates, Order

__all__ = [
    "Buying",
    "Coming",
    "Dates",
    "Order",
    "buying",
    "comes",
    "needs_anything",
    "usable_from",
]
