"""What the making of one job looked at besides the job itself."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scheduler.normalise.presence import Asked


class Reads:
    """What was looked at, nothing at first.

    people: whose other work and leave. rooms: what else is in them. air: what holds it. now: the
    moment itself, beyond its step. facts: those of other jobs. hours: of anybody. alone: of whom
    it was asked whether they are ever alone, and the answer. presence: the same of stretches in
    which somebody is at work.
    """

    def __init__(self) -> None:
        """Start with nothing."""
        self.people: set[int] = set()
        self.rooms: set[int] = set()
        self.air = self.now = self.facts = self.hours = False
        self.alone: dict[int, bool] = {}
        self.presence: list[Asked] = []
