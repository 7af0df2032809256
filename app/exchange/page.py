"""One page of HTML for a screen or a phone in the workshop; nothing comes from outside. No Qt."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from html import escape

from app.exchange.given import Given
from app.exchange.latest import latest_times
from app.exchange.text import plain
from app.window.people.days import first_day
from app.window.sheets.day import Line, Person, Row, Sort
from app.window.sheets.derive import Asked, derive
from app.window.sheets.rows import Day
from app.window.sheets.under import cure_lines, day_calendar, due_lines, near_cures
from app.words import Words
from app.words import give as say
from app.words import sheets as on_sheets
from shared.worktime import next_working_day

POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
"""Whatever stands in a book, a browser fetches and runs nothing for this page."""
AGAIN_SECONDS = 300
"""A screen that shows the file looks at it again after so long."""

STYLE = """
:root{color-scheme:light dark;--ground:#fff;--ink:#111;--soft:#555;--line:#bbb;--mark:#a40000}
@media (prefers-color-scheme:dark){
:root{--ground:#141414;--ink:#f2f2f2;--soft:#b4b4b4;--line:#4a4a4a;--mark:#ff9a8a}}
*{box-sizing:border-box}
html{font-size:17px}
@media (min-width:1100px){html{font-size:1.75vw}}
body{margin:0;padding:.8rem;background:var(--ground);color:var(--ink);
font:1rem/1.35 system-ui,"Noto Sans","DejaVu Sans",sans-serif;overflow-wrap:anywhere}
h1{font-size:1.15rem;margin:0}
h2{font-size:1.4rem;margin:.8rem 0 .2rem;border-top:.15rem solid var(--ink);padding-top:.3rem}
h3{font-size:1.05rem;margin:.7rem 0 .3rem;color:var(--soft)}
h4{font-size:1.15rem;margin:0}
p,ul{margin:.2rem 0}
ul{list-style:none;padding:0}
.mark{color:var(--mark);font-weight:700;border:.15rem solid var(--mark);padding:.3rem .5rem}
.soft,footer{color:var(--soft)}
.each{columns:16rem;column-gap:.6rem}
article{border:1px solid var(--line);border-radius:.3rem;padding:.3rem .6rem;margin:0 0 .5rem;
break-inside:avoid}
li{padding:.2rem 0;border-top:1px solid var(--line)}
li:first-child{border-top:0}
article .what{font-weight:700}
.when{font-variant-numeric:tabular-nums;white-space:nowrap}
.changed{border-left:.35rem solid var(--ink);padding-left:.5rem}
.tag{border:1px solid currentColor;border-radius:.3rem;padding:0 .3rem;white-space:nowrap}
.done{color:var(--soft)}
@media print{body{padding:0}.each{display:block}article{break-inside:avoid;margin:.3rem 0}}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPlace:
    """What is worked on at a place, from when to when, and by whom."""

    start: str
    end: str
    what: str
    stage: str
    people: str


def page(given: Given) -> bytes:
    """Return the page: today and the next working day, as of the given moment.

    Why somebody is away stands nowhere in it.
    """
    words = given.words
    today = first_day(given.book, given.now)
    after = next_working_day(day_calendar(given.book), today)
    body = [*_head(given)]
    for title, day in ((say.TODAY, today), (say.NEXT, after)):
        shown = words.say(title, day=on_sheets.date_in_full(words, day))
        due = _due(given, day) if day == today else ()
        body += _day(given, shown, day, due)
    body.append(f"<footer><p>{_text(words.say(on_sheets.DEFERS))}</p></footer>")
    return _whole(given, body).encode()


def _whole(given: Given, body: Iterable[str]) -> str:
    title = _text(given.book.workshop.name or given.book.name)
    return "\n".join(
        (
            "<!DOCTYPE html>",
            f'<html lang="{escape(given.words.language)}">',
            "<head>",
            '<meta charset="utf-8">',
            f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">',
            f'<meta http-equiv="refresh" content="{AGAIN_SECONDS}">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            '<meta name="referrer" content="no-referrer">',
            '<meta name="generator" content="Countback">',
            f"<title>{title}</title>",
            f"<style>{STYLE}</style>",
            "</head>",
            "<body>",
            *body,
            "</body>",
            "</html>",
            "",
        )
    )


def _text(text: str) -> str:
    return escape(plain(text))


def _head(given: Given) -> Iterator[str]:
    yield f"<header><h1>{_text(given.book.workshop.name or given.book.name)}</h1>"
    yield f'<p class="made">{_text(given.made)}</p>'
    for mark in given.marks:
        yield f'<p class="mark" role="alert">{_text(mark)}</p>'
    yield "</header>"


def _due(given: Given, today: date) -> Iterator[str]:
    words = given.words
    day = Day(given.book, words, today)
    cured = near_cures(day, given.plan)
    latest = latest_times(given.book, given.plan.now, given.plan.jobs)
    lines = due_lines(day, given.plan, cured, latest, given.now, most=None)
    yield f'<div class="due"><h3>{_text(words.say(on_sheets.DUE))}</h3>'
    yield from _lines(lines, words.say(say.DUE_NONE))
    yield "</div>"


def _lines(lines: tuple[Line, ...], nothing: str) -> Iterator[str]:
    if not lines:
        yield f'<p class="soft">{_text(nothing)}</p>'
        return
    yield "<ul>"
    for line in lines:
        when = f' <span class="when">{_text(line.when)}</span>' if line.when else ""
        yield f'<li><span class="what">{_text(line.what)}</span>{when}</li>'
    yield "</ul>"


def _day(given: Given, title: str, day: date, due: Iterable[str]) -> Iterator[str]:
    """Give a day: who does what first, what is due behind it."""
    words = given.words
    asked = Asked(book=given.book, plan=given.plan, now=given.now, day=day)
    sheet, of_day = derive(asked, words)[0], Day(given.book, words, day)
    cures = cure_lines(of_day, given.plan, near_cures(of_day, given.plan), given.now, most=None)
    yield f'<section class="day" data-day="{day.isoformat()}"><h2>{_text(title)}</h2>'
    summary = " ".join(part for part, _ in sheet.summary)
    yield f'<p class="summary">{_text(summary)}</p>'
    if sheet.changes:
        yield f"<p><strong>{_text(sheet.changes)}</strong></p>"
    yield f'<h3>{_text(words.say(say.WHO_DOES_WHAT))}</h3><div class="each people">'
    for person in sheet.people:
        yield from _person(words, person)
    yield "</div>"
    yield from due
    yield f"<h3>{_text(words.say(say.PLACES))}</h3>"
    yield from _places(given, day)
    yield f"<h3>{_text(words.say(on_sheets.CURES))}</h3>"
    yield '<div class="cures">'
    yield from _lines(cures, words.say(say.CURES_NONE))
    yield "</div>"
    if sheet.cares:
        yield f'<h3>{_text(words.say(on_sheets.CARE))}</h3><ul class="cares">'
        for care in sheet.cares:
            yield f"<li><strong>{_text(care.name)}</strong> {_text(care.text)}</li>"
        yield "</ul>"
    yield "</section>"


def _person(words: Words, person: Person) -> Iterator[str]:
    mark = " changed" if person.is_changed else ""
    yield f'<article class="person{mark}"><h4>{_text(person.name)}</h4><ul>'
    for row in person.rows:
        yield from _row(words, row)
    yield "</ul></article>"


def _row(words: Words, row: Row) -> Iterator[str]:
    if row.sort is Sort.FREE:
        yield f'<li class="free soft">{_text(row.segment)}</li>'
        return
    told = [("stage", row.stage), ("place", row.place)]
    if row.beside:
        told.append(("beside soft", words.say(say.WITH, people=row.beside)))
    told += [("tag", words.say(say.CHANGED))] * row.is_changed
    told += [("tag", words.say(say.IS_DONE))] * row.is_done
    names = ' class="done"' if row.is_done else ""
    yield f"<li{names}>{_line(row.start, row.end, row.segment, told)}</li>"


def _line(start: str, end: str, what: str, told: Iterable[tuple[str, str]]) -> str:
    """Return when and what, and the rest under it."""
    parts = [f'<span class="{name}">{_text(text)}</span>' for name, text in told if text]
    rest = f'<div class="rest">{" · ".join(parts)}</div>' if parts else ""
    when = f'<span class="when">{_text(start)}–{_text(end)}</span>'
    return f'{when} <span class="what">{_text(what)}</span>{rest}'


def _places(given: Given, day: date) -> Iterator[str]:
    words = given.words
    found = at_places(given, day)
    if not any(found.values()):
        yield f'<p class="soft">{_text(words.say(say.PLACES_NONE))}</p>'
        return
    yield '<div class="each places">'
    for place, rows in found.items():
        if not rows:
            continue
        yield f'<article class="at"><h4>{_text(place)}</h4><ul>'
        for row in rows:
            told = (("stage", row.stage), ("who soft", row.people))
            yield f"<li>{_line(row.start, row.end, row.what, told)}</li>"
        yield "</ul></article>"
    yield "</div>"


def at_places(given: Given, day: date) -> dict[str, tuple[AtPlace, ...]]:
    """Return by the names of places, in the book's order, what people do there on a day."""
    words = given.words
    stints = Day(given.book, words, day).stints(given.plan)
    together: dict[tuple[str, str, datetime, datetime], tuple[Row, list[str]]] = {}
    for person in given.book.people:
        for stint in stints.get(person.id, ()):
            key = (stint.row.place, stint.source, stint.start, stint.end)
            together.setdefault(key, (stint.row, []))[1].append(person.name)
    made: dict[str, dict[tuple[datetime, str], AtPlace]] = {p.name: {} for p in given.book.places}
    for (place, source, start, _), (row, people) in together.items():
        if place in made:
            made[place][start, source] = AtPlace(
                start=row.start,
                end=row.end,
                what=row.segment,
                stage=row.stage,
                people=words.series(people),
            )
    return {place: tuple(each[1] for each in sorted(at.items())) for place, at in made.items()}
