"""What stays the same from one index to the next: hours, runs and teams, by what they come from.

An edit mostly changes a job and leaves everybody's hours alone. Nothing here hangs on where a
calendar or a stage stands in its problem. What no index asked for in a while goes.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from scheduler.problem import Calendar, Problem, Spans, Worker
from scheduler.recall import Recall, World

if TYPE_CHECKING:
    from scheduler.hours import Hours, Runs
    from scheduler.teams import Call, Team

STORES_MAX = 4
"""So many horizons and directions are kept; more are thrown away, the oldest first."""
CALENDARS_SPARE = 32
RUNS_MAX = 2000
CALLS_MAX = 4000

Mark = int | tuple[int, tuple[int | None, ...]]
"""A calendar by its content, or the company of a worker among workers of these calendars."""
Marks = tuple[Mark, ...]
RunsKey = tuple[Marks, bool, int, int | None, Spans | None]


class Store:
    """Hours and runs under one horizon, with the same shut days, in one direction of time."""

    def __init__(self) -> None:
        self.hours: dict[Marks, Hours] = {}
        self.runs: dict[RunsKey, Runs] = {}
        self.company: dict[Mark, Hours | None] = {}
        self._numbers: dict[Calendar, int] = {}
        self._count = 0
        self._recall: Recall | None = None

    def recall(self, world: World, problem: Problem) -> Recall:
        """Return what was found of single stages, as far as it holds in a world."""
        known = self._recall
        found = Recall(world) if known is None else known.in_world(world, problem)
        self._recall = found
        return found

    def numbers(self, calendars: Sequence[Calendar]) -> list[int]:
        """Return a number for each calendar; equal ones have the same."""
        self._make_room(calendars)
        found = []
        for calendar in calendars:
            number = self._numbers.get(calendar)
            if number is None:
                number = self._numbers[calendar] = self._count
                self._count += 1
            found.append(number)
        return found

    def _make_room(self, calendars: Sequence[Calendar]) -> None:
        if len(self._numbers) > 2 * len(calendars) + CALENDARS_SPARE:
            kept = {one: self._numbers[one] for one in calendars if one in self._numbers}
            alive = set(kept.values())
            self._numbers = kept
            self.hours = {m: each for m, each in self.hours.items() if _is_alive(m, alive)}
            self.company = {m: each for m, each in self.company.items() if _is_alive((m,), alive)}
            self.runs = {k: each for k, each in self.runs.items() if _is_alive(k[0], alive)}
        if len(self.runs) > RUNS_MAX:
            self.runs = {}


class Crew:
    """Who may form teams, by what they are called for."""

    def __init__(self) -> None:
        self.eligible: dict[Call, Team] = {}
        self.teams: dict[Call, tuple[Team, ...]] = {}


class Tables:
    """The stores of the last indexes, and the crews of their workers."""

    def __init__(self) -> None:
        self._stores: dict[object, Store] = {}
        self._crews: dict[object, Crew] = {}

    def store(self, problem: Problem, *, watch_first: bool) -> Store:
        """Return the store for a problem and direction."""
        key = (problem.horizon, problem.shut, watch_first)
        store = self._stores.pop(key, None) or Store()
        self._stores[key] = store
        _leave(self._stores, STORES_MAX)
        return store

    def crew(self, workers: Sequence[Worker]) -> Crew:
        """Return the crew of some workers; when they work does not matter."""
        key = tuple((one.can, one.helps, one.certificates) for one in workers)
        crew = self._crews.pop(key, None)
        if crew is None or len(crew.eligible) > CALLS_MAX:
            crew = Crew()
        self._crews[key] = crew
        _leave(self._crews, STORES_MAX)
        return crew


def _leave(items: dict[object, Store] | dict[object, Crew], most: int) -> None:
    while len(items) > most:
        del items[next(iter(items))]


def _is_alive(marks: Marks, alive: set[int]) -> bool:
    return all(
        mark in alive
        if isinstance(mark, int)
        else all(number is None or number in alive for number in mark[1])
        for mark in marks
    )
