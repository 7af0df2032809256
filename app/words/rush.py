"""An enquiry beside the book, in words: whether it can be taken, whom it hurts, what to promise.

The words for the client hold the price that is asked, or none; what an enquiry costs is said
elsewhere, for the owner's eyes.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from app.words.template import Template, counted, within
from app.words.verdicts import is_met
from app.words.voice import capital
from scheduler.enquiring import NOISE_POINTS, Taking

if TYPE_CHECKING:
    from datetime import date

    from app.words import Words
    from scheduler.chance import JobChance
    from scheduler.outcome import JobOutcome
    from scheduler.rush.values import Harm, Promise, Rush

RARE_BELOW = 50
"""A job in time less often is not said to fit only just."""
TAKE: Template = (
    "We can take {job}: in time {chance} times in 100, and no other job falls below what was asked "
    "for."
)
JUST_BY_CHANCE: Template = (
    "{job} fits, but only just: in time {chance} times in 100, and you asked for {wanted}; no "
    "other job falls below what was asked for."
)
RARELY: Template = (
    "{job} fits as planned, and would be late {late} times in 100 all the same; you asked for "
    "{wanted} in time. No other job falls below what was asked for."
)
JUST: Template = (
    "{job} fits, but only just: {spare} to spare; no other job falls below what was asked for."
)
AT_RISK: Template = "{job} only at {other}’s risk: late {after} times in 100, today {before}."
AT_RISK_LOST: Template = "{job} only at {other}’s cost: that would miss its window."
AT_RISK_OWN: Template = "It would itself be late {late} times in 100."
AT_RISK_MORE: Template = "At the risk of {others} as well."
NOT: Template = "{verdict}"

FIRST: Template = "At a first look, with {job}: {with_it} Without it: {without}"

HEAD: Template = within("columns", "Without and with {job}, side by side:")
ROW: Template = "{job}: {before} without it, {after} with it."
ROW_CHANCE: Template = (
    "{job}: {margin} either way; in time {before} times in 100 without it, {after} with it."
)
ROW_NEW: Template = "{job}: {after}."
STANDS_CHANCE = counted(
    "chance",
    "{margin} and in time once in 100",
    "{margin} and in time {chance} times in 100",
    context="how a job stands",
)
STANDS: Template = within("how a job stands", "{margin}")
SPARE: Template = within("how a job stands", "{spare} to spare")
SAME = counted(
    "count",
    "One other job stands as it did, or nearly.",
    "{number} other jobs stand as they did, or nearly.",
)
TOLD_ANEW = counted(
    "count",
    "The sheet of {number} person would change today or tomorrow.",
    "The sheets of {number} people would change today or tomorrow.",
)

HONEST_WISHED: Template = "The earliest honest date is the one that was asked for: {window}."
HONEST: Template = (
    "The earliest honest date is {window}: in time {chance} times in 100; every window before it "
    "was tried or can’t be loaded for as surely."
)
HONEST_FOUND: Template = (
    "The earliest honest date found is {window}: in time {chance} times in 100; an earlier one may "
    "hold as well."
)
BEHIND: Template = "For that nothing is begun for it before {day}."
NO_HONEST: Template = (
    "No honest date was found: none of the {number} windows that were tried holds as surely as was "
    "asked for."
)
TRIED: Template = "{window}: {how}."
_HOW: dict[Taking, Template] = {
    Taking.TAKE: within("a date", "holds, in time {chance} times in 100"),
    Taking.JUST: within("a date", "only just, in time {chance} times in 100"),
    Taking.AT_RISK: within("a date", "only at {other}’s risk, in time {chance} times in 100"),
    Taking.NOT: within("a date", "does not hold"),
}
_HOW_UNKNOWN: Template = within("a date", "holds as planned")

CLIENT: Template = within("to the client", "For the client: “{text}”")
CLIENT_YES: Template = within(
    "to the client", "Yes, {job} can be with you in your window, {window}."
)
CLIENT_DATE: Template = within(
    "to the client",
    "Your window for {job}, {wished}, we can’t promise. What we can promise is {window}.",
)
CLIENT_NO: Template = within(
    "to the client",
    "Your window for {job}, {wished}, we can’t promise, nor another date before we have looked "
    "further.",
)
CLIENT_PRICE: Template = within("to the client", "The price is {amount} {currency}.")


def head_line(words: "Words", found: "Rush", seconds: int) -> str:
    """Give whether it can be taken, in a sentence; nothing of money."""
    wished, name = found.wished, found.job.name
    if wished.taking is Taking.AT_RISK:
        line = _at_risk(words, name, wished.harms)
        found_own = found.with_.chances.of(found.job.id)
        if found_own is None or found_own.chance is None or not found_own.is_short:
            return line
        return f"{line} {words.say(AT_RISK_OWN, late=100 - found_own.chance)}"
    told, chance = found.with_.job(found.job.id), found.with_.chances.of(found.job.id)
    assert told is not None
    if wished.taking is Taking.NOT:
        return words.say(NOT, verdict=words.verdict_line(told, seconds=seconds))
    if wished.taking is Taking.TAKE:
        return words.say(TAKE, job=name, chance=wished.chance)
    if chance is not None and chance.chance is not None and chance.is_short:
        template = JUST_BY_CHANCE if chance.chance >= RARE_BELOW else RARELY
        facts = {"chance": chance.chance, "late": 100 - chance.chance, "wanted": chance.threshold}
        return words.say(template, job=name, **facts)
    return words.say(JUST, job=name, spare=words.spare(told.slack_minutes or 0))


def _at_risk(words: "Words", name: str, harms: "tuple[Harm, ...]") -> str:
    worst, *more = harms
    template = AT_RISK_LOST if worst.loses else AT_RISK
    facts = {"other": worst.name, "before": worst.late_before, "after": worst.late_after}
    line = words.say(template, job=name, **facts)
    if not more:
        return line
    others = words.both(each.name for each in more)
    return f"{line} {words.say(AT_RISK_MORE, others=others)}"


def side_lines(words: "Words", found: "Rush") -> Iterator[str]:
    """Give how jobs stand without and with the enquiry; those that stand as they did, counted."""
    same = 0
    for told in found.with_.outcome.jobs:
        before = found.without.job(told.id)
        now = found.with_.chances.of(told.id)
        after = _stands(words, told, now)
        if before is None:
            yield words.say(ROW_NEW, job=told.name, after=after)
            continue
        was = found.without.chances.of(told.id)
        margins = [_margin(words, each) for each in (before, told)]
        if margins[0] != margins[1]:
            stood = _stands(words, before, was)
            yield words.say(ROW, job=told.name, before=stood, after=after)
        elif _is_alike(was, now):
            same += 1
        else:
            facts = {"before": was and was.chance, "after": now and now.chance}
            yield words.say(ROW_CHANCE, job=told.name, margin=margins[0], **facts)
    if same:
        yield words.say(SAME, count=same, number=capital(words.number_word(same)))
    if found.told_anew:
        count = found.told_anew
        yield words.say(TOLD_ANEW, count=count, number=words.number_word(count))


def _is_alike(was: "JobChance | None", now: "JobChance | None") -> bool:
    """Return whether a job is as sure as it was, but for what two replays differ by anyway."""
    if was is None or now is None or was.chance is None or now.chance is None:
        return True
    return abs(was.chance - now.chance) < NOISE_POINTS


def _margin(words: "Words", told: "JobOutcome") -> str:
    if is_met(told):
        return words.say(SPARE, spare=words.verdict_margin(told))
    return words.verdict_margin(told) or words.verdict_mark(told.verdict)


def _stands(words: "Words", told: "JobOutcome", chance: "JobChance | None") -> str:
    margin = _margin(words, told)
    if chance is None or chance.chance is None:
        return words.say(STANDS, margin=margin)
    return words.say(STANDS_CHANCE, margin=margin, chance=chance.chance)


def window_text(words: "Words", found: "Rush", promise: "Promise", today: "date") -> str:
    """Give a window by the site's clock."""
    window, zone = promise.window, found.job.site.zone
    return words.span(window.start, window.end, after=today, zone=zone)


