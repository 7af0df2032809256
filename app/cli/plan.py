"""`countback plan`: whether every window holds, and by when what must happen."""

import json
import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from types import FrameType

from app import clock
from app.cli.arguments import Asked
from app.cli.beside import NOTHING, beside, with_beside
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.enquiries import enquiries_asked
from app.cli.findings import say_refused
from app.cli.moments import now_of
from app.cli.plan_try import tried_windows
from app.cli.planfile import check_out, keep_plan
from app.cli.progress import Meter
from app.cli.report import plan_object, say_plan
from app.cli.run import MET, MISSED, STOPPED
from app.engine_child import Solve, Solving
from app.tried import TriedWindow, enquiries_tried, with_tried
from app.words import Words, shell
from app.words.verdicts import is_met
from scheduler.dues import dues
from scheduler.outcome import Outcome
from scheduler.request import SolveRequest
from shared.examine import examine
from shared.findings import Finding
from shared.worktime.zones import local_date

USUAL_SECONDS = 3
USUAL_WORKERS = 2
_TICK_SECONDS = 0.1


class BrokenPlan(Exception):  # noqa: N818 - it says what happened
    """The engine's own plan doesn't stand up to the check: our fault, never shown as a plan."""


def run(asked: Asked, console: Console) -> int:
    book_path = Path(asked.words[0])
    seconds = asked.number("seconds", USUAL_SECONDS)
    workers = asked.number("workers", USUAL_WORKERS)
    seed = asked.number("seed", 1, least=0)
    out = check_out(asked.out, book_path)
    read = load_book(book_path)
    if read.book is None:
        return _refused(asked, console, words_for(read.whole), read.findings)
    now, is_own = now_of(asked, read.book)
    tried = tried_windows(asked, read.book)
    book = with_tried(read.book, tried)
    stopping = tuple(each for each in examine(book) if each.stops) if tried else ()
    if stopping:
        return _refused(asked, console, words_for(book), stopping)
    enquiries = enquiries_asked(read.book, asked.enquiries)
    request = SolveRequest(
        book=book,
        now=now,
        asked=tuple(dict.fromkeys((*enquiries, *enquiries_tried(tried)))),
        seconds=seconds,
        workers=workers,
        seed=seed,
    )
    for each in tried:
        _say_tried(console, words_for(book), each, now)
    return _planned(asked, console, request, out, is_own=is_own, tried=tried)


def _say_tried(console: Console, words: Words, tried: TriedWindow, now: datetime) -> None:
    zone = tried.job.site.zone
    window = words.span(tried.start, tried.end, after=local_date(now, words.zone), zone=zone)
    console.wrapped(words.say(shell.TRIED_WINDOW, job=tried.job.name, window=window))


def _planned(
    asked: Asked,
    console: Console,
    request: SolveRequest,
    out: Path | None,
    *,
    is_own: bool,
    tried: tuple[TriedWindow, ...] = (),
) -> int:
    words = words_for(request.book)
    started = clock.ticks()
    outcome = solved(request, words, console, is_quiet=asked.quiet)
    seconds = clock.ticks() - started
    if out is not None:
        keep_plan(out, outcome.plan)
    found = dues(request.book, outcome.plan, outcome.now)
    more = beside(request.book, outcome, request.asked)
    if asked.quiet:
        console.wrapped(words.book_line(outcome.jobs, seconds=round(seconds), now=outcome.now))
    else:
        say_plan(
            console,
            words,
            request.book,
            outcome,
            seconds,
            is_own=is_own,
            dues=found,
            beside=more,
        )
    if out is not None and not asked.quiet:
        console.say(words.say(shell.KEPT, path=out))
    if asked.json:
        told = with_beside(plan_object(words, outcome, seconds, found), words, outcome, more)
        if tried:
            told = {**told, "tried": [each.as_object() for each in tried]}
        console.say(json.dumps(told, ensure_ascii=False))
    return MET if all(is_met(job) for job in outcome.jobs) else MISSED


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    return say_refused(
        asked,
        console,
        words,
        found,
        shell.NOT_PLANNED,
        {**plan_object(words, None, None), **NOTHING},
    )


def solved(
    request: SolveRequest,
    words: Words,
    console: Console,
    *,
    is_quiet: bool,
    solve: Solve | None = None,
) -> Outcome:
    """Solve beside a meter; the first Ctrl-C asks for the best so far, the second ends all.

    solve: how; None: with nothing kept. Raises BrokenPlan where the check finds the plan broken.
    """
    solving = Solving(solve)
    meter = Meter(console, words, request, clock.ticks)
    with _calling_off(solving):
        solving.start(request, meter)
        while not solving.is_over(_TICK_SECONDS):
            if not is_quiet:
                meter.tick()
    console.pass_by("")
    outcome = solving.outcome()
    if outcome.stopped == "cancelled":
        console.tell(words.say(shell.CALLED_OFF))
    if outcome.check.breaches:
        raise BrokenPlan(outcome.check.breaches)
    return outcome


@contextmanager
def _calling_off(solving: Solving) -> Iterator[None]:
    def hear(number: int, frame: FrameType | None) -> None:
        if solving.is_called_off:
            os._exit(STOPPED)
        solving.cancel()

    before = signal.signal(signal.SIGINT, hear)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
