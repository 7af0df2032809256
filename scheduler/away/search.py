"""Looking for answers: wait, another hand, a swap, a new order, then what is offered.

Each answer is a repair of the plan as it was told, around what it asks for. Where nothing free
keeps every window with its buffer, what is offered is tried, and a new order looked for with the
time that is left. The best come first: fewest windows missed, no client asked, fewest weeks late,
buffers kept, fewest people with another sheet today or tomorrow, least change, least overtime,
least money.
"""

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal

from scheduler.aims import levels
from scheduler.away.ground import Found, Ground, Tweaks
from scheduler.away.hits import hit_stages, hits_of, journeys_hit
from scheduler.away.moves import moves_of
from scheduler.away.values import Answer, Answers
from scheduler.check import check
from scheduler.faults import broken
from scheduler.held_told import Slot, slot_of
from scheduler.kept import Kept
from scheduler.levers.catalogue import levers_of
from scheduler.levers.lawful import is_lawful
from scheduler.normalise import Normal
from scheduler.problem import Stage
from scheduler.request import SolveRequest
from scheduler.told_changes import Changes, told_changes
from scheduler.unfold import to_plan
from scheduler.verdicts import job_outcomes
from shared.absence import Absence, AwayKind
from shared.edits import mark_away, pull_all, take_answer
from shared.files.write import digest
from shared.ids import JobId, PersonId
from shared.levers import Lever, LeverKind, price_of
from shared.plan import MadeFrom, Plan

ANSWERS_MAX = 3
OTHERS_MAX = 4
"""So many people are tried for the soonest piece of work, those who have least to do first."""
OFFERS_MAX = 6
"""So many offers of a kind are tried alone."""
PERIOD = timedelta(days=21)
"""So long after the absence an offer may help."""
FREE_SHARE, OFFERS_SHARE, SEARCH_SHARE = 400, 500, 750
"""Up to so many thousandths of the time what is free is tried, then what is offered, then a new
order is looked for; the rest goes to the check."""
SEARCH_SECONDS = 0.5
_WHOLE = 1000
Clock = Callable[[], float]
_OFFERED = (LeverKind.OVERTIME, LeverKind.FREELANCER, LeverKind.HIRED_HAND)
_CLIENTS = frozenset({LeverKind.OTHER_WINDOW, LeverKind.RE_PROMISE})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried:
    """A schedule with what it comes to. late_weeks: of windows that were kept before."""

    found: Found
    plan: Plan
    changes: Changes
    missed: frozenset[JobId]
    late_weeks: int
    tight: frozenset[JobId]
    price: Decimal

    @property
    def worth(self) -> tuple[object, ...]:
        """Return what it is ranked by, less is better."""
        levers = self.found.levers
        hours = sum(
            (each.end - each.start).total_seconds()
            for each in levers
            if each.kind is LeverKind.OVERTIME and each.start and each.end
        )
        return (
            len(self.missed),
            sum(each.kind in _CLIENTS for each in levers),
            self.late_weeks,
            len(self.tight),
            len(self.changes.people),
            self.changes.points,
            hours,
            self.price,
            len(levers),
        )


def answers(
    request: SolveRequest,
    absence: Absence,
    *,
    kept: Kept | None = None,
    clock: Clock = time.monotonic,
) -> Answers:
    """Return ranked answers to somebody or something being away; request: seconds for all of it.

    Raises
    ------
    EngineFault
        If the check finds a plan broken.
    NoSuchThing
        If the book doesn't have whom or what is away.
    """
    began = clock()

    def left(share: int) -> float:
        return request.seconds * share / _WHOLE - (clock() - began)

    return _Search(Ground(request, kept), absence, left).run()


