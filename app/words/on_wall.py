"""What is said on the wall while somebody finds, follows a chain, moves a stage or marks it."""

from datetime import date
from typing import TYPE_CHECKING

from app.words.template import Template, counted, within

if TYPE_CHECKING:
    from app.words import Words

# Finding.
FIND: Template = "Find a segment, person or day"
FOUND = counted("count", "Find: one of {all} on the wall.", "Find: {number} of {all} on the wall.")
FOUND_NONE: Template = "Nothing on the wall is called that."
FOUND_NEAR: Template = "Nothing on the wall is called that. Did you mean “{near}”?"
FIND_HINT: Template = (
    "Also: dates (“{day}”), people, places, “{answer}”, “{late}”, “{just}”, “{pinned}”."
)
FIND_NOTHING_YET: Template = "Find: type anything on the wall; it stays where it is."
ONLY: Template = "only {name}"
ONLY_SHOWN = counted("count", "Only {name}: one on the wall.", "Only {name}: {number} on the wall.")
GO_THERE: Template = "go there"
CHOOSE: Template = "choose"
DONE_FINDING: Template = "done"
ALL_AGAIN: Template = "all again"
ITEM_OF_JOB: Template = "{job}, {item}"
SOUGHT: dict[str, Template] = {
    "answer": within("find", "answer"),
    "trial fit": within("find", "trial fit"),
    "loading": within("find", "loading"),
    "late": within("find", "late"),
    "pinned": within("find", "pinned"),
    "changed": within("find", "changed"),
    "done": within("find", "done"),
    "running": within("find", "running"),
    "told": within("find", "not confirmed"),
    "today": within("find", "today"),
    "tomorrow": within("find", "tomorrow"),
    "just": within("find", "only just"),
}

# The chain.
CHAIN_OF: Template = "What decides when {item} can be, and what waits for it."
CHAIN_WAITS = counted("count", "One wait on it.", "{number} waits on it.")
CHAIN_WAIT_PERSON: Template = "{span} for {who}: {other} until {until}"
CHAIN_WAIT_PLACE: Template = "{span} for {who}, which is taken: {other} until {until}"
CHAIN_WAIT_ANSWER: Template = "{span} for the answer of {who}"
CHAIN_WAIT_FREE: Template = "{span}, and nobody and nothing is waited for: the plan puts it there"
LETTERED: Template = "{letter}: {text}."

# What has changed since the plan on show.
SINCE_AWAY: Template = "{who} away"
SINCE_MORE: Template = "+{hours} h"
SINCE_LESS: Template = "−{hours} h"
SINCE_WINDOW: Template = "another window for {job}"
SINCE_STEP: Template = "{step}"
SINCE_STEP_MORE: Template = "{step} takes {hours} h more"
SINCE_STEP_LESS: Template = "{step} takes {hours} h less"
SINCE_LINE: Template = (
    "Changed since: {changes}. Sheets printed now would be wrong; Space plans again."
)
SINCE_CHANGED = within("since", "changed")

# A span of days, drawn along the axis.
SPAN_DAYS = counted(
    "count",
    "{first} to {last}: one working day, {busy}.",
    "{first} to {last}: {number} working days, {busy}.",
)
SPAN_PEOPLE: Template = "at work on the wall: {who}"
SPAN_COUNTED = counted(
    "count", "one person at work on the wall", "{number} people at work on the wall"
)
SPAN_NOBODY: Template = "nobody at work on the wall"

# Clashes.
NO_CLASH: Template = "No clash: every window is kept."

# Moving a stage.
MOVING: Template = "Moving {item} by hand."
MOVING_TO: Template = "{item}: {line}."
MOVE_KEYS: Template = "Enter pins it there, Esc puts it back"
MOVED_BY: Template = "{moment}, {people}"
MOVED_TO: Template = "{moment}"
HELD_BACK: dict[str, Template] = {
    "now": "It can’t be before now.",
    "answer": "It will not go before the yes, expected {moment}.",
    "cure": "It will not go before {before} has cured, {moment}.",
    "after": "It will not go before {before} is over, {moment}.",
    "day": "It may not start before {moment}: so it is written.",
    "recoat": "The recoat time of {before} runs out {moment}.",
    "shift": "In one go it takes {length}, and the shift ends before that.",
    "skill": "Nobody who can do {skill} is there.",
    "people": "{people} is away then, and was asked for.",
    "closed": "Nobody works then.",
}
ABRADED_FIRST: Template = "The recoat time of {before} is over by then: it is abraded first."
AWAY_THEN: Template = "{people} is away then; others would do it."
BUSY_THEN: Template = "{people} is on {other} then; one of the two makes way."
JUDGING: Template = "Looking what that does to the others."
JUDGED_SAME: Template = "{job} keeps {spare} to spare"
JUDGED_SPARE: Template = "{job} {before} to {spare} to spare"
JUDGED_LATE: Template = "{job} {before} to misses by {late}"
JUDGED_STILL_LATE: Template = "{job} misses by {late}"
JUDGED_BETTER: Template = "{job} is in time again, with {spare} to spare"
OTHERS = counted("count", "one other stage moves", "{number} other stages move")
NO_OTHERS: Template = "nobody else moved"
NOT_THERE: Template = "No plan has it there: {reason}"
NOT_THERE_BARE: Template = "No plan was found that has it there."
TWO: Template = "{one}; {other}"
DONE_STAYS: Template = "{item} is done and stays where it is."

