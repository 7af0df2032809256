"""`countback findings`: all that is wrong in a book, at once."""

import json
from collections.abc import Mapping
from pathlib import Path

from app.cli.arguments import Asked
from app.cli.books import finding_objects, load_book, words_for
from app.cli.console import Console
from app.cli.run import MET, REFUSED
from app.words import Words, shell
from app.words.template import Template
from shared.findings import Finding

_INDENT = "    "


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    words = words_for(read.book or read.whole)
    say_findings(console, words, read.findings)
    if asked.json:
        told = {"findings": finding_objects(words, read.findings)}
        console.say(json.dumps(told, ensure_ascii=False))
    return REFUSED if read.book is None else MET


def say_refused(
    asked: Asked,
    console: Console,
    words: Words,
    found: tuple[Finding, ...],
    left: Template,
    nothing: Mapping[str, object],
) -> int:
    """Write the findings that stop a command, what is left undone, and an answer with nothing."""
    say_findings(console, words, found)
    console.say(words.say(left))
    if asked.json:
        told = {**nothing, "findings": finding_objects(words, found)}
        console.say(json.dumps(told, ensure_ascii=False))
    return REFUSED


def say_findings(console: Console, words: Words, found: tuple[Finding, ...]) -> None:
    """Write findings, those that stop first, and how many there are."""
    if not found:
        console.say(words.say(shell.NO_FINDINGS))
        return
    for each in sorted(found, key=lambda finding: not finding.stops):
        _say_one(console, words, each)
    stopping = sum(each.stops for each in found)
    stops = words.say(shell.STOPPING, count=stopping) if stopping else ""
    stops = stops or words.say(shell.NOTHING_STOPS)
    console.say(words.say(shell.FINDINGS, count=len(found), stops=stops))


def _say_one(console: Console, words: Words, found: Finding) -> None:
    text, cure = words.finding(found)
    mark = words.say(shell.STOPS if found.stops else shell.TELLS)
    where = words.path(found.path)
    if found.name:
        where = words.say(shell.IN, path=where, name=found.name) if where else found.name
    shown = console.alarm(mark) if found.stops else mark
    console.say(f"{shown}  {where}" if where else shown)
    console.wrapped(f"{text} {cure}", indent=_INDENT)
