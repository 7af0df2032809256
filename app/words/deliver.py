"""A delivery in words: what is done on each leg, why it waits, which ways to go there are."""

from typing import TYPE_CHECKING

from app.words.legs import leg_name
from app.words.template import Template, counted, within
from shared.book import ArrangementState
from shared.delivery.codes import Note, Trouble
from shared.plan import Because, Doing
from shared.trade import UnknownFigure, figure

if TYPE_CHECKING:
    from app.words import Words
    from shared.book import Leg
    from shared.trade import Figure

# The head.
HEAD: Template = "{job}: {journey}"
WINDOW: Template = "The window of {site}: {window}."
NO_WINDOW: Template = "{job} has no window, so nothing is counted back."
LEAVES_BY: Template = "It leaves by {moment} at the latest."
NO_EARLIER: Template = "The earliest that is of use is {moment}."
LOADING_BY: Template = "Loading begins by {start} at the latest and takes {hours} of working time."
LOADING: Template = "As planned it is loaded from {start} to {end}."
LOADING_HERE: Template = "Loading: {span}."
CREW_LEAVES: Template = "The crew leave {moment}, by their own way."
STANDS: Template = "The loaded lorry then stands for {hours}."
PLANNED: Template = "As planned it leaves {leaves}, is at the site {gate} and done {done}."
IN_TIME: Template = "The window shuts {spare} after that."
JUST_IN_TIME: Template = "That is the very moment when the window shuts."
TOO_LATE: Template = "That is {late} after the window shuts."
NOT_PLANNED: Template = "It is not in the plan; told is the departure that is the latest in time."
CANNOT: Template = "It can't make its window."
AS_WRITTEN: Template = (
    "Hours are as they are written: no drivers’ hours and no lorry bans are counted in. Say how "
    "far each drive is (distance_km), or how long at the wheel (driving_minutes), and they are."
)
JUDGED: Template = "Open the current text of each law before a live job."
NO_JOURNEY: Template = "{job} has no journey."
NOBODY: Template = "No job has a journey."

# Back and forth.
BACK: Template = "Back from the window"
BACK_BY: Template = "Back from the window, by the way that leaves last: {way}"
FORTH_PLANNED: Template = "Forwards, as planned"
FORTH: Template = "Forwards, leaving at the latest"
CREW_WAY: Template = "The crew’s own way"
ZONE: Template = "{place} time"
SHUTS: Template = "the window shuts"
AT_GATE: Template = "the latest to be at the site"
LEAVE: Template = "leave, loaded"
LOAD: Template = "begin to load"
FROM_TO: Template = "{start} to {end}"
ON_DAY: Template = "{weekday} {clock}"

