"""Planted clashes: ``python -m tests.bench clashes [--seeds N] [--first N] [--kinds A,B]``.

Of each book: does the chain of `why` name the planted cause, does one of the sets that are
offered pull what undoes it, does the window hold in the book that each set leaves, planned anew
by itself, and is the cheapest set the cheapest of all sets of levers there are, where so few are
dearer than nothing and cheaper than it that all can be tried. The twin without the cause has to
fit. Sentences are printed as they come with `--say`.
"""

import argparse
import json
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import combinations
from time import perf_counter

from app.cli.books import words_for
from app.words.why import WhyWords
from scheduler.check import check
from scheduler.kept import Kept
from scheduler.levers.search import ways_out
from scheduler.levers.values import WaysOut
from scheduler.outcome import JobOutcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.why.answer import why
from scheduler.why.values import Why
from shared.book import Book, Journey
from shared.edits.levers import pull_all
from shared.ids import JobId
from shared.levers import Lever, price_of
from shared.plan import Plan
from tests.books.clashes import KINDS, planted_clash
from tests.books.shapes import Planted

KEPT = (Verdict.FITS, Verdict.TIGHT)
NAMES = {
    "person": ("person", "leave"),
    "place": ("place",),
    "cure": ("cure",),
    "client": ("client",),
    "sailing": ("sailing",),
    "certificate": ("certificate",),
    "floor": ("floor",),
    "air": ("air",),
}
"""By kind of clash, the kinds of links that name its cause."""
SETS_MAX = 24
"""So many sets of levers, affordable and with nothing to add, are tried one after the other."""
TRIED_STEPS, LEVERS_MAX = 60, 14
"""In books of no more steps and levers."""
EFFORT = 10


@dataclass(slots=True)
class Told:
    """What came of one book."""

    kind: str
    seed: int
    steps: int
    counts: Counter[str] = field(default_factory=Counter)
    odd: list[str] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)
    ways: list[str] = field(default_factory=list)

    @property
    def said(self) -> tuple[str, ...]:
        """Return the sentences of the chain and the sets that are offered, below a title."""
        ways = tuple(f"  => {way}" for way in self.ways)
        return (f"{self.kind} {self.seed}", *(f"  {line}" for line in self.lines), *ways)

    def note(self, what: str, *, holds: bool, why_not: str = "") -> None:
        """Count something that was asked, and whether it holds."""
        self.counts[f"{what} asked"] += 1
        self.counts[what] += int(holds)
        if not holds:
            self.odd.append(f"{self.kind} {self.seed}: {what}: {why_not}")


def stands(book: Book, planted: Planted, effort: int = EFFORT, seed: int = 7) -> JobOutcome:
    """Plan a book anew, hold it against the check, and tell how the job stands."""
    request = SolveRequest(book=book, now=planted.now, effort=effort, workers=1, seed=seed)
    outcome = solve(request)
    told = check(book, outcome.plan)
    assert not told.breaches, told
    return next(each for each in outcome.jobs if each.id == planted.job)


def keeps(book: Book, plan: Plan, job: JobId) -> bool:
    """Say whether a plan breaks nothing and what a job does at its site lies in its window."""
    (held,) = [each.held_window for each in book.jobs if each.id == job]
    (trip,) = [each for each in plan.trips if each.job == job]
    steps = [step for each in book.jobs for step in each.steps if step.id == trip.step]
    (journey,) = [step for step in steps if isinstance(step, Journey)]
    times = [time for time, leg in zip(trip.legs, journey.legs, strict=True) if leg.inside]
    assert held is not None
    in_time = held.start <= times[0].start and times[-1].end <= held.end
    return in_time and not check(book, plan).breaches


