"""The engine as the planner: each morning the plan of a morning, as `scheduler.morning` makes it.

It knows no more than a hand rule does: the book as it stands in the morning, with what is done,
what runs and what people say is left of it. It spends so much effort, never time, so that a year
comes out the same every time.
"""

from dataclasses import replace

from scheduler.morning import Morning, Mornings, handed_out
from scheduler.request import SolveRequest
from shared.book import Book, Job
from shared.book import Told as ToldPlan
from shared.ids import JobId, PersonId, StepId
from shared.plan import Placement, Plan, Trip
from tests.bench.year.as_book import book_of
from tests.bench.year.clock import instant, quarter_up
from tests.bench.year.plans import Item, Told
from tests.bench.year.rides import by_hand
from tests.bench.year.season import Season


class Ours:
    """The engine, asked every morning."""

    name = "the engine"

    def __init__(self, seed: int = 1) -> None:
        """Begin with nothing kept."""
        self._seed = seed
        self._mornings = Mornings()
        self._sheets: Plan | None = None
        self._morning: Morning | None = None

    def accepts(self, season: Season, job: Job) -> bool:
        """Take a rush on that is sure enough, and makes others no less sure."""
        return self._mornings.takes_on(self._request(season), job)

    def plan(self, season: Season) -> Told:
        """Plan anew from what is known this morning, and hand out sheets for two days."""
        request = self._request(season)
        if not request.book.jobs:
            self._morning = None
            return Told()
        morning = self._mornings.plan(request)
        self._sheets = handed_out(morning.plan, season.book)
        self._morning = morning
        return _as_told(season, morning.plan, morning.missed)

    def saturday(self, season: Season, told: Told) -> tuple[PersonId, ...]:
        """Have in who offers it where that makes windows surer."""
        del told
        offered = season.coming_saturday()
        if self._morning is None:
            return ()
        found = self._mornings.coming(self._request(season), self._morning, offered)
        return () if found is None else found.people

    def warned(self, season: Season, told: Told) -> frozenset[JobId]:
        """Warn of what is more likely late than not."""
        del season, told
        return frozenset() if self._morning is None else self._morning.in_danger

    def _request(self, season: Season) -> SolveRequest:
        now = instant(season.floor.now)
        return SolveRequest(book=self._book(season), now=now, workers=1, seed=self._seed)

    def _book(self, season: Season) -> Book:
        book = book_of(season)
        if self._sheets is None:
            return book
        return replace(book, told=ToldPlan(plan=self._sheets, at=book.as_of or self._sheets.now))


def _as_told(season: Season, plan: Plan, missed: frozenset[JobId]) -> Told:
    items = [
        _item(season, placement)
        for placement in plan.placements
        if placement.people and _is_open(season, placement)
    ]
    return Told(
        items=tuple(sorted(items, key=lambda item: (item.start, item.task))),
        leaves={trip.job: _leaves(season, plan, trip) for trip in plan.trips},
        late=missed,
    )


def _leaves(season: Season, plan: Plan, trip: Trip) -> int:
    """Return when a lorry leaves: planned for the last moment, it goes as soon as by hand."""
    job = season.floor.jobs[trip.job]
    loads = job.steps[-2].id
    ends = (quarter_up(each.end) for each in plan.placements if each.step == loads)
    loaded = max(season.floor.now, max(ends, default=0))
    return min(quarter_up(trip.start), by_hand(job, loaded))


def _is_open(season: Season, placement: Placement) -> bool:
    floor = season.floor
    if placement.part == "abrade":
        return True
    return placement.step not in floor.over and placement.step not in floor.running


def _item(season: Season, placement: Placement) -> Item:
    task = season.floor.tasks[placement.step]
    is_abrade = placement.part == "abrade"
    hows = task.hows
    how = next(
        (each for each in hows if (each.way, each.place) == (placement.way, placement.place)),
        hows[0],
    )
    if is_abrade:
        how = season.abrade_how
    return Item(
        task=StepId(f"{placement.step}.abrade") if is_abrade else placement.step,
        start=quarter_up(placement.start),
        end=quarter_up(placement.end),
        team=tuple(sorted(placement.people)),
        how=how,
        is_abrade=is_abrade,
    )
