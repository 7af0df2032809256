"""The window's view of an enquiry: its sentence, dots, dates, and what can be said to the client.

What an enquiry costs is said elsewhere, for the owner's eyes.
"""

from dataclasses import replace
from typing import TYPE_CHECKING

from app.words import moments
from app.words import rush as of_rush
from app.words import window as of_window
from app.words.template import Template, counted, within
from app.words.verdicts import is_met, job_line
from app.words.voice import capital
from scheduler.enquiring import NOISE_POINTS, Taking

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from app.words import Words
    from scheduler.outcome import JobOutcome
    from scheduler.rush.values import Late, Promise, Rush

_NAMED_COUNT = 2

# The masthead.
NONE_YET: Template = "No enquiry yet. Q writes one."
NO_WINDOW: Template = "{job} holds no window, so nothing can be said of it yet."
LOOKING: Template = "{job}: laying it beside the other jobs."
FIRST_LOOK: Template = "At a first look: {verdict} Looking at the others and at dates."
AT_RISK_AND = counted(
    "count",
    "{line} One other job is squeezed too.",
    "{line} {number} other jobs are squeezed too.",
)
HONEST_DATE: Template = "Honest date: {day}"
HONEST_NO_OTHER: Template = "no other job is squeezed, kept {chance} times in 100"
HONEST_NO_OTHER_UNKNOWN: Template = "no other job is squeezed"
NO_HONEST_DATE: Template = "No honest date found yet."
ASKS: Template = "asks {window}"
PENCILLED_UNTIL: Template = "pencilled until {day}"

# Every window, without and with.
ENQUIRIES: Template = "Enquiries"
WITHOUT_AND_WITH: Template = "Every window, without {job} and with it"
SPARE_AXIS: Template = "days to spare"
LATE_AXIS: Template = "days late"
WINDOW_OF: Template = "window {day}"
THE_ENQUIRY: Template = within("a job", "the enquiry")
FROM_TO: Template = within("days to spare", "{before} to {after}")
LATE_TODAY: Template = "late {late} in 100, today {before}"
ROW_SAME: Template = "{job}, window {day}. {verdict}. {margin}, without {enquiry} and with it."
ROW_CHANGED: Template = (
    "{job}, window {day}. {verdict}. {before} without {enquiry}, {after} with it."
)
ROW_OWN: Template = "{job}, window {day}, the enquiry. {verdict}. {after}."
ROW_CHANCE: Template = "{row} Late {late} times in 100, today {before}."
DOTS_LEGEND: Template = "Open dot: the book without it. Full dot: with it."
DOTS_CHECKED: Template = "Both planned from the same revision, and checked."
DOTS_NOT_ALL: Template = "Both planned from the same revision; not everything is checked."

# What each date does to the others.
EACH_DATE: Template = "What each date does to the others"
EACH_DATE_MORE: Template = "times in 100 that the job hit hardest is late"
SQUEEZED_ABOVE: Template = "more than this squeezes {job}: {level}"
AS_TODAY: Template = "{late}, as today"
TODAY: Template = within("times late", "{late}, today {before}")
SQUEEZED: Template = within("jobs", "squeezed")
AND_MORE = counted("count", "{names} and one more", "{names} and {number} more", "jobs")
NOBODY: Template = within("jobs", "nobody")
DATE_NOT: Template = within("a date", "misses")
DATE_JUST: Template = within("a date", "only just")
DATE_RARELY: Template = within("a date", "itself late {late} in 100")
LOOKING_AT_DATES: Template = "Looking at dates."
NO_OTHER_JOB: Template = "No other job keeps its window, so none can be squeezed."
DATE_LINE: Template = "{line} {job} would be late {late} times in 100, today {before}."

# What can be said and done.
MONEY_FOR: Template = "The money, for {day}"
MONEY_HIDDEN: Template = "Money is hidden."
HIDE_MONEY: Template = "hide all money"
SHOW_MONEY: Template = "show money"
SAY: Template = "What you can say"
ASKED: Template = "The price asked"
EARLIER_MAY: Template = "An earlier date may hold as well; Space looks longer."
DO_COPY: Template = "copy the words"
DO_BOOK: Template = "book it for {day}"
DO_PENCIL: Template = "pencil it until {day}"
DO_LET_GO: Template = "let it go"
DO_WITH: Template = "see it on the wall"
DO_NEW: Template = "new enquiry"
DO_OTHER_DATE: Template = "try another date"
COPIED: Template = "The words are copied."
BOOKED: Template = "{job} is booked for {day}."
PENCILLED: Template = "{job} is pencilled until {day}."
LET_GO: Template = "{job} is let go."
NOT_FOR_THAT: Template = "{job} does not hold {day}: choose a date that it holds."
WAYS: Template = "Ways out, for {day}"
WAY: Template = "Way out {number}"
NO_WAYS: Template = "No way out was found for that day. Another date may hold."
LOOKING_AT_DAY: Template = "Looking at {day}."
TRIED: Template = within("what is tried", "{job} for {day}")
TRIED_WAY: Template = within("what is tried", "{job} with way out {number}")

