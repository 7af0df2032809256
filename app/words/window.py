"""What only the window says: kinds of work, items of the wall, keys, states, findings of typing."""

from datetime import date, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.words import moments
from app.words.legs import LEGS
from app.words.template import Template, counted, within
from shared.book import GateKind, Kind, LegKind

if TYPE_CHECKING:
    from app.words import Words

KINDS: dict[Kind, Template] = {
    Kind.FOAM: within("kind", "foam"),
    Kind.LAMINATE: within("kind", "laminate"),
    Kind.COAT: within("kind", "coat"),
    Kind.FILL: within("kind", "fill and sand"),
    Kind.PAINT: within("kind", "paint"),
    Kind.LACQUER: within("kind", "lacquer"),
    Kind.PACK: within("kind", "fit and pack"),
}
_KINDS_IN_KEY: dict[Kind, Template] = {
    **KINDS,
    Kind.FILL: within("key to the marks", "fill, sand"),
    Kind.PACK: within("key to the marks", "fit, pack"),
}
CURES: dict[Kind, Template] = {
    Kind.FOAM: counted(
        "count", "Then sets {hours} hour, to {end}.", "Then sets {hours} hours, to {end}."
    ),
    Kind.LAMINATE: counted(
        "count", "Then cures {hours} hour, to {end}.", "Then cures {hours} hours, to {end}."
    ),
    Kind.COAT: counted(
        "count", "Then cures {hours} hour, to {end}.", "Then cures {hours} hours, to {end}."
    ),
    Kind.FILL: counted(
        "count", "Then sets {hours} hour, to {end}.", "Then sets {hours} hours, to {end}."
    ),
    Kind.PAINT: counted(
        "count", "Then dries {hours} hour, to {end}.", "Then dries {hours} hours, to {end}."
    ),
    Kind.LACQUER: counted(
        "count", "Then dries {hours} hour, to {end}.", "Then dries {hours} hours, to {end}."
    ),
    Kind.PACK: counted(
        "count", "Then sets {hours} hour, to {end}.", "Then sets {hours} hours, to {end}."
    ),
}
_CURE_LABELS: dict[Kind, Template] = {
    Kind.FOAM: "sets {hours} h",
    Kind.LAMINATE: "cures {hours} h",
    Kind.COAT: "cures {hours} h",
    Kind.FILL: "sets {hours} h",
    Kind.PAINT: "dries {hours} h",
    Kind.LACQUER: "dries {hours} h",
    Kind.PACK: "sets {hours} h",
}
PARTS: dict[str, Template] = {
    "abrade": within("part", "abrade"),
    "rework": within("part", "rework"),
    "changes": within("part", "changes"),
}
PART_OF: dict[str, Template] = {
    "abrade": "abrade before {stage}",
    "rework": "rework after {stage}",
    "changes": "changes after {stage}",
}
_CURE_VERBS: dict[Kind, Template] = {
    Kind.FOAM: within("it", "sets"),
    Kind.LAMINATE: within("it", "cures"),
    Kind.COAT: within("it", "cures"),
    Kind.FILL: within("it", "sets"),
    Kind.PAINT: within("it", "dries"),
    Kind.LACQUER: within("it", "dries"),
    Kind.PACK: within("it", "sets"),
}
GATES: dict[GateKind, Template] = {
    GateKind.ANSWER: within("gate", "the answer"),
    GateKind.TRIAL_FIT: within("gate", "trial fit"),
    GateKind.LOADING: within("gate", "loading"),
    GateKind.SITE: within("gate", "site gate"),
}

