"""Bare CP-SAT on a published instance: a plain model, the library's own parameters.

What anybody would write who only reads the format: an interval for each activity (one for each of
its modes), a cumulative or no-overlap for each resource, for each person an optional interval in
each activity they could take part in. Nothing redundant, no hint, nothing set but workers, seed
and time. The other engine of ``python -m tests.bench published --bare``; it shares nothing with
ours but the reading of the file.

``python -m tests.bench bare FILE --seconds N --workers N`` solves one file and prints the answer.
"""

import argparse
import sys
from dataclasses import dataclass
from pathlib import Path

from ortools.sat.python import cp_model

from scheduler.problem import Schedule
from tests.published.instances import Instance, Mode
from tests.published.readers import read


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What bare CP-SAT said. proved: the schedule is optimal, or there is none."""

    proved: bool
    schedule: Schedule | None

    @property
    def value(self) -> int | None:
        """Return when the last activity starts."""
        return None if self.schedule is None else self.schedule.starts[-1]


def solve(instance: Instance, *, seconds: float, workers: int) -> Answer:
    """Return what bare CP-SAT finds within so many seconds."""
    model = _Model(instance)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = 1
    solver.parameters.max_time_in_seconds = max(0.0, seconds)
    status = solver.solve(model.model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return Answer(
        proved=status in (cp_model.OPTIMAL, cp_model.INFEASIBLE),
        schedule=model.schedule(solver) if found else None,
    )


class _Model:
    def __init__(self, instance: Instance) -> None:
        self.model = cp_model.CpModel()
        self._instance = instance
        horizon = instance.horizon
        count = len(instance.modes)
        self._starts = [self.model.new_int_var(0, horizon, "") for _ in range(count)]
        self._ends = [self._end(at) for at in range(count)]
        self._modes = [[self.model.new_bool_var("") for _ in modes] for modes in instance.modes]
        self._teams: list[dict[int, cp_model.IntVar]] = [{} for _ in range(count)]
        self._intervals = [self._of_modes(at) for at in range(count)]
        self._post_order()
        self._post_resources()
        self._post_people()
        self.model.minimize(self._starts[-1])

    def _end(self, at: int) -> cp_model.LinearExprT:
        modes = self._instance.modes[at]
        if len(modes) == 1:
            return self._starts[at] + modes[0].duration
        return self.model.new_int_var(0, self._instance.horizon, "")

    def _of_modes(self, at: int) -> list[cp_model.IntervalVar]:
        modes, start = self._instance.modes[at], self._starts[at]
        self.model.add_exactly_one(self._modes[at])
        if len(modes) == 1:
            return [self.model.new_fixed_size_interval_var(start, modes[0].duration, "")]
        return [
            self.model.new_optional_interval_var(start, mode.duration, self._ends[at], chosen, "")
            for mode, chosen in zip(modes, self._modes[at], strict=True)
        ]

    def _post_order(self) -> None:
        for i, j in self._instance.follows:
            self.model.add(self._starts[j] >= self._ends[i])
        for i, j, lag in self._instance.lags:
            self.model.add(self._starts[j] >= self._starts[i] + lag)

    def _post_resources(self) -> None:
        choices = [
            (mode, interval, chosen)
            for modes, intervals, literals in zip(
                self._instance.modes, self._intervals, self._modes, strict=True
            )
            for mode, interval, chosen in zip(modes, intervals, literals, strict=True)
        ]
        for resource, capacity in enumerate(self._instance.capacities):
            using = [(interval, mode.units[resource]) for mode, interval, _ in choices]
            using = [(interval, units) for interval, units in using if units]
            if capacity == 1:
                self.model.add_no_overlap([interval for interval, _ in using])
            else:
                intervals = [interval for interval, _ in using]
                self.model.add_cumulative(intervals, [units for _, units in using], capacity)
        for stock, there in enumerate(self._instance.stocks):
            used = (mode.used_up[stock] * chosen for mode, _, chosen in choices)
            self.model.add(sum(used, start=0) <= there)

    def _post_people(self) -> None:
        held: dict[int, list[cp_model.IntervalVar]] = {}
        for at, places in enumerate(self._instance.places):
            seats: dict[int, list[cp_model.IntVar]] = {}
            for skill, count in enumerate(places):
                if count:
                    literals = {
                        person: self.model.new_bool_var("")
                        for person, skills in enumerate(self._instance.people)
                        if skill in skills
                    }
                    self.model.add(sum(literals.values()) == count)
                    for person, literal in literals.items():
                        seats.setdefault(person, []).append(literal)
            for person, taken in seats.items():
                held.setdefault(person, []).append(self._in_team(at, person, taken))
        for intervals in held.values():
            self.model.add_no_overlap(intervals)

    def _in_team(self, at: int, person: int, seats: list[cp_model.IntVar]) -> cp_model.IntervalVar:
        is_in = self.model.new_bool_var("")
        self.model.add(sum(seats) == is_in)
        self._teams[at][person] = is_in
        (mode,) = self._instance.modes[at]
        return self.model.new_optional_fixed_size_interval_var(
            self._starts[at], mode.duration, is_in, ""
        )

    def schedule(self, solver: cp_model.CpSolver) -> Schedule:
        """Return the schedule that was found."""
        ways = [
            next(way for way, literal in enumerate(literals) if solver.value(literal))
            for literals in self._modes
        ]
        starts = [solver.value(start) for start in self._starts]
        taken: list[Mode] = [
            modes[way] for modes, way in zip(self._instance.modes, ways, strict=True)
        ]
        return Schedule(
            starts=tuple(starts),
            ends=tuple(start + mode.duration for start, mode in zip(starts, taken, strict=True)),
            ways=tuple(ways),
            teams=tuple(
                tuple(sorted(person for person, literal in team.items() if solver.value(literal)))
                for team in self._teams
            ),
        )


def main(argv: list[str]) -> int:
    """Solve one file and print what came of it."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench bare")
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument("--seconds", type=float, default=10.0, metavar="N")
    parser.add_argument("--workers", type=int, default=2, metavar="N")
    asked = parser.parse_args(argv)
    answer = solve(read(asked.file), seconds=asked.seconds, workers=asked.workers)
    print(f"{asked.file.name} {answer.value} {'proved' if answer.proved else 'not proved'}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
