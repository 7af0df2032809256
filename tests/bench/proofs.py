"""What is proved, and how soon: ``python -m tests.bench proofs [--jobs 1,4,12] [--days 1,3,10]``.

Planted: one of so many jobs gets a window so many working days before the soonest end that is
proved of it (by a long look beforehand); the engine is not told which. `--overload`: all jobs get
one window, so many working days before the first at which counting work alone still says yes.
`--single`: each job of the books alone, which end is impossible and which is planned. `--questions
N`: windows that a known plan keeps, of one job, two, three and all; a "cannot" here is false.
Seconds are of the clock from the first plan on, and of the processor; with `--effort` the solver is
bound by work instead (hundredths of its own seconds), so that a busy machine proves as much.
"""

import argparse
import json
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import timedelta
from itertools import combinations
from random import Random
from statistics import median
from time import perf_counter, process_time

from scheduler.aims import loading_end
from scheduler.bounding import Bounding
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.justify import justify
from scheduler.model.alone import alone, sub_book
from scheduler.model.run import Limits
from scheduler.normalise import Normal, normalise
from scheduler.phased import Phases
from scheduler.problem import Problem, Schedule
from scheduler.proof import Ladder, Refuted, prove
from scheduler.proofs import Prover
from scheduler.purse import Purse
from scheduler.replay import breaches
from scheduler.shifts import first_schedule
from shared.units import instant_of, steps_down
from tests.books.sized import Size, sized_book
from tests.scheduler.problems import random_problem

