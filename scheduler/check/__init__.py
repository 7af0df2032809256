"""The second opinion: plain code that replays a plan against the book.

It shares nothing with the engine but the book's own words and working time: it reads the rules
anew from their definitions, and rounds anew. One file to a family of rules.
"""

from scheduler.check.memory import CheckMemory
from scheduler.check.second_opinion import check, made_from_matches

__all__ = ["CheckMemory", "check", "made_from_matches"]
