"""How far before a departure loading has to begin."""

from datetime import datetime
from decimal import Decimal

from shared.book import Workshop


def latest_loading_start(workshop: Workshop, departure: datetime, hours: Decimal) -> datetime:
    """Return when loading of so many hours begins at the latest, in UTC, to end by a departure.

    Counted back in the workshop's shifts, holidays and closures taken out.

    Raises
    ------
    NoWorkingTime
        If five years hold less.
    """
    raise NotImplementedError