# The wall: what is read out and what stands on the slip.
STAGE_NAME: Template = "{segment}, {stage}"
IN_ONE_GO = counted(
    "count",
    "{kind} in one go, one person: {people}.",
    "{kind} in one go, {number} people: {people}.",
)
WITH_PAUSES = counted(
    "count", "{kind}, one person: {people}.", "{kind}, {number} people: {people}."
)
NOBODY_HELD: Template = "{kind}, nobody is held."
FROM_TO_AT: Template = "{span}, {place}."
FROM_TO: Template = "{span}."
TO_SPARE: Template = "{spare} to spare."
NOTHING_TO_SPARE: Template = "Nothing to spare."
AS_TOLD: Template = "As on the sheet of {day}."
TOLD_ANEW: Template = "Changed since the sheet of {day}."
PINNED: Template = "Pinned."
WAITED_PEOPLE: Template = "Waited {span} for people."
WAITED_PLACE: Template = "Waited {span} for {place}."
RECOAT: Template = "{next} by {moment}."
RECOAT_BY_A_DAY: Template = "{next} by {moment}, so at the latest {day}."
RECOAT_ABRADED: Template = "Abraded before {next}: its recoat time runs out {moment}."
RECOAT_ABRADED_OVER: Template = "Abraded before {next}: its recoat time ran out {moment}."
ABRADED_FOR: Template = "The recoat time of {coat} runs out {moment}."
ABRADED_FOR_OVER: Template = "The recoat time of {coat} ran out {moment}."
PLACE_HELD: Template = "{place} is held until then."
ANSWER_NAME: Template = "{job}, the answer"
ANSWER_DUE: Template = "Pictures out by {out}; the client's answer is due {due}."
ANSWER_OF_OTHER_DUE: Template = "Pictures out by {out}; the answer of {who} is due {due}."
ANSWER_ROUND: Template = "Round {round}."
TRIAL_FIT_NAME: Template = "{job}, trial fit"
LOADING_NAME: Template = "{job}, loading"
SITE_GATE_NAME: Template = "{job}, site gate"
LOADING_BY: Template = "Start loading by {moment} at the latest."
LEG_NAME: Template = "{job}, {leg}"
JOB_NAME: Template = "{job}, window {day}, {verdict}, {margin}"
JOB_NAME_UNPLANNED: Template = "{job}, window {day}, not planned"
JOB_NAME_WITHOUT_WINDOW: Template = "{job}, no window"
WINDOW_OURS: Template = "The site is ours from {start} to {end}."
NO_WINDOW: Template = "No window is written."
SEGMENT_SIZE: Template = "{length} × {width} × {height} m."
SEGMENT_NAME: Template = "{segment}, {job}"
SPARE_IN_NAME: Template = "{spare} to spare"
LATE_WORDS: Template = "{late} late"
SPARE_SHORT: Template = "{days} d"
SPARE_SHORT_HOURS: Template = "{hours} h"
ANSWER_SHORT: Template = "answer due {day}"
ANSWER_SHORTER: Template = "due {day}"
TRIAL_FIT_SHORT: Template = "trial fit"
WINDOW_ON: Template = "window {day}"
CURE_SHORT: Template = "{hours} h"
DAYS_LEFT: Template = "working days left to the window of {job}"

