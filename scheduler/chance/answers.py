"""When answers come, drawn: days of whoever answers, noes and what they call for.

An answer takes the agreed days at the median, by the record of whoever gives it as far as there is
one; nine of ten come within so many times as much. Besides some call for another round.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from math import exp, log

import numpy as np

from scheduler.chance.arrays import Floats, Ints, Truths, filled
from scheduler.chance.draws import Draws
from scheduler.chance.figures import Figures
from scheduler.chance.shapes import normals_of, share_below
from scheduler.grid import DAY_STEPS
from scheduler.normalise import Normal, StageName
from scheduler.normalise.answers import answer_days, answerer, client_days
from scheduler.normalise.facts import NOTHING, Told, told_facts
from shared.book import Abrade, Book, Client, Gate, GateKind, Job
from shared.estimate.record import SPREAD_OF_KINDS, SPREAD_OF_STAGES
from shared.ids import StepId
from shared.units import hours_up, steps_up
from shared.worktime import local_instant, working_days_from
from shared.worktime.zones import local_date

MOST_DAYS = 150
"""No answer takes more working days."""
MOST_NOES = 3
_BEFORE_DAYS, _BEHIND_DAYS = 120, 2 * MOST_DAYS
_MIDNIGHT = time(0)
_HOURS_A_DAY = 6.5
"""Of work that the plan has not, so many hours get done a day (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """The working days of whoever answers, in steps: when each begins, and when it is answered."""

    mornings: Ints
    dues: Ints

    def after(self, t: Ints, days: Ints) -> Ints:
        """Return when answers come to what went out at t, on the n-th working day after."""
        first = np.searchsorted(self.mornings, t, side="right")
        at = np.clip(first + np.maximum(days, 1) - 1, 0, len(self.dues) - 1)
        found: Ints = np.maximum(t, self.dues[at])
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """The answers of one gate.

    days: of each round, by its number. noes: still to come, at most a few
    more than are planned for. planned: rounds that the plan has. more: elapsed steps besides,
    after the answer; rework: between rounds that the plan has not. changes: by draw, what a yes
    with changes adds.
    """

    working: Days
    days: Mapping[int, Ints]
    noes: Ints
    first: int
    planned: int
    more: int
    rework: int
    changes: Ints

    def ready(self, number: int, t: Ints) -> Ints:
        """Return when work goes on after a round, whose pictures went out at t."""
        last = self.first + self.planned - 1
        is_asked = self.noes >= number - self.first
        found: Ints = np.where(is_asked, self.working.after(t, self.days[number]), t)
        if number == last:
            for each in range(1, MOST_NOES + 1):
                is_more = self.noes >= self.planned - 1 + each
                if not is_more.any():
                    break
                shown = found + np.int32(self.rework)
                again = self.working.after(shown, self.days[last + each])
                found = np.where(is_more, again, found)
            found = found + self.changes
        return (found + np.int32(self.more)).astype(np.int32)

    def part(self, which: slice) -> "Answers":
        """Return the answers of some of the draws."""
        days = {number: row[which] for number, row in self.days.items()}
        return replace(self, days=days, noes=self.noes[which], changes=self.changes[which])

    def is_needed(self, number: int) -> Truths:
        """Return in which draws there is a round of this number."""
        found: Truths = self.noes >= number - self.first
        return found


def answers_of(normal: Normal, draws: Draws, figures: Figures, upto: int) -> dict[StepId, Answers]:
    """Return the answers that are still to come, by gate."""
    rounds: dict[StepId, list[StageName]] = {}
    for name in normal.stages:
        if name.round and not name.part:
            rounds.setdefault(name.step, []).append(name)
    if not rounds:
        return {}
    told = told_facts(normal.book)
    owners = {step.id: (job, step) for job in normal.book.jobs for step in job.steps}
    records = _records(normal.book, told)
    known: dict[object, Days] = {}
    found = {}
    for gate_id, names in rounds.items():
        job, gate = owners[gate_id]
        if isinstance(gate, Gate) and gate.gate is GateKind.ANSWER:
            client = answerer(job, gate)
            median = exp(records.get(client.name, 0.0)) * max(1, answer_days(client, gate))
            key = (client_days(client), client.zone, gate.answer_by)
            if key not in known:
                known[key] = _working(normal, client, gate, upto)
            made = _Making(normal, draws, figures, client, gate, median)
            found[gate_id] = made.answers(names, known[key])
    return found


class _Making:
    def __init__(
        self,
        normal: Normal,
        draws: Draws,
        figures: Figures,
        client: Client,
        gate: Gate,
        median: float,
    ) -> None:
        self._normal, self._draws, self._figures = normal, draws, figures
        self._client, self._gate, self._median = client, gate, median

    def answers(self, names: list[StageName], working: Days) -> Answers:
        first = min(name.round for name in names)
        planned = len(names)
        days = {
            number: self._days(number, next((n for n in names if n.round == number), None))
            for number in range(first, first + planned + MOST_NOES)
        }
        return Answers(
            working=working,
            days=days,
            noes=self._noes(planned),
            first=first,
            planned=planned,
            more=hours_up(self._gate.cure_hours),
            rework=_elapsed_steps(self._gate.rework),
            changes=self._changes(),
        )

    def _days(self, number: int, name: StageName | None) -> Ints:
        """Draw the working days of a round; of one that is waited for, more than have passed."""
        normals = self._draws.normals(f"answer/{self._gate.id}/{number}")
        if name is not None and name.begun is not None:
            passed = self._passed(name)
            if passed > 0:
                least = (log(passed) - log(self._median)) / self._figures.answer_spread
                below = float(share_below(np.array([least]))[0])
                normals = normals_of(below + (1 - below) * share_below(normals))
        days: Floats = self._median * np.exp(self._figures.answer_spread * normals)
        found: Ints = np.clip(np.rint(days), 1, MOST_DAYS).astype(np.int32)
        return found

    def _passed(self, name: StageName) -> int:
        assert name.begun is not None
        return _days_between(self._client, local_date(name.begun, self._client.zone), self._today())

    def _today(self) -> date:
        return local_date(self._normal.now, self._client.zone)

    def _noes(self, planned: int) -> Ints:
        """Draw how many answers are a no, at most a few more than are planned for."""
        percent = self._gate.chance_no_percent
        share = self._figures.again if percent is None else percent / 100
        found = filled(self._draws.rows, 0)
        goes_on = np.ones(self._draws.rows, dtype=bool)
        for each in range(planned - 1 + MOST_NOES):
            goes_on &= self._draws.shares(f"no/{self._gate.id}/{each}") < share
            found += goes_on.astype(np.int32)
        return np.minimum(found, planned - 1 + MOST_NOES).astype(np.int32)

    def _changes(self) -> Ints:
        percent = self._gate.chance_changes_percent or 0
        comes = self._draws.shares(f"changes/{self._gate.id}") < percent / 100
        steps = _elapsed_steps(self._gate.changes)
        found: Ints = np.where(comes, steps, 0).astype(np.int32)
        return found


def _elapsed_steps(beside: Abrade | None) -> int:
    """Return about how long work takes that the plan has not, by whoever has time for it."""
    if beside is None or not beside.ways:
        return 0
    way = beside.ways[0]
    hours = float(way.hours.likely) / max(1, way.hands_count)
    return round(hours / _HOURS_A_DAY * DAY_STEPS)


def _working(normal: Normal, client: Client, gate: Gate, upto: int) -> Days:
    first = local_date(normal.origin, client.zone) - timedelta(days=_BEFORE_DAYS)
    count = upto // DAY_STEPS + _BEFORE_DAYS + _BEHIND_DAYS
    days = working_days_from(client_days(client), first, count)

    def steps(at: time, *, opening: bool) -> Ints:
        instants = (local_instant(day, at, client.zone, opening=opening) for day in days)
        return np.array([steps_up(normal.origin, each) for each in instants], dtype=np.int32)

    return Days(mornings=steps(_MIDNIGHT, opening=True), dues=steps(gate.answer_by, opening=False))


def _records(book: Book, told: Mapping[StepId, Told]) -> dict[str, float]:
    """Return by who answers the mean logarithm of days taken over days agreed, drawn to none."""
    logs: dict[str, list[float]] = {}
    for job in book.jobs:
        for step in job.steps:
            facts = told.get(step.id, NOTHING)
            if isinstance(step, Gate) and step.gate is GateKind.ANSWER and facts.answers:
                logs.setdefault(answerer(job, step).name, []).extend(_ratios(job, step, facts))
    pull = SPREAD_OF_STAGES**2 / SPREAD_OF_KINDS**2
    return {name: sum(each) / (pull + len(each)) for name, each in logs.items()}


def _ratios(job: Job, gate: Gate, facts: Told) -> list[float]:
    client = answerer(job, gate)
    agreed = max(1, answer_days(client, gate))
    found = []
    for shown, answered in zip(facts.pictures, facts.answers, strict=False):
        taken = _days_between(
            client, local_date(shown.at, client.zone), local_date(answered.at, client.zone)
        )
        found.append(log(max(1, taken) / agreed))
    return found


def _days_between(client: Client, first: date, last: date) -> int:
    """Return the working days after the first day, up to and with the last."""
    count = (last - first).days
    if count <= 0:
        return 0
    return len(working_days_from(client_days(client), first + timedelta(days=1), count))