DAY = 96
STAGES_A_JOB = 52
TRUTH_SECONDS = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One planted question: how large, by how much, and when it was proved (None: not)."""

    kind: str
    seed: int
    jobs: int
    stages: int
    days: int
    found: "Found | None"


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """When a proof was found, and by which rung."""

    seconds: float
    processor_seconds: float
    by: str


def made(jobs: int, seed: int) -> Normal:
    """Give the problem of a made-up workshop of so many jobs."""
    book = sized_book(Size(stages=STAGES_A_JOB * jobs, jobs=jobs, seed=seed))
    assert book.as_of is not None
    return normalise(book, book.as_of)


def days_before(normal: Normal, step: int, days: int) -> int:
    """Give the step so many working days before one."""
    at = instant_of(normal.origin, step)
    while days:
        at -= timedelta(days=1)
        days -= at.weekday() < 5
    return steps_down(normal.origin, at)


def with_latest(normal: Normal, latest: dict[int, int]) -> Normal:
    """Give the problem with other windows, everything else as it was."""
    aims = list(normal.problem.jobs)
    for job, step in latest.items():
        aims[job] = replace(aims[job], latest=step, guessed=False)
    return replace(normal, problem=replace(normal.problem, jobs=tuple(aims)))


def soonest_proved(normal: Normal, job: int, seconds: float) -> int:
    """Give the soonest end of a job that is proved of it alone."""
    asked = with_latest(normal, {job: 1})
    limits = Limits(effort=int(100 * seconds), workers=1)
    proof = prove(Index(asked.problem), job, limits)
    return 1 + (proof.bound_steps if proof is not None else 0)


def until_proved(normal: Normal, job: int | None, limits: Limits) -> Found | None:
    """Ask as a solve does; give when the job (None: any) is proved to be missed, and by what."""
    index = Index(normal.problem)
    first = first_schedule(index, 1)
    assert isinstance(first, Schedule)
    begun = perf_counter(), process_time()
    prover = Prover(normal, index)
    found: list[Found] = []

    def note() -> None:
        for proof in prover.known:
            if not found and (job is None or proof.job == job):
                took = round(perf_counter() - begun[0], 2), round(process_time() - begun[1], 2)
                found.append(Found(seconds=took[0], processor_seconds=took[1], by=proof.kind))

    Bounding(prover, first, limits, cancel=lambda: bool(found), on_proof=note).run()
    return found[0] if found else None


def planted(jobs: int, days: Sequence[int], seed: int, limits: Limits) -> Iterator[Row]:
    """Plant one impossible window in a workshop."""
    normal = made(jobs, seed)
    job = Random(seed).randrange(jobs)
    soonest = soonest_proved(normal, job, TRUTH_SECONDS)
    for early in days:
        asked = with_latest(normal, {job: days_before(normal, soonest, early)})
        yield _row("planted", seed, asked, early, until_proved(asked, job, limits))


def overloaded(jobs: int, days: Sequence[int], seed: int, limits: Limits) -> Iterator[Row]:
    """Plant one window for all jobs that together they cannot keep."""
    normal = made(jobs, seed)
    ladder = Ladder(sub_book(normal.problem, range(jobs)))
    low, high = 0, normal.problem.horizon
    while low < high:
        middle = (low + high) // 2
        if ladder.by_counting((middle,) * jobs) is None:
            high = middle
        else:
            low = middle + 1
    for early in days:
        due = days_before(normal, low, early)
        asked = with_latest(normal, dict.fromkeys(range(jobs), due))
        yield _row("overload", seed, asked, early, until_proved(asked, None, limits))


def _row(kind: str, seed: int, normal: Normal, days: int, found: Found | None) -> Row:
    jobs, stages = len(normal.problem.jobs), len(normal.problem.stages)
    return Row(kind=kind, seed=seed, jobs=jobs, stages=stages, days=days, found=found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Single:
    """One job by itself: proved impossible so many days after the start, planned to end on day."""

    seed: int
    stages: int
    cannot_days: float
    plan_days: float | None
    seconds: float
    processor_seconds: float


def singles(seed: int, seconds: float) -> Iterator[Single]:
    """Decide the soonest end of each job of a workshop alone."""
    normal = made(4, seed)
    for job in range(4):
        begun = perf_counter(), process_time()
        problem = Ladder(alone(normal.problem, job)).problem
        found = Phases(problem).soonest(Purse(Limits(seconds=seconds, workers=1)))
        end = None
        if found.schedule is not None:
            assert not breaches(problem, found.schedule)
            end = loading_end(problem.jobs[0], found.schedule)
        yield Single(
            seed=seed,
            stages=len(problem.stages),
            cannot_days=round((found.end - 1) / DAY, 2),
            plan_days=None if end is None else round(end / DAY, 2),
            seconds=round(perf_counter() - begun[0], 2),
            processor_seconds=round(process_time() - begun[1], 2),
        )


def questions(count: int, first_seed: int, effort: int, every: int) -> Counter[str]:
    """Ask about windows that a plan keeps; count what is answered.

    All by counting; one of so many by the solver, of a job alone phase by phase too.
    """
    told: Counter[str] = Counter(questions=0, false=0)
    seed = first_seed
    while told["questions"] < count:
        draw = Random(seed)
        problem = random_problem(
            seed,
            jobs=draw.randint(1, 4),
            segments=draw.randint(1, 5),
            workers=draw.randint(2, 6),
            spice=seed % 4 != 0,
        )
        seed += 1
        index = Index(problem)
        plan = first_schedule(index, seed)
        if isinstance(plan, Unfit):
            told["no plan"] += 1
            continue
        pulled = justify(index, plan)
        for schedule in (plan, pulled) if pulled is not None else (plan,):
            _ask_all(problem, schedule, told, effort, every, seed)
    return told


def _ask_all(
    problem: Problem, schedule: Schedule, told: Counter[str], effort: int, every: int, seed: int
) -> None:
    jobs = [number for number, aim in enumerate(problem.jobs) if aim.lasts]
    for size in range(1, len(jobs) + 1):
        for chosen in combinations(jobs, size):
            due = [loading_end(problem.jobs[job], schedule) for job in chosen]
            part = alone(problem, chosen[0]) if size == 1 else sub_book(problem, chosen)
            ladder = Ladder(part)
            answer: Refuted | bool | None = ladder.by_counting(due)
            if answer is None and told["questions"] % every == 0:
                told["by solver"] += 1
                answer = _of_solver(ladder, due, effort)
            told["questions"] += 1
            told["not known" if answer is None else "yes" if answer is True else "false"] += 1
            if isinstance(answer, Refuted):
                print(f"seed {seed - 1}, jobs {chosen}: {answer}", flush=True)


def _of_solver(ladder: Ladder, due: Sequence[int], effort: int) -> Refuted | bool | None:
    limits = Limits(effort=effort, workers=1)
    phased = ladder.in_phases(Purse(limits))
    if phased is not None and phased.end > due[0]:
        return Refuted(kind="solver")
    return ladder.by_solver(due, Purse(limits))


def _told(rows: Sequence[Row]) -> None:
    for row in rows:
        found = row.found
        took = "-" if found is None else f"{found.seconds} s ({found.processor_seconds}) {found.by}"
        print(
            f"{row.kind:9} seed {row.seed:2} {row.jobs:3} jobs {row.stages:4} stages"
            f" {row.days:3} days {took}",
            flush=True,
        )


def _each_single(seeds: Sequence[int], seconds: float) -> Iterator[Single]:
    for seed in seeds:
        for each in singles(seed, seconds):
            print(
                f"seed {seed:2} {each.stages:4} stages: cannot {each.cannot_days:6.2f} days,"
                f" plan {each.plan_days} days, {each.seconds} s ({each.processor_seconds})",
                flush=True,
            )
            yield each


def _sums(rows: Sequence[Row]) -> Iterator[dict[str, object]]:
    for key in sorted({(row.kind, row.jobs, row.days) for row in rows}):
        same = [row for row in rows if (row.kind, row.jobs, row.days) == key]
        found = [row.found for row in same if row.found is not None]
        yield {
            "kind": key[0],
            "jobs": key[1],
            "days": key[2],
            "asked": len(same),
            "proved": len(found),
            "median_seconds": median(each.seconds for each in found) if found else None,
            "median_processor_seconds": (
                median(each.processor_seconds for each in found) if found else None
            ),
            "by": dict(Counter(each.by for each in found)),
        }


def _numbers(text: str) -> list[int]:
    return [int(each) for each in text.split(",") if each]


def main(argv: list[str]) -> int:
    """Ask what was asked for, and print what came of it."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench proofs", description=__doc__)
    parser.add_argument("--jobs", type=_numbers, default=[1, 4, 12])
    parser.add_argument("--days", type=_numbers, default=[1, 3, 10])
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--overload", action="store_true")
    parser.add_argument("--single", action="store_true")
    parser.add_argument("--questions", type=int, default=0)
    parser.add_argument("--every", type=int, default=20, help="so many-th question by the solver")
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--effort", type=int, help="of the solver, a question")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    told: dict[str, object] = {}
    limits = Limits(seconds=asked.seconds, workers=2)
    if asked.effort:
        limits = Limits(effort=asked.effort, workers=1)
    seeds = range(asked.first, asked.first + asked.seeds)
    if asked.questions:
        told["questions"] = counts = questions(
            asked.questions, asked.first, asked.effort or 20, asked.every
        )
        print(dict(counts))
    elif asked.single:
        told["singles"] = [asdict(each) for each in _each_single(seeds, asked.seconds)]
    else:
        rows: list[Row] = []
        for kind in (planted, overloaded) if asked.overload else (planted,):
            for seed in seeds:
                for jobs in asked.jobs:
                    new = list(kind(jobs, asked.days, seed, limits))
                    _told(new)
                    rows += new
        told["rows"] = list(_sums(rows))
        for each in _sums(rows):
            print(each)
    if asked.json:
        print(json.dumps(told))
    return 1 if asked.questions and counts["false"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
