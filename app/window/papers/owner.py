"""The owner's page: how the windows stand, what is in danger, what this week asks for. No Qt.

Money is nowhere in here: paper lies about.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from zoneinfo import ZoneInfo

from app.exchange.given import Given
from app.window.papers.text import Item, Paper, Part
from app.window.people.days import first_day
from app.window.sheets.rows import Day
from app.window.sheets.under import Due, answers_due, orders_due
from app.words import Words, morning
from app.words import papers as say
from app.words import window as wording
from app.words.template import Template
from app.words.verdicts import is_met
from app.words.voice import capital
from scheduler.outcome import JobOutcome, Outcome, Verdict

MOST = 12


def owner(given: Given, outcome: Outcome) -> Paper:
    """Return the page with all its lines."""
    words = given.words
    moment = words.moment(given.now, after=None)
    return Paper(
        title=words.say(say.OWNER),
        shop=given.book.workshop.name or given.book.name,
        line=words.say(say.OWNER_LINE, moment=moment),
        marks=given.marks,
        is_old=given.is_old,
        first=words.book_line(outcome.jobs, now=given.now),
        parts=tuple(_parts(given, outcome)),
        last=words.say(say.NO_CHANCE),
        foot=given.made,
    )


def shortened(paper: Paper, most: int, words: Words) -> Paper:
    """Return a page with so many lines of a part at most, and how many more there are."""
    parts = (replace(part, items=_at_most(part.items, most, words)) for part in paper.parts)
    return replace(paper, parts=tuple(parts))


def _at_most(items: tuple[Item, ...], most: int, words: Words) -> tuple[Item, ...]:
    more = len(items) - most
    if more <= 0:
        return items
    text = words.say(say.MORE, count=more, number=words.number_word(more))
    return (*items[:most], Item(what=text))


def _parts(given: Given, outcome: Outcome) -> Iterator[Part]:
    words = given.words
    by_window = sorted(outcome.jobs, key=lambda told: (is_met(told), told.slack_minutes or 0))
    shaky = [told for told in by_window if told.verdict is not Verdict.FITS]
    danger = [Item(what=words.verdict_line(told, now=given.now)) for told in shaky]
    yield _part(given, say.IN_DANGER, danger, say.NO_DANGER)
    stand = [_stands(given, told) for told in by_window]
    yield _part(given, say.HOW_JOBS_STAND, stand, say.ALONE)
    yield _part(given, say.THIS_WEEK, _due(given), say.NOTHING_DUE)
    yield _part(given, say.EXTRA, _extra(given), say.NO_EXTRA)


def _part(given: Given, title: Template, items: Iterable[Item], nothing: Template) -> Part:
    words = given.words
    found = tuple(items) or (Item(what=words.say(nothing)),)
    return Part(title=words.say(title), items=found)


def _stands(given: Given, told: JobOutcome) -> Item:
    words = given.words
    job = next(each for each in given.book.jobs if each.id == told.id)
    held, verdict = job.held_window, words.verdict_mark(told.verdict)
    what = told.name
    if held is not None:
        opens = held.start.astimezone(ZoneInfo(job.site.zone)).date()
        what = words.say(say.JOB_STANDS, job=told.name, day=wording.short_day(words, opens))
    if is_met(told) and told.slack_minutes is not None:
        when = words.say(say.SPARE, verdict=verdict, spare=words.spare(told.slack_minutes))
    elif told.missed_by_minutes and told.verdict is not Verdict.CANNOT:
        when = words.say(say.LATE, verdict=verdict, late=words.verdict_margin(told))
    else:
        when = words.say(say.ALONE, verdict=verdict)
    return Item(what=what, when=when, is_strong=told.verdict is not Verdict.FITS)


def _due(given: Given) -> Iterator[Item]:
    day = Day(given.book, given.words, first_day(given.book, given.now))
    found: list[Due] = [
        *answers_due(day, given.plan, given.now),
        *orders_due(day, given.plan, given.now),
    ]
    late = given.words.say(say.OVERDUE)
    for at, what, when in sorted(found, key=lambda each: (each[0], each[1])):
        is_late = not when or at < day.first
        yield Item(what=capital(what), when=when or late, is_strong=is_late)


def _extra(given: Given) -> Iterator[Item]:
    from scheduler.morning import extra_hours

    lines = morning.extra_lines(given.words, extra_hours(given.book, given.now))
    yield from (Item(what=line) for line in lines)
    if lines:
        yield Item(what=given.words.say(morning.EXTRA_NOTE))
