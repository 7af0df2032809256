"""What was asked on the command line, read by argparse and refused in our own words."""

import argparse
from dataclasses import dataclass
from typing import NoReturn

HELP = ("-h", "--help")
VERSION = "--version"


class Usage(Exception):  # noqa: N818 - it says what happened
    """The command was not asked as it can be: a code and facts for the sentence."""

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(code, facts)
        self.code = code
        self.facts = facts


@dataclass(frozen=True, slots=True)
class Verb:
    """A verb: the words it must have, those it may have besides, and its own options.

    has_more: the last of the words may be said more than once.
    """

    must: tuple[str, ...] = ()
    may: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()
    has_more: bool = False

    def usage(self, name: str) -> str:
        """Give the verb with its words, as it is typed."""
        words = [*self.must, *(f"[{word}]" for word in self.may)]
        more = ["..."] if self.has_more else []
        return " ".join(["countback", name, *words, *more])


VERBS: dict[str, Verb] = {
    "plan": Verb(
        must=("BOOK",),
        options=("--seconds", "--workers", "--seed", "--with", "--try", "--out"),
        flags=("--json", "--quiet"),
    ),
    "check": Verb(must=("BOOK", "PLAN"), flags=("--json",)),
    "findings": Verb(must=("BOOK",), flags=("--json",)),
    "loads": Verb(must=("BOOK",), options=("--take", "--pieces"), flags=("--json",)),
    "orders": Verb(must=("BOOK",), options=("--seconds", "--workers"), flags=("--json",)),
    "through": Verb(must=("BOOK",), may=("JOB",), options=("--size",), flags=("--json",)),
    "split": Verb(must=("BOOK", "SEGMENT"), options=("--cut",), flags=("--json",)),
    "cautions": Verb(must=("BOOK",), may=("STEP",), flags=("--json",)),
    "ask": Verb(
        must=("WHAT",),
        options=(
            *("--size", "--by", "--country", "--like", "--times", "--book", "--out", "--assume"),
            *("--surface", "--pieces", "--detail", "--finish", "--route", "--option"),
            *("--as", "--in", "--crew", "--seconds", "--workers"),
        ),
        flags=("--json", "--quiet"),
    ),
    "estimate": Verb(
        may=("BOOK", "JOB"),
        options=(
            *("--size", "--surface", "--pieces", "--detail", "--finish"),
            *("--route", "--option", "--like", "--times"),
        ),
        flags=("--json",),
    ),
    "routes": Verb(may=("BOOK",), options=("--of", "--copy"), flags=("--json",)),
    "deliver": Verb(
        must=("BOOK",), may=("JOB",), options=("--seconds", "--workers"), flags=("--json",)
    ),
    "legs": Verb(may=("BOOK", "JOB"), options=("--as",), flags=("--json",)),
    "make": Verb(
        must=("BOOK", "JOB", "SEGMENT"),
        options=("--route", "--option", "--as", "--in", "--crew"),
        has_more=True,
    ),
    "answer": Verb(
        must=("BOOK", "GATE", "ANSWER"),
        options=("--by", "--at", "--shown", "--seconds", "--workers"),
        flags=("--json",),
    ),
    "done": Verb(
        must=("BOOK",), may=("STEP",), options=("--at", "--as-told", "--by"), flags=("--json",)
    ),
    "late": Verb(must=("BOOK", "STEP", "HOURS"), options=("--because", "--by"), flags=("--json",)),
    "held": Verb(must=("BOOK", "STEP"), options=("--because", "--at", "--by"), flags=("--json",)),
    "came": Verb(must=("BOOK", "WHAT"), options=("--at", "--by"), flags=("--json",)),
    "change": Verb(
        must=("BOOK", "SEGMENT"),
        options=("--what", "--share", "--seconds", "--workers"),
        flags=("--answer", "--take", "--json"),
    ),
    "move": Verb(
        must=("BOOK", "JOB", "START", "END"),
        options=("--seconds", "--workers"),
        flags=("--take", "--json"),
    ),
    "again": Verb(
        must=("BOOK", "STEP"),
        options=("--because", "--share", "--on", "--seconds", "--workers"),
        flags=("--take", "--json"),
    ),
    "levers": Verb(
        must=("BOOK", "JOB"), options=("--apply", "--seconds", "--workers"), flags=("--json",)
    ),
    "why": Verb(
        must=("BOOK", "JOB"),
        options=("--seconds", "--workers", "--out"),
        flags=("--json",),
    ),
    "away": Verb(
        must=("BOOK", "WHO", "FROM", "TO"),
        options=("--apply", "--with", "--seconds", "--workers"),
        flags=("--json",),
    ),
    "chance": Verb(
        must=("BOOK",),
        options=("--seconds", "--workers", "--seed", "--with"),
        flags=("--json",),
    ),
    "morning": Verb(must=("BOOK",), options=("--seed", "--with", "--out"), flags=("--json",)),
    "rush": Verb(must=("BOOK", "ENQUIRY"), options=("--seconds",), flags=("--json",)),
    "tell": Verb(must=("BOOK", "PLAN"), options=("--by",), flags=("--json",)),
    "learn": Verb(must=("BOOK",), options=("--take",), flags=("--json",)),
    "give": Verb(
        must=("BOOK", "WHAT", "OUT"),
        options=("--of", "--for", "--paper", "--plan", "--seconds", "--workers"),
        flags=("--told", "--bom", "--json"),
    ),
    "bring": Verb(
        must=("BOOK", "KIND", "FILE"),
        options=("--map", "--of"),
        flags=("--take", "--template", "--json"),
    ),
    "sample": Verb(must=("NAME", "DIR")),
    "undo": Verb(must=("BOOK",)),
    "open": Verb(may=("BOOK",)),
    "engine": Verb(),
}
EVERY_VERBS_OPTIONS = ("--now",)
WRITING = frozenset(
    {
        *("answer", "ask", "again", "away", "bring", "came", "change", "done", "held", "late"),
        *("learn", "legs", "levers", "loads", "make", "move", "routes", "tell", "undo"),
    }
)
"""Verbs that may write a book; each takes --take-lock."""
OFTEN = {
    "--with": "enquiries",
    "--take": "take",
    "--cut": "cuts",
    "--option": "options",
    "--as": "called",
    "--in": "places",
    "--crew": "crew",
    "--shown": "shown",
    "--try": "tries",
    "--map": "mapped",
}
"""Options that may be said more than once, and what they are kept as."""
NAMED = {"--for": "for_job"}
"""Options that are kept under another name than their own."""
FLAGS = {"--take": "is_taken", "--answer": "asks_anew", "--take-lock": "takes_lock"}
"""Flags that are kept under another name than their own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One command: the verb ("" for help on all or the version), its words and options as typed."""

    verb: str
    words: tuple[str, ...] = ()
    wants_help: bool = False
    wants_version: bool = False
    now: str | None = None
    seconds: str | None = None
    workers: str | None = None
    seed: str | None = None
    enquiries: tuple[str, ...] = ()
    out: str | None = None
    take: tuple[str, ...] = ()
    pieces: str | None = None
    size: str | None = None
    surface: str | None = None
    detail: str | None = None
    finish: str | None = None
    like: str | None = None
    times: str | None = None
    country: str | None = None
    book: str | None = None
    assume: str | None = None
    cuts: tuple[str, ...] = ()
    of: str | None = None
    for_job: str | None = None
    paper: str | None = None
    copy: str | None = None
    route: str | None = None
    options: tuple[str, ...] = ()
    called: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    crew: tuple[str, ...] = ()
    by: str | None = None
    at: str | None = None
    as_told: str | None = None
    shown: tuple[str, ...] = ()
    what: str | None = None
    share: str | None = None
    because: str | None = None
    on: str | None = None
    tries: tuple[str, ...] = ()
    plan: str | None = None
    mapped: tuple[str, ...] = ()
    apply: str | None = None
    is_taken: bool = False
    asks_anew: bool = False
    takes_lock: bool = False
    told: bool = False
    bom: bool = False
    template: bool = False
    json: bool = False
    quiet: bool = False

    def number(self, option: str, usual: int, least: int = 1) -> int:
        """Give a whole number that was typed, or the usual one.

        Raises
        ------
        Usage
            If it is none, or below the least.
        """
        text: str | None = getattr(self, option)
        if text is None:
            return usual
        if not (text.isascii() and text.isdigit() and len(text) < 10 and int(text) >= least):
            raise Usage("bad_number", word=text, least=least, option=f"--{option}")
        return int(text)


