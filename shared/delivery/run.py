"""A journey in time, and the codes for what stands in its way or is to be known about it."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from shared.delivery.choices import Choice, Note
from shared.ids import StepId
from shared.plan import LegTime, Stretch

__all__ = ["Note", "Run", "Trouble"]


class Trouble(StrEnum):
    """Why a choice has no departure in time.

    site_too_short: the legs on site don't fit before the window's end, whenever one comes.
    no_sailing: a leg has no sailing before the window's end. sailing_missed: none of them is
    reached from the workshop and gets there in time, even by a lorry without a driver.
    weekly_rest_due: in time but for a weekly rest that has to be taken. crew_hours: the lorry is in
    time, but whoever rides along has no hours left for the site. window_past: the last departure
    lies before the first that is asked for. no_departure: the exact search, or the road alone,
    rules every departure out.
    """

    SITE_TOO_SHORT = "site_too_short"
    NO_SAILING = "no_sailing"
    SAILING_MISSED = "sailing_missed"
    WEEKLY_REST_DUE = "weekly_rest_due"
    CREW_HOURS = "crew_hours"
    WINDOW_PAST = "window_past"
    NO_DEPARTURE = "no_departure"


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A journey in time by one choice; every instant a whole quarter of UTC.

    leaves: the lorry, with whoever rides along. gate: it is at the site. ends: by leg of the book,
    when it is over (a cure after it not included), those of the way home too. end: the last leg
    before the way home is over. kept: the window is. back: the vehicles and the crew are home.
    stretches, travel, crew_from: as in `shared.plan.Trip`; a sailing's number is its place among
    the `departures` of its leg, None if it is one of a timetable. first_duty_ends: the first rest
    of at least DR15a of the crew on this journey begins, else `back`.
    """

    journey: StepId
    choice: Choice
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
