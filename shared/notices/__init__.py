"""Notices and papers of a delivery by their latest date, and what is arranged with others.

Derived from the book and the trips of a plan; no clock, no sentences. What has no source is
common practice, an editable default (figures CP650 to CP663).
"""

from shared.notices.arrangements import Wanted, wanted
from shared.notices.calls import Call, Calling, calls
from shared.notices.dues import dues
from shared.notices.values import Due, Paper

__all__ = ["Call", "Calling", "Due", "Paper", "Wanted", "calls", "dues", "wanted"]
