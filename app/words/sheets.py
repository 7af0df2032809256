"""What stands on the day's sheets, and what the view says that shows, saves and tells them."""

from datetime import date, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.words import moments
from app.words import window as wording
from app.words.template import Template, counted, within

if TYPE_CHECKING:
    from app.words import Words

_WEEKDAYS = (
    within("weekday in full", "Monday"),
    within("weekday in full", "Tuesday"),
    within("weekday in full", "Wednesday"),
    within("weekday in full", "Thursday"),
    within("weekday in full", "Friday"),
    within("weekday in full", "Saturday"),
    within("weekday in full", "Sunday"),
)
_MONTHS = (
    within("month in full", "January"),
    within("month in full", "February"),
    within("month in full", "March"),
    within("month in full", "April"),
    within("month in full", "May"),
    within("month in full", "June"),
    within("month in full", "July"),
    within("month in full", "August"),
    within("month in full", "September"),
    within("month in full", "October"),
    within("month in full", "November"),
    within("month in full", "December"),
)
_DATE: Template = within("date in full", "{weekday} {day} {month} {year}")

# The head of a sheet.
SHEET: Template = within("paper", "sheet {number}, as of {moment}")
SHEET_AFTER: Template = within("paper", "sheet {number}, as of {moment}; throw sheet {before} away")
DRAFT: Template = within("paper", "draft of sheet {number}, as of {moment}")
FOR_ONE: Template = within("paper", "{who}: {day}")
AT_WORK = counted("count", "One at work.", "{number} at work.", "paper")
IS_AWAY = counted("count", "{who} is away, {back}.", "{who} are away, {back}.", "paper")
CHANGED = counted(
    "count", "{who}: changed since the sheet of {day}", "{who}: changed since the sheet of {day}"
)
MARKED: Template = within("paper", "{changed}, marked")
NOBODY: Template = within("paper", "Nobody works on this day.")

# What a sheet must not be given out without.
OLD_BOOK: Template = "OLD PLAN. The book has changed since it was made: revision {made}, now {now}."
OLD_DAY: Template = "OLD PLAN. It was made on {day}, before what has happened since."
NOT_CHECKED: Template = "NOT CHECKED. This plan has not been through the second opinion."
FAULTY: Template = "OLD PLAN. The second opinion found a fault in the newer one."
NOT_TOLD: Template = "NOT TOLD. Nobody has been told this plan yet."
NOT_TOLD_AFTER: Template = (
    "NOT TOLD. It differs from sheet {before}, which people have; nobody has been told this one."
)

# Columns and rows.
WHO: Template = within("column of a sheet", "who")
FROM: Template = within("column of a sheet", "from")
TO: Template = within("column of a sheet", "to")
SEGMENT: Template = within("column of a sheet", "segment")
STAGE: Template = within("column of a sheet", "stage")
PLACE: Template = within("column of a sheet", "place")
WITH: Template = within("column of a sheet", "with")
HOURS: Template = within("column of a sheet", "hours")
DONE: Template = within("column of a sheet", "done")
OF_JOB: Template = within("row of a sheet", "{job}, {segment}")
MORE: Template = within("row of a sheet", "{job}, {segment} and {count} more")
MORE_PIECES: Template = within("row of a sheet", "{segment} and {count} more")
ON_THE_ROAD: Template = within("place on a sheet", "on the road")
GO_ON: Template = within("stage on a sheet", "{stage}, to {moment}")
ONE_GO: Template = within("stage on a sheet", "{stage}, in one go")
NOTHING: Template = within("row of a sheet", "nothing planned")
ROW_TOLD: Template = "{start} to {end}: {segment}, {stage}."
ROW_TOLD_AT: Template = "{start} to {end}: {segment}, {stage}, {place}."
ROW_TOLD_WITH: Template = "{told} With {people}."
ROW_CHANGED: Template = "{told} Changed."
ROW_DONE: Template = "{told} Done."