CLIENT_DATE: Template = within(
    "to the client", "We can have {job} standing by {day}, if you say yes to the model by {answer}."
)
CLIENT_DATE_PRICE: Template = within(
    "to the client",
    "We can have {job} standing by {day} for {amount} {currency}, if you say yes to the model by "
    "{answer}.",
)
CLIENT_DATE_BARE: Template = within("to the client", "We can have {job} standing by {day}.")
CLIENT_DATE_BARE_PRICE: Template = within(
    "to the client", "We can have {job} standing by {day} for {amount} {currency}."
)
CLIENT_QUOTED: Template = within("to the client", "“{text}”")
CLIENT_NOT: Template = within("to the client", "{day} we can’t promise.")
CLIENT_NOTHING: Template = within(
    "to the client",
    "{job} standing by {day} we can’t promise, nor another date before we have looked further.",
)

# A new enquiry.
NEW_QUESTION: Template = "What is asked for, for where and when?"
NEW_TITLE: Template = "A new enquiry"
NEW_ASKED: Template = (
    "We are asked for {what}, like {past}, {times} times as large, to stand in {site} on {day}."
)
NEW_PRICE: Template = "The price asked is {price}."
NEW_HELP: Template = "Enter goes on, and then lays it beside the book; Esc leaves it."
NEW_ASSUMED: Template = (
    "Hours are the past job’s, grown by surface, volume and seams; what passes no door is cut. "
    "Window and access are as long as its own."
)
PLANS_NOT: Template = "{job} can’t be planned: {reason}"
BLANKS: dict[str, Template] = {
    "what": within("blank", "what"),
    "past": within("blank", "past job"),
    "times": within("blank", "times as large"),
    "site": within("blank", "site or country"),
    "day": within("blank", "date"),
    "price": within("blank", "price asked"),
}
HINTS: dict[str, Template] = {
    "what": within("hint", "what"),
    "past": within("hint", "which job"),
    "times": within("hint", "1½"),
    "site": within("hint", "site or country"),
    "day": within("hint", "Tue 13 Apr"),
    "price": within("hint", "none yet"),
}


def day_of(words: "Words", found: "Rush", promise: "Promise") -> str:
    """Give the day on which a window begins, by the site's calendar."""
    return _day(words, found, promise.window.start)


def last_day_of(words: "Words", found: "Rush", promise: "Promise") -> str:
    """Give the last day of a window, by which the piece stands."""
    from datetime import timedelta

    return _day(words, found, promise.window.end - timedelta(seconds=1))


def _day(words: "Words", found: "Rush", when: object) -> str:
    from datetime import datetime

    from shared.worktime.zones import local_date

    assert isinstance(when, datetime)
    return of_window.short_day(words, local_date(when, found.job.site.zone))


def sentence(words: "Words", found: "Rush") -> str:
    """Give the masthead's sentence: whether it can be taken, short enough to stand in one line."""
    wished, own = found.wished, found.with_.job(found.job.id)
    if len(wished.harms) > 1:
        first = replace(wished, harms=wished.harms[:1])
        line = of_rush.head_line(words, replace(found, wished=first), 0)
        count = len(wished.harms) - 1
        number = capital(words.number_word(count))
        return words.say(AT_RISK_AND, line=line, count=count, number=number)
    if wished.taking is not Taking.NOT or own is None:
        return of_rush.head_line(words, found, 0)
    return job_line(words, own, words.day_minutes, reason=words.reason(own))


def first_sentence(words: "Words", told: "JobOutcome") -> str:
    """Give the sentence of a first look."""
    verdict = job_line(words, told, words.day_minutes, reason=words.reason(told))
    return words.say(FIRST_LOOK, verdict=verdict)