def ask(kind: str, seed: int, seconds: float, *, tries: bool = True) -> Told:
    """Ask everything of one book."""
    planted = planted_clash(kind, seed)
    job = JobId(str(planted.job))
    assert planted.twin is not None
    told = Told(kind=kind, seed=seed, steps=sum(len(each.steps) for each in planted.book.jobs))
    twin = stands(planted.twin, planted)
    told.note("twin fits", holds=twin.verdict in KEPT, why_not=twin.verdict)
    kept = Kept()
    request = SolveRequest(book=planted.book, now=planted.now, seconds=seconds, workers=1)
    base = solve(request, kept=kept)
    stand = next(each for each in base.jobs if each.id == job)
    told.note("misses", holds=stand.verdict not in KEPT, why_not=stand.verdict)
    told.counts[f"verdict {stand.verdict.value}"] += 1
    assert kept.before is not None
    begun = perf_counter()
    lines = _chain(planted, why(kept.before.normal, kept.before.schedule, stand))
    told.counts["why ms"] += round((perf_counter() - begun) * 1000)
    told.lines = [text for _, text in lines]
    named = any(_is_named(planted, kind, line, link) for link, line in lines)
    told.note("cause named", holds=named, why_not=" | ".join(told.lines))
    begun = perf_counter()
    found = ways_out(request, job, base=base, kept=kept)
    told.counts["levers ms"] += round((perf_counter() - begun) * 1000)
    _note_ways(told, planted, found)
    if tries and found.ways:
        note_cheapest(told, planted, found.levers, found.ways[0].price)
    return told


def _chain(planted: Planted, found: Why) -> list[tuple[tuple[str, str], str]]:
    words = WhyWords(words_for(planted.book), found, planted.now)
    return [((link.kind.value, link.id), words.link(link)) for link in found.chain]


def _is_named(planted: Planted, kind: str, line: str, link: tuple[str, str]) -> bool:
    """Say whether a link of the chain is the planted cause, or names it."""
    assert planted.cause is not None
    pins = [each["id"] for each in _wanted(planted) if each["kind"] == "lift_pin"]
    if link[0] == "pin" and link[1] in pins:
        return True
    if link[0] not in NAMES[kind]:
        return False
    cause = planted.cause["id"]
    alike = _alike(planted.book, cause)
    return link[1] in alike or any(name and name in line for name in _called(planted.book, cause))


def _alike(book: Book, thing: str) -> set[str]:
    """Give the ids that stand for a cause: of a stage, those of the same name in its job."""
    for job in book.jobs:
        names = {step.name for step in job.steps if step.id == thing}
        if names:
            return {str(step.id) for step in job.steps if step.name in names}
    return {thing}


def _called(book: Book, thing: str) -> Iterator[str]:
    """Give the names under which a cause may stand in a sentence, none of them short."""
    yield from (person.name for person in book.people if person.id == thing)
    yield from (place.name for place in book.places if place.id == thing)
    yield from (job.name for job in book.jobs[1:] if any(s.id == thing for s in job.steps))
    if thing == "isocyanate training":
        yield thing


def _wanted(planted: Planted) -> list[dict[str, str]]:
    return [each for each in (planted.undo, *planted.also) if each is not None]


def _note_ways(told: Told, planted: Planted, found: WaysOut) -> None:
    wanted = _wanted(planted)
    told.ways = [_text(way.levers, way.price) for way in found.ways]
    there = {_key(lever) for lever in found.levers}
    seen = f"offered {told.ways or '-'}; wanted {wanted}; there {sorted(there)}"
    pulls = [any(_is_wanted(lever, wanted) for lever in way.levers) for way in found.ways]
    told.note("undone", holds=any(pulls), why_not=seen)
    for way in found.ways:
        holds = keeps(way.book, way.plan, JobId(str(planted.job)))
        told.note("sets hold", holds=holds, why_not=_text(way.levers, way.price))
    told.counts["proved cheapest"] += int(bool(found.ways) and found.ways[0].proved_cheapest)


