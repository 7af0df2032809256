"""What planning costs as books grow: ``python -m tests.bench size [--stages N ...] [--json]``.

Books of tests/books/sized.py: the same workshop of twelve with more and more jobs one after the
other, and a workshop that grows with its book. Seconds are of the processor (one thread), the best
of a few runs, each on the book with another stage's hours changed, in a fresh process for each
book. first_plan: from the book to a plan that is checked, tables warm; cold_plan: the same with
nothing kept; justified: pulled together from behind besides; countback: latest times of all stages;
slack: of all jobs and stages; edit: a plan repaired and checked after a stage takes three hours
longer (placed anew where no repair is found); peak_mb: the most memory before cold_plan. The
exponent is that of first_plan over the rows of 600 stages and more.

--against SECONDS: how soon bare CP-SAT has a plan of the book (rows of up to 600 stages), with two
workers. Ends with 1 if a plan is broken.
"""

import argparse
import gc
import json
import math
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from time import process_time

from app.__main__ import NEW_BEFORE_A_SWEEP, SWEEPS_OF_OLDER
from scheduler.aims import loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.countback import latest
from scheduler.edited import Before
from scheduler.normalise import Normal
from scheduler.problem import Schedule
from scheduler.repair import repaired
from scheduler.shifts import first_schedule
from scheduler.slack import slack_minutes
from shared.book import Book, Stage, Told
from shared.plan import Plan
from shared.units import STEP_MINUTES
from tests.bench._warm import Broken, Warm
from tests.books.sized import Size, sized_book
from tests.house.tree import ROOT

STAGES = (200, 600, 2000, 4000)
PEOPLE = 12
PEOPLE_GROW_FROM = 600
AGAINST_MOST = 600
CHILD_SECONDS_MOST = 3600
RUNS = 3
LONGER_HOURS = 3
MEASURED = ("first_plan", "cold_plan", "justified", "countback", "slack", "edit")
STEP = timedelta(minutes=STEP_MINUTES)
Row = dict[str, float | int | None]


def longer(book: Book, number: int) -> Book:
    """Let some stage take three hours longer for each pair of hands."""
    job = book.jobs[(3 * number + 1) % len(book.jobs)]
    stages = [step for step in job.steps if isinstance(step, Stage) and not step.in_one_go]
    step = stages[number % len(stages)]
    ways = tuple(
        replace(way, hours=replace(way.hours, likely=more, high=max(more, way.hours.high)))
        for way in step.ways
        if (more := way.hours.likely + Decimal(LONGER_HOURS * way.hands_count))
    )
    steps = tuple(replace(step, ways=ways) if each is step else each for each in job.steps)
    jobs = tuple(replace(job, steps=steps) if each is job else each for each in book.jobs)
    return replace(book, jobs=jobs, revision=book.revision + 1)


def best_seconds(
    work: Callable[[int], object], before: Callable[[], object] | None = None, runs: int = RUNS
) -> float:
    """Give the least processor time of a few runs. before: done before each, not counted."""
    least = math.inf
    for number in range(runs):
        if before is not None:
            before()
        gc.collect()
        begun = process_time()
        work(number)
        least = min(least, process_time() - begun)
    return round(least, 4)


def row_of(size: Size) -> Row:
    """Measure one book in this process."""
    book = sized_book(size)
    warm = Warm()
    normal, schedule, plan = warm.first(book, justified=True)
    edits = [longer(book, number) for number in range(RUNS)]
    seconds = {
        "first_plan": best_seconds(lambda n: warm.first(edits[n])),
        "justified": best_seconds(lambda n: warm.first(edits[n], justified=True)),
        **_of_times(warm, book, normal, schedule),
        "edit": _edit_seconds(warm, book, schedule, plan),
    }
    peak = peak_mb()
    seconds["cold_plan"] = best_seconds(lambda n: Warm().first(edits[n]))
    return {
        "stages": len(normal.problem.stages),
        "people": size.people,
        **{f"{name}_seconds": seconds[name] for name in MEASURED},
        "peak_mb": peak,
    }


def _of_times(warm: Warm, book: Book, normal: Normal, schedule: Schedule) -> dict[str, float]:
    """Measure latest times, and slack by them, each of a fresh index."""
    fresh: list[Index] = []

    def index() -> None:
        fresh[:] = [warm.index(normal)]

    return {
        "countback": best_seconds(lambda _: latest(fresh[0]), index),
        "slack": best_seconds(
            lambda _: slacks(book, normal, schedule, latest(fresh[0]).ends), index
        ),
    }


def slacks(
    book: Book, normal: Normal, schedule: Schedule, latest_ends: tuple[int | None, ...]
) -> tuple[list[int | None], list[int | None]]:
    """Give working minutes of slack by job, and steps to its latest end by stage."""
    jobs = [
        None
        if job.latest is None
        else slack_minutes(
            book.workshop,
            normal.origin + loading_end(job, schedule) * STEP,
            normal.origin + job.latest * STEP,
        )
        for job in normal.problem.jobs
    ]
    stages = [
        None if last is None else last - end
        for last, end in zip(latest_ends, schedule.ends, strict=True)
    ]
    return jobs, stages


