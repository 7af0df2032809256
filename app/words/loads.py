"""Booth loads in words: which stages could be one, and what that saves."""

from typing import TYPE_CHECKING

from app.words import amounts
from app.words.amounts import Role
from app.words.template import Template, counted
from app.words.voice import capital

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.loads import Effect, Load

NONE: Template = "No stages could be one booth load."
HEAD: Template = counted(
    "count", "One booth load could be taken.", "{number} booth loads could be taken."
)
NUMBERED: Template = "{number}. "
LOAD: Template = "{job}: {stage} on {pieces} at once in {place}."
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
TAKE: Template = "Take some with --take and their numbers, or all with --take all."
TAKEN: Template = "Taken. {load}"
TOGETHER: Template = "This is what they come to together."
KEPT: Template = "{path} is saved as revision {revision}; countback undo takes that back."
TRYING: Template = "Trying {number} of {count}."


def load_line(words: "Words", load: "Load") -> str:
    """Give what would be one load."""
    pieces = words.both(words.names.of("segment", each) for each in load.segments)
    place = words.names.of("place", load.place)
    job = words.names.of("job", load.job)
    return words.say(LOAD, job=job, stage=load.name, pieces=pieces, place=place)


def booth_line(words: "Words", load: "Load") -> str:
    """Give what it saves in the booth."""
    return words.say(
        BOOTH_AND_CURE if load.cure_minutes else BOOTH,
        place=words.names.of("place", load.place),
        booth=_hours(words, load.booth_minutes),
        work=_hours(words, load.work_minutes),
        clearance=_hours(words, load.clearance_minutes),
        cure=_hours(words, load.cure_minutes),
    )


def effect_lines(words: "Words", effect: "Effect", job: str = "") -> list[str]:
    """Give what changes in the plan; of the loading only where a job is named."""
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
