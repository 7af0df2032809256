"""The journeys of a job as one trip of the problem, with the ways and times it may leave at."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from itertools import chain, islice, product

from scheduler.grid import DAY_STEPS, WEEK_STEPS
from scheduler.journey import LONGEST_WAIT_AT_SITE_DAYS
from scheduler.normalise.duties import Turns
from scheduler.normalise.frame import Frame
from scheduler.normalise.goers import TRIED_APART, TRIED_CLOSELY, Ceiling, Goer, goers_of
from scheduler.normalise.holds import Holds
from scheduler.normalise.load_and_go import standing_of
from scheduler.normalise.names import JourneyOption, Ridden
from scheduler.normalise.order import journeys_of
from scheduler.problem import Going, Trip
from scheduler.reasons import Reason
from shared.book import After, Job, Window
from shared.ids import StepId

DAILY_WEEKS = 6
"""For so long after the latest departure one may leave once a working day; then once a week."""
JUDGED_MAX = 6
"""So many departures that miss are looked at where each is a search of its own."""
TOGETHER_MAX = 24
"""So many ways to go on several journeys, or on one, are looked at together."""
TRIED_TOGETHER = 64
"""So many departures are tried of several journeys of which some are held to drivers' hours."""
CLOSE_DAYS, CLOSE_JUDGED_DAYS = 7, 1
CLOSE_STEPS = 4
"""Where the lorry may not stand loaded, departures are offered so close, for so many days; where
each is a search of its own, for so few until one is missed."""

Rides = tuple[tuple[StepId, Ridden], ...]
How = Mapping[StepId, Goer]


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """The trip of a job with its options; why no departure makes the window, if none does.

    more: later ones can be searched for. guessed: some in time may have been passed over.
    """

    trip: Trip
    options: tuple[JourneyOption, ...]
    trouble: Reason | None
    more: bool = False
    guessed: bool = False


def delivery_of(
    frame: Frame,
    job: Job,
    window: Window,
    afters: Mapping[StepId, tuple[After, ...]],
    loaded: int | None = None,
    late: int | None = None,
) -> Delivery:
    """Return how a job can leave: departures in time, the latest first, then those that miss.

    loaded: when a lorry that may not stand was, where that is a fact. late: of a journey by hours
    that was missed, when it was ready to leave: later departures are wanted, and every interval of
    those in time if it was ready for one; None: neither.
    """
    convoy = _Convoy(frame, job, window, afters)
    in_time, trouble = convoy.in_time(late)
    base = max((max(one.ride.leaves for _, one in rides) for rides, _ in in_time), default=-1)
    is_early = convoy.is_judged and late is None
    base = max(base, convoy.out_of_reach) if convoy.is_judged else base
    found = [*in_time, *(() if is_early else convoy.later(max(base, (late or 0) - 1)))]
    if loaded is not None and convoy.stands_most is not None:
        found = [each for each in found if each[1].leaves - loaded <= convoy.stands_most]
    return Delivery(
        trip=Trip(
            options=tuple(going for _, going in found),
            stands_most=convoy.stands_most if loaded is None else None,
        ),
        options=tuple(JourneyOption(rides=rides) for rides, _ in found),
        trouble=None if any(going.in_time for _, going in found) else trouble,
        more=convoy.is_judged,
        guessed=not convoy.is_exact,
    )


def latest_departure(
    frame: Frame, job: Job, window: Window, afters: Mapping[StepId, tuple[After, ...]]
) -> int | None:
    """Return the latest step at which a job can leave and make a window, None if none does."""
    found, _ = _Convoy(frame, job, window, afters).latest()
    return max((going.leaves for _, going in found), default=None)


Found = list[tuple[Rides, Going]]


