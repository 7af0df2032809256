"""Which of some placed stages break a rule of a problem: quick, by the tables of its index.

A stage is only blamed where taking it away mends something; of two that can't both stay it is the
later one. The plain judge (scheduler/replay.py) shares nothing with this.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from scheduler.calendar import Index, next_allowed
from scheduler.hours import moment_from
from scheduler.laws import Laws, laws_of
from scheduler.net import Net
from scheduler.problem import Going
from scheduler.search import Spot
from scheduler.takings import Taking, meeting, overfull, rooms_taken, workers_taken
from scheduler.teams import Call, Team, fills, until
from scheduler.terms import Bounds, Link

Spots = Mapping[int, Spot]


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """What breaks a rule. stages: where they are; jobs: those whose journey can't leave so."""

    stages: set[int] = field(default_factory=set)
    jobs: set[int] = field(default_factory=set)

    def __bool__(self) -> bool:
        """Return whether anything does."""
        return bool(self.stages or self.jobs)


def broken(
    index: Index,
    net: Net,
    spots: Spots,
    trips: Mapping[int, int],
    firm: Collection[int] = (),
) -> Broken:
    """Return which stages and journeys to take away so that the others break no rule.

    spots: some or all stages of the net. trips: by job, the option that it leaves with. firm:
    stages that stay whatever they break.
    """
    return _Judging(index, net, spots, trips, firm).run()