class _Search:
    """The search for answers to one absence."""

    def __init__(self, ground: Ground, absence: Absence, left: Callable[[int], float]) -> None:
        """left: the seconds that are left of so many thousandths of the time."""
        self._ground, self._absence, self._left = ground, absence, left
        self._now = ground.request.now
        self._base = Found(
            book=ground.book, normal=ground.normal, index=ground.index, schedule=ground.schedule
        )
        self._away = mark_away(ground.book, absence).book
        self._hits = hit_stages(ground.normal, ground.schedule, absence)
        self._slots = [slot_of(ground.normal.stages[at]) for at in self._hits]
        is_person = absence.kind is AwayKind.PERSON
        self._missing: tuple[PersonId, ...] = (PersonId(absence.id),) if is_person else ()
        self._tried: list[_Tried] = []

    def run(self) -> Answers:
        """Try what costs nothing, then what is offered, and give the best."""
        ground = self._ground
        for found in self._free():
            self._note(found)
            if self._tried and self._left(FREE_SHARE) <= 0:
                break
        if not self._holds():
            for found in self._hurried():
                self._note(found)
        if not self._holds():
            for found in self._offered():
                self._note(found)
                if self._left(OFFERS_SHARE) <= 0:
                    break
        if not self._holds():
            for found in self._searched():
                self._note(found)
        best = sorted(self._tried, key=lambda one: one.worth)[:ANSWERS_MAX]
        free = Decimal(0)
        return Answers(
            absence=self._absence,
            now=self._now,
            hits=(
                *hits_of(ground.normal, ground.schedule, self._hits),
                *journeys_hit(ground.book, ground.plan, self._absence),
            ),
            before=job_outcomes(ground.normal, ground.index, ground.schedule, {}),
            answers=tuple(
                self._answer(one, is_cheapest=one.price == free and not one.missed) for one in best
            ),
            told=ground.is_told,
            stuck=not best,
        )

    def _holds(self) -> bool:
        """Return whether something keeps every window that was kept, with its buffer."""
        return any(not (one.missed - self._base.missed) and not one.tight for one in self._tried)

    # What costs nothing.

    def _free(self) -> Iterator[Found | None]:
        ground, book = self._ground, self._away
        yield ground.found(book)
        if not self._hits:
            return
        yield ground.found(book, tweaks=self._waiting)
        if self._missing:
            yield from self._others()
        yield ground.found(book, tweaks=self._on_time)

    def _places(self, normal: Normal) -> dict[Slot, int]:
        wanted = frozenset(self._slots)
        return {
            slot_of(name): at
            for at, name in enumerate(normal.stages)
            if name.is_told and slot_of(name) in wanted
        }

    def _waiting(self, normal: Normal) -> Tweaks:
        """Ask that what is hit be done by the people, and in the way, that it was planned for."""
        found: dict[int, Callable[[Stage], Stage]] = {}
        workers = {person: at for at, person in enumerate(normal.workers)}
        places = self._places(normal)
        for at, slot in zip(self._hits, self._slots, strict=True):
            people = [self._ground.normal.workers[one] for one in self._ground.schedule.teams[at]]
            team = tuple(sorted(workers[person] for person in people if person in workers))
            if slot in places and team and len(team) == len(people):
                name = self._ground.normal.ways[at][self._ground.schedule.ways[at]]
                alike = [each == name for each in normal.ways[places[slot]]]
                found[places[slot]] = _by(team, alike)
        return found

    def _on_time(self, normal: Normal) -> Tweaks:
        """Ask that what is hit begin when it was planned, whoever does it."""
        places = self._places(normal)
        return {
            places[slot]: _at(self._ground.schedule.starts[at])
            for at, slot in zip(self._hits, self._slots, strict=True)
            if slot in places
        }

    def _others(self) -> Iterator[Found | None]:
        """Let one other after the other take the soonest piece of work that is hit."""
        ground = self._ground
        first, slot = self._hits[0], self._slots[0]
        team, schedule = ground.schedule.teams[first], ground.schedule
        span = schedule.starts[first], schedule.ends[first]
        missing = ground.normal.workers.index(self._missing[0])
        if not self._is_free_of(slot, missing):
            return
        for other in self._able(first, missing)[:OTHERS_MAX]:
            new = tuple(sorted({*team, other} - {missing}))
            meets = self._meeting(other, span)
            let_go = [slot_of(ground.normal.stages[at]) for at in meets]

            def asked(normal: Normal, new: tuple[int, ...] = new) -> Tweaks:
                places = self._places(normal)
                if slot not in places:
                    return {}
                return {places[slot]: _by_at(new, span[0])}

            yield ground.found(self._away, let_go=let_go, tweaks=asked)

    def _is_free_of(self, slot: Slot, worker: int) -> bool:
        """Return whether a piece of work can be done, for all the book says, without somebody."""
        normal, _ = self._ground.free(self._away)
        at = self._places(normal).get(slot)
        return at is not None and worker not in normal.problem.stages[at].asked

    def _able(self, stage: int, missing: int) -> list[int]:
        """Return who else could do a stage, those with least to do at its time first."""
        ground = self._ground
        schedule = ground.schedule
        span = schedule.starts[stage], schedule.ends[stage]
        team = set(schedule.teams[stage])
        able = [each for each in self._eligible(stage) if each not in team]
        able = [each for each in able if each != missing]
        return sorted(able, key=lambda each: (len(self._meeting(each, span)), each))

    def _eligible(self, stage: int) -> list[int]:
        problem = self._ground.normal.problem
        needs = problem.stages[stage].ways[self._ground.schedule.ways[stage]].needs
        return [
            at
            for at, worker in enumerate(problem.workers)
            if any(
                (need.can and need.skill in worker.can)
                or (need.helps and need.skill in worker.helps)
                for need in needs
            )
        ]

    def _meeting(self, worker: int, span: tuple[int, int]) -> list[int]:
        """Return the stages of a worker that lie over a stretch."""
        schedule = self._ground.schedule
        return [
            at
            for at, team in enumerate(schedule.teams)
            if worker in team and schedule.starts[at] < span[1] and schedule.ends[at] > span[0]
        ]

    # What is offered.

    def _offered(self) -> Iterator[Found | None]:
        every = levers_of(self._away, self._now)
        for kind in _OFFERED:
            mine = [each for each in every if each.kind is kind and self._helps(each)]
            for lever in mine[:OFFERS_MAX]:
                yield self._with((lever,))
            if kind is LeverKind.OVERTIME and len(mine) > 1:
                yield self._with(tuple(mine))
        lost = self._least_missed() - self._base.missed
        for lever in every:
            if lever.kind in _CLIENTS and lever.about[0] in lost:
                yield self._with((lever,))

    def _least_missed(self) -> frozenset[JobId]:
        best = min(self._tried, key=lambda one: one.worth, default=None)
        return frozenset() if best is None else best.missed

    def _helps(self, lever: Lever) -> bool:
        """Return whether an offer lies soon enough, and not in the absence of who offers it."""
        end = self._absence.end + PERIOD
        if lever.start is not None:
            is_away = lever.about[:1] == (self._absence.id,) and lever.start < self._absence.end
            return lever.start < end and not is_away
        return lever.first is None or lever.first <= end.date()

    def _with(self, levers: tuple[Lever, ...]) -> Found | None:
        book = pull_all(self._away, levers).book
        found = self._ground.found(book, levers=levers)
        if found is None or not is_lawful(book, found.normal, found.schedule, levers):
            return None
        return found

    def _hurried(self) -> Iterator[Found | None]:
        """Let the jobs in trouble go before all others, and the others move as little as can be."""
        best = min(self._tried, key=lambda one: one.worth, default=None)
        jobs = frozenset() if best is None else (best.missed - self._base.missed) | best.tight
        found = self._ground.urgent(self._away, jobs) if jobs else None
        if found is not None:
            yield self._ground.found(self._away, tweaks=lambda normal: _of(found, jobs, normal))
        if best is not None and best.late_weeks:
            yield self._ground.anew(self._away)

    def _searched(self) -> Iterator[Found | None]:
        """Look for a new order; then keep of it only what those jobs need that were in trouble.

        Only as long as there is time for it, or nothing else was found.
        """
        if self._tried and self._left(SEARCH_SHARE) < SEARCH_SECONDS:
            return
        seconds = max(SEARCH_SECONDS, self._left(SEARCH_SHARE))
        best = min(self._tried, key=lambda one: one.worth, default=None)
        found = self._ground.searched(self._away, seconds)
        yield found
        if best is None or found is None:
            return
        helped = (best.missed - found.missed) | (best.tight - frozenset(found.short))
        if helped:
            yield self._ground.found(self._away, tweaks=lambda normal: _of(found, helped, normal))

    # What it comes to.

    def _note(self, found: Found | None) -> None:
        if found is None:
            return
        plan = to_plan(found.normal, found.schedule, seed=self._ground.request.seed)
        if any(_is_same(plan, one.plan) and found.missed == one.missed for one in self._tried):
            return
        changes = told_changes(self._ground.book, plan, self._now, missing=self._missing)
        base, short = self._base, found.short
        was = base.short
        self._tried.append(
            _Tried(
                found=found,
                plan=plan,
                changes=changes,
                missed=found.missed,
                late_weeks=found.late_weeks(found.missed - base.missed),
                tight=frozenset(job for job in short if job not in was),
                price=price_of(found.levers) + self._dearer(found),
            )
        )

    def _dearer(self, found: Found) -> Decimal:
        """Return what ways and journeys cost more than they did."""
        more = levels(found.normal.problem, found.schedule)[6]
        less = levels(self._base.normal.problem, self._base.schedule)[6]
        return max(Decimal(0), Decimal(more - less) / 100)

    def _answer(self, one: _Tried, *, is_cheapest: bool) -> Answer:
        request, found = self._ground.request, one.found
        state = mark_away(request.book, self._absence).book
        state = pull_all(state, found.levers).book if found.levers else state
        made_from = MadeFrom(revision=state.revision, digest=digest(state))
        plan = replace(one.plan, made_from=made_from)
        book = take_answer(request.book, self._absence, found.levers, plan, self._now).book
        checked = check(book, plan, self._ground.checks)
        if checked.breaches:
            raise broken(checked.breaches)
        jobs = job_outcomes(found.normal, found.index, found.schedule, {})
        return Answer(
            moves=moves_of(one.changes, frozenset(self._slots), self._missing),
            levers=found.levers,
            changes=one.changes,
            price=one.price,
            missed=one.missed,
            lost=one.missed - self._base.missed,
            tight=one.tight,
            proved_cheapest=is_cheapest,
            book=book,
            plan=plan,
            check=checked,
            jobs=jobs,
        )


