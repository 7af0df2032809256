"""`countback give`: a checked plan as files for other programs, screens and phones."""

import json
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, load_plan, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.give_papers import OF_PAPER, check_paper, papers
from app.cli.kept import found_for
from app.cli.meant import feed_meant
from app.cli.moments import now_of
from app.cli.run import BROKEN, MET
from app.words import Words
from app.words import deliver as by_plan
from app.words import give as say
from shared.book import Book
from shared.plan import Plan

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.exchange.files import Files
    from app.exchange.given import Given
    from scheduler.outcome import Breach, Outcome

_INDENT = "    "
_PAPERS = (".pdf", ".svg", ".png")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sort:
    """One thing that can be given. suffixes: which a file may have; () for a folder of files.

    options: those of its own, as they are kept.
    """

    make: "Callable[[Given, Asked], Files]"
    suffixes: tuple[str, ...] = ()
    feeds: bool = False
    options: frozenset[str] = frozenset()


def run(asked: Asked, console: Console) -> int:
    path, sort, out = Path(asked.words[0]), _sort(asked), Path(asked.words[2])
    _check_out(asked, sort, out)
    read = load_book(path)
    words = words_for(read.book or read.whole)
    if read.book is None:
        return say_refused(asked, console, words, read.findings, say.NOT_GIVEN, {"files": []})
    from app.exchange.files import write_files
    from app.exchange.given import NotSound, given

    book = read.book
    if asked.of is not None:
        feed_meant(book, asked.of)
    check_paper(asked, book)
    now, _ = now_of(asked, book)
    found = load_plan(Path(asked.plan)) if asked.plan is not None else None
    if found is not None and found.plan is None:
        return say_refused(asked, console, words, found.findings, say.NOT_GIVEN, {"files": []})
    kept = found.plan if found is not None else _told(asked, book)
    plan, outcome, by = _plan(asked, console, words, book, kept)
    try:
        made = replace(given(book, plan, now, words), outcome=outcome)
    except NotSound as trouble:
        return _broken(asked, console, words, trouble.breaches)
    files = sort.make(made, asked)
    count = write_files(out, files, is_folder=not _is_file(asked, sort))
    return _said(asked, console, made, (by, out, count))


def _sort(asked: Asked) -> Sort:
    what = asked.words[1]
    if what not in SORTS:
        raise Usage("unknown_what", word=what, known=", ".join(SORTS))
    found = SORTS[what]
    if asked.of is not None and not found.feeds:
        raise Usage("for_a_calendar", word=what)
    for option in OF_PAPER:
        if getattr(asked, option) is not None and option not in found.options:
            known = ", ".join(name for name, each in SORTS.items() if option in each.options)
            raise Usage("option_of_others", option=OF_PAPER[option], known=known, word=what)
    return found


def _check_out(asked: Asked, sort: Sort, out: Path) -> None:
    """Refuse a place that holds something else than what is given, as far as names tell."""
    if not _is_file(asked, sort):
        if out.exists() and not out.is_dir():
            raise Usage("folder_wanted", path=str(out), word=asked.words[1])
        return
    if out.is_dir():
        raise Usage("is_folder", path=str(out))
    if out.suffix.casefold() not in sort.suffixes:
        raise Usage("other_suffix", path=str(out), suffix=", ".join(sort.suffixes))


def _is_file(asked: Asked, sort: Sort) -> bool:
    return bool(sort.suffixes) and (not sort.feeds or asked.of is not None)


def _told(asked: Asked, book: Book) -> Plan | None:
    if not asked.told:
        return None
    if asked.plan is not None:
        raise Usage("plan_and_told")
    if book.told is None:
        raise Usage("nobody_told")
    return book.told.plan


def _plan(
    asked: Asked, console: Console, words: Words, book: Book, kept: Plan | None
) -> "tuple[Plan, Outcome | None, str]":
    """Return the plan to give, the answer it is of, and which plan it is, as a sentence."""
    if kept is not None:
        template = say.BY_TOLD if asked.told else say.BY_FILE
        return kept, None, words.say(template, path=asked.plan or "")
    now, _ = now_of(asked, book)
    plan, outcome = found_for(asked, console, words, book, now)
    return plan, outcome, words.say(by_plan.BY_KEPT if outcome is None else by_plan.BY_NEW)


def _broken(asked: Asked, console: Console, words: Words, breaches: "tuple[Breach, ...]") -> int:
    console.wrapped(console.alarm(words.say(say.BROKEN, count=len(breaches))))
    for breach in breaches:
        console.wrapped(words.breach(breach), indent=_INDENT, first="  ")
    if asked.json:
        rules = [breach.rule for breach in breaches]
        console.say(json.dumps({"files": [], "breaches": rules}, ensure_ascii=False))
    return BROKEN


def _said(asked: Asked, console: Console, made: "Given", told: tuple[str, Path, int]) -> int:
    by, out, count = told
    for mark in made.marks:
        console.wrapped(console.alarm(mark))
    template = say.WRITTEN if out.is_dir() else say.WRITTEN_ONE_BY_ONE
    console.wrapped(made.words.say(template, path=str(out), count=count))
    console.wrapped(f"{by} {made.made}.")
    if asked.json:
        answer = {
            "path": str(out),
            "count": count,
            "is_old": made.is_old,
            "is_told": made.is_told,
            "marks": list(made.marks),
            "revision": made.plan.made_from.revision,
        }
        console.say(json.dumps(answer, ensure_ascii=False))
    return MET


# What can be given.


def _calendars(given: "Given", asked: Asked) -> "Files":
    from app.exchange.files import calendar_files

    feed = feed_meant(given.book, asked.of) if asked.of is not None else None
    return calendar_files(given, feed)


def _tables(given: "Given", asked: Asked) -> "Files":
    from app.exchange.files import table_files

    return table_files(given, bom=asked.bom)


def _workbook(given: "Given", asked: Asked) -> "Files":
    from app.exchange.files import workbook_file

    return workbook_file(given)


def _page(given: "Given", asked: Asked) -> "Files":
    from app.exchange.files import page_file

    return page_file(given)


SORTS: dict[str, Sort] = {
    "calendar": Sort(make=_calendars, suffixes=(".ics",), feeds=True),
    "workbook": Sort(make=_workbook, suffixes=(".xlsx",)),
    "tables": Sort(make=_tables),
    "page": Sort(make=_page, suffixes=(".html", ".htm")),
    "board": Sort(make=papers, suffixes=_PAPERS),
    "wall": Sort(make=papers, suffixes=_PAPERS, options=frozenset(OF_PAPER)),
    "letter": Sort(make=papers, suffixes=_PAPERS, options=frozenset({"for_job"})),
    "loads": Sort(make=papers, suffixes=_PAPERS, options=frozenset({"for_job"})),
    "owner": Sort(make=papers, suffixes=_PAPERS),
}
"""By the word for it on the command line. What needs Qt imports it inside its own function."""