# What stands under the rows.
CURES: Template = within("heading on a sheet", "Cures running: leave alone")
CURE_WHAT: Template = within("cure on a sheet", "{what}: {cures}, {place}")
CURE_WHAT_BARE: Template = within("cure on a sheet", "{what}: {cures}")
UNTIL: Template = within("cure on a sheet", "until {moment}")
DUE: Template = within("heading on a sheet", "Due")
BY: Template = within("due on a sheet", "by {day}")
DUE_PICTURES: Template = "Pictures of {job} to the client"
DUE_ANSWER: Template = "Answer on {job}"
DUE_ANSWER_LATE: Template = "Answer on {job}, overdue: ring the client"
DUE_ORDER: Template = "Order {material}"
DUE_COMES: Template = "{material} comes"
DUE_COAT: Template = "{job}, {coat}: {next}"
DUE_LOADING: Template = "Start loading {job}"
CARE: Template = within("heading on a sheet", "Take care today")
CARE_IN: Template = within("caution on a sheet", "{caution} ({stages})")
DEFERS: Template = (
    "Local rules, the product’s data sheet and licensed people come before this sheet. "
    "It does not say that anything is without risk."
)
IN_THE_WAY: Template = within("heading on a sheet", "What got in the way")
LEFT: Template = within("heading on a sheet", "Working days left to each window")
LEFT_NONE: Template = within("days left", "past")
OPEN_NOW: Template = within("days left", "open")
FOOT: Template = within("paper", "Plan of {moment}, revision {revision}")
PAGE: Template = within("paper", "{page} of {pages}")

# The view.
TITLE: Template = "The sheets of {day}: {sheet}."
NO_PLAN: Template = "No sheets yet: nothing is planned."
SIDE: Template = "What can be done with the sheets"
PAGES_NAME: Template = "The sheets as they are printed"
SHEET_IS: Template = within("sheets", "sheet {number}, as people have it")
SHEET_FIRST: Template = within("sheets", "the first, not told yet")
SHEET_DRAFT: Template = within("sheets", "a draft of sheet {number}, not told yet")
DO_SAVE: Template = "save them as PDF, A4"
DO_TELL: Template = "tell them: this is sheet {number} from now on"
DO_PICTURE: Template = "save the page on top as a picture"
DO_DAY: Template = "the working day before, after"
DO_ONE: Template = "a page of their own for each person"
DO_ALL: Template = "one list for all"
DO_BACK: Template = "back to the wall"
PAGES_ARE = counted("count", "One page, A4 upright.", "{number} pages, A4 upright.")
HEARS: Template = "Who hears something else"
HEARS_NOBODY: Template = "Nobody hears anything else than on sheet {number}."
HEARS_FIRST: Template = "Nobody has been told anything yet."
MORE_HEAR = counted("count", "And one more line.", "And {number} more lines.")
SAVED: Template = "The sheets are in {path}."
TOLD: Template = "Sheet {number} is what people are told from now on. Ctrl Z takes it back."
TOLD_ALREADY: Template = "People have this plan already: it is sheet {number}."
NOT_TO_BE_TOLD: Template = "Nobody is told this plan: {reason}"
NOT_NOW: Template = "it is old, or not checked yet."
SAVE_SHEETS: Template = "Save the sheets"
PAPER_FILES: Template = "Paper (*.pdf)"


def date_in_full(words: "Words", day: date) -> str:
    """Give a date as it stands over a sheet: "Monday 18 January 2027"."""
    return words.say(
        _DATE,
        weekday=words.say(_WEEKDAYS[day.weekday()]),
        day=day.day,
        month=words.say(_MONTHS[day.month - 1]),
        year=str(day.year),
    )


def month_in_full(words: "Words", day: date) -> str:
    """Give the month of a date: "January"."""
    return words.say(_MONTHS[day.month - 1])


def moment_seen_from(words: "Words", when: datetime, day: date) -> str:
    """Give an instant by the clock alone on a day, else with its day."""
    local = when.astimezone(ZoneInfo(words.zone))
    if local.date() == day:
        return moments.clock(words, local)
    return wording.short_moment(words, when)