class _Parser(argparse.ArgumentParser):
    """Reads the words of one verb and says nothing itself."""

    def __init__(self, verb: Verb, flags: tuple[str, ...]) -> None:
        super().__init__(add_help=False, allow_abbrev=False, exit_on_error=False)
        self.add_argument(*HELP, dest="wants_help", action="store_true")
        self.add_argument("words", nargs="*")
        for option in (*EVERY_VERBS_OPTIONS, *verb.options):
            if option in OFTEN:
                self.add_argument(option, dest=OFTEN[option], action="append", default=[])
            else:
                self.add_argument(option, dest=NAMED.get(option))
        for flag in flags:
            self.add_argument(flag, dest=FLAGS.get(flag), action="store_true")

    def error(self, message: str) -> NoReturn:
        raise Usage("usage", usage=message)


def read_arguments(arguments: list[str]) -> Asked:
    """Read a command.

    Raises
    ------
    Usage
        If it can't be asked so.
    """
    if not arguments:
        raise Usage("no_verb", verbs=_verbs())
    name = arguments[0]
    if name in HELP:
        return Asked(verb="", wants_help=True)
    if arguments == [VERSION]:
        return Asked(verb="", wants_version=True)
    if name not in VERBS:
        raise Usage("unknown_verb", word=name, verbs=_verbs())
    return _of_verb(name, VERBS[name], arguments[1:])


def _verbs() -> str:
    return ", ".join(VERBS)


def _of_verb(name: str, verb: Verb, arguments: list[str]) -> Asked:
    usage = verb.usage(name)
    # Behind a lone -- everything is a word; argparse forgets that when words and options mix.
    here = arguments.index("--") if "--" in arguments else len(arguments)
    try:
        flags = (*verb.flags, *(("--take-lock",) if name in WRITING else ()))
        found, strangers = _Parser(verb, flags).parse_known_intermixed_args(arguments[:here])
    except argparse.ArgumentError as trouble:
        option = trouble.argument_name or ""
        raise Usage("option_needs", option=option, usage=usage) from None
    told = {**vars(found), "words": (*found.words, *arguments[here + 1 :])}
    told |= {name: tuple(told[name]) for name in OFTEN.values() if name in told}
    asked = Asked(verb=name, **told)
    if not asked.wants_help:
        _check_words(asked.words, strangers, verb, name)
    return asked


def _check_words(words: tuple[str, ...], strangers: list[str], verb: Verb, name: str) -> None:
    if strangers:
        raise Usage("unknown_option", word=strangers[0], verb=name)
    if len(words) < len(verb.must):
        raise Usage("missing", what=verb.must[len(words)], usage=verb.usage(name))
    most = len(verb.must) + len(verb.may)
    if len(words) > most and not verb.has_more:
        raise Usage("too_many", word=words[most], usage=verb.usage(name))
