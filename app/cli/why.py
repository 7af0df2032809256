"""`countback why`: why a job stands as it does, and what its days are spent on."""

import json
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app import clock
from app.cli import certificate
from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.meant import job_meant
from app.cli.moments import now_of
from app.cli.plan import USUAL_SECONDS, USUAL_WORKERS, solved
from app.cli.run import MET, MISSED
from app.words import Words, shell
from app.words.verdicts import is_met
from app.words.why import WhyWords
from app.words.why_days import day_lines, slack_lines
from scheduler.request import SolveRequest
from shared.book import Book, Job, Standing

if TYPE_CHECKING:
    from scheduler.normalise import Normal
    from scheduler.outcome import JobOutcome
    from scheduler.why.values import Why
    from shared.certificate import Certificate

_INDENT = "    "
_GAP = "  "
Json = dict[str, object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """A job with how it stands and why; seconds: that planning took."""

    told: "JobOutcome"
    why: "Why"
    normal: "Normal"
    seconds: float


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    if read.book is None:
        nothing: Json = {"job": None, "verdict": None, "rung": None, "chain": [], "anatomy": {}}
        return say_refused(
            asked, console, words_for(read.whole), read.findings, shell.NOT_PLANNED, nothing
        )
    job = job_meant(read.book, asked.words[1])
    out = certificate.check_out(asked.out)
    words = words_for(read.book)
    found = answered(asked, console, read.book, job)
    said = WhyWords(words, found.why, now_of(asked, read.book)[0])
    _say(console, words, found, said)
    if out is not None:
        console.say()
        certificate.keep(console, words, _certified(found), out, asked.words[0])
    if asked.json:
        console.say(json.dumps(why_object(found, said), ensure_ascii=False))
    return MET if is_met(found.told) else MISSED


def answered(asked: Asked, console: Console, book: Book, job: Job) -> Answered:
    """Plan a book, the job among the rest even if it is an enquiry, and ask why it stands so."""
    from scheduler.kept import Kept
    from scheduler.solve import solve
    from scheduler.why.answer import why

    now, _ = now_of(asked, book)
    request = SolveRequest(
        book=book,
        now=now,
        asked=(job.id,) if job.standing is Standing.ENQUIRY else (),
        seconds=asked.number("seconds", USUAL_SECONDS),
        workers=asked.number("workers", USUAL_WORKERS),
    )
    kept = Kept()
    started = clock.ticks()
    outcome = solved(
        request, words_for(book), console, is_quiet=asked.quiet, solve=partial(solve, kept=kept)
    )
    seconds = clock.ticks() - started
    told = next((each for each in outcome.jobs if each.id == job.id), None)
    if told is None or kept.before is None:
        raise Usage("job_not_planned", job=job.name)
    found = why(kept.before.normal, kept.before.schedule, told)
    return Answered(told=found.told, why=found, normal=kept.before.normal, seconds=seconds)


def _certified(found: Answered) -> "Certificate | None":
    from scheduler.why.certify import certify

    return certify(found.normal, found.told)


def _say(console: Console, words: Words, found: Answered, said: WhyWords) -> None:
    told = found.told
    line = words.verdict_line(told, seconds=round(found.seconds))
    console.wrapped(console.strong(line))
    for known in said.known_lines():
        console.wrapped(known)
    chain = said.chain_lines()
    if chain:
        console.say()
        console.say(said.chain_title)
        for each in chain:
            console.wrapped(each, indent=_INDENT, first=_GAP)
        if said.sum_line():
            console.wrapped(said.sum_line())
    sides = said.side_lines()
    if sides:
        console.say()
        console.say(said.sides_title)
        for each in sides:
            console.wrapped(each, indent=_INDENT, first=_GAP)
    for lines in (day_lines(words, found.why), slack_lines(words, found.why)):
        if lines:
            console.say()
            console.wrapped(lines[0])
            for each in lines[1:]:
                console.wrapped(each, indent=_INDENT, first=_GAP)


def why_object(found: Answered, said: WhyWords) -> Json:
    """Give the answer for programs."""
    told = found.told
    return {
        "job": told.id,
        "verdict": told.verdict.value,
        "rung": None if told.rung is None else told.rung.value,
        "chain": [
            {"kind": link.kind.value, "id": link.id, "text": said.link(link)}
            for link in found.why.chain
        ],
        "anatomy": {what.value: minutes for what, minutes in found.why.anatomy.minutes.items()},
    }
