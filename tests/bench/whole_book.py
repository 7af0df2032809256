"""Plain CP-SAT on a whole book: ``python -m tests.bench whole_book [BOOK] [--stages N --seed N]``.

The best plain model we can write: every rule stated exactly, every stage free from now on, one
objective that weighs windows, hours late, hours short of the wish and floor time, two workers.
Nothing is cut into parts, and nothing is known but what is hinted. --hint: the first justified plan
is given. --until-first: stops at the first plan. Every plan that counts goes through the check;
ends with 1 if one is broken.
"""

import argparse
import json
import sys
from dataclasses import dataclass, field
from pathlib import Path
from time import monotonic

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.model import objective
from scheduler.model.answer import hint as give_hint
from scheduler.model.build import build
from scheduler.model.keeping import run_keeping
from scheduler.model.run import Limits
from scheduler.problem import Problem, Schedule
from shared.book import Book
from shared.examine import take_in
from tests.bench._warm import Broken, Warm, single_number
from tests.books.sized import Size, sized_book

WORKERS = 2
WEIGHTS = {1: 2_000_000, 2: 2_000_000, 3: 2_000, 4: 50, 8: 1}
"""What single_number weighs, by level."""


@dataclass(slots=True)
class Found:
    """What the solver came to.

    schedule: the best, None if none was found. first_seconds: when the first came, building
    included. bound: no plan's number is less.
    """

    problem: Problem
    begun: float
    schedule: Schedule | None = None
    first_seconds: float | None = None
    build_seconds: float = 0.0
    bound: int | None = None
    curve: list[tuple[float, int]] = field(default_factory=list)

    @property
    def number(self) -> int | None:
        """Return what the best schedule weighs."""
        return None if self.schedule is None else _number(self.problem, self.schedule)

    def take(self, schedule: Schedule) -> None:
        """Note a schedule."""
        seconds = round(monotonic() - self.begun, 2)
        if self.first_seconds is None:
            self.first_seconds = seconds
        number = _number(self.problem, schedule)
        if self.number is None or number < self.number:
            self.schedule = schedule
            self.curve.append((seconds, number))


def _number(problem: Problem, schedule: Schedule) -> int:
    return single_number(levels(problem, schedule))


def solve_whole_book(
    index: Index, seconds: float, *, hint: Schedule | None = None, until_first: bool = False
) -> Found:
    """Solve a book in one model; hint: a schedule to start from, which counts as found."""
    found = Found(problem=index.problem, begun=monotonic(), schedule=hint)
    frame = build(index, wanted=() if hint is None else hint.teams)
    if hint is not None:
        give_hint(frame, hint)
    goal = sum((WEIGHTS[at] * objective.level(frame, at) for at in WEIGHTS), start=0)
    found.build_seconds = round(monotonic() - found.begun, 2)
    answer = run_keeping(
        frame,
        goal,
        Limits(seconds=max(0.1, seconds - found.build_seconds), workers=WORKERS),
        cancel=lambda: until_first and found.first_seconds is not None,
        on_schedule=found.take,
    )
    if answer.schedule is not None:
        found.take(answer.schedule)
    found.bound = answer.bound
    return found


def _book(asked: argparse.Namespace) -> Book:
    if asked.book is None:
        return sized_book(Size(stages=asked.stages, people=asked.people, seed=asked.seed))
    book = take_in(asked.book.read_bytes()).book
    if book is None or book.as_of is None:
        raise SystemExit(f"{asked.book}: no book that says as of when")
    return book


def main(argv: list[str]) -> int:
    """Solve one book and print what came of it."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench whole_book", description=__doc__)
    parser.add_argument("book", nargs="?", type=Path)
    parser.add_argument("--stages", type=int, default=200)
    parser.add_argument("--people", type=int, default=12)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=120)
    parser.add_argument("--hint", action="store_true")
    parser.add_argument("--until-first", action="store_true")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    book, warm = _book(asked), Warm()
    normal = warm.normal(book)
    try:
        hint = warm.first(book, justified=True)[1] if asked.hint else None
        found = solve_whole_book(
            warm.index(normal), asked.seconds, hint=hint, until_first=asked.until_first
        )
        if found.schedule is not None:
            warm.checked(book, normal, found.schedule)
    except Broken as broken:
        print(broken, file=sys.stderr)
        return 1
    told = {
        "stages": len(normal.problem.stages),
        "build_seconds": found.build_seconds,
        "first_seconds": found.first_seconds,
        "levels": None if found.schedule is None else levels(normal.problem, found.schedule),
        "number": found.number,
        "bound": found.bound,
    }
    print("  ".join(f"{key} {value}" for key, value in told.items()))
    if asked.json:
        print(json.dumps(told))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