def short_margin(words: "Words", told: "JobOutcome") -> str:
    """Give what is to spare, as it stands beside a dot, or by how much a job is late."""
    if is_met(told):
        return of_window.quarters(words, told.slack_minutes or 0, words.day_minutes)
    return words.verdict_margin(told) or words.verdict_mark(told.verdict)


def is_changed(late: "Late | None") -> bool:
    """Return whether a job is late more or less often by more than two replays differ anyway."""
    return late is not None and abs(late.late - late.before) >= NOISE_POINTS


def row_line(
    words: "Words",
    told: "JobOutcome",
    before: "JobOutcome | None",
    late: "Late | None",
    *,
    enquiry: str,
    day: str,
) -> str:
    """Give a job without and with an enquiry, as a screen reader says it."""
    margin = words.verdict_margin(told) or words.verdict_mark(told.verdict)
    facts = {"job": told.name, "day": day, "verdict": words.verdict_mark(told.verdict)}
    if before is None:
        return words.say(ROW_OWN, after=margin, **facts)
    was = words.verdict_margin(before) or words.verdict_mark(before.verdict)
    if was == margin:
        line = words.say(ROW_SAME, margin=margin, enquiry=enquiry, **facts)
    else:
        line = words.say(ROW_CHANGED, before=was, after=margin, enquiry=enquiry, **facts)
    if late is None:
        return line
    return words.say(ROW_CHANCE, row=line, late=late.late, before=late.before)


def squeezed_by(words: "Words", promise: "Promise") -> str:
    """Give whom a date squeezes, in the fewest words."""
    if promise.taking is Taking.NOT:
        return words.say(DATE_NOT)
    names = [each.name for each in promise.harms]
    if len(names) > _NAMED_COUNT:
        count = len(names) - _NAMED_COUNT
        first = ", ".join(names[:_NAMED_COUNT])
        number = words.number_word(count)
        return words.say(AND_MORE, names=first, count=count, number=number)
    if names:
        return words.both(names)
    if promise.taking is Taking.TAKE:
        return words.say(NOBODY)
    if promise.chance is not None and promise.chance < of_rush.RARE_BELOW:
        return words.say(DATE_RARELY, late=100 - promise.chance)
    return words.say(DATE_JUST)


def date_line(
    words: "Words", found: "Rush", promise: "Promise", hardest: "Late | None", today: "date"
) -> str:
    """Give what a date would do, as a screen reader says it."""
    line = of_rush.promise_line(words, found, promise, today)
    if hardest is None:
        return line
    facts = {"job": hardest.name, "late": hardest.late, "before": hardest.before}
    return words.say(DATE_LINE, line=line, **facts)


def date_note(words: "Words", found: "Rush", promise: "Promise", today: "date") -> str:
    """Give what must be known of a date before it is booked: what waits for it, what is open."""
    said = []
    if promise.not_before is not None:
        day = words.day(promise.not_before, after=today)
        said.append(words.say(of_rush.BEHIND, day=day))
    if promise is found.honest and not found.is_earliest:
        said.append(words.say(EARLIER_MAY))
    return " ".join(said)


def told_anew(words: "Words", found: "Rush") -> str:
    """Give how many people's sheets would change today or tomorrow, or nothing."""
    count = found.told_anew
    if not count:
        return ""
    return words.say(of_rush.TOLD_ANEW, count=count, number=words.number_word(count))


def client_words(
    words: "Words", found: "Rush", promised: "Promise | None", price: "Decimal | None"
) -> str:
    """Give what may be said to the client.

    promised: the date that is promised, one that can be honestly. price: the one that the owner
    asks, None to leave it out.
    """
    job, wished = found.job.name, last_day_of(words, found, found.wished)
    if promised is None or not promised.is_honest:
        return words.say(CLIENT_NOTHING, job=job, day=wished)
    facts = {"job": job, "day": last_day_of(words, found, promised)}
    if price is not None:
        from app.words.amounts import money

        facts |= {"amount": money(words, price), "currency": words.currency}
    answer = promised.latest_answer
    if answer is not None:
        facts["answer"] = moments.local_day(words, answer, words.zone, after=answer)
    with_answer = (CLIENT_DATE_PRICE, CLIENT_DATE)
    without = (CLIENT_DATE_BARE_PRICE, CLIENT_DATE_BARE)
    templates = without if answer is None else with_answer
    line = words.say(templates[price is None], **facts)
    if promised is found.wished or found.wished.is_honest:
        return line
    return f"{line} {words.say(CLIENT_NOT, day=wished)}"
