"""One book through everything that the program does with a book; what was found wrong, as lines."""

import io
import re
import traceback
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import timedelta
from itertools import count
from random import Random

from app.cli.console import Console
from app.words import Words
from scheduler.check import check
from scheduler.check.certificate import check_certificate
from scheduler.kept import Kept
from scheduler.outcome import Outcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.verdicts import worst
from scheduler.why.certify import certify
from shared.book import Book, Journey, Standing
from shared.certificate import ProofBy
from shared.delivery.judged import goal_of
from shared.ids import JobId
from shared.plan import Plan
from tests.books.retime import faults
from tests.soak._workshops_drawn import Drawn

KEPT = (Verdict.FITS, Verdict.TIGHT)
EFFORT = 1
WIDE = 10_000
"""Columns: no sentence is cut into lines."""
SMALL_STEPS = 12
"""Books of no more steps go through every part; larger ones through fewer, in turn by the draw."""
UNSAID = re.compile(r"\{[a-z_]+[:!}]|\bNone\b(?! (?:is known|of t))|%\([a-z]+\)s")
"""What is left in a sentence where a fact of it was missing."""
INSIDE = ("/app/", "/scheduler/", "/shared/")


@dataclass
class Run:
    """One book on its way. found: what is wrong; said: all sentences of this round."""

    drawn: Drawn
    draw: Random
    found: list[str] = field(default_factory=list)
    said: io.StringIO = field(default_factory=io.StringIO)

    @property
    def book(self) -> Book:
        return self.drawn.book

    @property
    def console(self) -> Console:
        made = Console(self.said, self.said)
        made.width = WIDE
        return made

    @property
    def words(self) -> Words:
        return Words(book=self.book)

    def wrong(self, lines: Iterable[str]) -> None:
        self.found += lines

    def takes(self) -> bool:
        """Return whether a part that takes long is drawn: always for a small book."""
        steps = sum(len(job.steps) for job in self.book.jobs)
        return self.draw.random() * steps <= SMALL_STEPS

    def part(self, name: str) -> "Part":
        """Note whatever a part of the way raises, and go on with the next part."""
        return Part(self, name)


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the way: an exception in it is found wrong, whatever it is."""

    run: Run
    name: str

    def __enter__(self) -> None:
        """Begin."""

    def __exit__(
        self, kind: type[BaseException] | None, trouble: BaseException | None, trace: object
    ) -> bool:
        """Note what was raised; whoever stops the program is not in its way."""
        if not isinstance(trouble, Exception):
            return False
        self.run.found.append(f"{self.name}: {_where(trouble)}: {trouble!r:.300}")
        return True


def _where(trouble: BaseException) -> str:
    """Give the last line of the program that an exception came through."""
    frames = traceback.extract_tb(trouble.__traceback__)
    ours = [frame for frame in frames if any(part in frame.filename for part in INSIDE)]
    last = (ours or frames)[-1]
    return f"{last.filename.rpartition('/main/')[2]}:{last.lineno}"


def ticks() -> Callable[[], float]:
    """Give a clock on which a hundredth of a second passes whenever it is read."""
    numbers = count()
    return lambda: next(numbers) / 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A book that is planned. kept: what the solve left."""

    request: SolveRequest
    outcome: Outcome
    kept: Kept

    @property
    def plan(self) -> Plan:
        return self.outcome.plan


def planned(run: Run) -> Planned | None:
    """Plan the book, and once more by the same seed; None where that was not to be done."""
    book = run.book
    assert book.as_of is not None
    enquiries = tuple(job.id for job in book.jobs if job.standing is Standing.ENQUIRY)
    request = SolveRequest(
        book=book,
        now=book.as_of,
        asked=tuple(each for each in enquiries if run.draw.random() < 0.7),
        effort=EFFORT,
        workers=1,
    )
    with run.part("plan"):
        kept = Kept()
        outcome = solve(request, kept=kept)
        run.wrong(broken(book, outcome))
        run.wrong(contradictions(book, outcome))
        run.wrong(_against_planted(run.drawn, outcome))
        if run.takes():
            again = solve(request)
            if (again.plan, again.jobs) != (outcome.plan, outcome.jobs):
                run.found.append("plan: not the same again by the same seed")
        return Planned(request=request, outcome=outcome, kept=kept)
    return None


