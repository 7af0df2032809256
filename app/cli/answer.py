"""`countback answer`: what was said to the pictures, written down, and what it means."""

import json
from datetime import datetime
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.keeping import locked
from app.cli.meant import answer_meant
from app.cli.moments import instant_typed, now_of
from app.cli.report import plan_object
from app.cli.trying import exit_code, refused, say_verdict, solved_book, typed
from app.solved import Solved
from app.words import Words
from app.words import repairs as say
from shared.book import Answer, Book, Fact, FactKind, Gate
from shared.edits import Edited, tell_fact
from shared.errors import DiskError
from shared.ids import FactId


def run(asked: Asked, console: Console) -> int:
    path, answer = Path(asked.words[0]), _answer(asked.words[2])
    who = typed(asked, "by", "NAME")
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path, asked) as kept:
        read = load_book(path)
        if read.book is None:
            return refused(asked, console, words_for(read.whole), read.findings)
        book = read.book
        gate = answer_meant(book, asked.words[1])
        now, _ = now_of(asked, book)
        _check_open(book, gate)
        fact = Fact(
            id=FactId(f"{gate.id}.{answer.value}"),
            kind=FactKind.ANSWER,
            step=gate.id,
            at=_at(asked, book, now),
            told_by=who,
            told_at=now,
            answer=answer,
            shown=asked.shown,
        )
        edited = tell_fact(book, fact)
        (job,) = edited.changed.jobs
        made = solved_book(asked, console, edited.book, now, job)
        kept.keep(edited.book)
    return _said(asked, console, path, edited, gate, made)


def _answer(word: str) -> Answer:
    if word not in tuple(Answer):
        raise Usage("unknown_word_of_answer", word=word, answers=", ".join(Answer))
    return Answer(word)


def _check_open(book: Book, gate: Gate) -> None:
    """Refuse a gate that had its yes."""
    told = [fact for fact in book.facts if fact.step == gate.id]
    yes = [fact for fact in told if fact.answer in (Answer.YES, Answer.CHANGES)]
    if yes:
        words = words_for(book)
        moment = words.moment(yes[0].at, after=None)
        raise Usage("answered", step=gate.name, who=yes[0].told_by, moment=moment)


def _at(asked: Asked, book: Book, now: datetime) -> datetime:
    if asked.at is None:
        return now
    at = instant_typed(asked.at, book.workshop.zone)
    if at > now:
        words = words_for(book)
        facts = {"moment": words.moment(at, after=None), "now": words.moment(now, after=None)}
        raise Usage("not_yet", **facts)
    return at


def _said(
    asked: Asked, console: Console, path: Path, edited: Edited, gate: Gate, made: Solved
) -> int:
    book = edited.book
    words, fact = words_for(book), book.facts[-1]
    console.wrapped(_meaning(words, book, gate, fact, made))
    (job,) = edited.changed.jobs
    say_verdict(console, words, made, job, say.NOW)
    console.wrapped(words.check_line(made.outcome.check))
    console.wrapped(words.say(say.TAKEN, path=path, revision=book.revision))
    if asked.json:
        told = {
            "taken": True,
            "revision": book.revision,
            "gate": gate.id,
            "answer": fact.answer,
            "after": plan_object(words, made.outcome, made.seconds),
        }
        console.say(json.dumps(told, ensure_ascii=False))
    return exit_code(made)


def _meaning(words: Words, book: Book, gate: Gate, fact: Fact, made: Solved) -> str:
    told = [each for each in book.facts if each.step == gate.id]
    number = sum(each.kind is FactKind.ANSWER for each in told)
    placed = made.placement(gate.id, "changes")
    left_out = any(each.step == gate.id for each in made.outcome.plan.unplaced)
    return say.meaning(words, gate, fact, number, placed, is_over=not left_out)
