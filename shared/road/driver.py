"""A driver as they are before a journey."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """One driver as they are, rested, at `as_of`; driving in quarters.

    Attributes
    ----------
    as_of: a moment in the fixed week that the figures speak of.
    reductions, extensions: reduced rests since the last weekly rest, long duties this week.
    week, week_before: driven in this fixed week and the one before.
    weekly_rest_ended: when the last weekly rest ended; None: when the duty began in which the
        journey leaves.
    clock: quarters since the duty began when the journey does; -1 where it begins rested, and the
        duty with the first work of it. Of one driver only.
    """

    as_of: datetime
    reductions: int = 0
    extensions: int = 0
    week: int = 0
    week_before: int = 0
    weekly_rest_ended: datetime | None = None
    clock: int = 0
