"""The foreman's sentence: who is at work, who is away, and what is next. No Qt."""

from datetime import datetime
from zoneinfo import ZoneInfo

from app.window.desk import Desk
from app.window.headline import Headline, Part
from app.window.people.items import Board, Column, Line, Sort
from app.window.trial import Trial
from app.words import Words, evening
from app.words import people_view as say
from app.words import window as said
from app.words.changes import work_of
from app.words.voice import capital
from shared.worktime.zones import local_date

_MOST_NAMED = 4
LONGEST = 115
"""So many letters of a sentence are read at one glance."""


def people_headline(desk: Desk, board: Board) -> Headline:
    """Return what the masthead says while the foreman's view is in front."""
    words = desk.words
    if desk.trouble:
        return Headline(sentence=desk.trouble, is_alarm=True)
    if not board.people:
        return Headline(sentence=words.say(say.NO_PEOPLE))
    if desk.stopping:
        first, cure = words.finding(desk.stopping[0])
        count = len(desk.stopping)
        number = words.number_word(count)
        sentence = words.say(said.FINDINGS_STOP, count=count, number=number)
        return Headline(sentence=sentence, next=((f"{first} {cure}", False),), is_alarm=True)
    sentence = at_work(words, board, desk.now)
    if desk.trial is not None:
        return _tried(desk, desk.trial, board)
    return Headline(sentence=sentence, next=_next(desk, board))


def _tried(desk: Desk, trial: Trial, board: Board) -> Headline:
    """Return what is tried and what it does to the windows; the first below where both are long."""
    jobs = trial.outcome.jobs if trial.outcome is not None else ()
    then = desk.words.book_line(jobs) if jobs else ""
    verdict = trial.outcome.verdict if trial.outcome is not None else None
    whole = desk.words.say(say.TRIED_SENTENCE, what=trial.what, sentence=then).strip()
    parts = _next(desk, board)
    if len(whole) <= LONGEST or not then:
        return Headline(sentence=whole, verdict=verdict, next=parts)
    tried: Part = (f"{trial.what}   ", True)
    return Headline(sentence=then, verdict=verdict, next=(tried, *parts))


def at_work(words: Words, board: Board, now: datetime) -> str:
    """Return how many are in on the first day on show, who has no work, and who is away."""
    column = board.columns[0]
    today = now.astimezone(ZoneInfo(words.zone)).date()
    day = words.say(say.ON_DAY, day=said.short_day(words, column.date))
    if column.date == today:
        day = words.say(say.ON_TODAY)
    here = [line for line in board.people if is_here(line, column.start, column.end)]
    count, total = len(here), len(board.people)
    if not count:
        sentence = words.say(say.NOBODY_AT_WORK, day=day)
    elif count == total:
        number = words.number_word(count)
        sentence = words.say(say.ALL_AT_WORK, count=count, number=number, day=day)
    else:
        number, everybody = words.number_word(count), words.number_word(total)
        sentence = words.say(say.AT_WORK, count=count, number=number, all=everybody, day=day)
    sentence = _with_idle(words, here, column, capital(sentence))
    return _with_away(words, board, sentence)


def _with_idle(words: Words, here: list[Line], column: Column, sentence: str) -> str:
    """Say besides how many of those who are here have no work on that day."""
    idle = [
        line
        for line in here
        if not any(
            bar.sort is not Sort.AWAY and bar.start < column.end and bar.end > column.start
            for bar in line.bars
        )
    ]
    if not idle:
        return sentence
    if len(idle) == len(here):
        return words.say(say.ALL_UNPLANNED, sentence=sentence)
    number = capital(words.number_word(len(idle)))
    return words.say(say.UNPLANNED, sentence=sentence, count=len(idle), number=number)


def is_here(line: Line, first: int, last: int) -> bool:
    """Return whether somebody works in a stretch."""
    return any(start < last and end > first for start, end in line.there)


def _with_away(words: Words, board: Board, sentence: str) -> str:
    column = board.columns[0]
    away = [
        (line, bar)
        for line in board.people
        for bar in line.bars
        if bar.sort is Sort.AWAY and bar.start < column.end and bar.end > column.start
    ]
    if len(away) == 1:
        line, bar = away[0]
        back = bar.what.rpartition(", ")[2]
        return words.say(say.ONE_IS_AWAY, sentence=sentence, who=line.name, back=back)
    if away:
        who = words.both(line.name for line, _ in away)
        return words.say(say.SEVERAL_ARE_AWAY, sentence=sentence, who=who)
    return sentence


def _next(desk: Desk, board: Board) -> tuple[Part, ...]:
    """Return whose work is another than on the sheet, and what is to be said."""
    words, parts = desk.words, list[Part]()
    if desk.trial is None and (desk.plan is None or desk.is_stale):
        template = said.NOT_PLANNED_YET if desk.plan is None else said.CHANGED_SINCE
        if desk.engine.is_busy:
            template = said.PLANNING if desk.plan is None else said.PLANNING_ANEW
        parts.append((words.say(template) + "   ", False))
    told = desk.shown.book.told
    last = board.columns[0].end
    changed = [
        line.name
        for line in board.people
        if any(bar.is_anew and not bar.is_done and bar.start < last for bar in line.bars)
    ]
    if told is not None and changed:
        day = said.short_day(words, local_date(told.at, words.zone))
        names = changed[:_MOST_NAMED]
        text = words.series(names)
        if len(changed) > _MOST_NAMED:
            text = words.say(say.AND_OTHERS, names=text, count=len(changed) - _MOST_NAMED)
        parts += [(words.say(say.NEXT_CHANGED, day=day) + " ", False), (text + "   ", True)]
    if board.to_ask:
        one = board.to_ask[0]
        facts = {
            "people": words.both(words.names.of("person", each) for each in one.people),
            "work": work_of(words, one.job, one.step),
            "moment": words.moment(one.at, after=None),
        }
        parts.append((words.say(evening.NEXT_ASK, **facts) + "   ", True))
    unsure = {bar.id for line in board.people for bar in line.bars if bar.is_unsure}
    unsure |= {bar.id for bar in board.unsaid}
    if unsure:
        number = words.number_word(len(unsure))
        parts.append((words.say(say.NEXT_UNSURE, count=len(unsure), number=number), False))
    return tuple(parts)