def _is_same(one: Plan, other: Plan) -> bool:
    return (one.placements, one.trips) == (other.placements, other.trips)


def _of(found: Found, jobs: frozenset[JobId], normal: Normal) -> Tweaks:
    """Ask that all work of some jobs be done as a schedule has it."""
    places = {slot_of(name): at for at, name in enumerate(normal.stages) if name.is_told}
    asked: dict[int, Callable[[Stage], Stage]] = {}
    for at, name in enumerate(found.normal.stages):
        is_work = name.job in jobs and name.is_told and name.begun is None
        if is_work and found.schedule.teams[at] and slot_of(name) in places:
            people = found.schedule.teams[at], found.schedule.starts[at]
            asked[places[slot_of(name)]] = _by_at(*people)
    return asked


def _by(team: tuple[int, ...], alike: Sequence[bool]) -> Callable[[Stage], Stage]:
    """Ask for a team, and of the ways of a stage only for those that are alike."""

    def asked(stage: Stage) -> Stage:
        ways = tuple(
            way if same else replace(way, clear=())
            for way, same in zip(stage.ways, alike, strict=True)
        )
        usual = replace(stage, asked=team, only_asked=True, fixed_start=None)
        return replace(usual, ways=ways) if any(alike) else usual

    return asked


def _at(start: int) -> Callable[[Stage], Stage]:
    return lambda stage: replace(stage, fixed_start=start)


def _by_at(team: Iterable[int], start: int) -> Callable[[Stage], Stage]:
    asked = tuple(team)
    return lambda stage: replace(stage, asked=asked, only_asked=True, fixed_start=start)