def note_cheapest(told: Told, planted: Planted, levers: Sequence[Lever], price: Decimal) -> None:
    """Hold the price of the cheapest set against all sets that cost less, if they are few."""
    if told.steps > TRIED_STEPS or len(levers) > LEVERS_MAX:
        return
    sets = list(affordable(levers, price))
    if len(sets) > SETS_MAX:
        return
    told.counts["cheapest is free"] += int(not price)
    for some in sets:
        stand = stands(pull_all(planted.book, some).book, planted)
        if stand.verdict in KEPT:
            why_not = f"{_text(some, price_of(some))} beside {price}"
            told.note("cheapest right", holds=False, why_not=why_not)
            return
    told.note("cheapest right", holds=True)


def affordable(levers: Sequence[Lever], below: Decimal) -> Iterator[tuple[Lever, ...]]:
    """Give the sets that cost less than a price, to which nothing more could be added for that.

    Levers that may also harm are in or out; of those that only help the largest sets say it all.
    """
    harming = [lever for lever in levers if not lever.only_helps]
    helping = [lever for lever in levers if lever.only_helps]
    free = [lever for lever in helping if not lever.price and not lever.once]
    priced = [lever for lever in helping if lever.price or lever.once]
    for count in range(len(harming) + 1):
        for some in combinations(harming, count):
            yield from _largest((*some, *free), priced, below)


def _largest(
    inside: tuple[Lever, ...], priced: Sequence[Lever], below: Decimal
) -> Iterator[tuple[Lever, ...]]:
    if price_of(inside) >= below:
        return
    found: list[frozenset[str]] = []
    for count in range(len(priced), -1, -1):
        for some in combinations(priced, count):
            ids = frozenset(lever.id for lever in some)
            if price_of((*inside, *some)) < below and not any(ids <= one for one in found):
                found.append(ids)
                yield (*inside, *some)


def _key(lever: Lever) -> str:
    return f"{lever.kind.value} {lever.offer or (lever.about[0] if lever.about else lever.id)}"


def _is_wanted(lever: Lever, wanted: Sequence[dict[str, str]]) -> bool:
    ids = {lever.id, lever.offer, *lever.about}
    return any(each["kind"] == lever.kind.value and each["id"] in ids for each in wanted)


def _text(levers: Sequence[Lever], price: object) -> str:
    return f"{' + '.join(_key(lever) for lever in levers) or 'nothing'} = {price}"


ASKED = (
    "twin fits", "misses", "cause named", "undone", "sets hold", "cheapest right",
)  # fmt: skip


def _row(name: str, counts: Counter[str]) -> str:
    cells = [f"{counts[what]}/{counts[f'{what} asked']}" for what in ASKED]
    return f"{name:12}" + "".join(f"{cell:>16}" for cell in cells)


def main(argv: list[str]) -> int:
    """Ask of so many seeds of each kind."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench clashes", description=__doc__)
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--kinds", default=",".join(KINDS))
    parser.add_argument("--seconds", type=float, default=10, help="for each question")
    parser.add_argument("--skip-trying", action="store_true", help="of sets that are cheaper")
    parser.add_argument("--say", action="store_true", help="print chains and ways out")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    by_kind: dict[str, Counter[str]] = {}
    begun = perf_counter()
    for seed in range(asked.first, asked.first + asked.seeds):
        for kind in asked.kinds.split(","):
            told = ask(kind, seed, asked.seconds, tries=not asked.skip_trying)
            by_kind.setdefault(kind, Counter()).update(told.counts, books=1)
            for line in (*told.odd, *(told.said if asked.say else ())):
                print(line, flush=True)
    print(f"{'':12}" + "".join(f"{what:>16}" for what in ASKED))
    for kind, counts in by_kind.items():
        print(_row(kind, counts))
    total = sum(by_kind.values(), Counter())
    print(_row("all", total))
    seconds = round(perf_counter() - begun)
    if asked.json:
        print(json.dumps({"seconds": seconds, "all": total, **by_kind}))
    return 0 if all(total[what] == total[f"{what} asked"] for what in ASKED[:2]) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
