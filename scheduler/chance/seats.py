"""Who does a stage, where and when, in every draw: the team that ends first, near its plan."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from scheduler.chance.arrays import NEVER, Floats, Ints, filled
from scheduler.chance.crew import Crew
from scheduler.chance.fitting import RunsTable, Timetables
from scheduler.chance.floor import Floor, Holding
from scheduler.chance.menus import PLANNED_BONUS_STEPS, Menu, Party, Spot
from scheduler.chance.waits import Waits
from scheduler.teams import Team
from scheduler.terms import Claim

TEAMS_TRIED = 10
SAMPLED = 128
"""Teams are tried in the order of how soon they are free in so many draws."""
ROUNDS_MAX = 30
"""So often a stage is tried again further on where a place is taken."""
MET_MAX = 8
"""So often a team is tried again further on where somebody does something later."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A stage to be placed. team: as planned. factor: on its work, by draw or for all draws.

    more: by draw, steps of abrading besides.
    """

    stage: int
    team: Team
    one_go: bool
    menus: tuple[Menu, ...]
    factor: Floats | float
    more: Floats | None


@dataclass(frozen=True, slots=True)
class _Got:
    """Where a stage came to lie in some draws; menu, party, spot: by their numbers."""

    start: Ints
    end: Ints
    menu: Ints
    party: Ints
    spot: Ints


def _got(count: int) -> _Got:
    return _Got(*(filled(count, each) for each in (NEVER, NEVER, 0, 0, 0)))


@dataclass(frozen=True, slots=True)
class _Look:
    """A look for the best team in some draws. scale: on the work. best: what it is worth so far.

    free: from when on the best team of a menu was free.
    """

    wanted: Wanted
    some: Ints
    scale: Floats | float
    added: Floats | None
    found: _Got
    best: Ints
    free: Ints

    def work(self, party: Party, table: RunsTable) -> Ints:
        """Return the working steps that a party needs."""
        exact = party.steps * self.scale
        if self.added is not None:
            exact = exact + self.added
        steps = np.maximum(1, np.ceil(exact - 1e-9)).astype(np.int32)
        if self.wanted.one_go:
            steps = np.minimum(steps, np.int32(table.usual))
        return np.broadcast_to(steps, self.some.shape)


class Seats:
    """People and places in all draws."""

    def __init__(self, crew: Crew, floor: Floor, tables: Timetables, waits: Waits) -> None:
        self._crew, self._floor, self._tables, self._waits = crew, floor, tables, waits

    def place(self, wanted: Wanted, ready: Ints, some: Ints) -> tuple[Ints, Ints, Ints]:
        """Place a stage in some draws: start, end, and the stage that it waited for, or -1."""
        got, by = _got(len(some)), filled(len(some), -1)
        left, from_on = np.arange(len(some)), ready
        for _ in range(ROUNDS_MAX):
            where = some[left]
            tried = self._tried(wanted, from_on, where)
            until, holder = self._taken(wanted.menus, tried, where)
            is_free = until <= tried.start
            done = left[is_free]
            for row, values in zip(_rows(got), _rows(tried), strict=True):
                row[done] = values[is_free]
            left, from_on = left[~is_free], until[~is_free]
            by[left] = holder[~is_free]
            if not len(left):
                break
        else:
            got.start[left] = got.end[left] = NEVER
        for mask, menu, party in _parts(wanted.menus, got):
            at = np.flatnonzero(mask)
            self._book_people(wanted, menu.parties[party], got, at, (some, ready, by))
        self._book_places(wanted, got, some)
        return got.start, got.end, by

    def _tried(self, wanted: Wanted, ready: Ints, some: Ints) -> _Got:
        """Return where each draw's best team would work, other teams' places not asked about."""
        factor, more = wanted.factor, wanted.more
        look = _Look(
            wanted,
            some,
            factor if isinstance(factor, float) else factor[some],
            None if more is None else more[some],
            _got(len(some)),
            filled(len(some), 2 * NEVER),
            filled(len(some), NEVER),
        )
        for number, menu in enumerate(wanted.menus):
            if not menu.parties:
                continue
            spot, from_on = self._spots(look, menu, ready)
            look.free[:] = NEVER
            for party in self._order(wanted, menu, some):
                self._try(look, (number, party, spot), menu.parties[party], from_on)
        return look.found

    def _order(self, wanted: Wanted, menu: Menu, some: Ints) -> list[int]:
        """Return the parties to try: who was planned, then who is free soonest."""
        parties = menu.parties
        if len(parties) == 1:
            return [0]
        sampled = some[:: max(1, len(some) // SAMPLED)]
        means = self._crew.free[:, sampled].mean(axis=1).tolist()
        keys = [
            (
                each.team != wanted.team,
                max((means[worker] for worker in each.team), default=0.0) + each.against,
                number,
            )
            for number, each in enumerate(parties)
        ]
        return [number for _, _, number in sorted(keys)[:TEAMS_TRIED]]

    def _try(self, look: _Look, number: tuple[int, int, Ints], party: Party, from_on: Ints) -> None:
        """Try one team in the draws in which it could be better than the best so far."""
        table = self._tables.runs(party.runs)
        if not table.usual:
            return
        is_planned = party.team == look.wanted.team
        against = np.int32(party.against - (PLANNED_BONUS_STEPS if is_planned else 0))
        t, work = self._crew.from_on(party.team, from_on, look.some), look.work(party, table)
        # Who is free no sooner than the best team of as many hands seldom ends sooner.
        some, at = look.some, np.flatnonzero((t + work + against < look.best) & (t < look.free))
        if not len(at):
            return
        if len(at) < len(some):
            t, work, some = t[at], work[at], some[at]
        start, end = table.fit(t, work)
        left = np.arange(len(at))
        for _ in range(MET_MAX):
            until = self._crew.met_until(party.team, start[left], end[left], some[left])
            met = until > start[left]
            left = left[met]
            if not len(left):
                break
            start[left], end[left] = table.fit(until[met], work[left])
        better = end + against < look.best[at]
        at, found = at[better], look.found
        look.best[at], look.free[at] = (end + against)[better], t[better]
        found.start[at], found.end[at] = start[better], end[better]
        found.menu[at], found.party[at], found.spot[at] = number[0], number[1], number[2][at]

    # Places.

    def _spots(self, look: _Look, menu: Menu, ready: Ints) -> tuple[Ints, Ints]:
        """Return for each draw the place that is free first, and from when on."""
        party = menu.parties[0]
        least = look.work(party, self._tables.runs(party.runs))
        spot, from_on = filled(len(ready), 0), ready
        for number, each in enumerate(menu.spots):
            free, _ = self._free_from(each, ready, ready + least, look.some)
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
                freed, holder = self._floor.met_until(room, units, begins, ends, some)
                freed = np.where(freed > 0, freed + np.int32(claim.before), 0)
                later = freed > found
                if later.any():
                    found, by = np.where(later, freed, found), np.where(later, holder, by)
        return found.astype(np.int32), by.astype(np.int32)

    def _ends(self, claim: Claim, end: Ints) -> Ints:
        ready = end if claim.tail is None else np.maximum(end, self._waits.ready(claim.tail, end))
        return np.minimum(ready, NEVER) + np.int32(claim.after)

    # Booking.

    def _book_people(
        self,
        wanted: Wanted,
        party: Party,
        got: _Got,
        at: Ints,
        asked: tuple[Ints, Ints, Ints],
    ) -> None:
        """Let a team work, and note whose earlier work it waited for."""
        if not party.team:
            return
        some, ready, by = asked
        where = some[at]
        frees = self._crew.free[list(party.team)][:, where]
        last = self._crew.last[list(party.team)][:, where]
        row = frees.argmax(axis=0)
        waited = (frees.max(axis=0) > ready[at]) & (by[at] < 0)
        by[at] = np.where(waited, last[row, np.arange(len(at))], by[at])
        rank = self._tables.rank(party.runs)
        self._crew.book(party.team, rank, got.start[at], got.end[at], where, wanted.stage)

    def _book_places(self, wanted: Wanted, got: _Got, some: Ints) -> None:
        draws = self._crew.free.shape[1]
        for at, spot in _spots_of(wanted.menus, got):
            for claim in spot.claims:
                starts, ends = filled(draws, NEVER), filled(draws, 0)
                starts[some[at]] = np.maximum(got.start[at] - np.int32(claim.before), 0)
                ends[some[at]] = self._ends(claim, got.end[at])
                held = Holding(
                    stage=wanted.stage,
                    units=claim.units,
                    starts=starts,
                    ends=ends,
                    since=int(starts.min()),
                    until=int(ends.max()),
                )
                self._floor.hold(claim.room, held)


def _rows(got: _Got) -> tuple[Ints, ...]:
    return got.start, got.end, got.menu, got.party, got.spot


def _parts(menus: Sequence[Menu], got: _Got) -> Iterator[tuple[Ints, Menu, int]]:
    """Give the draws of each party that got the stage."""
    for number, menu in enumerate(menus):
        of_menu = got.menu == number
        if menu.parties and of_menu.any():
            for party in np.unique(got.party[of_menu]).tolist():
                yield of_menu & (got.party == party), menu, party


def _spots_of(menus: Sequence[Menu], got: _Got) -> Iterator[tuple[Ints, Spot]]:
    """Give the draws of each place that is used, as positions."""
    for number, menu in enumerate(menus):
        for spot, each in enumerate(menu.spots):
            if each.claims:
                at = np.flatnonzero((got.menu == number) & (got.spot == spot))
                if len(at):
                    yield at, each