# The masthead and the foot.
TITLE: Template = "{book}{dot} — Countback"
NEXT: Template = "Next"
NEXT_ANSWER: Template = "answer on {job} due"
ANSWER_SOONER: Template = "{job}: the answer is now due {day}, on the sheet it was {told}."
NEXT_PICTURES: Template = "pictures of {job} to the client"
NEXT_COAT: Template = "{job}: {next} by"
NEXT_LOADING: Template = "start loading {job} by"
VIEWS: dict[str, Template] = {
    "wall": within("view", "Wall"),
    "countback": within("view", "Countback"),
    "people": within("view", "People"),
    "orders": within("view", "Orders"),
    "enquiry": within("view", "Enquiry"),
    "workshop": within("view", "Workshop"),
}
TRYING: Template = "Trying, not yet taken: {what}."
TRIED_LINE: Template = "Tried: {what}. {sentence}"
TRIAL_KEYS: Template = "Enter takes it, Esc leaves it."
PLANNING: Template = "Planning. The first plan is on its way."
STILL_LOOKING: Template = "{sentence} Still looking."
PLANNING_ANEW: Template = "The book has changed. Planning anew."
CHANGED_SINCE: Template = "The wall shows an earlier plan. The book has changed since."
EMPTY: Template = "Nothing on the wall yet. What must stand where, and by when?"
NOT_PLANNED_YET: Template = "Not planned yet."
PLANNED: Template = "Planned {clock}"
REVISION_CHECKED: Template = "revision {revision}, checked"
REVISION_NOT_CHECKED: Template = "revision {revision}, not everything checked"
REVISION_PROVED: Template = "revision {revision}, checked, nothing better exists"
CHECK_DISAGREES = counted(
    "count",
    "The second opinion found {count} fault in this plan. It is not shown as planned.",
    "The second opinion found {count} faults in this plan. It is not shown as planned.",
)
CHANGES = counted("count", "One change not yet saved", "{number} changes not yet saved")
LOOKING_ONLY: Template = "Looking only"
SAVED: Template = "Saved."
NOT_SAVED: Template = "Not saved. {reason}"
UNDID: Template = "Taken back: {label}"
REDID: Template = "Done again: {label}"
SAVED_PICTURE: Template = "The picture is in {path}."
ENGINE_ANEW: Template = "{reason} The last plan stays; another is looked for."
ENGINE_LOST: Template = "{reason} The last plan stays; {key} looks for another."
ENGINE_CAME_BACK: Template = "The planner had to be started anew for this plan."
ENGINE_LATE: Template = (
    "The planner takes longer than the {seconds} seconds that it was given. {key} stops it."
)
ENGINE_FAILED: Template = "No new plan: {reason} The last plan stays."
ENGINE_MISSING: Template = "The planner could not be started: {reason}"
FINDINGS_STOP = counted(
    "count",
    "Not planned: one thing in the book must be mended first.",
    "Not planned: {number} things in the book must be mended first.",
)
DAMAGED: Template = "This book can’t be read as it stands. Nothing was changed."
DAMAGED_WHOLE = counted(
    "whole",
    "This book is damaged. {whole} of {all} jobs is whole.",
    "This book is damaged. {whole} of {all} jobs are whole.",
)
NOTHING_OVER: Template = "Nothing has been written over."
WHOLE_JOBS: Template = "Whole: {jobs}."
OPEN_WHOLE: Template = "open what is whole, as a new book"
NEWER: Template = "This book was written by a later Countback. Nothing was changed."
CLOSE_ASK: Template = "Not saved yet; the last change: {label}."
CLOSE_SAVE: Template = "save and close"
CLOSE_DROP: Template = "close without saving"
CLOSE_STAY: Template = "stay"
SAVE_AS: Template = "Save the book"
OPEN_BOOK: Template = "Open a book"
BOOK_FILES: Template = "Books (*.countback)"
PICTURE_FILES: Template = "Pictures (*.png)"
SAVE_PICTURE: Template = "Save a picture of the wall"
UNTITLED: Template = "A new book"
KEY_CURES: Template = "cures, dries, sets"
KEY_WAITS: Template = "waits"
KEY_SPARE: Template = "to spare"

