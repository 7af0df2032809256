"""The menu of every stage: its options, with their starts inside the stage's own window."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from scheduler.calendar import Index
from scheduler.countback import earliest, latest
from scheduler.model.options import Menu, Option, Starts
from scheduler.model.starts import StartTable, Window
from scheduler.problem import Problem, Stage
from scheduler.teams import Call, Team, teams_among, until, work_steps

TEAMS_MAX = 400
"""So many teams a way goes into a menu with at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kitchen:
    """What the menus of one problem have in common."""

    index: Index
    wanted: Sequence[Team]
    generous: bool
    table: StartTable


class _Windows:
    """Where the stages of a problem may lie, whatever the others do."""

    def __init__(self, index: Index, *, in_time: bool) -> None:
        self._index = index
        self._soonest = None if index.problem.makespan is not None else earliest(index)
        self._last = latest(index) if in_time else None

    def of(self, number: int) -> Window:
        bounds = self._index.terms.bounds[number]
        first, end = bounds.earliest_start, bounds.earliest_end
        last, last_end = min(bounds.latest_start, self._index.problem.horizon), bounds.latest_end
        if self._soonest is not None:
            first = max(first, self._soonest.starts[number] or 0)
            end = max(end, self._soonest.ends[number] or 0)
        if self._last is not None:
            last = _least(last, self._last.starts[number])
            last_end = _least(last_end, self._last.ends[number])
        return Window(
            earliest_start=first,
            latest_start=last,
            earliest_end=end,
            latest_end=last_end,
            ends=bounds.ends,
        )


def _least(figure: int, other: int | None) -> int:
    return figure if other is None else min(figure, other)


def menus(
    index: Index,
    *,
    wanted: Sequence[Team] = (),
    generous: bool = False,
    in_time: bool = False,
) -> tuple[Menu, ...]:
    """Return the menu of each stage.

    wanted: by stage, a team that shall be in its menu. generous: where there are too many teams
    to list, let nobody at all do the stage, in the shortest time; for proofs that something
    cannot be. in_time: only starts with which every job can still load by its latest.
    """
    windows = _Windows(index, in_time=in_time)
    kitchen = _Kitchen(index=index, wanted=wanted, generous=generous, table=StartTable(index))
    return tuple(
        _menu(kitchen, stage, number, windows.of(number))
        for number, stage in enumerate(index.problem.stages)
    )


def menus_within(
    index: Index, windows: Mapping[int, Window], wanted: Sequence[Team], table: StartTable
) -> dict[int, Menu]:
    """Return the menus of some stages, each within a window. table: of the same hours."""
    kitchen = _Kitchen(index=index, wanted=wanted, generous=False, table=table)
    stages = index.problem.stages
    return {
        number: _menu(kitchen, stages[number], number, window) for number, window in windows.items()
    }


def _menu(kitchen: _Kitchen, stage: Stage, number: int, window: Window) -> Menu:
    options: list[Option] = []
    missing = False
    for way in range(len(stage.ways)):
        call = kitchen.index.call(number, way)
        if _alike(kitchen.index, stage, call):
            options.append(_by_person(kitchen, stage, number, way, window))
        elif _is_short(kitchen.index, call):
            options += _with_teams(kitchen, number, way, window, kitchen.index.all_teams(call))
        elif kitchen.generous:
            options.append(_with_nobody(kitchen, stage, number, way, window))
        else:
            missing = True
            some = _some_teams(kitchen, number, call)
            options += _with_teams(kitchen, number, way, window, some)
    return Menu(
        options=tuple(option for option in options if option.starts.pieces), missing=missing
    )


def _alike(index: Index, stage: Stage, call: Call) -> bool:
    """Return whether it makes no difference to the hours who does it."""
    if not call.needs or call.only_asked or call.certificates:
        return False
    workers = index.problem.workers
    alone = stage.company and call.hands_count == 1
    kinds = {
        (
            index.calendars_of((worker,), None, company=alone),
            workers[worker].pace,
            workers[worker].sanding_max if stage.sands else None,
        )
        for worker in index.eligible(call)
    }
    return len(kinds) == 1


def _is_short(index: Index, call: Call) -> bool:
    return not index.has_too_many_teams(call) and len(index.all_teams(call)) <= TEAMS_MAX


def _by_person(kitchen: _Kitchen, stage: Stage, number: int, way: int, window: Window) -> Option:
    call = kitchen.index.call(number, way)
    anybody = kitchen.index.eligible(call)[:1]
    alone = stage.company and call.hands_count == 1
    calendars = kitchen.index.calendars_of(anybody, stage.ways[way].calendar, company=alone)
    steps = kitchen.index.steps(anybody, way, number)
    cleared = _cleared(window, kitchen.index.problem, stage, way, anybody)
    starts = kitchen.table.starts(stage, calendars, steps, cleared)
    return Option(way=way, team=None, starts=starts)


def _with_teams(
    kitchen: _Kitchen, number: int, way: int, window: Window, teams: Sequence[Team]
) -> Iterator[Option]:
    index, stage = kitchen.index, kitchen.index.problem.stages[number]
    call = index.call(number, way)
    for team in teams:
        valid = until(index.problem.workers, call, team)
        narrow = _cleared(window, index.problem, stage, way, team)
        if valid is not None and valid < window.latest_end:
            narrow = replace(narrow, latest_end=valid)
        calendars = index.calendars_of(team, stage.ways[way].calendar, company=stage.company)
        steps = index.steps(team, way, number)
        yield Option(
            way=way, team=team, starts=kitchen.table.starts(stage, calendars, steps, narrow)
        )


def _cleared(window: Window, problem: Problem, stage: Stage, way: int, team: Team) -> Window:
    """Return a window with the stretches that are clear, and how long the team sands in a day."""
    clear = stage.ways[way].clear
    most = None
    if stage.sands and problem.days and not stage.under_way:
        limits = (problem.workers[worker].sanding_max for worker in team)
        most = min((limit for limit in limits if limit is not None), default=None)
    if clear is None and most is None:
        return window
    return replace(window, clear=clear, daily_most=most)


def _with_nobody(kitchen: _Kitchen, stage: Stage, number: int, way: int, window: Window) -> Option:
    """Return an option at least as free as every team's: nobody, as fast as the fastest."""
    call = kitchen.index.call(number, way)
    workers = kitchen.index.problem.workers
    paces = [workers[worker].pace for worker in kitchen.index.eligible(call)]
    fastest = sorted(paces, reverse=True)[: call.hands_count]
    steps = work_steps(stage.ways[way].work, fastest)
    latest_start = min(window.latest_start, window.latest_end - steps)
    starts = ((window.earliest_start, latest_start),)
    pieces = ((steps, starts),) if window.earliest_start <= latest_start else ()
    return Option(way=way, team=(), starts=Starts(pieces=pieces, or_longer=True))


def _some_teams(kitchen: _Kitchen, number: int, call: Call) -> list[Team]:
    workers = kitchen.index.problem.workers
    found = list(islice(teams_among(workers, call, kitchen.index.eligible(call)), TEAMS_MAX))
    wanted = kitchen.wanted[number] if kitchen.wanted else ()
    if wanted not in found and wanted in teams_among(workers, call, wanted):
        found.append(wanted)
    return found
