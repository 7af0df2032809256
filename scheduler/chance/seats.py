"""Who does a stage, where and when, in every draw: the team that ends first, near its plan."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from scheduler.chance.arrays import NEVER, Floats, Ints, Truths, filled, where_true
from scheduler.chance.crew import Crew
from scheduler.chance.fitting import WORK_MAX, Bank
from scheduler.chance.floor import Floor, Holding
from scheduler.chance.menus import PLANNED_BONUS_STEPS, Menu, Party, Spot
from scheduler.chance.waits import Waits
from scheduler.teams import Team
from scheduler.terms import Claim

TEAMS_TRIED = 7
SAMPLED = 128
"""Teams are tried in the order of how soon they are free in so many draws."""
CLOSE_STEPS = 8
"""Teams that could end so much later at most than the best are asked at once of other work."""
ROUNDS_MAX = 30
"""So often a stage is tried again further on where a place is taken."""
LAST_RESORT_STEPS = 50_000
MET_MAX = 3
"""So often a team is tried again further on where somebody does something later."""


TooLate = Callable[[Ints, Ints], Ints | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A stage to be placed. team: as planned. factor: on its work, by draw or for all draws."""

    stage: int
    team: Team
    one_go: bool
    menus: tuple[Menu, ...]
    factor: Floats | float


@dataclass(frozen=True, slots=True)
class _Got:
    """Where a stage came to lie in some draws; party: of those tried; menu, spot: by number."""

    start: Ints
    end: Ints
    menu: Ints
    party: Ints
    spot: Ints


def _got(count: int) -> _Got:
    return _Got(*(filled(count, each) for each in (NEVER, NEVER, 0, 0, 0)))


@dataclass(frozen=True, slots=True)
class _Tried:
    """The parties that are tried, as tables. menus, parties: their numbers.

    members: by place in the team, then by party. steps: at the hours as written. most: the longest
    work in one go.
    """

    menus: Ints
    parties: Ints
    members: Ints
    tables: Ints
    against: Ints
    steps: Floats
    most: Ints


@dataclass(frozen=True, slots=True)
class _Race:
    """Parties and draws, in rows by party, laid end to end; some: the draws.

    from_on, work: from when on, and how much. start, end: as far as is known. worth: what a pair is
    worth, or at the least. is_open: where somebody's other work was not asked about.
    """

    tried: _Tried
    some: Ints
    from_on: Ints
    work: Ints
    start: Ints
    end: Ints
    worth: Ints
    is_open: Truths

    def best(self) -> Ints:
        """Return by draw the pair that is worth least, of several the first."""
        count = len(self.tried.menus)
        keys = self.worth.reshape(count, -1) * np.int64(count)
        keys += np.arange(count)[:, None]
        party = keys.min(axis=0) % count
        found: Ints = party * len(self.some) + np.arange(len(self.some))
        return found


