"""The check: every rule asked of one plan, and whether the plan belongs to the book."""

from collections.abc import Callable, Iterator
from datetime import datetime

from scheduler.check.air import air
from scheduler.check.answers import answers
from scheduler.check.climate import climate
from scheduler.check.clock import seconds
from scheduler.check.daily import daily
from scheduler.check.journeys import journeys
from scheduler.check.memory import CheckMemory
from scheduler.check.one_day import one_day
from scheduler.check.order import order
from scheduler.check.people import people
from scheduler.check.rooms import rooms
from scheduler.check.same_people import same_people
from scheduler.check.shape import shape
from scheduler.check.sheet import sheet
from scheduler.check.sizes import sizes
from scheduler.check.team import teams
from scheduler.check.things import things
from scheduler.check.times import times
from scheduler.check.told import told
from scheduler.check.travellers import travellers
from scheduler.check.unjudged import unjudged
from scheduler.check.work import work
from scheduler.check.world import World
from scheduler.outcome import Breach, CheckResult
from shared.as_told import with_as_told
from shared.book import Book
from shared.files.write import digest
from shared.plan import Plan

_FAMILIES: tuple[Callable[[World], Iterator[Breach]], ...] = (
    shape,
    times,
    told,
    sheet,
    teams,
    work,
    people,
    same_people,
    daily,
    rooms,
    air,
    sizes,
    things,
    order,
    climate,
    answers,
    journeys,
    travellers,
    one_day,
)


def check(
    book: Book, plan: Plan, memory: CheckMemory | None = None, *, now: datetime | None = None
) -> CheckResult:
    """Replay a plan against the book and give every rule it breaks.

    Only jobs that the plan names are looked at, as of the plan's own now unless another is
    given. That a plan was made from another state of the book is no breach: see
    `made_from_matches`. memory: of the checks before; it makes this one faster, not other.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of a zone or of the holidays of a country in the book.
    """
    if memory is not None:
        memory.turn()
    book = with_as_told(book, now or plan.now)
    world = World(book, plan, seconds(now or plan.now), memory)
    breaches = tuple(found for family in _FAMILIES for found in family(world))
    return CheckResult(breaches=breaches, not_judged=unjudged(world))


def made_from_matches(book: Book, plan: Plan) -> bool:
    """Return whether a plan was made from this very state of the book."""
    return plan.made_from.revision == book.revision and plan.made_from.digest == digest(book)