def honest_line(words: "Words", found: "Rush", today: "date") -> str:
    """Give the earliest date that can be promised honestly."""
    honest = found.honest
    if honest is None:
        return words.say(NO_HONEST, number=words.number_word(len(found.promises)))
    window = window_text(words, found, honest, today)
    if honest is found.wished:
        return words.say(HONEST_WISHED, window=window)
    template = HONEST if found.is_earliest else HONEST_FOUND
    line = words.say(template, window=window, chance=honest.chance)
    if honest.not_before is None:
        return line
    return f"{line} {words.say(BEHIND, day=words.day(honest.not_before, after=today))}"


def promise_line(words: "Words", found: "Rush", promise: "Promise", today: "date") -> str:
    """Give how a window that was tried would hold; what it costs is said elsewhere."""
    other = promise.harms[0].name if promise.harms else ""
    known = promise.chance is not None or promise.taking is Taking.NOT
    how = words.say(
        _HOW[promise.taking] if known else _HOW_UNKNOWN, chance=promise.chance, other=other
    )
    return words.say(TRIED, window=window_text(words, found, promise, today), how=how)


def client_text(words: "Words", found: "Rush", today: "date") -> str:
    """Give what may be said to the client: the date, and the price that is asked, if there is one.

    A date is promised only where it can be honestly.
    """
    wished = window_text(words, found, found.wished, today)
    honest, job = found.honest, found.job.name
    if honest is None:
        return words.say(CLIENT_NO, job=job, wished=wished)
    if honest is found.wished:
        line = words.say(CLIENT_YES, job=job, window=wished)
    else:
        window = window_text(words, found, honest, today)
        line = words.say(CLIENT_DATE, job=job, wished=wished, window=window)
    if found.job.price is None:
        return line
    from app.words.amounts import money

    amount = money(words, found.job.price)
    return f"{line} {words.say(CLIENT_PRICE, amount=amount, currency=words.currency)}"
