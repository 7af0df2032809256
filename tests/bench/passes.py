"""Every way to a plan, on generated books: ``python -m tests.bench passes [--books N]``.

Each book goes through a placement pass, justification, a few shifts of jobs and a repair after an
edit, every fourth through a few parts too; every plan goes through the check. Books for which a
pass finds no place for something go to the whole engine instead. --first: number of the first
book. Ends with 1 if any plan breaks a rule.
"""

import argparse
import json
import os
import sys
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from datetime import timedelta
from functools import partial
from random import Random
from time import perf_counter

from scheduler.chain import Unfit
from scheduler.edited import Before
from scheduler.improve import improve
from scheduler.justify import justify
from scheduler.problem import Schedule
from scheduler.repair import repaired
from scheduler.request import SolveRequest
from scheduler.shifts import improve_by_shifts
from scheduler.solve import solve
from scheduler.stop import AfterEffort
from shared.book import Book, Leave, Told
from tests.bench._warm import Warm, one_pass
from tests.bench.size import longer
from tests.books.shapes import SHAPES
from tests.books.sized import Size, sized_book

KINDS = (
    "ruled", "ruled", "ruled", "ruled", "tiny", "small", "sized", "workshop", "planted-plan",
)  # fmt: skip
SHIFTS = 3
PARTS_EFFORT = 20
PARTS_EVERY = 4
ILL_DAYS = 3


def book_of(number: int) -> Book:
    """Give the book of a number."""
    kind = KINDS[number % len(KINDS)]
    if kind != "sized":
        return SHAPES[kind](number).book
    draw = Random(number)
    stages = draw.randrange(60, 160)
    tight = draw.choice((0, 0, 14, 30))
    return sized_book(Size(stages=stages, people=12, seed=number, tight_percent=tight))


def edited(book: Book, draw: Random) -> Book:
    """Let a stage take longer, somebody be ill, or a window be a day sooner."""
    way = draw.randrange(3)
    if way == 0:
        return longer(book, draw.randrange(len(book.jobs)))
    if way == 1:
        assert book.as_of is not None
        person = draw.choice(book.people)
        since = book.as_of + timedelta(days=draw.randrange(0, 40))
        away = Leave(start=since, end=since + timedelta(days=ILL_DAYS), reason="ill")
        ill = replace(person, leave=(*person.leave, away))
        people = tuple(ill if each is person else each for each in book.people)
        return replace(book, people=people, revision=book.revision + 1)
    job = draw.choice(book.jobs)
    day = timedelta(days=1)
    windows = tuple(replace(w, start=w.start - day, end=w.end - day) for w in job.windows)
    sooner = replace(job, windows=windows)
    jobs = tuple(sooner if each is job else each for each in book.jobs)
    return replace(book, jobs=jobs, revision=book.revision + 1)


def plans_of(number: int, parts_effort: int) -> Iterator[tuple[str, int]]:
    """Make the plans of a book; give each one's name and how many rules it breaks."""
    book, draw, warm = book_of(number), Random(number), Warm()
    normal = warm.normal(book)
    index = warm.index(normal)
    found = one_pass(index)
    if isinstance(found, Unfit):
        yield "whole engine", _engine_breaches(book)
        return
    yield "pass", warm.breaches(book, normal, found)
    justified = justify(index, found)
    yield "justified", warm.breaches(book, normal, justified)
    shifted = improve_by_shifts(index, justified, seed=number, stop=AfterEffort(SHIFTS))
    yield "shifts", warm.breaches(book, normal, shifted)
    if number % PARTS_EVERY == 0:
        shifted = improve(index, shifted, seed=number, stop=AfterEffort(parts_effort))
        yield "parts", warm.breaches(book, normal, shifted)
    yield _repair(warm, book, shifted, draw)


def _engine_breaches(book: Book) -> int:
    assert book.as_of is not None
    outcome = solve(SolveRequest(book=book, now=book.as_of, effort=2, workers=1))
    return len(outcome.check.breaches)


def _repair(warm: Warm, book: Book, schedule: Schedule, draw: Random) -> tuple[str, int]:
    assert book.as_of is not None
    plan = warm.plan(warm.normal(book), schedule)
    told = replace(book, plan=plan, told=Told(plan=plan, at=book.as_of, told_by="Mira"))
    before = Before(normal=warm.normal(told), schedule=schedule)
    changed = edited(told, draw)
    normal = warm.normal(changed)
    found = repaired(normal, warm.index(normal), before)
    if found is None:
        return "not repaired", 0
    return "repaired", warm.breaches(changed, normal, found)


def ask(number: int, parts_effort: int) -> tuple[Counter[str], list[str]]:
    """Make the plans of one book; give counts of them, and lines about broken ones."""
    counts: Counter[str] = Counter(books=1)
    odd = []
    for name, breaches in plans_of(number, parts_effort):
        counts[name] += 1
        if breaches:
            counts["broken"] += 1
            odd.append(f"{number} {KINDS[number % len(KINDS)]}: {name} breaks {breaches} rules")
    return counts, odd


def main(argv: list[str]) -> int:
    """Go through so many books."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench passes", description=__doc__)
    parser.add_argument("--books", type=int, default=5000)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--parts-effort", type=int, default=PARTS_EFFORT)
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    counts: Counter[str] = Counter()
    begun = perf_counter()
    numbers = range(asked.first, asked.first + asked.books)
    with ProcessPoolExecutor(asked.processes) as pool:
        work = partial(ask, parts_effort=asked.parts_effort)
        for more, odd in pool.map(work, numbers, chunksize=4):
            counts += more
            for line in odd:
                print(line, flush=True)
    told = {"broken": 0, **counts, "seconds": round(perf_counter() - begun)}
    for name, count in sorted(told.items()):
        print(f"{name:32} {count}")
    if asked.json:
        print(json.dumps(told))
    return 1 if told["broken"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