# Keys: what each does.
KEY_WORDS: tuple[tuple[str, Template], ...] = (
    ("← →", "stage before, after on the row"),
    ("↑ ↓", "nearest in the row above, below"),
    ("J, Shift J", "next, previous window"),
    ("G", "next answer, trial fit, loading"),
    ("Home, End", "today; the selected job’s window"),
    ("+ − 0", "nearer, farther, to the last window"),
    ("Page Up, Page Down", "a screen back, on"),
    ("Enter", "count the selected job back"),
    ("E", "write the selected job"),
    ("Esc", "back; stop looking"),
    ("Space", "plan again, look longer"),
    ("P", "pin the stage with its people; unpin it"),
    ("F", "find a segment, person or day; show one person, place or job only"),
    ("C", "what decides when the selected stage can be, and what waits for it"),
    ("X", "next clash"),
    ("Z, Shift Z", "fold, unfold the job; all others"),
    ("D, R", "the stage is done; the hours that are left of it"),
    ("B", "something broke, ran or stayed soft: do it again from the stage chosen"),
    ("Alt ← →", "move the stage a quarter hour, with Shift a shift; Enter pins it"),
    ("A", "people: somebody or something is away"),
    ("Alt ↑ ↓", "people: the stage goes to the next who could do it"),
    ("O", "people: all that is left of the segment goes to one or two"),
    ("T, R, C", "people: the day went as told; otherwise; material came"),
    ("S", "the sheets of the day; Enter saves them as PDF"),
    (
        "Y, O, B, ← →",
        "sheets: people are told this plan; a page for each; the week board; another day",
    ),
    ("I", "bring in a file, or a pasted table"),
    ("U", "give out: calendars, tables, pages, paper"),
    ("K", "key to the marks"),
    ("N", "new job"),
    ("M", "on an empty wall: the made-up workshop"),
    ("Ins, Ctrl D, Del", "the strip: a stage after it, the same again, remove it"),
    ("Shift Ins, Ctrl Ins", "the strip: an answer, a trial fit after it"),
    ("0 to 9", "the strip: type over the hours"),
    ("Ctrl V", "segments: paste rows of a spreadsheet; Alt ↑ ↓ moves one, Ctrl Del removes it"),
    ("Ctrl V, Del", "one job: paste a drawing of its piece (SVG); take it away"),
    ("Ctrl Shift D, Del", "writing: the whole job again; remove it"),
    ("L", "one job: why it stands so, and the ways out"),
    ("1 to 9", "try one of what is offered"),
    ("T", "one job, enquiry: another date"),
    ("Q", "a new enquiry"),
    ("V", "enquiry: the wall with it; again without it"),
    ("Y", "enquiry: copy the words for the client"),
    ("B, P, Del", "enquiry: book it; pencil it; let it go"),
    ("Enter; 1", "orders: it is ordered, it has come; the work waits for what comes late"),
    ("+ −", "orders: what is on its way comes a working day later, earlier"),
    ("W", "the workshop: people, places, hours, rates, ways of making, where work stands"),
    ("Space; + −", "the workshop: tick what somebody can do; more, less"),
    ("H", "hide all money, show it"),
    ("Ctrl S", "save"),
    ("Ctrl Z, Ctrl Y", "undo, redo"),
    ("Ctrl O", "open a book"),
    ("F5", "look at the book on the disk: what somebody else changed, who has it"),
    ("Ctrl P", "print what is in front; a PDF where there is no printer"),
    ("Ctrl Shift P", "save a picture of it"),
    ("Ctrl L", "light, dark, or as the system has it"),
    ("Ctrl Shift C", "copy the report of what went wrong inside"),
    ("Ctrl Shift L", "stronger contrast, the usual one, or as the system has it"),
    ("Ctrl +, Ctrl −", "larger, smaller text"),
    ("?", "all keys"),
)
KEYS_TITLE: Template = "Keys"
LANGUAGES: dict[str, Template] = {
    "system": "Language: as the system has it.",
    "en": "Language: English.",
    "de": "Language: German.",
}
NEXT_LANGUAGE: Template = "another language, from the next start"
KEYS_POINTER: Template = (
    "Ctrl and the wheel bring the wall nearer; Shift and the wheel move it through time, "
    "and so does dragging its ground. Dragging a stage moves it and pins it where it is let go."
)
TEXT_SIZE: Template = "Text at {percent} %."
GROUND_SYSTEM: Template = "Ground: as the system has it."
GROUND_LIGHT: Template = "Ground: light."
GROUND_DARK: Template = "Ground: dark."
GROUNDS: dict[str, Template] = {
    "system": GROUND_SYSTEM,
    "light": GROUND_LIGHT,
    "dark": GROUND_DARK,
}

