"""How many pieces somebody works on in half a day, and how long they sand in a day.

Not stated beforehand, for hardly any of the days is ever full: where a solution breaks a limit,
that limit is stated for that worker and that day, and the solver asked again. A piece counts if
one of its stages has a working step in the half day; a stage sands as many steps of the day as
its start says. Pinned by tests/scheduler/test_model_rules.py, "limits of a day".
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from scheduler.daily import Day, Days
from scheduler.hours import Hours
from scheduler.model.doers import done_by
from scheduler.model.options import Option
from scheduler.model.variables import Frame, Literal, StageVars, negated
from scheduler.problem import Schedule, Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """Where limits of a day are broken.

    half_days: those with too many pieces, and the pieces that are under way in them. days: those
    with too much sanding, and the steps of it that are under way.
    """

    half_days: Mapping[Day, frozenset[int]] = field(default_factory=dict)
    days: Mapping[Day, int] = field(default_factory=dict)

    def __bool__(self) -> bool:
        return bool(self.half_days or self.days)


def broken(frame: Frame, schedule: Schedule) -> Broken:
    """Return where a schedule breaks limits of a day."""
    problem = frame.problem
    pieces: dict[Day, dict[int, bool]] = defaultdict(dict)
    sanding: dict[Day, list[int]] = defaultdict(lambda: [0, 0])
    half_days, days = Days(problem.half_days), Days(problem.days)
    for number, (stage, team) in enumerate(zip(problem.stages, schedule.teams, strict=True)):
        span = schedule.starts[number], schedule.ends[number]
        if not team or span[0] == span[1]:
            continue
        hours = frame.index.runs(team, schedule.ways[number], number).hours
        if stage.piece is not None and problem.pieces_max is not None:
            for at in half_days.met(span):
                if half_days.worked(hours, at, span):
                    for worker in team:
                        known = pieces[worker, at].get(stage.piece, False)
                        pieces[worker, at][stage.piece] = known or stage.under_way
        for at in days.met(span) if stage.sands else ():
            for worker in team:
                sanding[worker, at][stage.under_way] += days.worked(hours, at, span)
    return Broken(half_days=_too_many(frame, pieces), days=_too_long(frame, sanding))


def _too_many(frame: Frame, pieces: Mapping[Day, Mapping[int, bool]]) -> dict[Day, frozenset[int]]:
    most = frame.problem.pieces_max or 0
    return {
        day: frozenset(piece for piece, is_given in found.items() if is_given)
        for day, found in pieces.items()
        if len(found) > most and not all(found.values())
    }


def _too_long(frame: Frame, sanding: Mapping[Day, list[int]]) -> dict[Day, int]:
    limits = [worker.sanding_max for worker in frame.problem.workers]
    return {
        (worker, at): given
        for (worker, at), (chosen, given) in sanding.items()
        if chosen and (most := limits[worker]) is not None and chosen + given > most
    }


def state(frame: Frame, found: Broken) -> None:
    """State the limits that were broken, for those workers and days."""
    for day, pieces in found.half_days.items():
        _state_pieces(frame, day, pieces)
    for day, steps in found.days.items():
        _state_sanding(frame, day, steps)


def _state_pieces(frame: Frame, day: Day, given: frozenset[int]) -> None:
    """Let no more pieces count than there is room for beside those that are under way."""
    worker, at = day
    counts: dict[int, Literal] = {}
    for number, stage in enumerate(frame.problem.stages):
        if stage.piece is None or stage.piece in given or stage.under_way:
            continue
        for literal, hours, _ in done_by(frame, number, worker):
            inside = hours.inside(*frame.problem.half_days[at])
            if inside:
                counts.setdefault(stage.piece, frame.model.new_bool_var(""))
                first, last = inside[0][0], inside[-1][1]
                outside = _outside(frame, frame.stages[number], first, last)
                frame.model.add_bool_or([negated(literal), *outside, counts[stage.piece]])
    room = max(0, (frame.problem.pieces_max or 0) - len(given))
    frame.model.add(sum(counts.values()) <= room)


def _outside(
    frame: Frame, found: StageVars, first: int, last: int
) -> tuple[cp_model.IntVar, cp_model.IntVar]:
    """Return literals that a stage ends by the first step, or starts at the last or later."""
    before, after = frame.model.new_bool_var(""), frame.model.new_bool_var("")
    frame.model.add(found.end <= first).only_enforce_if(before)
    frame.model.add(found.start >= last).only_enforce_if(after)
    return before, after


def _state_sanding(frame: Frame, day: Day, given: int) -> None:
    """Let no more be sanded than what is under way leaves of the limit."""
    worker, at = day
    most = frame.problem.workers[worker].sanding_max or 0
    steps: list[cp_model.IntVar] = []
    for number, stage in enumerate(frame.problem.stages):
        if stage.sands and not stage.under_way:
            for literal, hours, option in done_by(frame, number, worker):
                by_steps = _by_steps(hours, frame.problem.days[at], option)
                if by_steps:
                    steps.append(_sanded(frame, frame.stages[number], literal, by_steps))
    frame.model.add(sum(steps) <= max(0, most - given))


def _by_steps(hours: Hours, day: Span, option: Option) -> dict[int, list[int]]:
    """Return the starts of an option by how many steps are then worked in a day, if any."""
    first, last = day
    found: dict[int, list[int]] = defaultdict(list)
    for size, inside in option.starts.pieces:
        for low, high in inside:
            for start in range(max(low, first - size + 1), min(high, last - 1) + 1):
                steps = hours.worked_in(max(first, start), min(last, start + size))
                if steps:
                    found[steps].append(start)
    return found


def _sanded(
    frame: Frame, found: StageVars, literal: Literal, by_steps: Mapping[int, list[int]]
) -> cp_model.IntVar:
    """Return at least how many steps of the day a stage has with the worker that a literal says."""
    model = frame.model
    sanded = model.new_int_var(0, max(by_steps), "")
    for steps, starts in by_steps.items():
        elsewhere, counts = model.new_bool_var(""), model.new_bool_var("")
        domain = cp_model.Domain.from_values(starts).complement()
        model.add_linear_expression_in_domain(found.start, domain).only_enforce_if(elsewhere)
        model.add(sanded >= steps).only_enforce_if(counts)
        model.add_bool_or([negated(literal), elsewhere, counts])
    return sanded
