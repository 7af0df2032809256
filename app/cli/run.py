"""One command from its words to its exit code; every trouble becomes a sentence here."""

import os
import sys
from importlib import import_module
from typing import TYPE_CHECKING

from app import VERSION
from app.cli.arguments import VERBS, Asked, Usage, read_arguments
from app.cli.console import Console
from app.cli.crash import keep_note

if TYPE_CHECKING:
    from collections.abc import Callable

MODULES = {verb: f"app.cli.{verb}" for verb in VERBS}
MET, FAULT, REFUSED, MISSED, BROKEN, STOPPED = 0, 1, 2, 3, 4, 130


def main(arguments: list[str]) -> int:
    """Be the program: one command, and Python's own streams and last resort set up for it."""
    sys.excepthook = keep_note
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]
    try:
        code = run(arguments, Console())
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read us has had enough; Python would complain once more at its end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAULT
    return code


def run(arguments: list[str], console: Console) -> int:
    """Do one command and give its exit code."""
    try:
        asked = read_arguments(arguments)
        if asked.wants_help:
            return _help(asked, console)
        if asked.wants_version:
            console.say(f"countback {VERSION}")
            return MET
        return _done(asked, console)
    except Usage as usage:
        return _refused(console, usage.code, usage.facts)
    except KeyboardInterrupt:
        from app.words.troubles import stopped
        from app.words.voice import Voice

        console.tell(stopped(Voice()))
        return STOPPED


def _done(asked: Asked, console: Console) -> int:
    from shared.errors import DiskError

    try:
        return _verb(asked, console)
    except DiskError as trouble:
        return _refused(console, trouble.code, trouble.facts)


def _verb(asked: Asked, console: Console) -> int:
    """Import the one verb that is wanted, so that the quick ones stay quick."""
    if asked.now is not None:
        from app.cli.moments import instant_typed

        instant_typed(asked.now, "UTC")
    run_verb: Callable[[Asked, Console], int] = import_module(MODULES[asked.verb]).run
    return run_verb(asked, console)


def _help(asked: Asked, console: Console) -> int:
    from app.words.help import OVERVIEW, VERBS
    from app.words.voice import Voice

    console.say(Voice().say(VERBS[asked.verb] if asked.verb else OVERVIEW).rstrip("\n"))
    return MET


def _refused(console: Console, code: str, facts: dict[str, object]) -> int:
    from app.words.troubles import trouble
    from app.words.voice import Voice

    console.tell(trouble(Voice(), code, **facts))
    return REFUSED
