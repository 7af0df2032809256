"""What `countback deliver` tells of a journey, gathered before anything is said."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING

from shared.book import Book, Gate, GateKind, Job, Journey, Window
from shared.delivery.judged import is_judged, site_from
from shared.plan import Placement, Plan, Trip
from shared.units import STEP_SECONDS, ceil_to_step, decimal_of, steps_up
from shared.worktime import DateSpan, HolidayRule, NoWorkingTime, Spans, WorkCalendar

if TYPE_CHECKING:
    from shared.delivery.choices import Choice
    from shared.delivery.codes import Trouble
    from shared.delivery.delivery import Delivery
    from shared.delivery.run import Run
    from shared.notices import Due, Wanted
    from shared.road.bans import BanNote

QUARTER = timedelta(seconds=STEP_SECONDS)
Watch = Callable[[int, int], None]
"""Told which way to go is counted back now, of how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to go: the run that leaves last in time, all departures in time, or why none is.

    after: what becomes of leaving a quarter later; None where it never gets there. loading: when
    loading begins at the latest for it. doubts: what is to be looked up about bans on its roads.
    """

    choice: "Choice"
    latest: "Run | None"
    spans: Spans = ()
    site_by: datetime | None = None
    trouble: "Trouble | None" = None
    after: "Run | None" = None
    loading: datetime | None = None
    doubts: "tuple[BanNote, ...]" = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain:
    """The legs of a journey whose hours are as written, leaving last of those in time."""

    leaves: datetime
    ends: tuple[datetime, ...]
    spans: Spans


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivered:
    """A journey to its window. taken: which of the ways the plan goes by, None where it has none.

    trip: as planned. loaded: its loading as planned. loading_by: when loading begins at the
    latest, for the way that leaves last.
    """

    job: Job
    journey: Journey
    window: Window | None
    judged: bool
    trip: Trip | None = None
    loaded: Placement | None = None
    loading_by: datetime | None = None
    loading_minutes: int = 0
    ways: tuple[Way, ...] = ()
    taken: int | None = None
    plain: Plain | None = None
    doubts: "tuple[BanNote, ...]" = ()
    wanted: "tuple[Wanted, ...]" = ()
    dues: "tuple[Due, ...]" = ()

    @property
    def trip_told(self) -> Trip | None:
        """Return the trip that is told: as planned, else the one that leaves last in time."""
        if self.trip is not None or self.best is None:
            return self.trip
        return _as_trip(self.job, self.best)

    @property
    def best(self) -> Way | None:
        """Return the way that leaves last of all."""
        found = [way for way in self.ways if way.latest is not None]
        return max(found, key=_leaves, default=None)

    @property
    def told(self) -> Way | None:
        """Return the way that is spoken of: the plan's, else the one that leaves last."""
        return self.best if self.taken is None else self.ways[self.taken]

    @property
    def leaves_by(self) -> datetime | None:
        """Return the latest departure of all."""
        if self.best is not None:
            return _leaves(self.best)
        return None if self.plain is None else self.plain.leaves

    @property
    def spans(self) -> Spans:
        """Return the departures in time of the way that is spoken of."""
        if self.told is not None:
            return self.told.spans
        return () if self.plain is None else self.plain.spans

    @property
    def is_met(self) -> bool:
        """Return whether the window is made: as planned, else at all."""
        if self.window is None or self.trip is None:
            return self.leaves_by is not None
        return self.goal_end(self.trip) <= self.window.end

    def goal_end(self, trip: Trip) -> datetime:
        """Return when all of a trip that counts against the window is over."""
        from shared.delivery.judged import goal_of

        goal = goal_of(self.journey)
        return trip.legs[goal - 1].end if goal else trip.end

    def gate(self, trip: Trip) -> datetime:
        """Return when the lorry is at the site."""
        first = site_from(self.journey)
        return trip.legs[first - 1].end if first else trip.start


def _leaves(way: Way) -> datetime:
    assert way.latest is not None
    return way.latest.leaves


def _as_trip(job: Job, way: Way) -> Trip:
    run = way.latest
    assert run is not None
    return Trip(
        job=job.id, step=run.journey, start=run.leaves, end=run.end, back=run.back, free=run.back,
        legs=run.legs, means=way.choice.means_id, stretches=run.stretches, travel=run.travel,
        crew_from=run.crew_from,
    )  # fmt: skip


def delivered(
    book: Book, job: Job, journey: Journey, plan: Plan, now: datetime, watch: Watch
) -> Delivered:
    """Gather all that is to be told of a journey.

    Raises whatever `watch` raises to call it off.
    """
    from shared.notices import dues, wanted

    made = _counted(book, job, journey, plan, now, watch)
    if made.trip_told is None:
        return made
    trips = [t for t in plan.trips if t.job == job.id and t.step != journey.id]
    trips.append(made.trip_told)
    return replace(
        made,
        wanted=tuple(
            each for each in wanted(book, job, trips) if each.journey in (None, journey.id)
        ),
        dues=tuple(due for due in dues(book, job, trips, now) if due.journey == journey.id),
    )


