"""Machines and crews: printed optima by the model, printed rules by the placement pass."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import pytest

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.countback import earliest
from scheduler.model import objective
from scheduler.model.build import build
from scheduler.model.makespan import least_makespan
from scheduler.model.run import Limits, Status, run
from scheduler.place import place
from scheduler.problem import Edge, JobAim, Problem, Room, Schedule, Stage, Use, Way
from scheduler.replay import breaches
from tests.published.worked.examples import Row, expected, rows

HALF_HOURS = 2
ENOUGH = Limits(seconds=60, workers=2)


def _shop(
    routes: Sequence[Sequence[tuple[str, int]]], *, clean: int = 0, most: int | None = None
) -> Problem:
    machines = sorted({machine for route in routes for machine, _ in route})
    stages: list[Stage] = []
    edges: list[Edge] = []
    lasts = []
    for route in routes:
        for step, (machine, steps) in enumerate(route):
            use = Use(room=machines.index(machine), units=1, after=clean)
            stages.append(Stage(ways=(Way(work=Fraction(steps), uses=(use,)),)))
            if step:
                edges.append(Edge(before=len(stages) - 2, after=len(stages) - 1, most=most))
        lasts.append(len(stages) - 1)
    stages.append(Stage(ways=(Way(),)))
    edges += [Edge(before=last, after=len(stages) - 1) for last in lasts]
    return Problem(
        horizon=sum(steps + clean for route in routes for _, steps in route),
        stages=tuple(stages),
        edges=tuple(edges),
        rooms=(Room(capacity=1),) * len(machines),
        makespan=len(stages) - 1,
    )


def _least(problem: Problem) -> int:
    found = least_makespan(Index(problem), ENOUGH)
    assert found.status is Status.PROVED
    assert found.schedule is not None
    assert not breaches(problem, found.schedule)
    return found.values[0]


def test_the_optimum_of_three_papers() -> None:
    routes: dict[str, list[tuple[str, int]]] = {}
    for row in rows("jobshop01_three_papers.activities"):
        routes.setdefault(row["job"], []).append((row["machine"], int(row["duration"])))

    least = _least(_shop(list(routes.values())))

    assert least == int(expected("jobshop01_three_papers")["optimum", "makespan"])


@pytest.mark.parametrize(
    ("case", "batches", "clean", "most"),
    [
        ("4 batches of A", "AAAA", 0, None),
        ("1 batch each of A B C", "ABC", 0, None),
        ("2 batches each of A B C", "AABBCC", 0, None),
        ("2 batches each of A B C; clean-out 0.5 h between uses of a machine", "AABBCC", 1, None),
        ("2 batches each of A B C; clean-out 0.5 h; zero wait", "AABBCC", 1, 0),
    ],
)
def test_the_optimum_with_clean_out_and_without_waiting(
    case: str, batches: str, clean: int, most: int | None
) -> None:
    name = "jobshop02_batches_cleanout_zero_wait"
    recipes: dict[str, list[tuple[str, int]]] = {}
    for row in rows(f"{name}.activities"):
        half_hours = int(HALF_HOURS * Fraction(row["duration_h"]))
        recipes.setdefault(row["recipe"], []).append((row["machine"], half_hours))
    printed = expected(name)

    least = _least(_shop([recipes[batch] for batch in batches], clean=clean, most=most))

    assert len(printed) == 5
    assert Fraction(least, HALF_HOURS) == Fraction(printed[case, "makespan"])


MACHINE = "machine01_release_due"


def _machine(jobs: Sequence[Row]) -> Problem:
    use = Use(room=0, units=1)
    return Problem(
        horizon=100,
        stages=tuple(
            Stage(
                ways=(Way(work=Fraction(row["duration"]), uses=(use,)),),
                release=int(row["release"]),
                job=at,
            )
            for at, row in enumerate(jobs)
        ),
        rooms=(Room(capacity=1),),
        jobs=tuple(JobAim(lasts=(at,), latest=int(row["due"])) for at, row in enumerate(jobs)),
    )


def test_the_least_total_tardiness_on_one_machine() -> None:
    problem = _machine(rows(f"{MACHINE}.activities"))
    frame = build(Index(problem))

    found = run(frame, objective.level(frame, 3), ENOUGH)

    assert found.status is Status.PROVED
    assert found.schedule is not None
    assert not breaches(problem, found.schedule)
    assert found.value == levels(problem, found.schedule)[2]
    assert found.value == int(expected(MACHINE)["optimum", "total_tardiness"])


@pytest.mark.parametrize(
    ("rule", "key"),
    [
        ("order A B C D E F G", "job"),
        ("rule first-released-first", "release"),
        ("rule earliest-due-date", "due"),
        ("rule shortest-first", "duration"),
    ],
)
def test_the_total_tardiness_of_a_rule(rule: str, key: str) -> None:
    jobs = rows(f"{MACHINE}.activities")
    if key != "job":
        jobs.sort(key=lambda row: int(row[key]))
    problem = _machine(jobs)
    in_line = tuple(Edge(before=at, after=at + 1) for at in range(len(jobs) - 1))
    index = Index(replace(problem, edges=in_line))

    schedule = _placed(place(index, range(len(jobs))))

    assert not breaches(index.problem, schedule)
    assert levels(problem, schedule)[2] == int(expected(MACHINE)[rule, "total_tardiness"])


def _placed(found: Schedule | Unfit) -> Schedule:
    assert isinstance(found, Schedule)
    return found


def test_a_priority_list_on_three_crews() -> None:
    tasks = rows("list01_three_crews.activities")
    number = {row["task"]: at for at, row in enumerate(tasks)}
    crew = Use(room=0, units=1)
    problem = Problem(
        horizon=100,
        stages=(
            *(Stage(ways=(Way(work=Fraction(row["duration"]), uses=(crew,)),)) for row in tasks),
            Stage(ways=(Way(),)),
        ),
        edges=tuple(
            Edge(before=number[before], after=number[row["task"]])
            for row in tasks
            for before in row["predecessors"].split()
        )
        + tuple(Edge(before=at, after=len(tasks)) for at in range(len(tasks))),
        rooms=(Room(capacity=3),),
        makespan=len(tasks),
    )
    printed = expected("list01_three_crews")
    order = printed["critical-path priority list", "order"].split()
    index = Index(problem)

    schedule = _placed(place(index, [*(number[task] for task in order), len(tasks)], by_time=True))

    assert len(printed) == 4
    assert not breaches(problem, schedule)
    assert max(schedule.ends) == int(printed["critical-path priority list on 3", "finish"])
    assert earliest(index).ends[-1] == int(printed["critical path", "length"])
    optimum = printed["optimum on 3 (derived here: equals the critical path)", "finish"]
    assert _least(problem) == int(optimum)
