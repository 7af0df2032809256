"""The first answer in words: the verdict, four latest dates, what was assumed, who loses."""

from typing import TYPE_CHECKING

from app.words.floor import plain
from app.words.template import Template, counted, within
from app.words.voice import Voice
from scheduler.outcome import JobOutcome, Verdict

if TYPE_CHECKING:
    from app.words.words import Words
    from shared.asking import Assumed

HEAD: Template = "{what}: {size} m, by {day}, {country}."
LATEST_START: Template = within("latest", "Start by")
LATEST_ORDER: Template = within("latest", "Order by")
LATEST_ANSWER: Template = within("latest", "Answer by")
LATEST_LOADING: Template = within("latest", "Loaded by")
ROW: Template = "{name}  {moment}"
ORDER: Template = "{day}, {material} first"
UNKNOWN: Template = within("latest", "not known")
TOO_LATE: Template = within("latest", "too late already")
NOTHING_TO_ORDER: Template = within("latest", "nothing to order")

COUNTRY_EXAMPLE: Template = "Norway or NO"
FROM_TO: Template = "{least} to {most}"
FROM_TO_WHOLE: Template = "{least} to {most}, whole"
WITHIN_SHIFT: Template = "no more than {hours}, which is the shift"

FOUND: dict[Verdict, Template] = {
    Verdict.FITS: "Found and checked; how much is to spare at best is not proved.",
    Verdict.TIGHT: "Found and checked, not proved: a plan with more to spare may exist.",
    Verdict.MISSES: "That it misses while the other jobs keep theirs is proved; by how much at "
    "best is found, not proved.",
    Verdict.CANNOT: "That is proved, with what is assumed here.",
    Verdict.NOT_FOUND: "Found, not proved: one in time may still exist.",
}
COUNTED_BACK: Template = (
    "The latest dates are counted back as if nothing else were done meanwhile: found, not proved, "
    "that all of it can be so late."
)
PIECES: Template = counted(
    "count",
    "In one piece of {size} m, {route}.",
    "In {number} segments of {size} m, so that each passes on its way; {route}.",
)
PIECES_AS_SAID: Template = counted(
    "count",
    "In one piece of {size} m, {route}.",
    "In {number} segments of {size} m, as you said; {route}.",
)
PASSES_NOT: Template = "In one piece of {size} m, for no cuts make it pass; {route}."
MEASURED: Template = "Nobody has measured the doors on its way: measure them before foam is cut."
WAITING: Template = (
    "While they wait, all segments take {need} m² together, and the floor for that has {have}: "
    "assume more floor, or store some elsewhere."
)
HOURS: Template = (
    "{likely} person-hours are likely ({low} to {high}); countback estimate says whence."
)
LIKE: Template = "Its hours are those of {past}, {times} times as large."
LEFT: Template = "What {past} had besides and this one has no like of: {stages}."
ASSUMED: Template = counted(
    "people",
    "Assumed: one person who does everything, {useful} useful hours of {shift}, {booths}, "
    "{floor} m² of floor, {vans}, in {home}; {client}; {buffer} working days to spare before "
    "loading. To change it: {line}",
    "Assumed: {number} people who do everything, {useful} useful hours of {shift}, {booths}, "
    "{floor} m² of floor, {vans}, in {home}; {client}; {buffer} working days to spare before "
    "loading. To change it: {line}",
)
ASSUMED_OF_CLIENT: Template = "Assumed: {client}. To change it: {line}"
LINE: Template = "--assume {values}"
_BOOTHS: Template = counted("count", "{number} booth", "{number} booths")
_VANS: Template = counted("count", "{number} van of its own", "{number} vans of its own")
_NO_VAN: Template = within("vans", "no van of its own")
_CLIENT: dict[int, Template] = {
    0: counted(
        "days",
        "{number} working day for the client’s answer, a plain yes",
        "{number} working days for the client’s answer, a plain yes",
    ),
    1: counted(
        "days",
        "{number} working day for the client’s answer, a yes with changes",
        "{number} working days for the client’s answer, a yes with changes",
    ),
}
ROAD: Template = (
    "On the road for {drive}, until another time is written; no sailing, border or ban is counted."
)
NO_CREW: Template = "Nobody of the book travels with it yet: say who with --crew."
MATERIAL: Template = (
    "The book has no material, so the usual is ordered from one supplier, with {lead} working days "
    "until it is on its way."
)
LEFT_OUT: Template = (
    "The workshop has nothing that is called {words}. Say what it is called with --as WORD=ID; "
    "equipment of that name is left out, skills and certificates are asked for all the same."
)

OTHERS: Template = "What it takes from the others (found, not proved):"
NO_OTHERS: Template = "There are no other jobs that it could take anything from."
TAKES_NOTHING: Template = "It takes nothing from the others, as far as was found."
OTHER: Template = "{before} With it: {after}"
KEPT: Template = "The book that was assumed is kept in {path}; next: countback plan {path}"
KEPT_BESIDE: Template = (
    "The book with it is kept in {path}, as an enquiry; next: countback plan {path} --with {job}"
)
TITLE_WIDTH = 12


def found_line(voice: Voice, told: JobOutcome) -> str:
    """Give how the verdict is known."""
    return voice.say(FOUND[told.verdict])


def assumed_line(words: "Words", assumed: "Assumed", home: str, line: str) -> str:
    """Give all that is assumed of workshop and client, and the line that changes it."""
    booths = words.say(_BOOTHS, count=assumed.booths, number=words.number_word(assumed.booths))
    vans = words.say(_NO_VAN)
    if assumed.vans:
        vans = words.say(_VANS, count=assumed.vans, number=words.number_word(assumed.vans))
    return words.say(
        ASSUMED,
        people=assumed.people,
        number=words.number_word(assumed.people),
        useful=plain(assumed.useful_hours),
        shift=plain(assumed.shift_hours),
        booths=booths,
        floor=plain(assumed.floor_m2),
        vans=vans,
        home=home,
        client=_client(words, assumed),
        buffer=plain(assumed.buffer_days),
        line=words.say(LINE, values=line),
    )


def client_line(words: "Words", assumed: "Assumed", line: str) -> str:
    """Give what is assumed of the client alone, and the line that changes it."""
    values = words.say(LINE, values=line)
    return words.say(ASSUMED_OF_CLIENT, client=_client(words, assumed), line=values)


def _client(words: "Words", assumed: "Assumed") -> str:
    days = assumed.answer_days
    return words.say(_CLIENT[assumed.changes], days=days, number=words.number(days))