def _counted(
    book: Book, job: Job, journey: Journey, plan: Plan, now: datetime, watch: Watch
) -> Delivered:
    window = job.held_window
    trip = next((t for t in plan.trips if (t.job, t.step) == (job.id, journey.id)), None)
    loaded = _loading(job, journey, plan)
    minutes = 0 if loaded is None else _bench_minutes(book, loaded)
    if window is None:
        return Delivered(
            job=job, journey=journey, window=None, judged=is_judged(journey), trip=trip,
            loaded=loaded, loading_minutes=minutes,
        )  # fmt: skip
    if not is_judged(journey):
        plain = _plain(book, job, journey, window, now)
        by = None if plain is None else _loading_by(book, plain.leaves, minutes)
        return Delivered(
            job=job, journey=journey, window=window, judged=False, trip=trip, loaded=loaded,
            loading_by=by, loading_minutes=minutes, plain=plain,
        )  # fmt: skip
    ways = _ways(book, job, journey, window, now, minutes, watch)
    made = Delivered(
        job=job, journey=journey, window=window, judged=True, trip=trip, loaded=loaded,
        loading_minutes=minutes, ways=ways,
    )  # fmt: skip
    return _with_taken(book, made, now, watch)


def _with_taken(book: Book, made: Delivered, now: datetime, watch: Watch) -> Delivered:
    """Give the way that the plan goes by, and all departures of the one that is spoken of."""
    assert made.window is not None
    delivery = _delivery(book, made.job, made.journey, made.window)
    by = None if made.best is None else made.best.loading
    taken = None if made.trip is None else _taken(delivery, made.ways, made.trip)
    made = replace(made, loading_by=by, taken=taken)
    told = made.told
    if told is None or told.latest is None:
        return made
    watch(len(made.ways), len(made.ways))
    spans = delivery.departures(told.choice, now)
    doubts = delivery.ban_notes(told.latest)
    ways = tuple(replace(way, spans=spans) if way is told else way for way in made.ways)
    return replace(made, ways=ways, doubts=doubts)


def _delivery(book: Book, job: Job, journey: Journey, window: Window) -> "Delivery":
    from shared.delivery.delivery import delivery_of

    return delivery_of(book, job, journey, window)


def _ways(
    book: Book,
    job: Job,
    journey: Journey,
    window: Window,
    now: datetime,
    minutes: int,
    watch: Watch,
) -> tuple[Way, ...]:
    delivery = _delivery(book, job, journey, window)
    ways = []
    for at, choice in enumerate(delivery.choices):
        watch(at + 1, len(delivery.choices))
        ways.append(_way(book, delivery, choice, now, minutes))
    return tuple(ways)


def _way(book: Book, delivery: "Delivery", choice: "Choice", now: datetime, minutes: int) -> Way:
    latest = delivery.latest(choice, now)
    if latest is None:
        trouble = delivery.trouble(choice, now)
        return Way(choice=choice, latest=None, site_by=delivery.site_by(choice), trouble=trouble)
    return Way(
        choice=choice,
        latest=latest,
        site_by=delivery.site_by(choice),
        after=delivery.leaving(choice, latest.leaves + QUARTER),
        loading=_loading_by(book, latest.leaves, minutes),
    )


def _taken(delivery: "Delivery", ways: tuple[Way, ...], trip: Trip) -> int | None:
    """Give the way that a trip goes by: of its means the one whose run it is."""
    mine = [at for at, way in enumerate(ways) if way.choice.means_id == trip.means]
    for at in mine:
        run = delivery.leaving(ways[at].choice, trip.start)
        if run is not None and run.stretches == trip.stretches:
            return at
    return mine[0] if mine else None


def _loading(job: Job, journey: Journey, plan: Plan) -> Placement | None:
    """Give the loading of a journey's pieces, as planned."""
    over = set(journey.segments or (segment.id for segment in job.segments))
    gates = {
        step.id
        for step in job.steps
        if isinstance(step, Gate)
        and step.gate is GateKind.LOADING
        and (not step.segments or over & set(step.segments))
    }
    mine = [p for p in plan.placements if p.job == job.id and p.step in gates]
    return max(mine, key=lambda placement: placement.end, default=None)


def _bench_minutes(book: Book, loaded: Placement) -> int:
    """Give the workshop's working time from the beginning to the end of a loading."""
    from shared.worktime import working_seconds

    return working_seconds(_calendar(book), loaded.start, loaded.end) // 60


def _calendar(book: Book) -> WorkCalendar:
    home = book.workshop
    return WorkCalendar(
        zone=home.zone,
        shifts=home.shifts,
        holidays=HolidayRule(
            country=home.country,
            subdivision=home.subdivision,
            categories=home.holiday_categories,
        ),
        closed=tuple(DateSpan(first=each.first, last=each.last) for each in home.closures),
    )


def _loading_by(book: Book, departure: datetime, minutes: int) -> datetime | None:
    from shared.delivery.loading import latest_loading_start

    if not minutes:
        return None
    try:
        return latest_loading_start(book.workshop, departure, decimal_of(Fraction(minutes, 60)))
    except NoWorkingTime:
        return None


def _plain(book: Book, job: Job, journey: Journey, window: Window, now: datetime) -> Plain | None:
    """Count a journey back whose hours are as written."""
    from scheduler.grid import Grid
    from scheduler.journey import departures, latest_ride, road_of
    from shared.worktime import Span

    origin = ceil_to_step(now)
    horizon = max(0, steps_up(origin, window.end)) + 1
    grid = Grid(origin=origin, horizon=horizon, zone=book.workshop.zone)
    road = road_of(journey, job.site, window, grid)
    ride = latest_ride(road)
    if ride is None:
        return None
    spans = tuple(
        Span(start=grid.instant(first), end=grid.instant(last)) for first, last in departures(road)
    )
    ends = tuple(grid.instant(step) for step in ride.ends)
    return Plain(leaves=grid.instant(ride.leaves), ends=ends, spans=spans)