class _Convoy:
    """All journeys of a job: those that leave the workshop, each with those that go on from it."""

    def __init__(
        self,
        frame: Frame,
        job: Job,
        window: Window,
        afters: Mapping[StepId, tuple[After, ...]],
    ) -> None:
        self._frame = frame
        journeys = {journey.id: journey for journey in journeys_of(job)}
        self._goers = {
            step: goers_of(frame, job, journey, window) for step, journey in journeys.items()
        }
        self._behind = {
            step: [each.step for each in afters[step] if each.step in journeys] for step in journeys
        }
        self._standing = standing_of(job, afters)
        self.stands_most = self._standing.most
        self._turns = Turns(frame, self._goers)
        self._tied = self._tie()
        self._roots = [step for step in journeys if not self._tied[step]]
        self._together = self._in_order(self._roots)
        self._holds = Holds(frame)
        self._has_jumped = self._is_thorough = False
        self._tried = 0
        self.is_judged = any(goer.is_judged for goers in self._goers.values() for goer in goers)

    def _tie(self) -> dict[StepId, list[StepId]]:
        """Return by journey those that it leaves with or after.

        Those it comes after; and a first one, where it may have to wait for what they share, or
        where a loaded lorry may not stand.
        """
        tied = {step: list(before) for step, before in self._behind.items()}
        roots = [step for step, before in tied.items() if not before]
        for at, root in enumerate(roots):
            mine = self._in_order([root], self._behind)
            for other in roots[:at]:
                theirs = self._in_order([other], self._behind)
                if self.stands_most is not None or self._turns.share(mine, theirs):
                    tied[root].append(other)
        return tied

    @property
    def is_exact(self) -> bool:
        """Return whether no departure in time was passed over."""
        return (
            not self._has_jumped
            and self._standing.is_possible
            and all(goer.is_exact for goers in self._goers.values() for goer in goers)
        )

    @property
    def out_of_reach(self) -> int:
        """Return a step up to which nobody leaves who misses the window, crew and vehicles apart.

        Of journeys by hours: those that leave sooner are in time, or too long on the road.
        """
        found = (goer.out_of_reach() for root in self._roots for goer in self._goers[root])
        return max(found, default=-1)

    def latest(self) -> tuple[Found, Reason]:
        """Return the latest departures in time, one for each way to go; or why there is none."""
        by_root: list[list[tuple[Rides, How]]] = []
        for root in self._roots:
            found, trouble = self._latest_from(root)
            if not found:
                return [], trouble
            by_root.append(found)
        goings: list[tuple[Rides, Going]] = []
        for each in islice(product(*by_root), TOGETHER_MAX):
            rides = tuple(chain.from_iterable(rides for rides, _ in each))
            how = {step: goer for _, how in each for step, goer in how.items()}
            going = self._holds.going(rides, how)
            if going is not None:
                goings.append((rides, going))
        return _in_order(goings), Reason.CREW_AWAY

    def in_time(self, ready: int | None = None) -> tuple[Found, Reason]:
        """Return the departures in time that are offered, the latest first.

        ready: for one of which it was, and yet did not leave; None: not known.
        """
        found, trouble = self.latest()
        if not found or len(self._roots) > 1:
            return found, trouble
        self._is_thorough = ready is not None and ready <= max(going.leaves for _, going in found)
        more = [each for how in self._hows(self._roots) for each in self._earlier(how, found)]
        return (_in_order([*found, *more]) if more else found), trouble

    def _earlier(self, how: How, latest: Found) -> Iterator[tuple[Rides, Going]]:
        """Give a few departures in time before the latest by one way to go."""
        (root,) = self._roots
        own = [
            going.leaves
            for rides, going in latest
            if all(one.means == _means(how[step]) for step, one in rides)
        ]
        if not own:
            return
        moments = how[root].worth_offering(max(own), thorough=self._is_thorough)
        if self.stands_most is not None:
            is_quick = not how[root].is_judged or self._is_thorough
            days = CLOSE_DAYS if is_quick else CLOSE_JUDGED_DAYS
            moments = [*moments, *self._close(max(own) - days * DAY_STEPS, max(own))]
        for leaves in sorted(set(moments), reverse=True):
            rides = self._ride(self._roots, leaves, how)
            if rides is not None and all(one.ride.kept for _, one in rides):
                going = self._holds.going(rides, how)
                if going is not None:
                    yield rides, going

    def _close(self, first: int, last: int) -> Iterator[int]:
        """Give moments close to one another at which loading could end: in working time."""
        calendar = self._frame.calendars.made[self._frame.workshop_calendar]
        for opens, shuts in calendar.open:
            if shuts > first and opens < last:
                low = opens + max(0, -((opens - first) // CLOSE_STEPS)) * CLOSE_STEPS
                yield from range(max(0, low), min(shuts + 1, last), CLOSE_STEPS)
                if first <= shuts < last:
                    yield shuts

    def _hows(self, roots: Sequence[StepId]) -> Iterator[How]:
        """Give the ways to go from some journeys, each with those that go on from it."""
        steps = self._in_order(roots)
        for goers in islice(product(*(self._goers[step] for step in steps)), TOGETHER_MAX):
            yield dict(zip(steps, goers, strict=True))

    def _latest_from(self, root: StepId) -> tuple[list[tuple[Rides, How]], Reason]:
        found: list[tuple[Rides, How]] = []
        troubles: list[Reason] = []
        for how in self._hows([root]):
            rides, trouble = self._latest_by(root, how)
            if rides is None:
                troubles.append(trouble)
            else:
                found.append((rides, how))
        # That the crew is away is nearest to a way out.
        worst = Reason.CREW_AWAY if Reason.CREW_AWAY in troubles else None
        return found, worst or next(iter(troubles), Reason.NO_DEPARTURE)

    def _latest_by(self, root: StepId, how: How) -> tuple[Rides | None, Reason]:
        first, trouble = 0, None
        latest = self._latest_alone(root, how)
        ceiling = Ceiling(min(latest.values(), default=None))
        may_leave = partial(self._holds.may_leave, how[root])
        for leaves in how[root].in_time(0, may_leave, ceiling):
            if leaves < first:
                break
            if latest and not self._tries(ceiling, leaves):
                break
            rides = self._rides([root], leaves, how)
            if rides is None or not all(one.ride.kept for _, one in rides):
                self._jump(ceiling, root, dict(rides or ()), latest)
                continue
            if not self._allows(rides):
                continue
            if self._holds.going(rides, how) is not None:
                return rides, Reason.NO_DEPARTURE
            if trouble is None:
                trouble = Reason.CREW_AWAY
                first = leaves - LONGEST_WAIT_AT_SITE_DAYS * DAY_STEPS
        return None, trouble or how[root].trouble()

    def _latest_alone(self, root: StepId, how: How) -> dict[StepId, int]:
        """Return the latest departure in time of the journeys that go on from one by hours."""
        found: dict[StepId, int] = {}
        for step in self._in_order([root])[1:]:
            goer = how[step]
            if goer.is_judged:
                last = next(goer.in_time(0, partial(self._holds.may_leave, goer)), None)
                found |= {} if last is None else {step: last}
        return found

    def _tries(self, ceiling: Ceiling, leaves: int) -> bool:
        """Return whether one more departure of several journeys, some by hours, is to be tried.

        The first ones closely, then some hours apart; no more than so many of a job.
        """
        self._tried += 1
        if self._tried > TRIED_CLOSELY:
            ceiling.at = leaves - TRIED_APART
            self._has_jumped = True
        return self._tried <= TRIED_TOGETHER

    def _jump(
        self,
        ceiling: Ceiling,
        root: StepId,
        rides: Mapping[StepId, Ridden],
        latest: Mapping[StepId, int],
    ) -> None:
        """Go back at once by as much as those that go on from one are too late at the least."""
        late = [
            min(rides[step].ride.leaves, rides[root].ride.end) - last
            for step, last in latest.items()
            if step in rides and not rides[step].ride.kept
        ]
        if max(late, default=0) > 1:
            ceiling.at = ceiling.under(rides[root].ride.leaves - max(late))
            self._has_jumped = True

    def later(self, base: int) -> Iterator[tuple[Rides, Going]]:
        """Give departures after a step, the soonest first, in time or not, each the cheapest."""
        hows = sorted(self._hows(self._roots), key=_price_of_means)
        moments = self._moments(base)
        if self.is_judged:
            moments = islice((at for at in moments if self._may_leave(hows, at)), JUDGED_MAX)
        for leaves in moments:
            for how in hows:
                rides = self._ride(self._roots, leaves, how)
                going = None if rides is None else self._holds.going(rides, how, in_time=False)
                if rides is not None and going is not None:
                    yield rides, going
                    break

    def _may_leave(self, hows: Sequence[How], leaves: int) -> bool:
        """Return whether whoever would leave first is there at a step, by one of some ways."""
        first = self._roots[0]
        return any(self._holds.may_leave(how[first], leaves) for how in hows)

    def _moments(self, base: int) -> Iterator[int]:
        """Give the next quarter, then the opening of the workshop once a day, later a week."""
        yield base + 1
        if self.stands_most is not None:
            yield from self._close(base + 2, base + CLOSE_DAYS * DAY_STEPS)
        last = base + 1
        calendar = self._frame.calendars.made[self._frame.workshop_calendar]
        daily = DAILY_WEEKS * WEEK_STEPS
        for opens, shuts in calendar.open:
            apart = DAY_STEPS if opens > base + daily else 0
            if opens > base + 1 and opens - last >= max(DAY_STEPS // 2, 6 * apart):
                last = opens
                yield opens if self.stands_most is None else shuts

    def _ride(self, roots: Iterable[StepId], leaves: int, how: How) -> Rides | None:
        """Return the rides that leave together and those that go on from them."""
        rides = self._rides(roots, leaves, how)
        return rides if rides is not None and self._allows(rides) else None

    def _allows(self, rides: Rides) -> bool:
        """Return whether no lorry stands for too long, and no crew goes before now by itself.

        A crew that was told to go before now has gone then.
        """
        return self._standing.allows(rides) and all(
            one.crew_from is None or one.crew_from >= self._frame.crews_gone.get(step, 0)
            for step, one in rides
        )

    def _rides(self, roots: Iterable[StepId], leaves: int, how: How) -> Rides | None:
        steps = self._together if roots is self._roots else self._in_order(roots)
        if len(steps) == 1:
            alone = how[steps[0]].leaving(leaves)
            return None if alone is None else ((steps[0], alone),)
        found: dict[StepId, Ridden] = {}
        for step in steps:
            before = [found[one].ride.end for one in self._behind[step] if one in found]
            gone = [(how[one], ridden) for one, ridden in found.items()]
            one = self._turns.leaving(how[step], max(before, default=leaves), gone)
            if one is None:
                return None
            found[step] = one
        return tuple(found.items())

    def _in_order(
        self, roots: Iterable[StepId], tied: Mapping[StepId, Sequence[StepId]] | None = None
    ) -> list[StepId]:
        wanted = list(roots)
        for step, before in (self._tied if tied is None else tied).items():
            if step not in wanted and any(one in wanted for one in before):
                wanted.append(step)
        return wanted


def _means(goer: Goer) -> str | None:
    return None if goer.means is None else goer.means.id


def _price_of_means(how: How) -> Decimal:
    return sum((goer.means_price for goer in how.values()), Decimal(0))


def _in_order(found: Iterable[tuple[Rides, Going]]) -> Found:
    """Return options without those that another is as late and cheap as, for the same."""
    by_going: dict[Going, Rides] = {}
    for rides, going in found:
        by_going.setdefault(going, rides)
    kept = sorted(by_going, key=lambda going: (-going.leaves, going.price))
    return [(by_going[going], going) for going in kept]
