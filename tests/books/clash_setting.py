"""Windows for a planted clash: the job fits without the cause, and is days late with it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from decimal import Decimal

from shared.book import Book, Job, Offer, Step, Window
from shared.worktime import Shift
from tests.books.clash_ground import Ground
from tests.books.clash_timing import DAY, NOTHING, Held, Timed, days_around, timed
from tests.books.commissions import at
from tests.books.shapes import Planted

Named = dict[str, str]
Attempt = Callable[[int, int], Planted]
"""From a seed and how many weeks longer than usual, a planted clash."""
WEEK = 7
ALL_DAY = (
    Shift(days=tuple(range(7)), start=time(0), end=time(12)),
    Shift(days=tuple(range(7)), start=time(12), end=time(0)),
)
ALL_YEAR = tuple(range(1, 13))
LEAST_GAP = timedelta(days=7)
LEAST_ROOM = timedelta(days=2, hours=12)
GAP_SHARE = 3
"""The cause costs a third of the time that the job takes without it, at least."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plant:
    """A cause planted in a book, and the twin without it; windows are set yet.

    undo: what undoes it alone, as the kind and first id of a lever; also: what does as well.
    held, twin_held: what the plain planner is told of each. never: with it the job is not made.
    """

    twin: Book
    book: Book
    cause: Named
    undo: Named
    also: tuple[Named, ...] = ()
    held: Held = NOTHING
    twin_held: Held = NOTHING
    never: bool = False


class TooShortError(ValueError):
    """What was planted does not cost enough time to decide anything."""


def named(kind: str, thing: str) -> Named:
    """Name a cause or a lever."""
    return {"kind": kind, "id": thing}


def set_windows(made: Ground, plant: Plant) -> Planted:
    """Give both books their windows.

    Raises
    ------
    TooShortError
        If the cause costs too little.
    """
    without = timed(plant.twin, made.now, plant.twin_held)
    trip = without.trip(made.job.id)
    least = max(LEAST_GAP, (trip.start - made.now) / GAP_SHARE)
    late = without if plant.never else timed(plant.book, made.now, plant.held)
    gap = least if plant.never else late.trip(made.job.id).start - trip.start
    if gap < least:
        raise TooShortError(gap)
    room = max(LEAST_ROOM, gap * made.draw.randrange(15, 40) / 100)
    held = days_around(trip.end + room, made.draw.choice((2, 3, 4)))
    set_them = _setter(made, held, (without, late))
    return Planted(
        book=set_them(plant.book),
        twin=set_them(plant.twin),
        job=str(made.job.id),
        cause=plant.cause,
        undo=plant.undo,
        also=plant.also,
    )


def _setter(made: Ground, held: Window, known: tuple[Timed, ...]) -> Callable[[Book], Book]:
    """Return what gives a book its windows: that of the job, and roomy ones for all others."""
    windows: dict[str, Window] = {str(made.job.id): held}
    for other in made.book.jobs[1:]:
        last = max(each.trip(other.id).end for each in known)
        windows[other.id] = days_around(last + made.draw.randrange(21, 46) * DAY)

    def give(job: Job) -> Job:
        own = windows[job.id]
        offered = tuple(each for each in job.windows if each.id != own.id)
        return replace(job, windows=(own, *offered))

    return lambda book: replace(book, jobs=tuple(give(job) for job in book.jobs))


def morning(instant: datetime, days: int = 0) -> datetime:
    """Return the midnight that a day begins with, so many days after that of an instant."""
    return at(instant.date() + timedelta(days=days), 0)


def price(made: Ground) -> Decimal:
    """Draw what a way out costs."""
    return Decimal(made.draw.randrange(32, 90) * 10)


def with_offer(book: Book, offer: Offer) -> Book:
    """Hold something more out."""
    return replace(book, offers=(*book.offers, offer))


def with_steps(book: Book, change: Callable[[Step], Step]) -> Book:
    """Change steps of the first job."""
    first = book.jobs[0]
    changed = replace(first, steps=tuple(change(step) for step in first.steps))
    return replace(book, jobs=(changed, *book.jobs[1:]))