CONTRASTS: dict[str, Template] = {
    "system": "Contrast: as the system has it.",
    "usual": "Contrast: the usual one.",
    "strong": "Contrast: the stronger one.",
}

# Writing a job.
SHEET_STAGE_WORK: Template = "{name} is {kind}: {likely} person-hours, {low} to {high}."
SHEET_STAGE_CURE: Template = "Then it {cures} {hours} hours; the next coat within {recoat}."
SHEET_STAGE_GO: Template = "It is done {go}."
SHEET_STAGE_PEOPLE: Template = "By {people}."
SHEET_GATE: Template = "{name} is {gate}."
SHEET_SEGMENTS: Template = "Segments"
ONE_GO: Template = within("done", "in one go")
IN_PAUSES: Template = within("done", "with pauses")
ANYBODY: Template = within("people", "whoever can")
LENGTH: Template = within("column", "length")
WIDTH: Template = within("column", "width")
HEIGHT_M: Template = within("column", "height m")
DO_ADD_SEGMENT: Template = "another segment"
DO_COPY: Template = "same again"
DO_REMOVE: Template = "remove"
DO_EARLIER: Template = "earlier"
DO_LATER: Template = "later"
DO_WRITE: Template = "write it"
DO_PIN: Template = "pin"
DO_UNPIN: Template = "unpin"
DO_REMOVE_JOB: Template = "remove the job"
DO_COPY_JOB: Template = "the job again"
DO_BACK: Template = "back to the wall"
NEW_SEGMENT: Template = "Segment {number}"
NEW_STAGE: Template = "new stage"
COPY_OF: Template = "{name}, again"

NOT_TAKEN: dict[str, Template] = {
    "not_a_number": "“{value}” is no number. Write it as 12 or 12.5.",
    "not_positive": "“{value}” is less than nothing.",
    "not_a_moment": "“{value}” is no date with a time. Write it as Tue 13 Apr 06:00.",
    "not_a_person": "Nobody here is called “{value}”.",
    "not_a_kind": "“{value}” is no kind of work. There are {known}.",
    "not_a_size": "“{value}” is no size. Write it in metres, as 2.4.",
    "no_name": "It needs a name.",
    "ends_before_start": "The window ends before it begins.",
    "hours_out_of_order": "Low, likely and high must not fall.",
    "last_segment": "A job keeps at least one segment.",
    "not_go": "Write “in one go” or “with pauses”.",
    "because": "{reason}",
    "not_how": "“{value}” is no time, no hours and no reason. Write 14:30, 6 h, or tool.",
    "not_a_route": "“{value}” is no way of making. There are {known}.",
    "not_a_vehicle": "“{value}” is no vehicle of this workshop. There are {known}.",
    "no_drive": "Its journey has no drive.",
    "no_journey": "It has no journey yet.",
    "not_a_standing": "“{value}” is none of: {known}.",
    "not_a_class": "“{value}” is none of: {known}.",
    "nothing_begun": "Nothing has begun on {segment}, so there is nothing to do again.",
    "not_a_cause": "“{value}” is none of: {known}.",
    "too_many_rows": "{count} rows are more than fit: a job has at most {most} segments.",
    "row_not_taken": "Nothing was pasted: row {row} is not understood. {reason}",
    "no_needs": "It does not say which skill it takes: nobody can be counted for it.",
    "not_three_sizes": "“{value}” is not length, width and height. Write them as 2.4 x 2.1 x 2.6.",
    "not_a_day": "“{value}” is no day. Write it as 13 Apr or 2027-04-13.",
    "day_is_over": "{value} is over.",
    "day_too_far": "{value} is more than {years} years ahead.",
    "not_a_country": "“{value}” is no country. Write its name or its two letters.",
    "not_a_country_like": "“{value}” is no country. Is {nearest} meant?",
    "not_a_job": "“{value}” is no job of this book. There are {known}.",
    "not_a_site": "“{value}” is no site here. Write it with its country, as Market hall, Norway.",
    "past_without_size": "{value} has no sizes yet, so nothing is so many times as large.",
    "not_times": "“{value}” is not so many times as large. Write a number up to {most}.",
    "not_between": "“{value}” is not between {least} and {most}.",
    "not_hours": "“{value}” is no working day. Write it as 07:30 to 16:00.",
    "not_money": "“{value}” is no currency. Write its three letters, as GBP.",
    "not_a_span": "“{value}” is no stretch of days. Write it as 24 Dec to 1 Jan, or not at all.",
}


