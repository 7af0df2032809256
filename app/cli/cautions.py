"""`countback cautions`: what to mind in one step, or in which steps of a book what is minded."""

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from app.cli.arguments import Asked
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.meant import steps_meant
from app.cli.run import MET
from app.words import Words, shell
from app.words import cautions as say
from shared.book import Book, Job, Step
from shared.cautions import Caution, cautions_of
from shared.findings import Finding

_INDENT = "    "
_GAP = "  "
_NAMED_COUNT = 8
Json = dict[str, object]


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    if read.book is None:
        return _refused(asked, console, words_for(read.whole), read.findings)
    book, words = read.book, words_for(read.book)
    steps = _asked_for(book, asked.words[1:])
    if len(steps) == 1:
        _say_step(console, words, book, *steps[0])
    else:
        _say_all(console, words, book, steps)
    if asked.json:
        console.say(json.dumps(cautions_object(words, book, steps), ensure_ascii=False))
    return MET


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    return say_refused(
        asked, console, words, found, shell.NOT_PLANNED, {"cautions": {}, "steps": []}
    )


def _asked_for(book: Book, named: tuple[str, ...]) -> list[tuple[Job, Step]]:
    every = [(job, step) for job in book.jobs for step in job.steps]
    if not named:
        return every
    wanted = {step.id for step in steps_meant(book, named[0])}
    return [(job, step) for job, step in every if step.id in wanted]


def _say_step(console: Console, words: Words, book: Book, job: Job, step: Step) -> None:
    name = words.say(say.STEP, step=words.names.of("step", step.id), job=job.name)
    console.wrapped(console.strong(name))
    found = cautions_of(book, job, step)
    for each in found:
        line = f"{say.sentence(words, each)} {say.source(words, each)}"
        console.wrapped(line, indent=_INDENT, first=_GAP)
    console.wrapped(words.say(say.DEFERS if found else say.NONE))


def _say_all(console: Console, words: Words, book: Book, steps: Sequence[tuple[Job, Step]]) -> None:
    """Write each caution once, with the steps that it goes with."""
    first: dict[str, Caution] = {}
    named: dict[str, dict[str, None]] = {}
    for job, step in steps:
        for each in cautions_of(book, job, step):
            first.setdefault(each.id, each)
            named.setdefault(each.id, {})[step.name or step.id] = None
    for caution_id, each in first.items():
        line = f"{say.sentence(words, _anywhere(each))} {say.source(words, each)}"
        console.wrapped(line, indent=_INDENT, first=_GAP)
        console.wrapped(_steps_line(words, list(named[caution_id])), indent=_INDENT)
    console.wrapped(words.say(say.DEFERS if first else say.NONE))


def _anywhere(caution: Caution) -> Caution:
    """Return a caution without the places of one step."""
    return replace(caution, places=())


def _steps_line(words: Words, names: Sequence[str]) -> str:
    more = ["…"] if len(names) > _NAMED_COUNT else []
    return words.say(say.IN_STEPS, steps=words.series([*names[:_NAMED_COUNT], *more]))


def cautions_object(words: Words, book: Book, steps: Sequence[tuple[Job, Step]]) -> Json:
    """Give the cautions of steps for programs: each text once, and by step which hold."""
    texts: dict[str, Json] = {}
    listed = []
    for job, step in steps:
        found = cautions_of(book, job, step)
        for each in found:
            if each.id not in texts:
                texts[each.id] = _text_object(words, each)
        listed.append({"job": job.id, "step": step.id, "cautions": step_cautions(found)})
    return {"cautions": texts, "steps": listed}


def step_cautions(found: Sequence[Caution]) -> list[Json]:
    """Give which cautions hold for a step, and where besides."""
    return [{"id": each.id, "places": list(each.places)} for each in found]


def _text_object(words: Words, caution: Caution) -> Json:
    return {
        "text": say.whole(words, _anywhere(caution)),
        "source": caution.source,
        "is_from_memory": caution.is_from_memory,
    }
