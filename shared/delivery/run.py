"""A journey in time, as a delivery gives it."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from shared.delivery.codes import Note, Trouble
from shared.ids import StepId
from shared.plan import LegTime, Stretch

if TYPE_CHECKING:
    from shared.delivery.choices import Choice

__all__ = ["Note", "Run", "Trouble"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A journey in time by one choice; every instant a whole quarter of UTC.

    leaves: the lorry, with whoever rides along. gate: it is at the site. ends: by leg of the book,
    when it is over (a cure after it not included), those of the way home too. end: the last leg
    before the way home is over. kept: the window is. back: the vehicles and the crew are home.
    stretches, travel, crew_from: as in `shared.plan.Trip`; a sailing's number is its place among
    the `departures` of its leg, None if it is one of a timetable. first_duty_ends: the first rest
    of at least DR15a of the crew on this journey begins, else `back`; `end` where the way home,
    which is not judged, would make the day too long.
    """

    journey: StepId
    choice: "Choice"
    leaves: datetime
    gate: datetime
    ends: tuple[datetime, ...]
    end: datetime
    kept: bool
    back: datetime
    stretches: tuple[Stretch, ...]
    travel: tuple[Stretch, ...]
    crew_from: datetime | None
    price: Decimal
    first_duty_ends: datetime

    @property
    def legs(self) -> tuple[LegTime, ...]:
        """Return the legs as a plan keeps them, each from the end of the one before."""
        starts = (self.leaves, *self.ends)
        return tuple(
            LegTime(start=start, end=end) for start, end in zip(starts, self.ends, strict=False)
        )
