"""Legs of a journey in words: what each kind is called, what is ready-made, what to fill in."""

from typing import TYPE_CHECKING

from app.words.template import Template, counted, within
from shared.book import LegKind
from shared.journeys import BlankKind

if TYPE_CHECKING:
    from app.words import Words
    from shared.book import Leg
    from shared.journeys import Blank

LINE: Template = "{id}: {name}"
LISTED: Template = "{legs}."
JOURNEY: Template = "{name}: {legs}."
JOURNEY_OF: Template = "{name} ({segments}): {legs}."
TRAVEL: Template = "The crew travel apart: {legs}."
FIGURES: Template = "Usual times, to be changed: {figures}."
FIGURE: Template = "{name} {value} {unit} ({id}, {source})"
WRITTEN: Template = counted(
    "count",
    "{job}: the legs “{legs}” are written into its journey; {path} is saved as revision "
    "{revision}. countback undo takes that back.",
    "{job}: the legs “{legs}” are written into its {number} journeys; {path} is saved as revision "
    "{revision}. countback undo takes that back.",
)
TO_FILL_IN: Template = "To fill in before it can be counted back:"
FILLED_IN: Template = "Nothing is left to fill in. Next: countback deliver {path} {job}"
NO_JOURNEY: Template = "{job} has no journey."
BLANK: Template = "{journey}, leg {number} ({leg}): {what}"
BLANK_OF_ALL: Template = "{journey}: {what}"
BLANK_OF_TRAVEL: Template = "{journey}, the crew’s own way ({leg}): {what}"

BLANKS: dict[BlankKind, Template] = {
    BlankKind.WAY: "how far it is (distance_km) or how long at the wheel (driving_minutes).",
    BlankKind.COUNTRIES: "through which country it goes, or through which with their shares.",
    BlankKind.TIMETABLE: "when it leaves and arrives, on which days, by whose clock, how long "
    "before to be at the check-in (timetable, or departures).",
    BlankKind.OPENS: "when the office is open (opens), or the slot that is booked (slots).",
    BlankKind.CRANE: "which crane lifts (equipment), and the slot it is booked for.",
    BlankKind.VEHICLE: "the vehicle it goes in (vehicles), or of each of its means.",
    BlankKind.CREW: "who travels and works on site (crew).",
}
LEGS: dict[LegKind, Template] = {
    LegKind.LOAD: within("journey", "load on the way"),
    LegKind.DRIVE: within("journey", "drive"),
    LegKind.SAILING: within("journey", "sailing"),
    LegKind.TRAIN: within("journey", "train"),
    LegKind.BORDER: within("journey", "border"),
    LegKind.WAIT: within("journey", "wait"),
    LegKind.ARRIVE: within("journey", "arrive"),
    LegKind.UNLOAD: within("journey", "unload"),
    LegKind.LIFT: within("journey", "lift"),
    LegKind.CARRY: within("journey", "carry in"),
    LegKind.ASSEMBLE: within("journey", "assemble"),
    LegKind.SEAL: within("journey", "seal"),
    LegKind.INSPECT: within("journey", "inspect"),
    LegKind.SIGN_OFF: within("journey", "sign off"),
    LegKind.TAKE_AWAY: within("journey", "take the old piece away"),
    LegKind.SNAGS: within("journey", "snags and photographs"),
    LegKind.RETURN: within("journey", "way home"),
}


def leg_name(words: "Words", leg: "Leg") -> str:
    """Give what a leg is called: by its own name, else by its kind."""
    return leg.name or words.say(LEGS[leg.kind])


def blank_line(words: "Words", journey: str, blank: "Blank") -> str:
    """Give what is to be filled in, and where."""
    what = words.say(BLANKS[blank.kind])
    if blank.leg is not None:
        told = {"number": blank.leg, "leg": blank.name, "what": what}
        return words.say(BLANK, journey=journey, **told)
    template = BLANK_OF_TRAVEL if blank.name else BLANK_OF_ALL
    return words.say(template, journey=journey, leg=blank.name, what=what)