def kind(words: "Words", which: Kind) -> str:
    """Give a kind of work as it stands on screen."""
    return words.say(KINDS[which])


def kind_in_key(words: "Words", which: Kind) -> str:
    """Give a kind of work as it stands in the key to the marks."""
    return words.say(_KINDS_IN_KEY[which])


def cure_verb(words: "Words", which: Kind) -> str:
    """Give what a kind of work does while nobody touches it: cures, dries, sets."""
    return words.say(_CURE_VERBS[which])


def cure_label(words: "Words", which: Kind, hours: str) -> str:
    """Give what stands over a cure."""
    return words.say(_CURE_LABELS[which], hours=hours)


def part(words: "Words", which: str) -> str:
    """Give what a part that is put in before or after a step is called."""
    return words.say(PARTS.get(which, which))


def part_of(words: "Words", which: str, stage: str) -> str:
    """Give such a part with its step."""
    return words.say(PART_OF.get(which, which), stage=stage)


def leg(words: "Words", which: LegKind) -> str:
    """Give a part of a journey."""
    return words.say(LEGS[which])


def gate(words: "Words", which: GateKind) -> str:
    """Give a sort of gate."""
    return words.say(GATES[which])


def short_day(words: "Words", when: date) -> str:
    """Give a date with its weekday and without its year: "Tue 2 Feb"."""
    return moments.day(words, when, after=when)


def short_moment(words: "Words", when: datetime, zone: str | None = None) -> str:
    """Give an instant without its year: "Tue 2 Feb 07:30"."""
    local = when.astimezone(ZoneInfo(zone or words.zone))
    return words.moment(when, after=local.date(), zone=zone)


def short_moment_bare(words: "Words", when: datetime, zone: str) -> str:
    """Give an instant by a zone's clock without naming the zone, as it can be typed back."""
    local = when.astimezone(ZoneInfo(zone))
    return moments.moment(words, when, zone, after=local.date())


def short_span(words: "Words", start: datetime, end: datetime, zone: str | None = None) -> str:
    """Give a stretch: "Wed 3 Feb 07:30 to 14:30", the second day only if it is another."""
    place = ZoneInfo(zone or words.zone)
    first, last = start.astimezone(place), end.astimezone(place)
    if first.date() == last.date():
        template = "{first} to {last}"
        return words.say(
            template,
            first=short_moment(words, start, zone),
            last=moments.clock(words, last),
        )
    return words.span(start, end, after=first.date(), zone=zone)


def quarters(words: "Words", minutes: int, day_minutes: int) -> str:
    """Give what is to spare as it stands over a tail: "2½ d", under a quarter day "1 h"."""
    if 4 * minutes < day_minutes:
        return words.say(SPARE_SHORT_HOURS, hours=max(0, minutes // 60))
    whole, part = divmod(4 * minutes // day_minutes, 4)
    fraction = ("", "¼", "½", "¾")[part] if whole < 10 else ""
    return words.say(SPARE_SHORT, days=(str(whole) if whole else "") + fraction)


def days_left(words: "Words", job: str) -> str:
    """Give what the small figures on the axis count."""
    return words.say(DAYS_LEFT, job=job)


def not_taken(words: "Words", code: str, **facts: object) -> str:
    """Give why what was typed is not taken."""
    return words.say(NOT_TAKEN[code], **facts)
