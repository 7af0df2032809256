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
    "The one person here is in {day}.",
    "All {number} people are in {day}.",
)
AT_WORK = counted(
    "count",
    "One of {all} is in {day}.",
    "{number} of {all} are in {day}.",
)
NOBODY_AT_WORK: Template = "Nobody is in {day}."
UNPLANNED = counted(
    "count",
    "{sentence} One of them has nothing planned.",
    "{sentence} {number} of them have nothing planned.",
)
ALL_UNPLANNED: Template = "{sentence} Nothing is planned for that day."
NO_PEOPLE: Template = "Nobody works here yet."
ONE_IS_AWAY: Template = "{sentence} {who} is away, {back}."
SEVERAL_ARE_AWAY: Template = "{sentence} {who} are away."
NEXT_CHANGED: Template = "changed since the sheet of {day}"
NEXT_UNSURE = counted(
    "count",
    "one piece of work is over, and nobody has said that it is done",
    "{number} pieces of work are over, and nobody has said that they are done",
)
AND_OTHERS = counted("count", "{names} and one more", "{names} and {count} more")
BACK: Template = within("away", "back {day}")
BACK_AT: Template = within("away", "back at {clock}")

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
BOOKED: Template = within("place", "taken")
DONE_TOLD: Template = "It is done."
UNSURE_TOLD: Template = "As told, not confirmed: nobody has said that it is done."
RUNNING_TOLD: Template = "It is under way."
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
DRAG_CANNOT: Template = "{who} can’t do {work} with those who stay on it."
DRAG_AWAY: Template = "Letting go asks what to do while {who} is away."

# The side: what is offered.
FINISHED: Template = "Finished?"
FINISHED_SUB: Template = (
    "A figure marks it finished: as of its planned end, or of now if that is earlier."
)
MORE_TO_SAY = counted(
    "count", "One more piece of work comes after these.", "{number} more come after these."
)
NOTHING_RUNS: Template = "Nothing is under way"
WAS_TO_END: Template = "{people}, was to end {moment}"
IS_TO_END: Template = "{people}, to end {moment}"
FREE_NEXT: Template = "Free next"
FREE_LINE: Template = "{who}: {span}"
FREE_NEVER: Template = "{who}: not in the next four weeks"
FREE_TITLE: Template = "Free"
FREE_NONE: Template = "Not free for an hour in the next four weeks."
PLACE_LINE: Template = "{what}: {span}"
PLACE_FREE: Template = "Nothing stands here in these days."
CAN: Template = "Can {can}."
HELPS: Template = "Helps with {helps}."
CAN_AND_HELPS: Template = "Can {can}; helps with {helps}."
INSTEAD_OF: Template = "Who could do it in the place of {who}"
WHO_CAN: Template = "Who could do it"
NOBODY_ELSE: Template = "Nobody else here can do it."
ALL_OF: Template = "All that is left of {segment}"
ALL_OF_SUB: Template = "To one person or to two; a figure adds one or takes one away"
STAGES = counted("count", "can do one stage of it", "can do {number} stages of it")
FREE_THEN: Template = within("person", "free then")
FREE_FROM: Template = within("person", "free from {moment}")
FREE_NOT: Template = within("person", "not free in the next four weeks")
AND_HELPS: Template = within("person", "{free}, helps only")
FROM_TO: Template = within("to spare", "{before} to {after}")
LATE_SHORT: Template = within("to spare", "{late} late")
MORE_JOBS = counted(
    "count",
    "One more job has more to spare or less, and days of it still.",
    "{number} more jobs have more to spare or less, and days of it still.",
)
DO_AWAY: Template = "somebody is away"
DO_AWAY_WHO: Template = "{who} is away"
BACK_AFTER_ALL: Template = "{who} is back after all; this is taken out"
DO_DONE: Template = "it is finished"
DO_ALL: Template = "all that is left of the segment"
DO_ONLY: Template = "only this stage"
TAKE_KEY: Template = "take the marked one"
LEAVE_KEY: Template = "leave it as it was"
UPRIGHT: Template = (
    "The upright is the window: dots to its right are days to spare. "
    "Open dot: before. Full dot: after."
)

# Trying.
JUDGING: Template = "Looking what that does to the windows."
GIVES: Template = "{who} does {work}"
GIVES_ALL: Template = "{who} do all that is left of {segment}"
GIVES_ALL_ONE: Template = "{who} does all that is left of {segment}"
GIVEN_WHEN: Template = "{span}, {people}"
GIVEN_BROKEN: Template = "The second opinion found a fault in that plan. It is not to be taken."
NOT_JUDGED: Template = "No answer came. Nothing is changed."
TRIED_SENTENCE: Template = "{what}. {sentence}"
FINISHED_NOTE: Template = "{work} is finished, {moment}."
ALREADY: Template = "It is finished already."
NOT_BEGUN: Template = "It is not in the plan."

# Somebody is away.
DAY_TODAY: Template = within("a day that is typed", "today")
DAY_TOMORROW: Template = within("a day that is typed", "tomorrow")
AWAY_SENTENCE: Template = "{who} is away from {start} to {end}."
AWAY_WHY: Template = "Because {reason}, which only you see."
BLANK_WHO: Template = "who or what is away"
BLANK_FROM: Template = "away from"
BLANK_TO: Template = "away to"
BLANK_WHY: Template = "why, seen here only"
WHILE_AWAY: Template = "While {who} is away"
WHO_IS_AWAY: Template = "Who is away?"
WHO_SUB: Template = "A person, a van, a place, a tool or a delivery."
LOOKING: Template = "Looking for answers."
ENDS_BEFORE: Template = "That lies behind, or ends before it begins."
NO_ANSWER: Template = "No answer was found."
STUCK: Template = "No plan was found that has a place for everything then."
MARK_ONLY: Template = "Only write it down; everything is planned anew."
HEARS_NOBODY: Template = "Nobody else hears anything new for today or tomorrow."
HEARS = counted(
    "count",
    "One other person hears something new for today or tomorrow.",
    "{people} other people hear something new for today or tomorrow.",
)
COSTS: Template = "It costs {amount} {currency}."
COSTS_NOTHING: Template = "It costs nothing."
MORE_LINES = counted("count", "and one more change", "and {number} more changes")
TRIED_ANSWER: Template = "{who} is away: {answer}"
TRIED_NUMBER: Template = "{who} is away, answer {number}"
TAKES_OVER: Template = "{people} in the place of {who}"
IT_WAITS: Template = "It waits for {who}"
IT_WAITS_THING: Template = "It waits"
SOONER: Template = "Sooner, before {who} goes"
ELSEWHERE: Template = "In another place"
SWAPPED: Template = "Others swap their work"
MOVED: Template = "Other work moves"
LEAVES: Template = "The lorry leaves at another time"
OFF: Template = "Something is planned no more"
AS_IT_IS: Template = "Leave everything as it is"
