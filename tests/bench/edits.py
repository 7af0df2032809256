"""One edit of a workshop's book, answered: ``python -m tests.bench edits [--tries N]``.

A book is planned, its plan bettered by some passes and told; then one thing changes: a stage takes
three hours longer, somebody is ill for three days, a job comes in, a window is a day earlier.
Measured in processor time, tables of the book before warm: normalised, indexed, repaired, made a
plan and checked. Moved: stages that begin at another time or are done by others.
"""

import argparse
import gc
import json
import sys
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from itertools import pairwise
from random import Random
from statistics import median
from time import process_time

from app.__main__ import NEW_BEFORE_A_SWEEP, SWEEPS_OF_OLDER
from scheduler.aims import missed_jobs
from scheduler.calendar import Index
from scheduler.check import check
from scheduler.check.memory import CheckMemory
from scheduler.edited import carried
from scheduler.normalise import Normal, normalise
from scheduler.normalise.memory import Memory
from scheduler.problem import Schedule
from scheduler.repair import repaired
from scheduler.search import Spot
from scheduler.spots import spots_of
from scheduler.tables import Tables
from scheduler.unfold import to_plan
from scheduler.urgency import countback_order
from shared.book import Book
from tests.books.edited import Edit, Planned, ill, longer, new_job, planned, sooner
from tests.books.sized import Size, sized_book

EDITS: dict[str, Edit] = {"longer": longer, "ill": ill, "new_job": new_job, "sooner": sooner}
PARTS = ("normalise", "index", "repair", "unfold", "check")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What one edit took and moved. parts: milliseconds, as PARTS."""

    kind: str
    seed: int
    seconds: float
    parts: tuple[int, ...]
    moved: int
    told_moved_percent: float
    missed_before: int
    missed: int


class Warm:
    """The tables that a process keeps between questions, as after a first plan."""

    def __init__(self, was: Planned) -> None:
        self._was = was
        self._memory, self._tables, self._checks = Memory(), Tables(), CheckMemory()
        normal = normalise(was.book, was.now, memory=self._memory)
        countback_order(Index(normal.problem, tables=self._tables))

    def answered(self, kind: str, seed: int, book: Book) -> Answer:
        """Answer the book before the edit, then the edited one; give what that takes."""
        self._asked(self._was.book)
        laps, normal, found = self._asked(book)
        moved, told = _moved(normal, self._was, found)
        before = self._was.before
        return Answer(
            kind=kind,
            seed=seed,
            seconds=round(laps[-1] - laps[0], 3),
            parts=tuple(round(1000 * (b - a)) for a, b in pairwise(laps)),
            moved=moved,
            told_moved_percent=told,
            missed_before=len(missed_jobs(before.normal.problem, before.schedule)),
            missed=len(missed_jobs(normal.problem, found)),
        )

    def _asked(self, book: Book) -> tuple[list[float], Normal, Schedule]:
        laps = [process_time()]
        normal = normalise(book, self._was.now, memory=self._memory)
        laps.append(process_time())
        index = Index(normal.problem, tables=self._tables)
        laps.append(process_time())
        found = repaired(normal, index, self._was.before)
        assert found is not None
        laps.append(process_time())
        plan = to_plan(normal, found)
        laps.append(process_time())
        checked = check(book, plan, self._checks)
        laps.append(process_time())
        assert not checked.breaches, checked.breaches
        return laps, normal, found


def _moved(normal: Normal, was: Planned, found: Schedule) -> tuple[int, float]:
    """Give how many stages have moved, and the share of told ones that have, in per cent."""
    kept = carried(normal, was.before)
    spots = spots_of(found)
    moved = {stage for stage, spot in kept.spots.items() if _is_moved(spots.get(stage), spot)}
    moved |= kept.starts.keys() - kept.spots.keys()
    told = [at for at, stage in enumerate(normal.problem.stages) if stage.told_start is not None]
    share = 100 * len(moved.intersection(told)) / max(1, len(told))
    return len(moved), round(share, 1)


def _is_moved(spot: Spot | None, was: Spot) -> bool:
    return spot is None or (spot.start, sorted(spot.team)) != (was.start, sorted(was.team))


def _summed(kind: str, rows: Sequence[Answer]) -> dict[str, object]:
    seconds = [row.seconds for row in rows]
    return {
        "kind": kind,
        "count": len(rows),
        "median_seconds": round(median(seconds), 3),
        "worst_seconds": max(seconds),
        "median_moved": median(row.moved for row in rows),
        "worst_moved": max(row.moved for row in rows),
        "worst_told_moved_percent": max(row.told_moved_percent for row in rows),
        "over_five_percent": sum(row.told_moved_percent > 5 for row in rows),
        "windows_lost": sum(row.missed > row.missed_before for row in rows),
        "median_parts": dict(
            zip(
                PARTS,
                (median(each) for each in zip(*(r.parts for r in rows), strict=True)),
                strict=True,
            )
        ),
    }


def main(argv: list[str]) -> int:
    """Measure each kind of edit on some books."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench edits", description=__doc__)
    parser.add_argument("--stages", type=int, default=600)
    parser.add_argument("--people", type=int, default=12)
    parser.add_argument("--looser", type=int, default=0, help="windows by so many per cent later")
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--tries", type=int, default=5)
    parser.add_argument("--passes", type=int, default=80)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    gc.set_threshold(NEW_BEFORE_A_SWEEP, *SWEEPS_OF_OLDER)
    answers: list[Answer] = []
    for seed in range(1, asked.seeds + 1):
        size = Size(
            stages=asked.stages, people=asked.people, seed=seed, tight_percent=-asked.looser
        )
        was = planned(sized_book(size), asked.passes)
        warm = Warm(was)
        for kind, edit in EDITS.items():
            for number in range(asked.tries):
                book = edit(was, Random(f"{seed} {kind} {number}"))
                answers.append(warm.answered(kind, seed, book))
                print(answers[-1], flush=True)
    sums = [_summed(kind, [row for row in answers if row.kind == kind]) for kind in EDITS]
    for each in [*sums, _summed("all", answers)]:
        print(each)
    if asked.json:
        print(json.dumps({"kinds": sums, "rows": [asdict(row) for row in answers]}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