# What is done.
NAMED: Template = "{leg}"
AT_WHEEL: Template = "{leg}, {hours} at the wheel"
FIRST_WHEEL: Template = "{leg}, {hours}, the first driver at the wheel"
SECOND_WHEEL: Template = "{leg}, {hours}, the second driver at the wheel"
IN_TURNS: Template = "{leg}, {hours} in turns, {first} the first driver, {second} the second"
THROUGH: Template = "{text}, in {country}"
BY: Template = "{leg} ({by})"
STANDING: Template = "{leg}: cures {hours}, nobody is needed"
BOARDS: Template = "board: {leg}"
BOARDS_IN_REST: Template = "board: {leg} (the rest around it counts as one) [DR08a]"
SEA: Template = "at sea, alongside {arrives}"
SEA_REST: Template = "at sea, resting in a berth, alongside {arrives}"
LANDS: Template = "off the ship"
LANDS_IN_REST: Template = "off the ship (the rest around it counts as one) [DR08a]"
WAITS: dict[Because | None, Template] = {
    Because.BAN: "stands {hours}: lorries may not drive in {country}",
    Because.CLOSED: "waits {hours}: shut",
    Because.SAILING: "waits {hours} for the ship",
    Because.WEEK: "rests {hours}: no driving is left in this week",
    Because.WEEKLY_REST: "weekly rest, {hours}",
    Because.DAILY_REST: "daily rest, {hours}",
    Because.BREAK: "break, {hours}",
    None: "waits {hours}",
}
WAITS_FOR_OTHERS: Template = "waits {hours}: the site is others’ ({who})"
WAITS_FOR_SLOT: Template = "waits {hours} for its slot"
WAITS_FOR_HOURS: Template = "waits {hours}: {leg} has its own hours"
WAITS_FOR_SITE: Template = "waits {hours}: the site is shut"
WITH_RULE: Template = "{text} [{rule}]"
RULES: Template = "Rules behind the waits"
RULE: Template = "{id}: {name}, {value} {unit}. {source}."
RULE_ALONE: Template = "{id}: {name}. {source}."
RANGE: Template = "{low} to {high}"
SET: Template = "Drivers’ hours: {set} ({source}, read {day})."
CREW_SET: Template = "Of those on site: {set} ({source}, read {day})."
SETS: dict[str, Template] = {
    "eu_one_driver": "one driver, European Union",
    "eu_two_drivers": "two drivers, European Union",
    "gb_domestic": "within Great Britain",
    "gb_domestic_light": "within Great Britain, at the wheel 4 h a day at most",
    "workers_uk": "workers, United Kingdom",
    "workers_eu": "workers, European Union",
    "stricter": "the stricter of each limit that could hold",
    "stricter_gb": "the stricter of each limit that could hold, Great Britain’s too",
}
NOTES: dict[Note, Template] = {
    Note.MASS_UNKNOWN: "The mass of the vehicle is not known: lorry bans hold as for the heaviest.",
    Note.HOME_NOT_JUDGED: "Hours of the way home are not held against the rules.",
    Note.RESERVE_KEPT: "{minutes} min of every daily limit are kept in reserve.",
    Note.CHECK_IN_USUAL: "The timetable says no check-in: it is as usual (TR15).",
}

# Departures and ways to go.
DEPARTURES: Template = "In time if it leaves {spans}."
BETWEEN: Template = "from {span}"
GAPS: Template = counted(
    "count",
    "Not in between: then it waits where it gains nothing, or hours run out.",
    "Not in the {number} gaps between: then it waits where it gains nothing, or hours run out.",
)
NEXT_MISSES: Template = "A quarter later it misses the window by {late}: {why}."
NEXT_NEVER: Template = "Leaving a quarter later it doesn’t get there at all."
NEXT_SAILING: Template = "the next ship lands {lands}"
NEXT_DONE: Template = "it is at the site {gate} and done {done}"
WAYS: Template = "Ways to go"
WAY: Template = within("column", "Way")
PRICE: Template = within("column", "Price")
LEAVES: Template = within("column", "Leaves by")
LOADS: Template = within("column", "Loading begins by")
SHIP: Template = within("column", "Ship")
TAKEN: Template = "in the plan"
OWN_MEANS: Template = "as the journey says"
WITH_SAILING: Template = "{means}, ship at {price}"
NONE_IN_TIME: Template = within("departure", "none in time")
WHY_ONLY: Template = "The plan goes by {way}: no other is in time."
WHY_CHEAPEST: Template = "The plan goes by {way}: the cheapest that is in time."
WHY_LATER: Template = (
    "The plan goes by {way}: what costs less leaves before the piece is loaded, or leaves less to "
    "spare."
)
WHY_ONE: Template = "There is one way to go: {way}."
TROUBLE: Template = "{way}: {why}"
TROUBLE_OF_ALL: Template = "By whichever way: {why}"
SLOT_TOO_SHORT: Template = counted(
    "count",
    "The slot {slot} holds {holds}; {legs} takes {hours}.",
    "The slot {slot} holds {holds}; {legs} take {hours}.",
)
TROUBLES: dict[Trouble, Template] = {
    Trouble.SITE_TOO_SHORT: "what is done on site doesn’t fit into its hours and slots before the "
    "window shuts, whenever the lorry comes.",
    Trouble.NO_SAILING: "no ship leaves in time; look at days and season of the timetable.",
    Trouble.SAILING_MISSED: "no ship in time can be reached from the workshop, however one drives.",
    Trouble.WEEKLY_REST_DUE: "a weekly rest falls due on the way, and with it the window is "
    "missed.",
    Trouble.CREW_HOURS: "the lorry is in time, but those who ride along have no hours left for the "
    "work on site.",
    Trouble.WINDOW_PAST: "the last departure in time is over.",
    Trouble.NO_DEPARTURE: "no departure gets there in time; every one was tried.",
}

