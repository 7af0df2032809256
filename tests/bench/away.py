"""A key person away for three days: ``python -m tests.bench away [--seeds N] [--stages N]``.

A workshop's book is planned, told, and whoever has most to do in the next five days is away from
tomorrow on. Measured: seconds and processor seconds of the answers, and what the first of them
changes for others, against planning the book with the absence afresh.
"""

import argparse
import json
import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from time import perf_counter, process_time

from scheduler.away.search import answers
from scheduler.outcome import Outcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.told_changes import told_changes
from shared.absence import Absence, AwayKind
from shared.book import Book
from shared.edits import mark_away, tell_plan
from shared.ids import PersonId
from tests.books.sized import Size, sized_book

DAYS = timedelta(days=3)
SOON = timedelta(days=5)
KEPT = (Verdict.FITS, Verdict.TIGHT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What one absence took and changed. missed: windows: before, at the first answer, afresh."""

    seed: int
    stages: int
    touched: int
    answers: int
    seconds: float
    processor_seconds: float
    points: float
    points_afresh: float
    people: int
    people_afresh: int
    missed_before: int
    missed: int
    missed_least: int
    missed_afresh: int


def main(argv: Sequence[str]) -> int:
    """Measure so many absences and print a line for each, then all as JSON."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench away", description=__doc__)
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--stages", type=int, default=600)
    parser.add_argument("--seconds", type=float, default=3)
    asked = parser.parse_args(argv)
    found = [measured(seed, asked.stages, asked.seconds) for seed in range(1, asked.seeds + 1)]
    for each in found:
        print(line(each))
    print(json.dumps([asdict(each) for each in found]))
    return 0


def measured(seed: int, stages: int, seconds: float) -> Figures:
    """Return what the absence of the key person of one workshop takes and changes."""
    book = sized_book(Size(stages=stages, people=12, seed=seed))
    assert book.as_of is not None
    now = book.as_of
    outcome = solve(SolveRequest(book=book, now=now, seconds=10))
    told = tell_plan(book, outcome.plan, now).book
    absence = away(outcome, now)
    began, worked = perf_counter(), process_time()
    found = answers(SolveRequest(book=told, now=now, seconds=seconds), absence)
    took, worked = perf_counter() - began, process_time() - worked
    first, best = found.answers[0], min(len(each.missed) for each in found.answers)
    afresh = planned_afresh(told, absence, now)
    anew = told_changes(told, afresh.plan, now, missing=(PersonId(absence.id),))
    return Figures(
        seed=seed,
        stages=len(outcome.plan.placements),
        touched=len(found.hits),
        answers=len(found.answers),
        seconds=round(took, 2),
        processor_seconds=round(worked, 2),
        points=float(first.changes.points),
        points_afresh=float(anew.points),
        people=len(first.changes.people),
        people_afresh=len(anew.people),
        missed_before=_missed(outcome),
        missed=len(first.missed),
        missed_least=best,
        missed_afresh=_missed(afresh),
    )


def away(outcome: Outcome, now: datetime) -> Absence:
    """Return three days of whoever has most to do in five: from tomorrow, or once work begins."""
    busy: Counter[PersonId] = Counter()
    first = min(placed.start for placed in outcome.plan.placements if placed.people)
    now = max(now, first - timedelta(days=1))
    for placed in outcome.plan.placements:
        if placed.start < now + SOON:
            for person in placed.people:
                busy[person] += int((placed.end - placed.start).total_seconds())
    who = busy.most_common(1)[0][0]
    start = now.replace(hour=0, minute=0) + timedelta(days=1)
    return Absence(kind=AwayKind.PERSON, id=who, start=start, end=start + DAYS)


def planned_afresh(told: Book, absence: Absence, now: datetime) -> Outcome:
    """Plan the book with the absence as if nobody had been told anything."""
    book = replace(mark_away(told, absence).book, told=None)
    return solve(SolveRequest(book=book, now=now, seconds=4))


def _missed(outcome: Outcome) -> int:
    return sum(job.verdict not in KEPT for job in outcome.jobs)


def line(each: Figures) -> str:
    """Give one absence as a line."""
    share = each.points / each.points_afresh if each.points_afresh else 0.0
    return (
        f"seed {each.seed}: {each.touched} touched, {each.answers} answers in {each.seconds} s "
        f"({each.processor_seconds} s of a processor); changes {each.points} and afresh "
        f"{each.points_afresh} ({share:.2f}), people {each.people} and {each.people_afresh}; "
        f"windows missed {each.missed_before} before, {each.missed} at the first, "
        f"{each.missed_least} at the best, {each.missed_afresh} afresh"
    )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
