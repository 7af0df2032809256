"""`countback done`: a step is over, or all of a day's work as the sheet has it."""

from datetime import date

from app.cli.arguments import Asked, Usage
from app.cli.console import Console
from app.cli.floor import Told, run_told
from app.cli.meant import step_meant
from app.words import floor as say
from app.words.changes import work_of
from app.words.voice import capital
from shared.edits import Edited, tell_done, tick_as_told
from shared.edits.lookup import job_of_step


def run(asked: Asked, console: Console) -> int:
    is_day = asked.as_told is not None
    if is_day == (len(asked.words) > 1) or (is_day and asked.at is not None):
        raise Usage("done_or_as_told")
    return run_told(asked, console, _ticked if is_day else _done)


def _done(told: Told) -> tuple[Edited | None, list[str]]:
    step = step_meant(told.book, told.asked.words[1])
    edited = tell_done(told.book, step.id, told.now, told.by, told.at)
    fact = edited.book.facts[-1]
    return edited, [say.done_line(told.words, told.job(fact), step.id, fact.at, told.who)]


def _ticked(told: Told) -> tuple[Edited | None, list[str]]:
    typed = told.asked.as_told or ""
    try:
        day = date.fromisoformat(typed)
    except ValueError:
        raise Usage("bad_date", word=typed, example="2027-03-18") from None
    ticked = tick_as_told(told.book, day, told.now, told.by)
    words, count = told.words, len(ticked.done)
    facts = {"day": words.day(day, after=None), "who": told.who}
    template = say.TICKED if count else say.NOTHING_TICKED
    lines = [words.say(template, count=count, number=words.number(count), **facts)]
    for step in ticked.left:
        work = work_of(words, job_of_step(told.book, step).id, step)
        lines.append(capital(words.say(say.NOT_TICKED, work=work)))
    return ticked.edited, [*lines, words.say(say.NEVER)]
