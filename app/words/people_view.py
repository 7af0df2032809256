"""What only the foreman's view says: who is at work, who could do this, what giving it does."""

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.words import moments
from app.words import window as say
from app.words.template import Template, counted, within

if TYPE_CHECKING:
    from app.words import Words

# The sentence.
ALL_AT_WORK = counted(
    "count",
    "The one person here is at work {day}.",
    "All {number} people are at work {day}.",
)
AT_WORK = counted(
    "count",
    "One of {all} is at work {day}.",
    "{number} of {all} are at work {day}.",
)
NOBODY_AT_WORK: Template = "Nobody is at work {day}."
NO_PEOPLE: Template = "Nobody works here yet."
ONE_IS_AWAY: Template = "{sentence} {who} is away, {back}."
SEVERAL_ARE_AWAY: Template = "{sentence} {who} are away."
NEXT_CHANGED: Template = "changed since the sheet of {day}"
NEXT_FREE: Template = "{place} free from"
NEXT_UNSURE = counted("count", "one thing to be said of what is over", "{number} things to be said")
AND_OTHERS = counted("count", "{names} and one more", "{names} and {count} more")
BACK: Template = within("away", "back {day}")
BACK_AT: Template = within("away", "back at {clock}")
BACK_LATER: Template = within("away", "away for now")

# Rows and bars.
ON_TODAY: Template = within("when", "today")
ON_DAY: Template = within("when", "on {day}")
TODAY: Template = within("day", "today, {day}")
DAY_SHORT: Template = within("day", "{weekday} {day}")
WITH: Template = "with {people}"
WITH_AT: Template = "with {people}, {place}"
WHAT_JOB: Template = within("block", "{segment}, {job}")
STAGE_JOB: Template = within("block", "{stage}, {job}")
AND_MORE: Template = within("pieces", "{segment} +{count}")
AWAY: Template = within("person", "away")
ONLY_YOU: Template = "only you see why; all others read “away, {back}”"
ROAD: Template = within("journey", "on the road")
ROAD_NAME: Template = "{journey}, {job}"
ROAD_TOLD: Template = "{journey}. {job}. On the road and at the site: {people}. {span}."
OTHER_TOLD: Template = "{name}. {people}. {span}."
OTHER_TOLD_BARE: Template = "{name}. {span}."
AWAY_TOLD: Template = "{who} is away, {span}."
AWAY_TOLD_WHY: Template = "{who} is away, {span}: {reason}."
CURE_NAME: Template = "{segment}, {cures}"
CURE_TOLD: Template = "{segment}. {cures}, until {moment}. {place} is held until then."
CURE_UNTIL: Template = within("block", "{cures}, to {moment}")
PLACE_TOLD: Template = "{place}: {what}"
BOOKED: Template = within("place", "taken")
DONE_TOLD: Template = "It is done."
UNSURE_TOLD: Template = "Nobody has said that it is done."
RUNNING_TOLD: Template = "It is under way."
OUT_OF_HOURS: Template = within("block", "from {start} to {end}")
PERSON_TOLD: Template = "{who}. Can {can}. {day}: {doing}."
PERSON_TOLD_HELPS: Template = "{who}. Can {can}; helps with {helps}. {day}: {doing}."
FREE_ALL_DAY: Template = within("person", "nothing planned")
NOT_HERE: Template = within("person", "not at work")
PLACE_ROW: Template = "{place}. {day}: {doing}."
ROWS: Template = "People and places, today and the days after"
SIDE: Template = "What can be done"


def day_label(words: "Words", day: date, today: date) -> str:
    """Give the label of a day's column."""
    bare = short_day(words, day)
    return words.say(TODAY, day=bare) if day == today else bare


def short_day(words: "Words", day: date) -> str:
    """Give a day of these weeks: "Tue 19"."""
    weekday = words.say(moments.WEEKDAYS[day.weekday()])
    return words.say(DAY_SHORT, weekday=weekday, day=day.day)


def back(words: "Words", end: datetime, from_: datetime) -> str:
    """Give when somebody is back: by the clock on the same day, else the day.

    Whoever is away to the midnight of a day is back the day after.
    """
    there = ZoneInfo(words.zone)
    local, start = end.astimezone(there), from_.astimezone(there)
    if local.date() == start.date():
        return words.say(BACK_AT, clock=moments.clock(words, local))
    if (local.date() - start.date()) <= timedelta(days=6):
        weekday = words.say(moments.WEEKDAYS[local.date().weekday()])
        return words.say(BACK, day=weekday)
    return words.say(BACK, day=say.short_day(words, local.date()))


# Dragging.
DRAG_BACK: Template = "Letting go here changes nothing."
DRAG_GIVES: Template = "Letting go tries it: {who} does {work}."
DRAG_AWAY: Template = "Letting go asks what to do while {who} is away."
