"""When a leg may be worked on."""

from collections.abc import Iterable
from datetime import datetime

from shared.book import Equipment, Leg, Site, Window
from shared.worktime import Spans


def openings_of(
    leg: Leg,
    site: Site,
    window: Window,
    start: datetime,
    end: datetime,
    held: Iterable[Equipment] = (),
    workshop_zone: str = "UTC",
) -> Spans | None:
    """Return when a leg may be worked on in [start, end); None means at any time.

    Its own hours (not on public holidays of its country), its slots, if `inside` the access hours
    from the window's start on less what is blocked, and only while the equipment that it holds
    may be used and is free. They go on after the window's end: who is late works on.
    """
    raise NotImplementedError
