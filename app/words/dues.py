"""Due lines in words: which coat must be followed by when, and which is abraded first."""

from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.words import amounts
from app.words.amounts import Role
from app.words.template import Template, counted
from app.words.voice import capital

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from app.words import Words
    from scheduler.dues import Due

TOLD_COUNT = 5

TITLE: Template = "Recoat times"
LINE: Template = "{day}  {line}"
COAT_OF_JOB: Template = "{job}, {coat}"
MORE = counted("count", "One more with --json.", "{number} more with --json.")

BY: Template = "{coat}: {next} by {moment}; else it is abraded first."
BY_A_DAY: Template = "{coat}: {next} by {moment}, so at the latest {day}; else it is abraded first."
ONLY_BY: Template = "{coat}: {next} by {moment}; after that nothing holds on it."
ONLY_BY_A_DAY: Template = (
    "{coat}: {next} by {moment}, so at the latest {day}; after that nothing holds on it."
)
ABRADED: Template = (
    "{coat}: abraded before {next}, {hours}, because its recoat time runs out {moment}."
)
ABRADED_OVER: Template = (
    "{coat}: abraded before {next}, {hours}, because its recoat time ran out {moment}."
)
_BY: dict[tuple[bool, bool], Template] = {
    (True, True): BY_A_DAY,
    (True, False): BY,
    (False, True): ONLY_BY_A_DAY,
    (False, False): ONLY_BY,
}


def due_line(words: "Words", due: "Due", now: "datetime", *, of_job: bool = False) -> str:
    """Give a due line as of a moment. of_job: with the name of its job."""
    here = ZoneInfo(words.zone)
    today, out_on = now.astimezone(here).date(), due.runs_out.astimezone(here).date()
    coat = words.names.of("step", due.coat)
    if of_job:
        coat = words.say(COAT_OF_JOB, job=words.names.of("job", due.job), coat=coat)
    facts = {
        "coat": coat,
        "next": words.names.bare_step(due.next),
        "moment": words.moment(due.runs_out, after=today),
        "day": words.day(due.last_day, after=today),
    }
    if not due.is_abraded:
        template = _BY[due.can_abrade, due.last_day != out_on]
        return capital(words.say(template, **facts))
    hours = amounts.hours(words, int((due.abrade_hours or 0) * 60), Role.SPAN)
    template = ABRADED_OVER if due.ran_out else ABRADED
    return capital(words.say(template, hours=hours, **facts))


def due_lines(words: "Words", found: "Sequence[Due]", now: "datetime") -> list[str]:
    """Give the first few, each behind the day that it stands on, and how many more there are."""
    today = now.astimezone(ZoneInfo(words.zone)).date()
    told = [
        words.say(
            LINE,
            day=words.day(due.day, after=today),
            line=due_line(words, due, now, of_job=True),
        )
        for due in found[:TOLD_COUNT]
    ]
    more = len(found) - TOLD_COUNT
    if more > 0:
        told.append(capital(words.say(MORE, count=more, number=words.number_word(more))))
    return told
