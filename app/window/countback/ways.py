"""Ways out of a miss as they stand in a list, and tried on the wall. No Qt."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from app.window.trial import Trial
from app.words import Words
from app.words import countback_view as say
from app.words import window as wording
from app.words.levers import (
    NO_LEVERS,
    NONE_FOUND,
    STUCK,
    lever_line,
    lever_text,
    listed_line,
    price_text,
)
from app.words.verdicts import is_met
from scheduler.outcome import LEVEL_COUNT, Outcome, Verdict
from shared.edits import Label
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from datetime import datetime

    from scheduler.levers.values import WayOut, WaysOut
    from scheduler.outcome import JobOutcome
    from shared.book import Job
    from shared.ids import JobId

_WORST_LAST = tuple(Verdict)


@dataclass(frozen=True, slots=True, kw_only=True)
class WayRow:
    """A way out as it stands in the list.

    number: the key that tries it. changes: a sentence each. verdict: of the job itself. beside:
    who must agree, and other jobs that stand otherwise than before. lands, latest: when loading
    ends, and when it has to; None where that is not known.
    """

    number: int
    changes: tuple[str, ...]
    price: str
    verdict: Verdict
    margin: str
    beside: tuple[str, ...] = ()
    is_enough: bool = True
    lands: "datetime | None" = None
    latest: "datetime | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """All that is known of the ways out of one job.

    found: in the order of the list. sentence: instead of a list, or after it. is_whole: nothing
    more comes.
    """

    job: "JobId"
    found: tuple["WayOut", ...] = ()
    sentence: str = ""
    listed: str = ""
    is_whole: bool = False


def looking(job: "JobId", words: Words) -> Ways:
    """Return what stands there while the first is looked for."""
    return Ways(job=job, sentence=words.say(say.WAYS_LOOKING))


def with_part(ways: Ways, way: "WayOut") -> Ways:
    """Return the list with one that has come, the cheapest first."""
    found = sorted((*ways.found, way), key=lambda each: (each.price, len(each.levers)))
    return replace(ways, found=tuple(found))


def whole(answer: "WaysOut", words: Words) -> Ways:
    """Return the list once all is known."""
    ways = answer.ways
    if not ways and answer.free is not None and not answer.is_kept:
        ways = (answer.free,)
    count = len(answer.levers)
    facts = {"count": count, "number": words.number(count)}
    sentence = ""
    if answer.is_kept:
        sentence = words.say(say.KEEPS)
    elif not count:
        sentence = words.say(NO_LEVERS)
    elif not answer.ways:
        sentence = words.say(STUCK if answer.stuck else NONE_FOUND, **facts)
    listed = listed_line(words, count, answer.trials) if count and not answer.is_kept else ""
    return Ways(job=answer.job, found=ways, sentence=sentence, listed=listed, is_whole=True)


def rows_of(
    ways: Ways, before: Outcome | None, words: Words, now: "datetime", *, hides_money: bool
) -> tuple[WayRow, ...]:
    """Return the list in words."""
    return tuple(
        _row(way, number, ways.job, before, words, now, hides_money=hides_money)
        for number, way in enumerate(ways.found, 1)
    )


def _row(
    way: "WayOut",
    number: int,
    job: "JobId",
    before: Outcome | None,
    words: Words,
    now: "datetime",
    *,
    hides_money: bool,
) -> WayRow:
    today = local_date(now, words.zone)
    is_bare = hides_money or len(way.levers) == 1
    say_lever = lever_text if is_bare else lever_line
    mine = next(each for each in way.jobs if each.id == job)
    stood = {each.id: each.verdict for each in before.jobs} if before else {}
    others = [
        each
        for each in way.jobs
        if each.id != job and stood.get(each.id, each.verdict) is not each.verdict
    ]
    agrees = dict.fromkeys(each.agrees for each in way.levers if each.agrees and is_bare)
    must = [words.say(say.MUST_AGREE, who=words.both(agrees))] if agrees else []
    return WayRow(
        number=number,
        changes=tuple(say_lever(words, lever, today) for lever in way.levers),
        price=words.say(say.MONEY_HIDDEN) if hides_money else price_text(words, way.price),
        verdict=mine.verdict,
        margin=_margin(words, mine),
        beside=(*must, *(words.verdict_line(each) for each in others)),
        is_enough=way.keeps,
        lands=mine.loading_end,
        latest=mine.latest_loading,
    )


def _margin(words: Words, told: "JobOutcome") -> str:
    margin = words.verdict_margin(told)
    return words.say(wording.SPARE_IN_NAME, spare=margin) if is_met(told) else margin


def trial_of(ways: Ways, number: int, job: "Job", words: Words, base: Outcome) -> Trial | None:
    """Return a way out to be tried on the wall, None where there is none of that number.

    Its levels are not known here; nothing on the wall asks for them.
    """
    if not 1 <= number <= len(ways.found):
        return None
    way = ways.found[number - 1]
    count = len(way.levers)
    label = Label(code="pull_lever")
    if count != 1:
        label = Label(code="take_way_out", facts=(("count", count),))
    outcome = replace(
        base,
        revision=way.book.revision,
        plan=way.plan,
        check=way.check,
        verdict=max((each.verdict for each in way.jobs), key=_WORST_LAST.index),
        levels=(0,) * LEVEL_COUNT,
        bounds=(0,) * LEVEL_COUNT,
        proved_levels=0,
        jobs=way.jobs,
    )
    what = words.say(say.WAY_TRYING, number=number, job=job.name)
    return Trial(what=what, label=label, book=way.book, plan=way.plan, outcome=outcome)
