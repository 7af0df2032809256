"""What stands where a job is written: its sentences, its segments, the strip of its making."""

from typing import TYPE_CHECKING

from app.words.template import Template, counted, within
from shared.book import Detail, Finish, Standing

if TYPE_CHECKING:
    from app.words import Words

# The sentences.
JOB: Template = "For {client} we make {name} in {count} segments, by {route}."
SITE: Template = "The site is ours from {start} to {end}; the site gate opens {access}."
ANSWER: Template = (
    "They see pictures and answer within {days} of their working days; we allow for {no} no."
)
JOURNEY: Template = "{vehicle} takes it, {drive} h on the road, with {crew}."
MONEY: Template = "It is {standing}. Price asked {price} {currency}; each day late costs {late}."
MONEY_HIDDEN: Template = "It is {standing}."
LIKE: Template = "Or like {past}, {times} times as large."

AT_ANY_HOUR: Template = within("the site gate opens", "at any hour")
NO_ROUTE: Template = within("way of making", "no way of making")
NO_VEHICLE: Template = within("what takes it", "nothing yet")
NOBODY: Template = within("who goes with it", "nobody yet")
NO_PRICE: Template = within("price", "nothing yet")
STANDINGS: dict[Standing, Template] = {
    Standing.ENQUIRY: within("standing", "an enquiry"),
    Standing.PENCILLED: within("standing", "pencilled"),
    Standing.FIRM: within("standing", "firm"),
}
PENCILLED_UNTIL: Template = "pencilled until {day}"
UNTIL: Template = within("pencilled", "until")

# The segments.
AREA: Template = within("column", "skin m²")
DETAIL: Template = within("column", "detail")
FINISH: Template = within("column", "finish")
HOURS_LOW: Template = within("column", "hours low")
HOURS_LIKELY: Template = within("column", "likely")
HOURS_HIGH: Template = within("column", "high")
DETAILS: dict[Detail, Template] = {
    Detail.PLAIN: within("detail", "plain"),
    Detail.USUAL: within("detail", "usual"),
    Detail.FINE: within("detail", "fine"),
    Detail.VERY_FINE: within("detail", "very fine"),
}
FINISHES: dict[Finish, Template] = {
    Finish.PLAIN: within("finish", "plain"),
    Finish.USUAL: within("finish", "usual"),
    Finish.FINE: within("finish", "fine"),
    Finish.MIRROR: within("finish", "mirror"),
}
ALL_HOURS: Template = "{likely} hours likely, {low} to {high}"
PASTE: Template = "Ctrl V pastes rows of a spreadsheet"
CELL_NAME: Template = "{column} of {segment}"
COLUMN_NAME: Template = within("column", "name")

PART_NAME: Template = "{segment} {number}"
CUT = counted("count", "cut it in {count}", "cut it in {number}")
NO_CUT: Template = "No straight cut helps: another door, another lorry, or another shape."

# The strip.
HOW_MADE: Template = "How {segment} is made"
STEP_OF: Template = "step {number} of {count};"
STRIP_HELP: Template = "type over any figure: a typed one is set in italics"
PEOPLE = counted("count", "{count} person", "{count} people")
RANGE: Template = "{low} to {high}"
HOURS: Template = "{hours} h"
DAYS = counted("count", "{count} day", "{count} days")
LEG_WAIT: Template = "{hours} h in all"
ACROSS = counted("count", "on {count} segment", "on {count} segments")
STEP_READ: Template = "{name}. {facts}."
TYPED: Template = within("hours", "typed")
DO_STAGE: Template = "a stage after it"
DO_ANSWER: Template = "an answer"
DO_FIT: Template = "a trial fit"
DO_AGAIN: Template = "same again"
DO_REMOVE: Template = "remove"
HANDS: Template = "So many work on it together: {hands}."
GATE_DAYS: Template = "It is answered within {days} working days."
HINT_DAYS: Template = within("hint in a blank", "the usual")
AGAIN: Template = "Again from here, because {cause}."
CAUSES: dict[str, Template] = {
    "dropped": within("because", "it was dropped"),
    "soft": within("because", "the resin stayed soft"),
    "run": within("because", "the lacquer has run"),
    "sanded_through": within("because", "it was sanded through"),
    "broken": within("because", "it was broken"),
}
HINT_CAUSE: Template = within("hint in a blank", "what happened")
CHANGE: Template = "After the yes {share} % of {segment} changes: {what}."
HINT_SHARE: Template = within("hint in a blank", "how much")
HINT_WHAT: Template = within("hint in a blank", "what changes")
ON_THE_WALL: Template = "On the wall"
ON_THE_WALL_NOTE: Template = "as written, planned again at every change"
PIECE_SIZE: Template = "{length} × {width} × {height} m"
PIECE_NO_SIZE: Template = "no size yet"
PIECE_MASS: Template = "about {low} to {high} kg"
PIECE_VOLUME: Template = "{volume} m³ in its box"


def detail(words: "Words", which: Detail) -> str:
    """Give how much is carved into a piece."""
    return words.say(DETAILS[which])


def finish(words: "Words", which: Finish) -> str:
    """Give how smooth a piece has to be."""
    return words.say(FINISHES[which])
