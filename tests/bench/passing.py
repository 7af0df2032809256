"""Pieces against openings: ``python -m tests.bench passing [--boxes N] [--splits N] [--seed N]``.

Drawn pieces are judged at drawn openings, and their whole way by the engine's own look and by the
check; each is held against trying every way round. Then drawn pieces are split, and the slowest
is told. Ends with 1 on any difference, and where a split takes a second or more.
"""

import argparse
import sys
from collections import Counter
from decimal import Decimal
from random import Random
from time import perf_counter

from shared.book import Book
from shared.passing.boxes import margins_of, piece_of
from shared.passing.passages import course_of
from shared.passing.split import Whole, propose
from tests.scheduler.test_passing import by_check, by_engine, drawn_book
from tests.shared.passing.pieces import an_opening, drawn_opening, drawn_piece, on_its_way, sized
from tests.shared.passing.test_every_way import given_by, wanted

LONGEST_SECONDS = 1


def differences(boxes: int, seed: int) -> tuple[int, Counter[str]]:
    """Judge so many pieces in both ways; give the differences and what was answered how often."""
    wrong, answers = 0, Counter[str]()
    for at in range(boxes):
        draw = Random(f"{seed}/{at}")
        segment, opening = drawn_piece(draw), drawn_opening(draw)
        given, right = given_by(segment, opening), wanted(segment, opening)
        answers[right[0].value] += 1
        if given != right:
            wrong += 1
            print(f"box {at}: {given} where trying gives {right}", file=sys.stderr)
    return wrong, answers


def disagreements(boxes: int, seed: int) -> tuple[int, int]:
    """Give how often engine and check differ about a whole way, and how often both block."""
    wrong = blocked = 0
    for at in range(boxes):
        book = drawn_book(seed * 1_000_003 + at)
        engine, check = by_engine(book)[0], by_check(book)
        blocked += check is not None
        if engine != check:
            wrong += 1
            print(f"way {at}: {engine} by the engine, {check} by the check", file=sys.stderr)
    return wrong, blocked


def drawn_way(draw: Random) -> Book:
    """Give a large piece and five openings."""
    piece = sized(*(Decimal(draw.randint(100, 1500)) / 100 for _ in range(3)))
    sizes = [Decimal(draw.randint(150, 500)) / 100 for _ in range(15)]
    openings = [
        an_opening(f"opening {at}", *sizes[3 * at : 3 * at + 3]) for at in range(len(sizes) // 3)
    ]
    return on_its_way(piece, out=tuple(openings[:3]), into=tuple(openings[3:]))


def split_seconds(book: Book) -> tuple[float, int]:
    """Split the only piece; give the seconds it took and the number of parts, 0 for none."""
    (job,) = book.jobs
    (segment,) = job.segments
    piece = piece_of(segment)
    assert piece is not None
    start = perf_counter()
    found = propose(
        Whole(segment=segment, piece=piece),
        course_of(book, job, segment),
        margins_of(book.workshop),
    )
    return perf_counter() - start, 0 if found is None else found.counts.all


def main(argv: list[str]) -> int:
    """Compare and measure."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench passing", description=__doc__)
    parser.add_argument("--boxes", type=int, default=5000)
    parser.add_argument("--splits", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(argv)
    start = perf_counter()
    wrong, answers = differences(asked.boxes, asked.seed)
    told = ", ".join(f"{count} {answer}" for answer, count in sorted(answers.items()))
    print(f"{asked.boxes} boxes: {wrong} differences ({told})")
    unlike, blocked = disagreements(asked.boxes, asked.seed)
    print(f"{asked.boxes} ways: engine and check differ {unlike} times, {blocked} are blocked")
    print(f"in {perf_counter() - start:.1f} s")
    taken = [split_seconds(drawn_way(Random(f"{asked.seed}/{at}"))) for at in range(asked.splits)]
    slowest, parts = max(taken, default=(0.0, 0))
    without = sum(not count for _, count in taken)
    print(
        f"{asked.splits} splits: slowest {slowest:.3f} s ({parts} parts), {without} without a cut"
    )
    return int(bool(wrong or unlike or slowest >= LONGEST_SECONDS))
