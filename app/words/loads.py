"""Booth loads in words: which stages could be one, and what that saves."""

from typing import TYPE_CHECKING

from app.words import amounts
from app.words.amounts import Role
from app.words.template import Template, counted
from app.words.voice import capital

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.load_effects import Effect
    from scheduler.loads import Proposal

NONE: Template = "No pieces could be sprayed at once."
HEAD: Template = counted(
    "count",
    "Pieces could be sprayed at once in one way.",
    "Pieces could be sprayed at once in {number} ways.",
)
NUMBERED: Template = "{number}. "
LOADS: Template = "{job}: {pieces} at once in {place}: {coats}."
BOOTH: Template = "{place} is taken {booth} less: {work} of work, {clearance} of clearing."
BOOTH_AND_CURE: Template = (
    "{place} is taken {booth} less: {work} of work, {clearance} of clearing, {cure} of cure."
)
LESS_FLOOR: Template = "All pieces together stand {days} less."
MORE_FLOOR: Template = "All pieces together stand {days} longer."
SAME_FLOOR: Template = "All pieces together stand as long as without."
SOONER: Template = "{job} is loaded {time} sooner."
LATER: Template = "{job} is loaded {time} later."
KEEPS: Template = counted("count", "One window more is kept.", "{number} windows more are kept.")
MISSES: Template = counted(
    "count", "One window more is missed.", "{number} windows more are missed."
)
PLACES_MORE: Template = "More of the work finds a place."
PLACES_LESS: Template = "Some of the work no longer finds a place."
UNKNOWN: Template = "How long pieces stand is not known: some of the work finds no place."
TAKE: Template = "Take some with --take and their numbers, or all with --take all."
TAKEN: Template = "Taken. {load}"
TOGETHER: Template = "This is what they come to together."
KEPT: Template = "{path} is saved as revision {revision}; countback undo takes that back."
TRYING: Template = "Trying {number} of {count}."


def loads_line(words: "Words", proposal: "Proposal") -> str:
    """Give what could be sprayed at once."""
    places = dict.fromkeys(load.place for load in proposal.loads)
    return words.say(
        LOADS,
        job=words.names.of("job", proposal.job),
        pieces=words.both(words.names.of("segment", each) for each in proposal.segments),
        place=words.both(words.names.of("place", each) for each in places),
        coats=words.both(load.name for load in proposal.loads),
    )


def booth_line(words: "Words", proposal: "Proposal") -> str:
    """Give what it saves in the booth."""
    loads = proposal.loads
    cure = sum(load.cure_minutes for load in loads)
    places = dict.fromkeys(load.place for load in loads)
    return capital(
        words.say(
            BOOTH_AND_CURE if cure else BOOTH,
            place=words.both(words.names.of("place", each) for each in places),
            booth=_hours(words, proposal.booth_minutes),
            work=_hours(words, sum(load.work_minutes for load in loads)),
            clearance=_hours(words, sum(load.clearance_minutes for load in loads)),
            cure=_hours(words, cure),
        )
    )


def effect_lines(words: "Words", effect: "Effect | None", job: str = "") -> list[str]:
    """Give what changes in the plan; of the loading only where a job is named."""
    if effect is None:
        return [words.say(UNKNOWN)]
    told = [_floor(words, effect.floor_minutes)]
    minutes = effect.earlier_minutes
    if job and minutes:
        time = amounts.elapsed(words, abs(minutes), Role.SPARE if minutes > 0 else Role.LATE)
        told.append(words.say(SOONER if minutes > 0 else LATER, job=job, time=time))
    if effect.missed_count:
        count = abs(effect.missed_count)
        template = KEEPS if effect.missed_count > 0 else MISSES
        told.append(capital(words.say(template, count=count, number=words.number_word(count))))
    if effect.placed_count:
        told.append(words.say(PLACES_MORE if effect.placed_count > 0 else PLACES_LESS))
    return told


def _floor(words: "Words", minutes: int) -> str:
    if not minutes:
        return words.say(SAME_FLOOR)
    role = Role.SPARE if minutes > 0 else Role.LATE
    days = amounts.elapsed(words, abs(minutes), role)
    return words.say(LESS_FLOOR if minutes > 0 else MORE_FLOOR, days=days)


def _hours(words: "Words", minutes: int) -> str:
    return amounts.hours(words, minutes, Role.SPARE)
