"""`countback deliver`: a delivery counted back from its window, and told forwards to it."""

import json
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from app import clock
from app.cli.arguments import Asked
from app.cli.books import Json, load_book, words_for
from app.cli.console import Console
from app.cli.deliver_object import delivery_object
from app.cli.deliver_said import Teller
from app.cli.delivered import Delivered, Watch, delivered
from app.cli.findings import say_refused
from app.cli.kept import plan_for
from app.cli.legs import job_asked
from app.cli.moments import now_of
from app.cli.run import MET, MISSED
from app.outcome_json import instant_text
from app.words import Words, shell
from app.words import deliver as say
from shared.book import Job, Journey
from shared.findings import Finding

_EVERY_SECONDS = 0.5


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    if read.book is None:
        return _refused(asked, console, words_for(read.whole), read.findings)
    book, words = read.book, words_for(read.book)
    jobs = (job_asked(book, asked.words[1]),) if len(asked.words) > 1 else book.jobs
    now, is_own = now_of(asked, book)
    plan, is_kept = plan_for(asked, console, words, book, now)
    meter = _Meter(console, words)
    with _ticking(console, meter):
        made = [
            delivered(book, job, journey, plan, now, meter.of(job))
            for job in jobs
            for journey in _journeys(job)
        ]
    teller = Teller(console, words, book, now)
    for each in made:
        teller.say(each)
        console.say()
    if not made:
        console.say(_nothing(words, jobs))
    moment = words.moment(now, after=None)
    console.say(words.say(shell.AS_OF_BOOK if is_own else shell.AS_OF, moment=moment))
    console.say(words.say(say.BY_KEPT if is_kept else say.BY_NEW))
    if asked.json:
        told: Json = {
            "as_of": instant_text(now),
            "revision": book.revision,
            "is_kept": is_kept,
            "deliveries": [delivery_object(book, each) for each in made],
        }
        console.say(json.dumps(told, ensure_ascii=False))
    return _code(made)


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    return say_refused(asked, console, words, found, shell.NOT_PLANNED, {"deliveries": []})


def _journeys(job: Job) -> list[Journey]:
    return [step for step in job.steps if isinstance(step, Journey)]


def _nothing(words: Words, jobs: tuple[Job, ...]) -> str:
    if len(jobs) == 1:
        return words.say(say.NO_JOURNEY, job=jobs[0].name)
    return words.say(say.NOBODY)


def _code(made: list[Delivered]) -> int:
    return MET if all(each.is_met for each in made if each.window is not None) else MISSED


class _Meter:
    """Tells on a terminal, twice a second, which way to go is counted back and for how long."""

    def __init__(self, console: Console, words: Words) -> None:
        self._console = console
        self._words = words
        self._line: tuple[Job, int, int] | None = None
        self._started = clock.ticks()

    def of(self, job: Job) -> Watch:
        """Give what is to be told for each way of a job."""

        def watch(done: int, of: int) -> None:
            self._line = (job, done, of)
            self._started = clock.ticks()

        return watch

    def tick(self) -> None:
        """Show how far it is."""
        if self._line is not None:
            job, done, of = self._line
            seconds = round(clock.ticks() - self._started)
            told = {"job": job.name, "done": done, "all": of, "seconds": seconds}
            self._console.pass_by(self._words.say(say.COUNTING, **told))


@contextmanager
def _ticking(console: Console, meter: _Meter) -> Iterator[None]:
    """Let a meter tick while a search runs, where anybody sees it; Ctrl-C still ends all."""
    if not console.is_live:
        yield
        return
    before = signal.signal(signal.SIGALRM, lambda number, frame: meter.tick())
    signal.setitimer(signal.ITIMER_REAL, _EVERY_SECONDS, _EVERY_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
        console.pass_by("")
