"""How sure plans are said to be, and how often they then are: ``python -m tests.bench chance``.

Three things. Speed: 2,048 draws of the book of 600 stages, processor seconds, best of a few runs.
Reference: the same draws, each by a whole placement pass in planned order with every rule, on
--reference draws of a book; by how many days loading ends later there, and how the shares differ.
Calibration: --worlds small made-up workshops. Each is planned and its jobs' chances are said; then
the world is drawn once from another family (hours log-normal about what was written, of one kind
and of one workshop alike by other correlations, answers by another spread) and worked through by a
whole placement pass. Jobs are put into bands of five points from 70 up by what was said; a band
holds where as many windows were kept as its binomial band (two-sided, 95 of 100) allows. bias: said
less kept, over all jobs of a band, in points.

Ends with 1 where the same seed says something else.
"""

import argparse
import json
import sys
from dataclasses import dataclass, replace
from datetime import timedelta
from math import comb, exp, log, sqrt
from random import Random
from time import process_time

import numpy as np

from scheduler.chance import chances_of
from scheduler.chance.arrays import Floats
from scheduler.chance.estimate import _Asking
from scheduler.chance.luck import Luck
from scheduler.kept import Kept
from shared.book import Book, Job
from tests.bench._placed_draws import NEVER, placed_ends
from tests.bench._warm import Warm
from tests.books.sized import Size, sized_book

BANDS = range(70, 100, 5)
RUNS = 3
WORLD_DRAWS = 512
ALIKE, OVERALL = 0.35, 0.05
"""How closely hours of one kind, and of a workshop, go together in the worlds."""
ANSWERS_SPREAD, AGAIN = 0.45, 0.25
Row = dict[str, object]


@dataclass(frozen=True)
class Said:
    chance: int
    is_kept: bool


def a_world(seed: int) -> Book:
    """Give a small workshop; how close its windows are is drawn as well."""
    draw = Random(f"chance/{seed}")
    stages = draw.choice((50, 60, 70, 80))
    book = sized_book(Size(stages=stages, people=6, seed=seed, jobs=draw.choice((1, 2))))
    later = timedelta(days=draw.choice((0, 5, 10, 20, 30)))
    return replace(book, jobs=tuple(_moved(job, later) for job in book.jobs))


def _moved(job: Job, later: timedelta) -> Job:
    windows = tuple(
        replace(window, start=window.start + later, end=window.end + later)
        for window in job.windows
    )
    return replace(job, windows=windows)


def drawn_otherwise(asking: _Asking, luck: Luck, seed: int) -> Luck:
    """Draw one world from another family, on the same stages and answers."""
    draw = Random(f"world/{seed}")
    normal = asking._normal
    steps = {step.id: step for job in normal.book.jobs for step in job.steps}
    overall = draw.gauss(0, 1)
    kinds: dict[object, float] = {}
    factors: list[Floats | float] = []
    for name, factor in zip(normal.stages, luck.factors, strict=True):
        if isinstance(factor, float):
            factors.append(factor)
            continue
        kind = getattr(steps[name.step], "kind", None)
        kinds.setdefault(kind, draw.gauss(0, 1))
        z = sqrt(OVERALL) * overall + sqrt(ALIKE) * kinds[kind]
        z += sqrt(1 - OVERALL - ALIKE) * draw.gauss(0, 1)
        mean, spread = float(factor.mean()), float(factor.std())
        # Log-normal with the mean and the spread that were written.
        sigma = sqrt(log(1 + (spread / mean) ** 2))
        factors.append(np.full(1, mean * exp(sigma * z - sigma**2 / 2)))
    answers = {}
    for gate, each in luck.answers.items():
        median = {number: float(np.median(row)) for number, row in each.days.items()}
        noes = 0
        while noes < 2 and draw.random() < AGAIN:
            noes += 1
        days = {
            number: np.array([max(1, round(middle * exp(ANSWERS_SPREAD * draw.gauss(0, 1))))])
            for number, middle in median.items()
        }
        answers[gate] = replace(
            each, days=days, noes=np.array([noes]), changes=np.zeros(1, dtype=np.int32)
        )
    return replace(luck, factors=tuple(factors), answers=answers, weather=np.array([draw.random()]))


