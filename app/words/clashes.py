"""Why a job can't keep its window, or a step can't be placed: one line for each."""

from app.words.facts import facts_in_words
from app.words.names import Names
from app.words.template import Template, within
from app.words.voice import Voice, capital
from shared.findings import Clash, Fact

SENTENCES: dict[str, Template] = {
    "nobody_can": "{step} needs {skill}, and nobody can do it.",
    "too_few_can": "{step} needs {wanted} for {skill}, and too few can do it.",
    "no_certificate": "{step} needs the certificate {certificate}, and too few hold it.",
    "certificate_over": "{step} needs the certificate {certificate}, and too few hold it until "
    "{end}, when it could be done at the soonest.",
    "asked_cannot": "{step} asks for {person}, who can't do it.",
    "nobody_else": "{step} must not be done alone, and nobody else is in the building for it.",
    "other_people": "{step} wants the same people as {other}, and no team can do both.",
    "sanding_too_long": "{step} takes more sanding in a day than anybody may do.",
    "no_way": "{step} can be done in no way that the book has.",
    "place_unknown": "{step} names a place, {place}, that the book doesn't have.",
    "place_too_small": "{step} needs more room than there is in {place}.",
    "floor_too_small": "{segment} needs more room to wait than there is in {place}.",
    "too_big": "{segment} is too big for {opening}: whichever way round it may be turned, as it is "
    "moved it is at least {over_mm} mm too {dimension}.",
    "too_heavy": "{segment} is too heavy for {equipment}: {mass_kg} kg at least without frame and "
    "fixings, and it carries {payload_kg} kg.",
    "open_spraying": "{step} sprays isocyanates, and that is never done but in an enclosed, "
    "extracted place that it takes whole; local codes, the product's data sheet and licensed "
    "people have the last word.",
    "no_place_of_kind": "{step} needs a place of a kind that the workshop doesn't have: {kind}.",
    "equipment_too_few": "{step} needs {wanted} of {equipment}, and there are {have}.",
    "equipment_over": "{step} needs {equipment}, which may not be used any more by then.",
    "place_over": "{step} needs room in {place}, which is not to be had any more by then.",
    "pin_past": "{step} is pinned to a time that is past.",
    "recoat_over": "{step} comes too late: the recoat time has run out.",
    "too_cold": "{step} needs {limit} °C until it is ready; it is never that warm for long enough "
    "in {place} before {first}.",
    "too_warm": "{step} stands no more than {limit} °C until it is ready; it is never that cool "
    "for long enough in {place} before {first}.",
    "too_damp": "{step} must be kept dry until it is ready; it is never dry enough for long "
    "enough in {place} before {first}.",
    "follows_unplaced": "{step} follows a step that can't be placed.",
    "after_journey": "{step} comes after the journey, where no work is planned.",
    "gone": "{step} is behind: the lorry has gone.",
    "no_window": "The job has no window.",
    "window_past": "The window is past.",
    "no_departure": "No departure makes the window.",
    "crew_away": "The crew is away on every day on which the lorry could leave.",
    "site_too_short": "The work at the site doesn't fit into the window, whenever the lorry comes.",
    "no_sailing": "There is no sailing before the end of the window.",
    "sailing_missed": "No sailing that gets there in time can still be reached.",
    "weekly_rest_due": "The driver has to take a weekly rest on the way, and then it is too late.",
    "crew_hours": "The lorry would be there in time, but those who ride along have no hours left "
    "for the work at the site.",
    "chain_too_long": "Its steps, one after the other, take {minutes} too long.",
    "too_much_work": "Even alone in the workshop it asks for too many hours: for {wanted} h of "
    "{others} between {first} and {until}, who are there for {have} h.",
    "alone_too_long": "Even alone in the workshop it is loaded {minutes} late at best.",
    "together_too_much": "It is not done in time while the other jobs keep their windows.",
    "same_crew": "Every journey that makes its window needs {person}, who is then away for {job}.",
    "same_lorry": "Every journey that makes its window needs {equipment}, which is then out for "
    "{job}.",
    "journeys_at_once": "No journey that makes its window can be had while {job} makes its own.",
    "not_placed": "{step} could not be placed.",
    "late": "Loading ends {minutes} after the latest.",
}
TOO: dict[str, Template] = {
    "width": within("too", "wide"),
    "height": within("too", "high"),
    "length": within("too", "long"),
}
_ANYWHERE: Template = within("place", "the workshop")
_UNKNOWN: Template = "Something in the book stands against it ({code})."


def clash(voice: Voice, found: Clash, zone: str | None = None, names: Names | None = None) -> str:
    """Give the sentence of a clash."""
    return reason(voice, found.code, found.facts, zone, names)


def reason(
    voice: Voice,
    code: str,
    facts: tuple[tuple[str, Fact], ...] = (),
    zone: str | None = None,
    names: Names | None = None,
) -> str:
    """Give the sentence of a reason with its facts."""
    filled = facts_in_words(voice, facts, zone, names)
    if dict(facts).get("place", "") is None:
        filled["place"] = voice.say(_ANYWHERE)
    if filled.get("dimension") in TOO:
        filled["dimension"] = voice.say(TOO[str(filled["dimension"])])
    filled["code"] = code
    return capital(voice.say(SENTENCES.get(code, _UNKNOWN), **filled))
