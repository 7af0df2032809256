"""Generated workshops of all shapes through all that the program does with a book.

Found wrong are: an exception, a plan that breaks a rule, verdicts that contradict the plan or each
other, a sentence without one of its facts, another plan by the same seed, more proved to be missed
in an easier book. Windows that an easier book misses besides, unproved, are counted and named:
they may be two in a hundred.
"""

import os
import sys
from dataclasses import dataclass, replace
from datetime import timedelta
from random import Random

from app.cli.findings import say_findings
from app.words import Words
from app.words.language import speak
from shared.book import Book
from shared.examine import take_in
from shared.files.write import write_book
from tests.soak._workshops_drawn import SHAPED, drawn
from tests.soak._workshops_given import away_asked, commanded, given_out, morning, shown, told
from tests.soak._workshops_odds import at_odds
from tests.soak._workshops_pairs import Pair, paired
from tests.soak._workshops_said import (
    chances_said,
    delivered_said,
    levers_asked,
    plan_said,
    rush_asked,
    whys_said,
)
from tests.soak._workshops_through import Planned, Run, certified, planned, unsaid
from tests.soak.report import Report, Task

ROUNDS = 1000
LANGUAGES = ("en", "de")
WORSE_PERCENT = 2
LATER_SHARE = 0.4

LEAST_PAIRS = 200
TELL_ROUNDS = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """What came of a book. lines: what is wrong; pair: beside an easier one."""

    lines: tuple[str, ...] = ()
    pair: Pair | None = None
    is_refused: bool = False


def one(seed: int, number: int) -> Round:
    """Put the book of a round through everything."""
    speak(LANGUAGES[number // len(SHAPED) % len(LANGUAGES)])
    made = drawn(seed, number)
    way = Run(drawn=made, draw=Random(f"{seed}/{number}/way"))
    read = take_in(write_book(made.book))
    say_findings(way.console, Words(book=read.whole), read.findings)
    if read.book is None:
        unsaid(way)
        return Round(lines=_named(way), is_refused=True)
    if read.book != made.book:
        way.found.append("another book when read back")
    pair = _through(way)
    unsaid(way)
    return Round(lines=_named(way), pair=pair)


def _named(way: Run) -> tuple[str, ...]:
    laid = "".join(f", {name}" for name in way.drawn.laid)
    return tuple(f"({way.drawn.kind}{laid}): {line}" for line in way.found)


def _through(way: Run, *, is_later: bool = False) -> Pair | None:
    was = planned(way)
    if was is None:
        return None
    plan_said(way, was)
    certified(way, was)
    book = told(way, was)
    shown(way, was, book)
    for part in (chances_said, delivered_said, whys_said, commanded, rush_asked, levers_asked):
        if way.takes():
            part(way, was)
    for of_told in (given_out, away_asked, morning):
        if way.takes():
            of_told(way, was, book)
    if not is_later and way.takes() and way.draw.random() < LATER_SHARE:
        way.found += _later(way, was, book)
    return paired(way, was) if way.takes() else None


def _later(way: Run, was: Planned, book: Book) -> list[str]:
    """Put the told book through everything as of a day on which things went otherwise."""
    now = was.request.now + timedelta(days=way.draw.choice((0, 1, 3)))
    odd = at_odds(replace(book, as_of=now), now, way.draw)
    later = Run(drawn=replace(way.drawn, book=odd, planted=None), draw=way.draw)
    _through(later, is_later=True)
    unsaid(later)
    return [f"later: {line}" for line in later.found]


def run(task: Task) -> Report:
    """Put so many drawn books through everything."""
    failed: list[str] = []
    pairs: dict[int, Pair] = {}
    refused = number = 0
    before = os.environ.get("LANGUAGE")
    while number < task.rounds and task.has_time:
        found = one(task.seed, number)
        for line in found.lines:
            failed.append(f"seed {task.seed} round {number} {line}")
            task.say(failed[-1])
        if found.pair is not None:
            pairs[number] = found.pair
        refused += found.is_refused
        number += 1
        if number % TELL_ROUNDS == 0:
            task.say(f"{number} rounds, {len(failed)} lines wrong")
    _speak_as(before)
    worse = {at: pair for at, pair in pairs.items() if pair.is_worse}
    if len(pairs) >= LEAST_PAIRS and 100 * len(worse) > WORSE_PERCENT * len(pairs):
        failed.append(f"seed {task.seed}: {len(worse)} of {len(pairs)} easier books miss more")
    facts: dict[str, int | float | str] = {
        "refused": refused,
        "pairs": len(pairs),
        "worse": len(worse),
        "worse_percent": round(100 * len(worse) / len(pairs), 2) if pairs else 0,
        "worse_cases": "; ".join(
            f"seed {task.seed} round {at} with {pair.ease}: {pair.before} to {pair.after}"
            for at, pair in worse.items()
        ),
    }
    return Report(rounds=number, failed=tuple(failed), facts=facts)


def main(argv: list[str]) -> int:
    """Repeat one round: `python -m tests.soak.workshops SEED ROUND`."""
    seed, number = (int(word) for word in argv)
    found = one(seed, number)
    for line in found.lines:
        print(line)
    print(found.pair)
    return 1 if found.lines else 0


def _speak_as(before: str | None) -> None:
    if before is None:
        os.environ.pop("LANGUAGE", None)
    else:
        os.environ["LANGUAGE"] = before


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
