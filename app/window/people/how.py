"""How a piece of work went, as it is typed into one blank: a time, hours left, a reason. No Qt."""

import re
from dataclasses import dataclass
from datetime import datetime, time
from decimal import Decimal

from app.window.people import asked
from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.words import Words
from app.words.floor import WHY
from shared.book import Held
from shared.worktime import local_instant
from shared.worktime.zones import local_date

_is_clock = re.compile(r"(\d{1,2}):(\d\d)").fullmatch
_is_hours = re.compile(
    r"(\d[\d.,]*\s*[¼½¾]?|[¼½¾])\s*(?:h|hours?|std|stunden?)?\.?(?:[\s,;:]+(\D.*))?", re.IGNORECASE
).fullmatch


@dataclass(frozen=True, slots=True, kw_only=True)
class How:
    """It was over at a time, or so many person-hours are left, or it has not begun: held_by."""

    over: datetime | None = None
    hours: Decimal | None = None
    held_by: Held | None = None


def how(text: str, words: Words, end: datetime, now: datetime) -> How:
    """Read "14:30", "Tue 14:30", "6 h", "6 h tool", "tool".

    end: where the work was to end; a time alone is of that day, or of today if it is yet to come.

    Raises NotTaken.
    """
    plain = " ".join(text.split())
    if found := _is_clock(plain):
        hour, minute = int(found[1]), int(found[2])
        if hour > 23 or minute > 59:
            raise NotTaken("not_how", value=text)
        day = local_date(min(end, now), words.zone)
        return How(over=local_instant(day, time(hour, minute), words.zone, opening=True))
    if (moment := _moment(plain, words, now)) is not None:
        return How(over=moment)
    if found := _is_hours(plain):
        hours = typed.number(found[1])
        if not hours:
            raise NotTaken("not_how", value=text)
        return How(hours=hours, held_by=held_by(found[2], words) if found[2] else None)
    return How(held_by=held_by(plain, words))


def held_by(text: str, words: Words) -> Held:
    """Read why work was held up: the beginning of one of its reasons, or of a word in just one.

    Raises NotTaken.
    """
    wanted = text.strip(" .").casefold()
    found = [
        why
        for why, template in WHY.items()
        if wanted and f" {wanted}" in f" {words.say(template).casefold()}"
    ]
    if len(found) != 1:
        raise NotTaken("not_how", value=text)
    return found[0]


def _moment(text: str, words: Words, now: datetime) -> datetime | None:
    try:
        found = asked.when(text, words, now)
    except NotTaken:
        return None
    return found if isinstance(found, datetime) else None
