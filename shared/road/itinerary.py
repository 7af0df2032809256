"""What a search gives: every stretch of a journey with the rule behind each wait."""

from dataclasses import dataclass
from datetime import datetime

from shared.plan import Because, Doing, Stretch

__all__ = ["Because", "Doing", "Itinerary", "Stretch"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Itinerary:
    """A journey from the departure to the arrival, its stretches without a gap."""

    stretches: tuple[Stretch, ...]

    @property
    def departure(self) -> datetime:
        """Return when the duty begins."""
        return self.stretches[0].start

    @property
    def arrival(self) -> datetime:
        """Return when the last leg ends."""
        return self.stretches[-1].end
