"""What learning is worth: ``python -m tests.bench learning [--seed N] [--seeds N] [--jobs N]``.

Each seed is a workshop whose estimates are off by kind: by 0.8 to 1.6, drawn evenly on the
logarithm, and once by nothing. Jobs of drawn ways of making and sizes are written, worked, and told
as the command line tells them; single stages spread by 0.3 on the logarithm (--alike 0.5: those of
one kind in one job alike by half), and some are booked ten times too long or too short. What is
then offered is taken, and as many other jobs are estimated with it and without.

Systematic is the mean logarithm of true over estimated hours by kind, its size averaged over kinds;
it has to fall by 70 %. Where nothing was off, the mean size of the logarithm of what a stage takes
over its estimate may grow by 2 %.
"""

import argparse
import json
import random
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from math import exp, log, sqrt
from statistics import fmean

from shared.book import Book, Kind, Segment, Stage
from shared.edits import mark_done, take_factor, take_route
from shared.estimate import estimate_of_segments
from shared.estimate.learning import learning_of
from shared.ids import JobId, PersonId, SegmentId
from shared.plan import Placement
from shared.routes import PROGRAM_ROUTES, program_route
from shared.worktime import HolidayRule, WorkCalendar, add_working
from tests.builders import a_book, a_job, a_person, a_segment, a_workshop, at

FALLS, GROWS = 0.70, 0.02
LEAST_BIAS, MOST_BIAS = 0.8, 1.6
SPREAD, ALIKE = 0.30, 0.0
ERRORS, OFF_BY = 0.02, 10
JOBS, SEEDS = 30, 20
START = at("2024-01-08 07:30")
ANA = PersonId("ana")
SHOP = a_workshop()
CALENDAR = WorkCalendar(
    zone=SHOP.zone,
    shifts=SHOP.shifts,
    holidays=HolidayRule(country=SHOP.country, subdivision=SHOP.subdivision, categories=()),
)


@dataclass(frozen=True)
class Commission:
    """What is asked for: a way of making with options, and its pieces."""

    route: str
    options: tuple[str, ...]
    pieces: tuple[Segment, ...]


@dataclass(frozen=True)
class Result:
    """Systematic parts and errors of one workshop, without what was learned and with it."""

    seed: int
    records: int
    left_out: int
    taken: int
    systematic: tuple[float, float]
    error: tuple[float, float]

    @property
    def fall(self) -> float:
        return 1 - self.systematic[1] / self.systematic[0]

    @property
    def growth(self) -> float:
        return self.error[1] / self.error[0] - 1


def commission(rng: random.Random, name: str) -> Commission:
    route = rng.choice(PROGRAM_ROUTES)
    known = program_route(route)
    assert known is not None
    options = tuple(option for option in known.options if rng.random() < 0.3)
    pieces = tuple(_piece(rng, f"{name}-{at_}") for at_ in range(rng.choice((1, 1, 2, 2, 3))))
    return Commission(route, options, pieces)


def _piece(rng: random.Random, name: str) -> Segment:
    def metres() -> Decimal:
        return Decimal(str(round(rng.uniform(0.7, 2.4), 1)))

    return replace(
        a_segment(),
        id=SegmentId(name),
        length_m=metres(),
        width_m=metres(),
        height_m=metres(),
        surface_m2=None,
        volume_m3=None,
        joints_m=None,
    )


def worked(rng: random.Random, jobs: int, bias: Mapping[Kind, float], alike: float) -> Book:
    """Return a book of jobs that were written, worked and told."""
    book = replace(a_book(), workshop=SHOP, people=(a_person(ANA),), jobs=(), facts=())
    for number in range(jobs):
        wanted = commission(rng, f"job{number}")
        job = a_job(f"job{number}", steps=(), segments=wanted.pieces)
        book = replace(book, jobs=(*book.jobs, job))
        route = program_route(wanted.route)
        assert route is not None
        ids = [piece.id for piece in wanted.pieces]
        book = take_route(book, JobId(job.id), ids, route, options=wanted.options).book
        of_job = {kind: rng.gauss(0, SPREAD * sqrt(alike)) for kind in Kind}
        for step in book.jobs[-1].steps:
            if isinstance(step, Stage):
                own = rng.gauss(0, SPREAD * sqrt(1 - alike))
                factor = bias[step.kind] * exp(of_job[step.kind] + own)
                factor *= rng.choice((OFF_BY, 1 / OFF_BY)) if rng.random() < ERRORS else 1
                book = _told(book, job.id, step, factor, number)
    return book