def said_and_kept(seed: int) -> list[Said]:
    """Say the chances of a world's jobs, and work the world through."""
    book = a_world(seed)
    _, _, plan = Warm().first(book, justified=True)
    asking = _Asking(book, plan, WORLD_DRAWS, 1, Kept())
    replay = asking.replay()
    world = drawn_otherwise(asking, replay.luck, seed)
    (ends,) = placed_ends(asking._normal, asking._planned, world, [0], asking._bank.upto)
    return [
        Said(chance=chance, is_kept=ends[position] <= (aim.latest or 0))
        for position, aim in enumerate(asking._normal.problem.jobs)
        if (chance := replay.chances.get(position)) is not None
    ]


def band_of(said: list[Said], low: int) -> Row:
    """Give how often the jobs of a band kept their windows, and whether that is as was said."""
    mine = [each for each in said if low <= each.chance < low + 5]
    count, kept = len(mine), sum(each.is_kept for each in mine)
    mean = sum(each.chance for each in mine) / count if count else 0.0
    return {
        "band": f"{low}-{low + 4}",
        "jobs": count,
        "said": round(mean, 1),
        "kept": round(100 * kept / count, 1) if count else None,
        "bias": round(mean - 100 * kept / count, 1) if count else None,
        "holds": bool(count) and in_band(count, kept, mean / 100),
    }


def in_band(count: int, kept: int, share: float) -> bool:
    """Say whether so many of a count are within the binomial band of a share, 95 of 100."""
    below = sum(_binomial(count, each, share) for each in range(kept + 1))
    above = sum(_binomial(count, each, share) for each in range(kept, count + 1))
    return below > 0.025 and above > 0.025


def _binomial(count: int, each: int, share: float) -> float:
    return comb(count, each) * share**each * (1 - share) ** (count - each)


def speed(stages: int) -> Row:
    book = sized_book(Size(stages=stages, people=12, seed=1))
    _, _, plan = Warm().first(book, justified=True)
    kept = Kept()
    first = chances_of(book, plan, draws=64, kept=kept, with_overrun=False)
    best, found = 1e9, []
    for _ in range(RUNS):
        begun = process_time()
        found.append(chances_of(book, plan, kept=kept, with_overrun=False))
        best = min(best, process_time() - begun)
    is_same = all(each == found[0] for each in found) and first.jobs[0].id == found[0].jobs[0].id
    return {"stages": stages, "seconds": round(best, 2), "is_same": is_same}


def reference(stages: int, count: int) -> Row:
    """Compare pools with placement passes on the same draws."""
    book = sized_book(Size(stages=stages, people=12, seed=1))
    _, _, plan = Warm().first(book, justified=True)
    asking = _Asking(book, plan, max(count, 64), 1, Kept())
    replay = asking.replay()
    rows = placed_ends(
        asking._normal, asking._planned, replay.luck, range(count), asking._bank.upto
    )
    ends = np.array(list(rows))
    days, shares = [], []
    for position, aim in enumerate(asking._normal.problem.jobs):
        mine, other = replay.loaded[position][:count], ends[:, position]
        fits = other < NEVER
        days.append(float((mine[fits] - other[fits]).mean()) / 96)
        latest = aim.latest or 0
        shares.append(100 * float((mine <= latest).mean() - (other <= latest).mean()))
    return {
        "stages": stages,
        "draws": count,
        "days_later_in_pools": [round(each, 1) for each in days],
        "points_surer_in_pools": [round(each) for each in shares],
        "mean_points": round(sum(shares) / len(shares), 1),
    }


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench chance")
    parser.add_argument("--worlds", type=int, default=500)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--reference", type=int, default=50)
    parser.add_argument("--stages", type=int, default=600)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    found: Row = {}
    if asked.stages:
        found["speed"] = speed(asked.stages)
    if asked.reference:
        found["reference"] = reference(min(asked.stages or 200, 200), asked.reference)
    said: list[Said] = []
    for seed in range(asked.first, asked.first + asked.worlds):
        said += said_and_kept(seed)
    if asked.worlds:
        found["bands"] = [band_of(said, low) for low in BANDS]
        known = [each for each in said if each.chance >= BANDS[0]]
        kept = sum(each.is_kept for each in known)
        mean = sum(each.chance for each in known) / max(1, len(known))
        found["bias"] = round(mean - 100 * kept / max(1, len(known)), 1)
    for name, value in found.items():
        for row in value if isinstance(value, list) else [value]:
            print(name, row)
    if asked.json:
        print(json.dumps(found))
    return 0 if not asked.stages or speed_is_same(found) else 1


def speed_is_same(found: Row) -> bool:
    row = found["speed"]
    return isinstance(row, dict) and bool(row["is_same"])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
