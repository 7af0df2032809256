"""`countback chance`: how often each job is in time, when it is loaded, what it hangs on."""

import json
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.enquiries import enquiries_asked
from app.cli.findings import say_refused
from app.cli.kept import plan_for
from app.cli.moments import now_of
from app.cli.plan import USUAL_SECONDS, USUAL_WORKERS, solved
from app.cli.run import MET, MISSED
from app.outcome_json import instant_text
from app.words import Words, shell
from app.words import chance as say
from app.words import orders as orders_say
from scheduler.request import SolveRequest
from shared.book import Book
from shared.plan import Plan
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from scheduler.chance import Chances, JobChance, Risk

_INDENT = "    "
_GAP = "  "
Json = dict[str, object]


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    if read.book is None:
        words = words_for(read.whole)
        return say_refused(asked, console, words, read.findings, shell.NOT_PLANNED, {"jobs": []})
    from scheduler.chance import chances_of

    book, words = read.book, words_for(read.book)
    now, is_own = now_of(asked, book)
    plan, is_kept = _plan(asked, console, words, book, now)
    found = chances_of(book, plan, seed=asked.number("seed", 1, least=0))
    _say(console, words, found, plan)
    moment = words.moment(now, after=None)
    console.say(words.say(shell.AS_OF_BOOK if is_own else shell.AS_OF, moment=moment))
    console.say(words.say(orders_say.BY_KEPT if is_kept else orders_say.BY_NEW))
    if asked.json:
        told: Json = {"as_of": instant_text(now), "revision": book.revision, "is_kept": is_kept}
        told |= chances_object(words, found)
        console.say(json.dumps(told, ensure_ascii=False))
    return MET if all(job.is_planned_in_time for job in found.jobs) else MISSED


def _plan(
    asked: Asked, console: Console, words: Words, book: Book, now: datetime
) -> tuple[Plan, bool]:
    if not asked.enquiries:
        return plan_for(asked, console, words, book, now)
    request = SolveRequest(
        book=book,
        now=now,
        asked=enquiries_asked(book, asked.enquiries),
        seconds=asked.number("seconds", USUAL_SECONDS),
        workers=asked.number("workers", USUAL_WORKERS),
    )
    return solved(request, words, console, is_quiet=False).plan, False


def _say(console: Console, words: Words, found: "Chances", plan: Plan) -> None:
    from shared.estimate.record import RECORD_LEAST

    console.wrapped(console.strong(say.head_line(words, found)))
    console.say()
    today = local_date(plan.now, words.zone)
    for job in found.jobs:
        first, *more = say.job_lines(words, job, today=today)
        console.wrapped(first, indent=_INDENT, first=_GAP)
        for line in more:
            console.wrapped(line, indent=_INDENT)
    if found.jobs:
        console.say()
    console.wrapped(" ".join(say.note_lines(words, found, RECORD_LEAST)))


def chances_object(words: Words, found: "Chances") -> Json:
    """Give how sure the jobs are, for programs; dates by the workshop's calendar."""
    return {
        "draws": found.draws,
        "seed": found.seed,
        "finished": found.finished_count,
        "is_own_record": found.is_own_record,
        "overrun_percent": found.overrun_percent,
        "jobs": [_job_object(words, job) for job in found.jobs],
    }


def _job_object(words: Words, job: "JobChance") -> Json:
    return {
        "id": job.id,
        "name": job.name,
        "chance": job.chance,
        "chance_at_usual_overrun": job.at_usual_overrun,
        "wanted": job.threshold,
        "date_50": _day(words, job.ready_50),
        "date_80": _day(words, job.ready_80),
        "risks": [_risk_object(risk) for risk in job.risks],
    }


def _risk_object(risk: "Risk") -> Json:
    return {
        "job": risk.job,
        "step": risk.step,
        "part": risk.part,
        "share_percent": risk.share_percent,
        "pull_percent": risk.pull_percent,
    }


def _day(words: Words, when: datetime | None) -> str | None:
    return None if when is None else local_date(when, words.zone).isoformat()
