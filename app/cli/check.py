"""`countback check`: a plan held against a book, or a certificate followed."""

import json
from pathlib import Path

from app.cli import certificate
from app.cli.arguments import Asked
from app.cli.books import load_book, load_plan, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.moments import instant_typed
from app.cli.run import BROKEN, MET
from app.words import Words, shell
from scheduler.outcome import CheckResult
from shared.book import Book
from shared.findings import Finding
from shared.plan import Plan

_INDENT = "    "


def run(asked: Asked, console: Console) -> int:
    book_path, plan_path = (Path(word) for word in asked.words)
    if certificate.is_one(plan_path):
        return certificate.run(asked, console)
    read, read_plan = load_book(book_path), load_plan(plan_path)
    words = words_for(read.book or read.whole)
    stopping = read.findings if read.book is None else read_plan.findings
    if read.book is None or read_plan.plan is None:
        return _refused(asked, console, words, stopping)
    return _judged(asked, console, read.book, read_plan.plan)


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    return say_refused(
        asked,
        console,
        words,
        found,
        shell.NOT_CHECKED,
        {"sound": None, "breaches": [], "not_judged": []},
    )


def _judged(asked: Asked, console: Console, book: Book, plan: Plan) -> int:
    from scheduler.check import check

    words = words_for(book)
    now = instant_typed(asked.now, book.workshop.zone) if asked.now else None
    result = check(book, plan, now=now)
    _say_origin(console, words, book, plan)
    _say_result(console, words, result)
    for left in plan.unplaced:
        step, reason = words.names.of("step", left.step), words.unplaced(left.step, left.code)
        console.wrapped(words.say(shell.LEFT_OUT, step=step, reason=reason), indent=_INDENT)
    if asked.json:
        console.say(json.dumps(_object(words, result), ensure_ascii=False))
    return MET if result.sound else BROKEN


def _say_origin(console: Console, words: Words, book: Book, plan: Plan) -> None:
    from scheduler.check import made_from_matches

    made = plan.made_from
    if made.revision != book.revision:
        text = words.say(shell.OTHER_REVISION, made=made.revision, book=book.revision)
        console.wrapped(text)
    elif not made_from_matches(book, plan):
        console.wrapped(words.say(shell.OTHER_BOOK))


def _say_result(console: Console, words: Words, result: CheckResult) -> None:
    not_judged = words.rule_names(result.not_judged)
    if result.sound:
        console.say(words.say(shell.SOUND))
    elif not result.breaches:
        console.wrapped(words.say(shell.NOT_SOUND, list=not_judged))
    else:
        broken = words.say(shell.BROKEN, count=len(result.breaches))
        console.say(console.alarm(broken))
        for breach in result.breaches:
            console.wrapped(words.breach(breach), indent=_INDENT)
        if not_judged:
            console.wrapped(words.say(shell.NOT_JUDGED, list=not_judged))


def _object(words: Words, result: CheckResult) -> dict[str, object]:
    breaches = [
        {"rule": breach.rule, "where": breach.where, "text": words.breach(breach)}
        for breach in result.breaches
    ]
    not_judged = [str(rule) for rule in result.not_judged]
    return {"sound": result.sound, "breaches": breaches, "not_judged": not_judged}