def broken(book: Book, outcome: Outcome) -> Iterator[str]:
    """Give what a fresh check has against a plan, and the plain retiming, which knows no facts."""
    told = check(book, outcome.plan)
    for breach in told.breaches:
        yield f"check: {breach.rule} {breach.where}"
    if not book.facts:
        for line in faults(book, outcome.plan):
            yield f"retimed: {line}"


def contradictions(book: Book, outcome: Outcome) -> Iterator[str]:
    """Give where what is said of jobs does not go together, or with the plan."""
    if outcome.verdict is not worst(tuple(job.verdict for job in outcome.jobs)):
        yield "verdict: not the worst of its jobs"
    if any(bound > level for bound, level in zip(outcome.bounds, outcome.levels, strict=True)):
        yield f"bounds: {outcome.bounds} above {outcome.levels}"
    missed = sum(job.verdict not in KEPT for job in outcome.jobs)
    if sum(outcome.levels[:2]) != missed:
        yield f"verdict: {missed} miss, the levels say {outcome.levels[:2]}"
    trips = {trip.job: trip for trip in outcome.plan.trips}
    jobs = {job.id: job for job in book.jobs}
    for told in outcome.jobs:
        is_kept = told.verdict in KEPT
        if is_kept != (told.slack_minutes is not None or told.missed_by_minutes == 0) and is_kept:
            yield f"{told.id}: {told.verdict} and late by {told.missed_by_minutes}"
        if told.bound_minutes > told.missed_by_minutes > 0:
            yield f"{told.id}: proved later than it is"
        if told.verdict in (Verdict.MISSES, Verdict.CANNOT) and not told.reasons:
            yield f"{told.id}: {told.verdict} without a reason"
        window, trip = jobs[told.id].held_window, trips.get(told.id)
        if window is None or trip is None:
            continue
        journey = next(s for s in jobs[told.id].steps if s.id == trip.step)
        assert isinstance(journey, Journey)
        goal = goal_of(journey)
        over = trip.legs[goal - 1].end if goal else trip.end
        if is_kept and over > window.end:
            yield f"{told.id}: {told.verdict}, and over {over}, after its window {window.end}"


def _against_planted(drawn: Drawn, outcome: Outcome) -> Iterator[str]:
    if drawn.planted is None:
        return
    verdicts = {job.id: job.verdict for job in outcome.jobs}
    for job, wanted in (drawn.planted.verdicts or {}).items():
        told = verdicts[JobId(job)]
        if wanted == "cannot" and told in KEPT:
            yield f"{job}: {told}, planted {wanted}"
        if wanted in KEPT and told is Verdict.CANNOT:
            yield f"{job}: {told}, planted {wanted}"


def certified(run: Run, was: Planned) -> None:
    """Follow the proof of every job that is proved to miss."""
    assert was.kept.before is not None
    with run.part("certificate"):
        for told in was.outcome.jobs:
            proof = certify(was.kept.before.normal, told)
            if proof is not None and proof.by is not ProofBy.SEARCH:
                judged = check_certificate(run.book, proof)
                if not judged.holds:
                    run.found.append(f"certificate of {told.id}: {judged.troubles}")


def unsaid(run: Run) -> None:
    """Look for sentences in which a fact is missing."""
    for line in run.said.getvalue().splitlines():
        if UNSAID.search(line):
            run.found.append(f"sentence: {line.strip()[:200]}")


def small(request: SolveRequest, book: Book, seconds: float) -> SolveRequest:
    """Return a question beside the plan, by a clock of ticks, with the least effort."""
    return replace(request, book=book, seconds=seconds, effort=1)


A_FEW_DAYS = timedelta(days=3)