def _edit_seconds(warm: Warm, book: Book, schedule: Schedule, plan: Plan) -> float:
    assert book.as_of is not None
    told = replace(book, plan=plan, told=Told(plan=plan, at=book.as_of, told_by="Mira"))
    before = Before(normal=warm.normal(told), schedule=schedule)
    edits = [longer(told, number) for number in range(RUNS)]

    def answer(number: int) -> None:
        normal = warm.normal(edits[number])
        index = warm.index(normal)
        found: Schedule | Unfit | None = repaired(normal, index, before)
        if found is None:
            found = first_schedule(index, 1)
        if isinstance(found, Unfit):
            raise Broken(f"{book.name}: nothing fits after the edit")
        warm.checked(edits[number], normal, found)

    return best_seconds(answer)


def peak_mb() -> int | None:
    """Give the most memory this process has had, None where the system does not say."""
    if sys.platform == "win32":
        return None
    import resource

    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return round(peak / (1024 * 1024 if sys.platform == "darwin" else 1024))


def exponent_of(rows: list[Row]) -> float | None:
    """Give the slope of seconds over stages, both as logarithms, by least squares."""
    points = [
        (math.log(row["stages"] or 1), math.log(row["first_plan_seconds"] or 1))
        for row in rows
        if (row["stages"] or 0) >= PEOPLE_GROW_FROM
    ]
    if len(points) <= 1:
        return None
    mean_x = sum(x for x, _ in points) / len(points)
    mean_y = sum(y for _, y in points) / len(points)
    over = sum((x - mean_x) * (y - mean_y) for x, y in points)
    return round(over / sum((x - mean_x) ** 2 for x, _ in points), 3)


def _in_a_process(size: Size, against: float | None) -> Row:
    """Measure one book in a fresh process; against: and bare CP-SAT in another."""
    words = ["--row", str(size.stages), str(size.people), str(size.seed)]
    row = _asked_of("size", words)
    if against is None or size.stages > AGAINST_MOST:
        return row
    words = ["--stages", str(size.stages), "--people", str(size.people), "--seed", str(size.seed)]
    found = _asked_of("whole_book", [*words, "--seconds", str(against), "--until-first", "--json"])
    first = found["first_seconds"]
    ratio = round((first or against) / (row["first_plan_seconds"] or 1), 1)
    return {**row, "bare_first_seconds": first, "bare_ratio_at_least": ratio}


def _asked_of(bench: str, words: list[str]) -> Row:
    command = [sys.executable, "-m", "tests.bench", bench, *words]
    done = subprocess.run(
        command, cwd=ROOT, stdout=subprocess.PIPE, check=False, timeout=CHILD_SECONDS_MOST
    )
    if done.returncode:
        raise Broken(f"{bench} {' '.join(words)} ended with {done.returncode}")
    row: Row = json.loads(done.stdout.decode().splitlines()[-1])
    return row


def _grown(stages: int, seed: int) -> Size:
    people = max(PEOPLE, round(PEOPLE * stages / PEOPLE_GROW_FROM))
    return Size(stages=stages, people=people, seed=seed)


def _print(name: str, rows: list[Row]) -> None:
    for row in rows:
        print(f"{name:8}" + "  ".join(f"{key} {value}" for key, value in row.items()), flush=True)


def main(argv: list[str]) -> int:
    """Measure all rows and print them."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench size", description=__doc__)
    parser.add_argument("--stages", type=int, nargs="+", default=list(STAGES))
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--against", type=float, help="seconds for bare CP-SAT")
    parser.add_argument("--same-only", action="store_true", help="no grown workshops")
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--row", type=int, nargs=3, help=argparse.SUPPRESS)
    asked = parser.parse_args(argv)
    gc.set_threshold(NEW_BEFORE_A_SWEEP, *SWEEPS_OF_OLDER)
    try:
        if asked.row:
            stages, people, seed = asked.row
            print(json.dumps(row_of(Size(stages=stages, people=people, seed=seed))))
            return 0
        rows, grown = _measured(asked)
    except Broken as broken:
        print(broken, file=sys.stderr)
        return 1
    told = {"rows": rows, "grown": grown, "exponent": exponent_of(rows)}
    print(f"exponent {told['exponent']}")
    if asked.json:
        print(json.dumps(told))
    return 0


def _measured(asked: argparse.Namespace) -> tuple[list[Row], list[Row]]:
    rows, grown = [], []
    for stages in asked.stages:
        rows.append(_in_a_process(Size(stages=stages, seed=asked.seed), asked.against))
        _print("same", rows[-1:])
    for stages in () if asked.same_only else asked.stages:
        grown.append(_in_a_process(_grown(stages, asked.seed), None))
        _print("grown", grown[-1:])
    return rows, grown


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