class Seats:
    """People and places in all draws."""

    def __init__(self, crew: Crew, floor: Floor, bank: Bank, waits: Waits) -> None:
        self._crew, self._floor, self._bank, self._waits = crew, floor, bank, waits

    def place(
        self, wanted: Wanted, ready: Ints, some: Ints, too_late: TooLate
    ) -> tuple[Ints, Ints, Ints]:
        """Place a stage in some draws: start, end, and the stage that it waited for, or -1.

        too_late: by draw and start, how much longer it waits for abrading; asked once. What nobody
        can do is never placed.
        """
        if not any(menu.parties for menu in wanted.menus):
            never = _got(len(some))
            return never.start, never.end, filled(len(some), -1)
        tried = self._parties(wanted, some)
        got, by = self._found(wanted, tried, ready, some)
        waits = too_late(got.start, some)
        if waits is not None:
            late = where_true(waits)
            ready = ready.copy()
            ready[late] = got.start[late] + waits[late]
            again, by[late] = self._found(wanted, tried, ready[late], some[late])
            for row, values in zip(_rows(got), _rows(again), strict=True):
                row[late] = values
        self._book_people(wanted, tried, got, some, (ready, by))
        self._book_places(wanted, got, some)
        return got.start, got.end, by

    def _found(self, wanted: Wanted, tried: _Tried, ready: Ints, some: Ints) -> tuple[_Got, Ints]:
        got, by = _got(len(some)), filled(len(some), -1)
        left, from_on = np.arange(len(some)), ready
        for _ in range(ROUNDS_MAX):
            where = some[left]
            found = self._best(wanted, tried, from_on, where)
            until, holder = self._taken(wanted.menus, found, where)
            is_free = until <= found.start
            done = left[is_free]
            for row, values in zip(_rows(got), _rows(found), strict=True):
                row[done] = values[is_free]
            left, from_on = left[~is_free], until[~is_free]
            by[left] = holder[~is_free]
            if not len(left):
                return got, by
        got.start[left] = got.end[left] = NEVER
        return got, by

    def _parties(self, wanted: Wanted, some: Ints) -> _Tried:
        """Return the parties to try: who was planned, then who is free soonest."""
        means = self._crew.means(some[:: max(1, len(some) // SAMPLED)])
        chosen = [
            (number, at, menu.parties[at])
            for number, menu in enumerate(wanted.menus)
            for at in _soonest(menu, wanted.team, means)
        ]
        nobody = self._crew.nobody
        hands = max(1, *(len(each.team) for _, _, each in chosen))
        members = [(*each.team, *(nobody,) * (hands - len(each.team))) for _, _, each in chosen]
        tables = [self._bank.number(each.runs) for _, _, each in chosen]
        usual = [self._bank.usual(table) for table in tables]
        against = [_against(each, wanted.team) for _, _, each in chosen]
        return _Tried(
            np.array([number for number, _, _ in chosen], dtype=np.int32),
            np.array([at for _, at, _ in chosen], dtype=np.int32),
            np.array(members, dtype=np.int64).T.copy(),
            np.array(tables, dtype=np.int64),
            np.array(against, dtype=np.int32),
            np.array([each.steps for _, _, each in chosen]),
            np.array(usual if wanted.one_go else [WORK_MAX] * len(usual), dtype=np.int32),
        )

    def _best(self, wanted: Wanted, tried: _Tried, ready: Ints, some: Ints) -> _Got:
        """Return where each draw's best team would work, other teams' places not asked about."""
        work = _work(wanted, tried, some)
        from_on = self._free(tried, ready, some)
        soonest = from_on.min(axis=0)
        until = soonest + work.min(axis=0)
        places = [self._spots(menu, soonest, until, some) for menu in wanted.menus]
        np.maximum(
            from_on,
            np.stack([from_on for _, from_on in places]).take(tried.menus, axis=0),
            out=from_on,
        )
        race = self._race(tried, some, from_on, work)
        best = self._won(race)
        party = best // len(some)
        menus = tried.menus.take(party)
        spot = np.stack([spot for spot, _ in places])[menus, np.arange(len(some))]
        return _Got(race.start.take(best), race.end.take(best), menus, party, spot)

    def _free(self, tried: _Tried, ready: Ints, some: Ints) -> Ints:
        """Return by party from when on all of it is free."""
        free = self._crew.free.reshape(-1, self._crew.draws)
        if len(some) < self._crew.draws:
            free = free.take(some, axis=1)
        found: Ints = np.maximum(ready, free.take(tried.members[0], axis=0))
        for members in tried.members[1:]:
            np.maximum(found, free.take(members, axis=0), out=found)
        return found

    def _race(self, tried: _Tried, some: Ints, from_on: Ints, work: Ints) -> _Race:
        """Note when pairs would start and end at the soonest, other work not asked about."""
        tables = np.repeat(tried.tables, len(some))
        flat, effort = from_on.ravel(), np.ascontiguousarray(work).ravel()
        start, end = self._bank.fit(tables, flat, effort)
        worth = (end.reshape(from_on.shape) + tried.against[:, None]).ravel()
        is_open = np.ones(len(flat), dtype=bool)
        return _Race(tried, some, flat, effort, start, end, worth, is_open)

    def _won(self, race: _Race) -> Ints:
        """Return the best pairs: all that may be better were asked about other work."""
        shape = (-1, len(race.some))
        near = race.worth.reshape(shape) <= race.worth.take(race.best()) + CLOSE_STEPS
        self._ask(race, where_true(near))
        known = np.where(race.is_open, np.int32(2 * NEVER), race.worth).reshape(shape).min(axis=0)
        self._ask(race, where_true((race.worth.reshape(shape) <= known).ravel() & race.is_open))
        return race.best()

    def _ask(self, race: _Race, at: Ints) -> None:
        """Move pairs behind what their people do later on, or besides."""
        if not len(at):
            return
        count, tried = len(race.some), race.tried
        race.is_open[at] = False
        party = at // count
        draws = race.some.take(at - party * count)
        members = tried.members.take(party, axis=1)
        start = race.start.take(at)
        until = self._crew.met_until(members, draws, start, race.end.take(at))
        left = where_true(until > start)
        if not len(left):
            return
        at, party, draws = at.take(left), party.take(left), draws.take(left)
        members, until = members.take(left, axis=1), until.take(left)
        tables, work = tried.tables.take(party), race.work.take(at)
        worth = self._moved(race, at, (tables, members, draws), (until, work))
        race.worth[at] = worth + tried.against.take(party)

    def _moved(
        self, race: _Race, at: Ints, who: tuple[Ints, Ints, Ints], asked: tuple[Ints, Ints]
    ) -> Ints:
        """Note where pairs come to lie that met other work; return their ends, or worse."""
        (tables, members, draws), (until, work) = who, asked
        worth = np.empty(len(at), dtype=np.int32)
        left: Ints = np.arange(len(at))
        for _ in range(MET_MAX):
            start, end = self._bank.fit(tables, until, work)
            race.start[at], race.end[at], worth[left] = start, end, end
            until = self._crew.met_until(members, draws, start, end)
            again = where_true(until > start)
            if not len(again):
                return worth
            at, left, draws = at.take(again), left.take(again), draws.take(again)
            until, work, tables = until.take(again), work.take(again), tables.take(again)
            members = members.take(again, axis=1)
        # Who was still met with other work so often is taken only where nobody else can come.
        worth[left] += LAST_RESORT_STEPS
        return worth

    # Places.

    def _spots(self, menu: Menu, ready: Ints, until: Ints, some: Ints) -> tuple[Ints, Ints]:
        """Return for each draw the place that is free first, and from when on.

        until: by when the work would be over at the soonest.
        """
        spot, from_on = filled(len(ready), 0), ready
        for number, each in enumerate(menu.spots):
            free, _ = self._free_from(each, ready, until, some)
            free = np.maximum(free, ready)
            if not number:
                from_on = free
                continue
            sooner = free < from_on
            if sooner.any():
                spot = np.where(sooner, np.int32(number), spot)
                from_on = np.where(sooner, free, from_on)
        return spot, from_on

    def _taken(self, menus: Sequence[Menu], tried: _Got, some: Ints) -> tuple[Ints, Ints]:
        """Return until when what each draw's place and things are taken, 0 where they are free."""
        until, holder = filled(len(some), 0), filled(len(some), -1)
        for at, spot in _spots_of(menus, tried):
            freed, by = self._free_from(spot, tried.start[at], tried.end[at], some[at])
            until[at], holder[at] = freed, by
        return until, holder

    def _free_from(self, spot: Spot, start: Ints, end: Ints, some: Ints) -> tuple[Ints, Ints]:
        """Return from when on a stage could start for what is taken over its stretch, else 0."""
        found, by = np.zeros_like(start), np.full_like(start, -1)
        for claim in spot.claims:
            begins, ends = np.maximum(start - np.int32(claim.before), 0), self._ends(claim, end)
            asked = [(claim.room, claim.units), *((room, None) for room in claim.against)]
            for room, units in asked:
                met = self._floor.met_until(room, units, begins, ends, some)
                if met is None:
                    continue
                freed, holder = met
                freed = np.where(freed > 0, freed + np.int32(claim.before), 0)
                later = freed > found
                found, by = np.where(later, freed, found), np.where(later, holder, by)
        return found, by

    def _ends(self, claim: Claim, end: Ints) -> Ints:
        if claim.tail is None:
            return end + np.int32(claim.after) if claim.after else end
        ready = np.maximum(end, self._waits.ready(claim.tail, end))
        found: Ints = np.minimum(ready, NEVER) + np.int32(claim.after)
        return found

    # Booking.

    def _book_people(
        self, wanted: Wanted, tried: _Tried, got: _Got, some: Ints, asked: tuple[Ints, Ints]
    ) -> None:
        """Let teams work, and note whose earlier work they waited for."""
        ready, by = asked
        crew = self._crew
        at = where_true(got.start < NEVER)
        party, draws = got.party[at], some[at]
        start, end = got.start[at], got.end[at]
        workers = tried.members[:, party]
        pairs = workers * crew.draws + draws
        frees, every = crew.free[pairs], np.arange(len(at))
        row = frees.argmax(axis=0)
        waited = (frees[row, every] > ready[at]) & (by[at] < 0)
        by[at] = np.where(waited, crew.last[pairs[row, every]], by[at])
        tables = tried.tables[party]
        before = self._bank.rank(tables, start)
        for one, pair, free in zip(workers, pairs, frees, strict=True):
            gaps = before - self._bank.rank(tables, free)
            crew.book(one, draws, gaps, (start, end))
            crew.last[pair] = wanted.stage

    def _book_places(self, wanted: Wanted, got: _Got, some: Ints) -> None:
        draws = self._crew.draws
        for at, spot in _spots_of(wanted.menus, got):
            for claim in spot.claims:
                starts, ends = filled(draws, NEVER), filled(draws, 0)
                starts[some[at]] = np.maximum(got.start[at] - np.int32(claim.before), 0)
                ends[some[at]] = self._ends(claim, got.end[at])
                held = Holding(
                    stage=wanted.stage,
                    units=claim.units,
                    since=int(starts.min()),
                    until=int(ends.max()),
                )
                self._floor.hold(claim.room, held, starts, ends)


def _soonest(menu: Menu, team: Team, means: Sequence[float]) -> list[int]:
    """Return the parties of a menu to try: who was planned, then who is free soonest."""
    keys = sorted(
        (
            each.team != team,
            max((means[worker] for worker in each.team), default=0.0) + each.against,
            at,
        )
        for at, each in enumerate(menu.parties)
    )
    return [at for _, _, at in keys[:TEAMS_TRIED]]


def _against(party: Party, team: Team) -> int:
    return party.against - (PLANNED_BONUS_STEPS if party.team == team else 0)


def _work(wanted: Wanted, tried: _Tried, some: Ints) -> Ints:
    """Return the working steps that each party needs in each draw."""
    factor = wanted.factor
    exact = tried.steps[:, None] * (factor if isinstance(factor, float) else factor[some])
    steps = np.ceil(exact - 1e-9).astype(np.int32)
    found: Ints = np.clip(steps, 1, tried.most[:, None])
    return np.broadcast_to(found, (len(tried.steps), len(some)))


def _rows(got: _Got) -> tuple[Ints, ...]:
    return got.start, got.end, got.menu, got.party, got.spot


def _spots_of(menus: Sequence[Menu], got: _Got) -> Iterator[tuple[Ints, Spot]]:
    """Give the draws of each place that is used, as positions."""
    for number, menu in enumerate(menus):
        for spot, each in enumerate(menu.spots):
            if each.claims:
                at = where_true((got.menu == number) & (got.spot == spot))
                if len(at):
                    yield at, each
