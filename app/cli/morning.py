"""`countback morning`: who does what today and tomorrow, what is in danger, who might come in."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.enquiries import enquiries_asked
from app.cli.findings import say_refused
from app.cli.moments import now_of
from app.cli.planfile import check_out, keep_plan
from app.cli.run import MET, MISSED
from app.outcome_json import instant_text
from app.told_json import ask_object, changes_object
from app.words import Words, shell
from app.words import changes as say_changes
from app.words import morning as say
from scheduler.asks import Asked as Question
from scheduler.asks import asks
from scheduler.outcome import CheckResult
from scheduler.request import SolveRequest
from scheduler.told_changes import Changes, told_changes
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from datetime import date

    from scheduler.morning import Coming, Extra, Morning
    from shared.plan import Plan

_INDENT = "    "
_GAP = "  "
Json = dict[str, object]


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0])
    out = check_out(asked.out, path)
    read = load_book(path)
    if read.book is None:
        words = words_for(read.whole)
        return say_refused(asked, console, words, read.findings, say.NOT_PLANNED, {"jobs": []})
    from scheduler.morning import Mornings, extra_hours, handed_out, offered_by_day

    book, words = read.book, words_for(read.book)
    now, is_own = now_of(asked, book)
    request = SolveRequest(
        book=book,
        now=now,
        asked=enquiries_asked(book, asked.enquiries),
        workers=1,
        seed=asked.number("seed", 1, least=0),
    )
    mornings = Mornings()
    found = mornings.plan(request)
    offers = offered_by_day(book, now)
    coming = [each for day in offers if (each := mornings.asking(request, found, day))]
    extra = extra_hours(book, now)
    sheets = handed_out(found.plan, book)
    changes = None if book.told is None else told_changes(book, found.plan, now)
    _say(console, words, found, sheets, coming)
    _say_extra(console, words, extra)
    _say_changes(console, words, request, changes)
    questions = asks(book, found.plan, now, CheckResult())
    _say_asks(console, words, questions, local_date(now, words.zone))
    moment = words.moment(now, after=None)
    console.say(words.say(shell.AS_OF_BOOK if is_own else shell.AS_OF, moment=moment))
    if out is not None:
        keep_plan(out, found.plan)
        console.say(words.say(say.KEPT, path=out))
    if asked.json:
        told = morning_object(request, found, sheets, coming)
        told["extra_hours"] = [_extra_object(each) for each in extra]
        told["asks"] = [ask_object(each) for each in questions]
        if changes is not None:
            told["changes"] = changes_object(book, changes)
        console.say(json.dumps(told, ensure_ascii=False))
    return MISSED if found.missed or found.in_danger else MET


def _say(
    console: Console, words: Words, found: "Morning", sheets: "Plan", coming: "list[Coming]"
) -> None:
    first, *more = say.head_lines(words, found)
    console.wrapped(console.strong(first))
    for line in more:
        console.wrapped(line)
    console.say()
    for line in say.chance_lines(words, found):
        console.wrapped(line, indent=_INDENT, first=_GAP)
    today = local_date(found.plan.now, words.zone)
    people = say.person_lines(words, sheets.placements, today)
    if people:
        console.say()
        console.say(say.sheets_title(words, today))
    for name, lines in people:
        console.wrapped(console.strong(name), indent=_INDENT, first=_GAP)
        for line in lines:
            console.wrapped(line, indent=_INDENT + _GAP, first=_INDENT)
    console.say()
    for each in coming:
        console.wrapped(say.worth_line(words, each))


def _say_changes(
    console: Console, words: Words, request: SolveRequest, changes: Changes | None
) -> None:
    if request.book.told is None or changes is None:
        return
    console.wrapped(say_changes.title(words, request.book.told, changes))
    today = local_date(request.now, words.zone)
    for line in say_changes.change_lines(words, changes, today):
        console.wrapped(line, indent=_INDENT, first=_GAP)
    console.say()


def _say_extra(console: Console, words: Words, extra: "tuple[Extra, ...]") -> None:
    """Say who has worked how many extra hours."""
    if not extra:
        return
    console.say()
    console.say(words.say(say.EXTRA_TITLE))
    for line in say.extra_lines(words, extra):
        console.wrapped(line, indent=_INDENT, first=_GAP)
    console.wrapped(words.say(say.EXTRA_NOTE))
    console.say()


def _say_asks(
    console: Console, words: Words, questions: tuple[Question, ...], today: "date"
) -> None:
    """Say what is to be said of what is past, whoever is long silent by name."""
    lines = say_changes.ask_lines(words, questions, today)
    if not lines:
        return
    console.say(words.say(say_changes.ASKS_TITLE))
    for line in lines:
        console.wrapped(line, indent=_INDENT, first=_GAP)
    console.say()


def _extra_object(found: "Extra") -> Json:
    return {
        "person": found.person,
        "hours": float(found.hours),
        "free_days": found.free_days,
        "ahead": float(found.ahead),
        "offers": found.offers,
    }


def morning_object(
    request: SolveRequest, found: "Morning", sheets: "Plan", coming: "list[Coming]"
) -> Json:
    """Give the morning for programs."""
    return {
        "as_of": instant_text(request.now),
        "revision": request.book.revision,
        "jobs": [
            {"id": job, "chance": chance, "in_danger": job in found.in_danger}
            for job, chance in sorted(found.chances.items())
        ],
        "is_told_anew": found.is_told_anew,
        "sheets": [
            {
                "people": list(placed.people),
                "step": placed.step,
                "part": placed.part,
                "place": placed.place,
                "start": instant_text(placed.start),
                "end": instant_text(placed.end),
            }
            for placed in sheets.placements
            if placed.people
        ],
        "worth_coming": [
            {"people": list(each.people), "start": instant_text(each.start), "gain": each.gain}
            for each in coming
        ],
    }