# People, bookings, notices.
PEOPLE: Template = "Off the bench: {people}, from {start} to {end}."
HIRED: Template = counted("count", "Driven by a hired driver.", "Driven by {number} hired drivers.")
BOOKINGS: Template = "To arrange"
NOTICES: Template = "Notices and papers"
BOOKING: Template = "{state}: {what}"
WANTED_NAMED: Template = "{what} ({name})"
MOVED: Template = "it was arranged for another time"
WANTED: dict[str, Template] = {
    "crane": within("arrangement", "crane"),
    "sailing": within("arrangement", "sailing"),
    "hotel": within("arrangement", "beds"),
    "escort": within("arrangement", "escort"),
    "freelancer": within("arrangement", "freelancer"),
}
STATES: dict[ArrangementState, Template] = {
    ArrangementState.TO_ASK: within("arrangement", "to ask"),
    ArrangementState.ASKED: within("arrangement", "asked"),
    ArrangementState.BOOKED: within("arrangement", "booked"),
}
REFERENCE: Template = "reference {reference}"
CALL: Template = "call {who} ({call})"
CALL_BARE: Template = "call {who}"
FREE: Template = "free to change until {moment}, then {cost} {currency}"
COSTS: Template = "a change costs {cost} {currency}"
BY_KEPT: Template = "By the plan that the book holds."
BY_NEW: Template = "By a plan made for this, since the book holds none of its state."
COUNTING: Template = "Counting back {job}, way {done} of {all}, {seconds} s."


def doing_line(words: "Words", doing: Doing, leg: "Leg", facts: dict[str, object]) -> str:
    """Give what is done in a stretch that is no wait; facts: hours, arrives, wheel."""
    told = {**facts, "leg": leg_name(words, leg)}
    if doing is Doing.DRIVE:
        wheel = facts.get("wheel")
        template = _WHEELS.get(wheel if isinstance(wheel, int) else 0, AT_WHEEL)
        return words.say(template, **told)
    if doing is Doing.WORK:
        return words.say(BY, **told, by=leg.by) if leg.by else words.say(NAMED, **told)
    return words.say(_OTHERS[doing], **told)


_WHEELS: dict[int, Template] = {1: FIRST_WHEEL, 2: SECOND_WHEEL, 3: IN_TURNS}

_OTHERS: dict[Doing, Template] = {
    Doing.STAND: STANDING,
    Doing.BOARD: BOARDS,
    Doing.BOARD_IN_REST: BOARDS_IN_REST,
    Doing.SEA: SEA,
    Doing.SEA_REST: SEA_REST,
    Doing.LAND: LANDS,
    Doing.LAND_IN_REST: LANDS_IN_REST,
}


def wait_line(words: "Words", because: Because | None, rule: str, facts: dict[str, object]) -> str:
    """Give why something waits, with the id of the figure behind it; facts: hours, end, leg ..."""
    text = words.say(WAITS[because], **facts)
    return words.say(WITH_RULE, text=text, rule=rule) if rule else text


def closed_line(words: "Words", leg: "Leg", hours: str, others: str) -> str:
    """Give what a leg waits for that is shut: a slot, its own hours, other trades, the site."""
    if others:
        return words.say(WAITS_FOR_OTHERS, hours=hours, who=others)
    if leg.slots:
        return words.say(WAITS_FOR_SLOT, hours=hours)
    if leg.opens:
        return words.say(WAITS_FOR_HOURS, hours=hours, leg=leg_name(words, leg))
    return words.say(WAITS_FOR_SITE, hours=hours)


def rule_line(words: "Words", rule: str) -> str:
    """Give a figure behind a wait: what it is, and where it stands."""
    try:
        row = figure(rule)
    except UnknownFigure:
        return rule
    told = {"id": row.id, "name": words.brought(row.name), "unit": row.unit}
    told["source"] = words.brought(row.source)
    value = _value(words, row)
    return words.say(RULE, value=value, **told) if value else words.say(RULE_ALONE, **told)


def _value(words: "Words", row: "Figure") -> str:
    if row.value is not None:
        return words.decimal(f"{row.value:f}")
    if row.low is not None and row.high is not None:
        return words.say(RANGE, low=f"{row.low:f}", high=f"{row.high:f}")
    return ""