# How far work is.
STANDS: dict[str, Template] = {
    "done": "Done.",
    "running": "Under way.",
    "told": "As told, and nobody has confirmed it yet.",
}
HOURS_GIVEN: Template = "{hours} person-hours left, as somebody said."

# Marking.
NOT_MARKED: Template = "Only work can be marked done; choose a stage."
ANSWER_NOT_MARKED: Template = (
    "An answer is never marked done: what the client said is written down."
)
MARKED_ALREADY: Template = "{item} is done already."
HOURS_LEFT: Template = "Person-hours left of {item}"
HOURS_LEFT_HINT: Template = "as 6 or 6½; nothing left: press D instead"
DO_DONE: Template = "mark done"
DO_REMAINING: Template = "hours left"
DO_MISHAP: Template = "something broke"
DO_CHAIN: Template = "its chain"

# The key to the marks.
KEY_TITLE: Template = "The marks and what they mean."
KEY_NEXT: Template = "Nothing is told by colour alone: each kind of work has its pattern."
MARKS: dict[str, tuple[Template, Template]] = {
    "foam": (within("mark", "foam"), "block out, carve: beads"),
    "laminate": (within("mark", "laminate"), "foil barrier, glass fibre, hollow: weave"),
    "coat": (within("mark", "coat"), "flow coat, gel coat: level lines"),
    "fill": (within("mark", "fill and sand"), "filler, sanding: strokes"),
    "paint": (within("mark", "paint"), "primer, colour: plain"),
    "lacquer": (within("mark", "lacquer"), "plain with a bright edge"),
    "pack": (within("mark", "fit and pack"), "flanges, frame, crate: boards"),
    "thickness": (within("mark", "thickness"), "one person, two, three or more"),
    "neck": (within("mark", "neck"), "begun, nobody at work; never in one go"),
    "cure": (within("mark", "cures, dries, sets"), "hours as computed, nobody needed"),
    "held place": (within("mark", "place held"), "underlined: still in its place"),
    "recoat": (within("mark", "recoat time"), "next coat from the thin post to the thick"),
    "abrade": (within("mark", "recoat time past: abrade"), "an added stage, marked from above"),
    "waits": (within("mark", "waits"), "free to start, but people or place are not"),
    "spare": (within("mark", "to spare"), "an open tail, up to the latest"),
    "answer": (within("mark", "the client’s answer"), "two lines: awaited; filled: given"),
    "trial fit": (within("mark", "trial fit"), "toothed joint, all segments bolted up"),
    "loading": (within("mark", "start loading by"), "lines run together into one road"),
    "drive": (within("mark", "drive"), "within the driver’s hours"),
    "sailing": (within("mark", "sailing"), "from the timetable"),
    "border": (within("mark", "border, wait"), "clearing; standing"),
    "window": (within("mark", "the window"), "in it: lift, assemble, seal, inspect, sign off"),
    "late": (within("mark", "past the window"), "torn edge, with the days in words"),
    "fits": (within("mark", "fits"), "with at least the buffer you asked for"),
    "tight": (
        within("mark", "fits, but only just"),
        "with less than that buffer, or odds too long",
    ),
    "misses": (within("mark", "misses"), "torn flag; by so much"),
    "cannot": (within("mark", "cannot"), "proved: no plan exists"),
    "not found": (within("mark", "not found in time"), "best so far and bound in words"),
    "enquiry": (within("mark", "enquiry"), "tried, not booked"),
    "latest": (within("mark", "the latest it may be"), "hollow strand, when counting back"),
    "beyond": (within("mark", "out of hours"), "a line along the top: overtime that was agreed"),
    "pinned": (within("mark", "pinned"), "stays with who and when you said"),
    "held job": (within("mark", "a job held as it is"), "all its work is pinned: posts doubled"),
    "changed": (
        within("mark", "changed since the sheet"),
        "dog-ear: differs from what people hold",
    ),
    "done": (within("mark", "done"), "box filled, as on the sheet"),
    "running": (within("mark", "running"), "box half filled; hours left in italics"),
    "told": (within("mark", "told, not confirmed"), "box open: past, and nobody has said so"),
    "letter": (within("mark", "a wait on the chain"), "its letter is explained beside it"),
    "chosen": (within("mark", "chosen"), "row framed; keyboard on one block: double frame"),
    "since": (within("mark", "changed since this plan"), "framed in dashes, with what it was"),
    "piece": (within("mark", "the piece"), "each segment with the work that it has reached"),
    "today": (within("mark", "today"), "what is past lies under a veil"),
}


def day_sought(words: "Words", when: date) -> str:
    """Give a day as somebody would type it: "9 Feb"."""
    return words.day(when, after=when).partition(" ")[2]
