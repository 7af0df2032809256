"""`countback deliver`: a delivery counted back from its window, and told forwards to it."""

import json
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
    made = [
        delivered(book, job, journey, plan, now, _watch(console, words, job))
        for job in jobs
        for journey in _journeys(job)
    ]
    console.pass_by("")
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


def _watch(console: Console, words: Words, job: Job) -> Watch:
    """Give what a search tells how far it is; on a terminal only, and not too often."""
    told = [clock.ticks()]

    def watch(done: int, of: int) -> None:
        ticks = clock.ticks()
        if console.is_live and ticks - told[0] >= _EVERY_SECONDS:
            told[0] = ticks
            line = words.say(say.COUNTING, job=job.name, done=done, all=of)
            console.pass_by(line)

    return watch