class _Judging:
    """Looks at one rule after the other; what was blamed is looked at no more."""

    def __init__(
        self,
        index: Index,
        net: Net,
        spots: Spots,
        trips: Mapping[int, int],
        firm: Collection[int],
    ) -> None:
        self._index, self._net, self._firm = index, net, firm
        self._spots, self._trips = dict(spots), dict(trips)
        self._found = Broken()
        self._known: dict[tuple[Call, Team], bool] = {}
        self._recall = {} if index.recall is None else index.recall.sound

    def run(self) -> Broken:
        for stage in [one for one, spot in self._spots.items() if not self._is_sound(one, spot)]:
            self._blame(stage)
        for job in [one for one, option in self._trips.items() if not self._leaves(one, option)]:
            self._blame_job(job)
        self._judge_order()
        self._judge_takings()
        self._judge_stock()
        laws = laws_of(self._index)
        if laws is not None:
            self._judge_laws(laws)
        return self._found

    def _blame(self, stage: int) -> None:
        if stage not in self._firm and stage in self._spots:
            del self._spots[stage]
            self._found.stages.add(stage)

    def _blame_job(self, job: int) -> None:
        if self._trips.pop(job, None) is not None:
            self._found.jobs.add(job)

    def _blame_taking(self, taking: Taking) -> None:
        if taking.stage is not None:
            self._blame(taking.stage)
        elif taking.job is not None:
            self._blame_job(taking.job)

    def _is_sound(self, stage: int, spot: Spot) -> bool:
        """Return whether a stage may be there as far as it alone goes."""
        asked, bounds = self._index.problem.stages[stage], self._index.terms.bounds[stage]
        known = self._recall.get(id(asked))
        if known is not None and known[0] is asked and known[1] == bounds and known[2] == spot:
            return True
        is_sound = self._fits_alone(stage, spot, bounds)
        if is_sound:
            self._recall[id(asked)] = asked, bounds, spot
        return is_sound

    def _fits_alone(self, stage: int, spot: Spot, bounds: Bounds) -> bool:
        index = self._index
        start, end = spot.start, spot.end
        if not (
            bounds.earliest_start <= start <= bounds.latest_start
            and bounds.earliest_end <= end <= bounds.latest_end
            and (bounds.starts is None or next_allowed(bounds.starts, start) == start)
            and (bounds.ends is None or next_allowed(bounds.ends, end) == end)
            and self._is_team(stage, spot)
        ):
            return False
        work = index.steps(spot.team, spot.way, stage)
        if not work:
            clear = index.problem.stages[stage].ways[spot.way].clear
            return end == start and moment_from(clear, start) == (start, start)
        return index.runs(spot.team, spot.way, stage).fit(start, work) == (start, end)

    def _is_team(self, stage: int, spot: Spot) -> bool:
        call, team = self._index.call(stage, spot.way), spot.team
        key = (call, team)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._may_form(call, team)
        if not found or not call.certificates:
            return found
        last = until(self._index.problem.workers, call, team)
        return last is None or spot.end <= last

    def _may_form(self, call: Call, team: Team) -> bool:
        return (
            len(team) == call.hands_count
            and set(self._index.eligible(call)).issuperset(team)
            and set(call.asked).issubset(team)
            and (not call.only_asked or len(call.asked) == len(team))
            and fills(self._index.problem.workers, call.needs, team)
        )

    def _leaves(self, job: int, option: int) -> bool:
        """Return whether a journey may leave after its loading, as far as that is placed."""
        aim = self._index.problem.jobs[job]
        if aim.trip is None or not 0 <= option < len(aim.trip.options):
            return False
        ends = [self._spots[last].end for last in aim.lasts if last in self._spots]
        loads = [self._spots[load].end for load in aim.loads if load in self._spots]
        if len(loads) < len(aim.loads):
            return max(ends, default=0) <= aim.trip.options[option].leaves
        return aim.trip.may_leave(option, max(ends, default=0), max(loads, default=0))

    def _judge_order(self) -> None:
        for stage in sorted(self._spots, key=lambda one: (self._spots[one].start, one)):
            if any(
                link.before in self._spots and not self._is_kept(link)
                for link in self._net.ins[stage]
            ):
                self._blame(stage)

    def _is_kept(self, link: Link) -> bool:
        before, after = self._spots[link.before], self._spots[link.after]
        came = before.end if link.from_end else before.start
        comes = after.end if link.to_end else after.start
        if link.lag is not None:
            ready = link.lag.of(came)
            if ready is None or comes < ready:
                return False
        latest = None if link.most is None else link.most.of(came)
        return latest is None or comes <= latest

    def _goings(self) -> Iterator[tuple[int, Going]]:
        for job, option in self._trips.items():
            trip = self._index.problem.jobs[job].trip
            if trip is not None:
                yield job, trip.options[option]

    def _judge_takings(self) -> None:
        goings = list(self._goings())
        problem = self._index.problem
        for works, rests in workers_taken(problem, self._spots, goings):
            for culprit in overfull(works, 1, self._firm):
                self._blame_taking(culprit)
            for rest in rests:
                for culprit in meeting(rest, works):
                    self._blame_taking(culprit if culprit.is_movable else rest)
        rooms = rooms_taken(self._index, self._spots, goings)
        for room, taken in enumerate(rooms):
            for culprit in overfull(taken, problem.rooms[room].capacity, self._firm):
                self._blame_taking(culprit)
        for taken in rooms:
            for one in taken:
                for other in (room for room in one.against if one.stage in self._spots):
                    if any(each.stage != one.stage for each in meeting(one, rooms[other])):
                        self._blame_taking(one)

    def _judge_stock(self) -> None:
        problem = self._index.problem
        left = list(problem.consumables)
        if not left:
            return
        for stage in sorted(self._spots, key=lambda one: (self._spots[one].start, one)):
            for consumable, units in problem.stages[stage].ways[self._spots[stage].way].consumes:
                left[consumable] -= units
                if left[consumable] < 0:
                    self._blame(stage)

    def _judge_laws(self, laws: Laws) -> None:
        asked = self._index.problem.stages
        for _, going in self._goings():
            laws.leave(going)
        seen: dict[int, Spot] = {}
        order = sorted(
            self._spots, key=lambda one: (not asked[one].under_way, self._spots[one].start)
        )
        for stage in order:
            spot = self._spots[stage]
            if self._breaks_law(laws, stage, spot, seen):
                self._blame(stage)
            if stage in self._spots:
                laws.book(stage, spot)
                seen[stage] = spot

    def _breaks_law(self, laws: Laws, stage: int, spot: Spot, seen: Spots) -> bool:
        if spot.end == spot.start:
            return False
        only = laws.team_of(stage, seen)
        if only is not None and only != spot.team:
            return True
        if not spot.team:
            return False
        hours = self._index.hours_at(spot.team, spot.way, stage)
        return laws.later(stage, spot.team, hours, (spot.start, spot.end)) >= 0
