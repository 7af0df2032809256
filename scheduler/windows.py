"""Windows on offer beside the one that is held, and which of them a job could keep."""

from collections.abc import Sequence

from scheduler.calendar import Index
from scheduler.countback import earliest
from scheduler.normalise import JobName
from scheduler.outcome import InReach, OtherWindow
from scheduler.problem import JobAim
from scheduler.reasons import Reason
from shared.book import Window
from shared.findings import Clash
from shared.ids import WindowId

_OF_THE_WINDOW = frozenset(
    {
        Reason.NO_DEPARTURE.value,
        Reason.WINDOW_PAST.value,
        Reason.CREW_AWAY.value,
        Reason.SITE_TOO_SHORT.value,
        Reason.NO_SAILING.value,
        Reason.SAILING_MISSED.value,
        Reason.WEEKLY_REST_DUE.value,
        Reason.CREW_HOURS.value,
    }
)
"""What stands against one window and says nothing of another."""


def other_windows(
    index: Index, aim: JobAim, name: JobName, clashes: Sequence[Clash], end: int | None
) -> tuple[OtherWindow, ...]:
    """Return the windows that a job does not hold, by their starts.

    end: of loading in the plan.
    """
    if not name.others:
        return ()
    is_barred = any(clash.code not in _OF_THE_WINDOW for clash in clashes)
    soonest = None if is_barred else _soonest(index, aim)
    return tuple(
        _offered(window, _in_reach(latest, soonest, end)) for window, latest in name.others
    )


def next_window(windows: Sequence[OtherWindow]) -> WindowId | None:
    """Return the first window that is kept as planned, else the first that could be alone."""
    for wanted in (InReach.AS_PLANNED, InReach.ALONE):
        found = next((each.id for each in windows if each.in_reach is wanted), None)
        if found is not None:
            return found
    return None


def _soonest(index: Index, aim: JobAim) -> int | None:
    """Return the end of loading in an empty workshop, None where it never ends."""
    ends = index.once(_earliest)
    found = [ends[last] for last in aim.lasts]
    known = [each for each in found if each is not None]
    return max(known) if known and len(known) == len(found) else None


def _earliest(index: Index) -> tuple[int | None, ...]:
    return earliest(index).ends


def _in_reach(latest: int | None, soonest: int | None, end: int | None) -> InReach:
    if latest is None or soonest is None or soonest > latest:
        return InReach.NEVER
    return InReach.AS_PLANNED if end is not None and end <= latest else InReach.ALONE


def _offered(window: Window, in_reach: InReach) -> OtherWindow:
    return OtherWindow(
        id=window.id,
        start=window.start,
        end=window.end,
        price=window.price,
        in_reach=in_reach,
    )