def _told(book: Book, job: JobId, stage: Stage, factor: float, week: int) -> Book:
    way = stage.ways[0]
    hours = float(way.hours.likely) * factor
    if not stage.in_one_go:
        hours *= float(SHOP.shift_hours / SHOP.useful_hours)
    start = START + timedelta(weeks=week)
    end = add_working(CALENDAR, start, 60 * max(1, round(60 * hours)))
    placed = Placement(
        job=job,
        step=stage.id,
        start=start,
        end=end,
        people=(ANA,),
        place=None,
        way=way.id,
    )
    return mark_done(book, placed, end, "Ana", end).book


def learned(book: Book) -> Book:
    """Return the book with every factor taken that is offered."""
    for each in learning_of(book).kinds:
        if each.is_offered:
            book = take_factor(book, each.kind, f"own records, {each.count} of them").book
    return book


def result_of(seed: int, jobs: int, *, biased: bool, alike: float = ALIKE) -> Result:
    rng = random.Random(f"{seed} {biased}")
    ends = log(LEAST_BIAS), log(MOST_BIAS)
    bias = {kind: exp(rng.uniform(*ends)) if biased else 1.0 for kind in Kind}
    book = worked(rng, jobs, bias, alike)
    after = learned(book)
    logs: dict[Kind, list[tuple[float, float]]] = defaultdict(list)
    errors: list[tuple[float, float]] = []
    for number in range(jobs):
        for kind, base, made in _lines(commission(rng, f"new{number}"), after):
            true = log(base * bias[kind])
            ratios = true - log(base), true - log(made)
            logs[kind].append(ratios)
            noise = rng.gauss(0, SPREAD)
            errors.append((abs(ratios[0] + noise), abs(ratios[1] + noise)))
    means = [
        tuple(abs(fmean(column)) for column in zip(*each, strict=True)) for each in logs.values()
    ]
    found = learning_of(book)
    return Result(
        seed=seed,
        records=found.count,
        left_out=len(found.left_out),
        taken=len(after.workshop.figures),
        systematic=(fmean(m[0] for m in means), fmean(m[1] for m in means)),
        error=(fmean(e[0] for e in errors), fmean(e[1] for e in errors)),
    )


def _lines(wanted: Commission, book: Book) -> list[tuple[Kind, float, float]]:
    """Return by line of an estimate its kind and its likely hours without learning and with it."""
    route = program_route(wanted.route)
    assert route is not None
    plain, made = (
        estimate_of_segments(shop, route, wanted.pieces, wanted.options).lines
        for shop in (SHOP, book.workshop)
    )
    by_stage = {line.stage: line for line in made}
    return [
        (line.kind, float(line.hours.likely), float(by_stage[line.stage].hours.likely))
        for line in plain
        if line.kind is not None and line.hours.likely
    ]


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench learning", description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="the first seed")
    parser.add_argument("--seeds", type=int, default=SEEDS)
    parser.add_argument("--jobs", type=int, default=JOBS)
    parser.add_argument("--alike", type=float, default=ALIKE, help="0: stages are independent")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    seeds = range(asked.seed, asked.seed + asked.seeds)
    falls, grows = [], []
    for seed in seeds:
        off, even = (
            result_of(seed, asked.jobs, biased=biased, alike=asked.alike)
            for biased in (True, False)
        )
        falls.append(off.fall)
        grows.append(even.growth)
        print(
            f"seed {off.seed}: {off.records} records, {off.left_out} left out, {off.taken} taken; "
            f"systematic {off.systematic[0]:.3f} to {off.systematic[1]:.3f}, "
            f"falls by {off.fall:.0%}; nothing off: {even.taken} taken, error "
            f"{even.error[0]:.4f} to {even.error[1]:.4f}, grows by {even.growth:.2%}",
            flush=True,
        )
    held = sum(f >= FALLS and g <= GROWS for f, g in zip(falls, grows, strict=True))
    print(
        f"falls by {fmean(falls):.0%} on the average, {min(falls):.0%} at least; grows by "
        f"{fmean(grows):.2%}, {max(grows):.2%} at most; both hold in {held} of {len(seeds)}"
    )
    if asked.json:
        print(json.dumps({"falls": falls, "grows": grows}))
    return 0 if held == len(seeds) else 1
