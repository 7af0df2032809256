"""The ways to go on one journey: each means, by each kind of sailing, with its rides in time."""

from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from typing import TYPE_CHECKING

from scheduler.grid import DAY_STEPS, Grid
from scheduler.journey import (
    LONGEST_WAIT_AT_SITE_DAYS,
    Beside,
    Caps,
    Ride,
    caps_of,
    last_thinkable,
    price_of,
    ride,
    road_of,
    worked,
)
from scheduler.normalise.frame import Frame
from scheduler.normalise.names import Ridden
from scheduler.normalise.passing import means_that_carry
from scheduler.problem import Span
from scheduler.reasons import Reason
from shared.book import Job, Journey, Means, Window
from shared.delivery.judged import is_judged
from shared.ids import EquipmentId
from shared.plan import Doing

if TYPE_CHECKING:
    from shared.delivery.choices import Choice
    from shared.delivery.delivery import Delivery
    from shared.delivery.run import Run

EARLIER_STEPS = (DAY_STEPS // 2, DAY_STEPS, 2 * DAY_STEPS)
"""So long before the latest departure others in time are offered, for crews that can't take it.

Three searches of some 20 ms. All departures of the last two days, every interval of them, are two
hundred: up to 3.5 s by each way to go. So they are asked for only once a journey was missed whose
lorry was loaded in time, and kept in process with the delivery."""
OFFERED_APART, OFFERED_MAX = DAY_STEPS // 6, 16
"""Then the last departure of each interval is offered, others so far before it, the latest first,
and no more than so many."""
TRIED_CLOSELY, TRIED_APART, TRIED_MAX = 8, 4, 48
"""Where the crew can't take the latest departure: so many quarters are tried one by one, then so
far apart, and no more than so many in all. Each is a search of its own."""
_AT_REST = frozenset({Doing.REST, Doing.STAND})


MayLeave = Callable[[int], bool]


class Ceiling:
    """A step after which no departure need be looked at; None: there is none. It may sink."""

    def __init__(self, at: int | None = None) -> None:
        """Begin so high."""
        self.at = at

    def under(self, leaves: int) -> int:
        """Return a step, or the ceiling where that is lower."""
        return leaves if self.at is None else min(leaves, self.at)


class Goer:
    """One way to go on a journey. means: None where there are none to choose from.

    vehicles, crew, drivers: positions in the problem; crew are all who go, drivers those of them
    at the wheel. is_judged: by drivers' hours. is_exact: no departure in time was passed over.
    """

    is_judged = False
    is_exact = True

    def __init__(self, frame: Frame, grid: Grid, journey: Journey, means: Means | None) -> None:
        """Look up who and what goes."""
        self._frame, self._grid = frame, grid
        self.journey, self.means = journey, means
        named = journey.vehicles if means is None else means.vehicles
        self.vehicles = _rooms(frame, named)
        self.travel_vehicles = _rooms(frame, journey.travel_vehicles)
        drivers = () if means is None else means.driven_by
        known = frame.worker_positions
        self.drivers = tuple(dict.fromkeys(known[one] for one in drivers if one in known))
        self._held = [
            (at, room)
            for at, leg in enumerate(journey.legs)
            if leg.equipment
            for room in _rooms(frame, leg.equipment)
        ]
        both = (*journey.crew, *drivers)
        self.crew = tuple(dict.fromkeys(known[one] for one in both if one in known))

    @property
    def means_price(self) -> Decimal:
        """Return what the means costs."""
        return Decimal(0) if self.means is None else self.means.price

    def in_time(
        self, first: int, may_leave: MayLeave, ceiling: Ceiling | None = None
    ) -> Iterator[int]:
        """Give departures in time, the latest first, none before `first`.

        may_leave: those of which it says no need not be looked at, nor those above the ceiling.
        """
        raise NotImplementedError

    def leaving(self, leaves: int) -> Ridden | None:
        """Return the ride that leaves at a step, in time or not; None if it never gets there."""
        raise NotImplementedError

    def worth_offering(self, latest: int, *, thorough: bool) -> list[int]:
        """Return a few departures in time before the latest, the latest first.

        thorough: of each interval of them in the last days, the last one at least.
        """
        raise NotImplementedError

    def trouble(self) -> Reason:
        """Return why none is in time."""
        raise NotImplementedError

    def out_of_reach(self) -> int:
        """Return a step up to which none need be looked at that misses the window; -1: none."""
        return -1

    def takes(self, found: Ridden) -> Iterator[tuple[int, Span]]:
        """Give the equipment that is held during a leg only, and when."""
        raise NotImplementedError


_Asked = tuple[Window, Means | None, Caps]


class _Plain(Goer):
    """By minutes as they are written."""

    def __init__(self, frame: Frame, grid: Grid, job: Job, journey: Journey, asked: _Asked) -> None:
        window, means, caps = asked
        super().__init__(frame, grid, journey, means)
        beside = Beside(
            workshop=frame.book.workshop,
            equipment=frame.rooms.equipment,
            check_in=lambda at: _check_in(frame, job, journey, asked, at),
            pieces=max(1, len(journey.segments or job.segments)),
        )
        self._road = road_of(journey, job.site, window, grid, beside, caps)
        self._sails = any(part.sailings for part in self._road.parts)

    def in_time(
        self, first: int, may_leave: MayLeave, ceiling: Ceiling | None = None
    ) -> Iterator[int]:
        top = Ceiling() if ceiling is None else ceiling
        leaves = top.under(last_thinkable(self._road))
        while leaves >= first:
            found = ride(self._road, leaves) if may_leave(leaves) else None
            if found is not None and found.kept:
                yield leaves
            leaves = top.under(leaves - 1)

    def leaving(self, leaves: int) -> Ridden | None:
        found = ride(self._road, leaves)
        if found is None:
            return None
        price = self.means_price
        if self._sails:
            price += price_of(self._road, found)
        return Ridden(ride=found, means=None if self.means is None else self.means.id, price=price)

    def worth_offering(self, latest: int, *, thorough: bool) -> list[int]:
        return []  # Whoever leaves sooner waits at the site: there is but one interval.

    def trouble(self) -> Reason:
        return Reason.WINDOW_PAST if last_thinkable(self._road) < 0 else Reason.NO_DEPARTURE

    def takes(self, found: Ridden) -> Iterator[tuple[int, Span]]:
        for at, room in self._held:
            yield from ((room, span) for span in worked(self._road, found.ride, at))


class _Judged(Goer):
    """By drivers' hours, bans and sailings."""

    is_judged = True

    def __init__(
        self,
        frame: Frame,
        grid: Grid,
        journey: Journey,
        means: Means | None,
        asked: "tuple[Delivery, Choice]",
    ) -> None:
        super().__init__(frame, grid, journey, means)
        self._delivery, self._choice = asked

    def in_time(
        self, first: int, may_leave: MayLeave, ceiling: Ceiling | None = None
    ) -> Iterator[int]:
        run = self._delivery.latest(self._choice, self._grid.instant(first))
        if run is None:
            return
        top = Ceiling() if ceiling is None else ceiling
        latest = self._grid.down(run.leaves)
        if top.under(latest) == latest:
            yield latest
        soonest = max(first, latest - LONGEST_WAIT_AT_SITE_DAYS * DAY_STEPS)
        tried, leaves = 1, top.under(latest - 1)
        while leaves >= soonest and tried < TRIED_MAX:
            if may_leave(leaves):
                tried += 1
                if self._is_in_time(leaves):
                    yield leaves
            self.is_exact = self.is_exact and tried <= TRIED_CLOSELY
            leaves = top.under(leaves - (1 if tried <= TRIED_CLOSELY else TRIED_APART))
        self.is_exact = self.is_exact and leaves < soonest

    def _is_in_time(self, leaves: int) -> bool:
        found = self.leaving(leaves)
        return found is not None and found.ride.kept

    def leaving(self, leaves: int) -> Ridden | None:
        run = self._delivery.leaving(self._choice, self._grid.instant(leaves))
        if run is None or run.gate - run.leaves > self._delivery.asked.longest:
            return None
        return ridden(self._grid, self.means, run)

    def worth_offering(self, latest: int, *, thorough: bool) -> list[int]:
        if not thorough:
            moments = (latest - steps for steps in EARLIER_STEPS)
            return [leaves for leaves in moments if leaves >= 0 and self._is_in_time(leaves)]
        soonest = max(0, latest - max(EARLIER_STEPS))
        found: list[int] = []
        for span in self._delivery.departures(self._choice, self._grid.instant(soonest)):
            first, last = self._grid.up(span.start), self._grid.down(span.end) - 1
            found += range(last, first - 1, -OFFERED_APART)
        found = [leaves for leaves in sorted(found, reverse=True) if leaves < latest]
        return found[:OFFERED_MAX]

    def out_of_reach(self) -> int:
        latest = self._delivery.latest(self._choice)
        if latest is not None:
            return self._grid.down(latest.leaves)
        return self._grid.down(self._delivery.asked.window.start) - DAY_STEPS

    def trouble(self) -> Reason:
        found = self._delivery.trouble(self._choice, self._grid.origin)
        return Reason.NO_DEPARTURE if found is None else Reason(found.value)

    def takes(self, found: Ridden) -> Iterator[tuple[int, Span]]:
        for at, room in self._held:
            stretches = () if found.run is None else found.run.stretches
            held = [each for each in stretches if each.leg == at and each.doing not in _AT_REST]
            if held:
                yield room, (self._grid.down(held[0].start), self._grid.up(held[-1].end))


def ridden(grid: Grid, means: Means | None, run: "Run") -> Ridden:
    """Return a run on the grid."""
    return Ridden(
        ride=Ride(
            leaves=grid.down(run.leaves),
            ends=tuple(grid.up(end) for end in run.ends),
            kept=run.kept,
            end=grid.up(run.end),
            back=grid.up(run.back),
        ),
        means=None if means is None else means.id,
        price=run.price,
        crew_from=None if run.crew_from is None else grid.down(run.crew_from),
        first_duty_ends=grid.up(run.first_duty_ends),
        run=run,
    )


def goers_of(
    frame: Frame, job: Job, journey: Journey, window: Window, *, left: Grid | None = None
) -> list[Goer]:
    """Return the ways to go on a journey; means that can't carry its pieces are none.

    Under rules that nobody knows it goes by the minutes that are written. left: of a journey that
    has, the grid from then on; what carries its pieces is known by then.
    """
    grid = frame.grid if left is None else left
    every: list[Means | None] = [*journey.means] or [None]
    carrying = means_that_carry(frame, job, journey) if left is None else every
    delivery = _delivery(frame, job, journey, window) if is_judged(journey) else None
    if delivery is None:
        kinds = [(means, caps) for means in carrying for caps in caps_of(journey)]
        return [_Plain(frame, grid, job, journey, (window, *how)) for how in kinds]
    by_id = {means.id: means for means in carrying if means is not None}
    return [
        _Judged(frame, grid, journey, by_id.get(choice.means.id), (delivery, choice))
        for choice in delivery.choices
        if not journey.means or choice.means.id in by_id
    ]


def _delivery(frame: Frame, job: Job, journey: Journey, window: Window) -> "Delivery | None":
    from shared.delivery.delivery import delivery_of
    from shared.road.rules import UnknownRules

    try:
        return delivery_of(frame.book, job, journey, window)
    except UnknownRules:
        return None


def _check_in(frame: Frame, job: Job, journey: Journey, asked: _Asked, at: int) -> int:
    from shared.delivery.asked import asked_of
    from shared.delivery.choices import check_in_of

    window, means, _ = asked
    goes_by = Means(id="", vehicles=journey.vehicles) if means is None else means
    return check_in_of(asked_of(frame.book, job, journey, window), at, goes_by)


def _rooms(frame: Frame, things: Iterable[EquipmentId]) -> tuple[int, ...]:
    known = dict.fromkeys(one for one in things if one in frame.rooms.equipment)
    return tuple(frame.rooms.of_equipment(one) for one in known)
