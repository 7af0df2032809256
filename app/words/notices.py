"""Notices and papers by date, in words: what, by when, ahead of what, and why.

What a law stands behind says to open the current text; lifts are left to a competent person,
dangerous goods to the data sheet and the carrier.
"""

from datetime import date, datetime
from typing import TYPE_CHECKING

from app.words.template import Template, counted, within
from app.words.voice import capital
from shared.book import Before, Counted

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from app.words import Words
    from shared.notices import Due

TOLD_COUNT = 8

TITLE: Template = "Notices and papers"
LINE: Template = "{day}  {job}: {what}."
LATE_LINE: Template = "{day}  {job}: {what}; that day is past."
MORE: Template = counted("count", "One more with --json.", "{number} more with --json.")

LAST_WORD: Template = (
    "Behind what a law asks for stands its current text: open it. The lifting plan is a competent "
    "person’s; of dangerous goods data sheet and carrier decide."
)

NAMES: dict[str, Template] = {
    "road_registration": within("paper", "registration with the service for abnormal loads"),
    "road_notice": within("paper", "notice of the abnormal load to police and road authorities"),
    "road_form": within("paper", "form VR1 for the width of the load"),
    "road_order": within("paper", "application for a special order"),
    "road_permit": within("paper", "application for the road authority’s permit in {country}"),
    "road_route": within("paper", "the height of the route looked at"),
    "escort": within("paper", "the escort in {country} asked for"),
    "ferry_oversize": within("paper", "out-of-gauge load asked of the line"),
    "ferry_dangerous": within(
        "paper", "leftover paint and resin declared to the line (or sent ahead, or left)"
    ),
    "carnet": within("paper", "carnet for the tools that come back"),
    "export_declaration": within("paper", "export declaration in {country}"),
    "import_clearance": within("paper", "papers for the import clearance in {country}"),
    "entry_declaration": within("paper", "entry security declaration for {country}"),
    "method_statement": within("paper", "method statement to the site"),
    "lifting_plan": within("paper", "lifting plan of a competent person"),
    "inspection_booking": within("paper", "the inspection booked"),
    "fire_test": within("paper", "specimen to the fire-test laboratory"),
    "crew_names": within("paper", "names of the crew to the site"),
    "inductions": within("paper", "the crew’s inductions"),
    "passes": within("paper", "passes for the crew asked for"),
    "insurance": within("paper", "insurance papers to the site"),
    "passport": within("paper", "the crew’s passports looked at"),
    "stay": within("paper", "the crew’s days of stay counted"),
    "posting": within("paper", "posting notice or permit for {country} seen to"),
    "own": within("paper", "{name}"),
}
"""Each paper as it stands in a list, behind its day."""

BY_DAY: Template = "{what}: by {day}, {how}."
BY_INSTANT: Template = "{what}: by {moment}, {how}."
DONE: Template = "{what}: given {day}."
_HOW: dict[Counted, Template] = {
    Counted.CLEAR_WORKING_DAYS: counted(
        "lead",
        "a clear working day before {event}",
        "{number} clear working days before {event}",
    ),
    Counted.WORKING_DAYS: counted(
        "lead", "a working day before {event}", "{number} working days before {event}"
    ),
    Counted.DAYS: counted("lead", "a day before {event}", "{number} days before {event}"),
    Counted.WEEKS: counted("lead", "a week before {event}", "{number} weeks before {event}"),
    Counted.HOURS: counted("lead", "an hour before {event}", "{number} hours before {event}"),
}
_EVENTS: dict[Before, Template] = {
    Before.DEPARTURE: within("event", "it is on the road, {moment}"),
    Before.BORDER: within("event", "the border, {moment}"),
    Before.SAILING: within("event", "the sailing, {moment}"),
    Before.SITE: within("event", "it is at the site, {moment}"),
    Before.LIFT: within("event", "the lift, {moment}"),
    Before.INSPECTION: within("event", "the inspection, {moment}"),
}
_TOO_BIG: dict[str, Template] = {
    "width": "{piece} is {size} mm wide as it is moved; {limit} mm are free.",
    "height": "{piece} is {size} mm high as it is moved; {limit} mm are free.",
    "length": "{piece} is {size} mm long as it is moved; {limit} mm are free.",
    "overhang": "{piece} hangs {size} mm over the end of the bed; {limit} mm are free.",
    "side": "{piece} hangs {size} mm over the side of the bed; {limit} mm are free.",
    "overall": "The lorry with {piece} is {size} mm long in all; {limit} mm are free.",
    "mass": "The lorry may weigh {size} kg in all; {limit} kg are free.",
    "said": "The means says that its load is abnormal.",
}
_STRICTER: Template = (
    "That is by the stricter of two rules; which of them the load goes by is not known."
)
MORE_OF: dict[str, Template] = {
    "ferry_dangerous": "They are dangerous goods (resin UN 1866, peroxide UN 3105, paint UN 1263, "
    "unless their data sheets say otherwise): declare them, send them ahead or leave them; data "
    "sheet and line decide.",
    "carnet": "Only for what comes back; nothing can be added once it is issued. The piece stays, "
    "and needs the export declaration instead.",
    "import_clearance": "Clearance takes from half an hour to two days.",
    "lifting_plan": "A competent person plans and decides on every lift.",
    "fire_test": "With the real build-up of the piece: have the result before it is laid up.",
    "road_registration": "Only the first time, ahead of the notice.",
    "escort": "Ask whether it needs one.",
}
_STAY: Template = "Of {most} days in any 180 the plan takes {days}; days outside it count as well."
_PASSPORTS: Template = "They must be good until {day}."
_ENDS: Template = "Too short for that: {people}."
_UNKNOWN: Template = "No passport is written for {people}."
_INSTEAD: Template = "The journey has nothing of the kind it is to be ahead of."
_HOLIDAYS: Template = "Nothing is known of the public holidays there."
OFFICE: Template = "To {office}."
LEGAL: Template = "Open the current text."
PRACTICE: Template = "How long ahead is common practice."
OVER: Template = counted(
    "count", "That was a day ago.", "That was {number} days ago.", context="notice"
)
OVER_TODAY: Template = "That is over today."


def name_of(words: "Words", due: "Due") -> str:
    """Give a notice or paper as it stands in a list."""
    if due.name:
        return due.name
    return words.say(NAMES[due.code], country=_country(due), name=due.id)


def code_name(words: "Words", code: str, name: str = "") -> str:
    """Give a paper by its code, without what only a due knows."""
    return name or words.say(NAMES.get(code, NAMES["own"]), country="", name=code).strip()


def _country(due: "Due") -> str:
    from shared.asking.countries import country_named

    known = None if due.country is None else country_named(due.country)
    return known.name if known is not None else str(due.country)


def soon_lines(words: "Words", found: "Iterable[Due]", today: date) -> list[str]:
    """Give what is still to be given, a line for each job and day, and who has the last word."""
    days: dict[tuple[date, str], list[Due]] = {}
    for due in found:
        if due.done is None:
            days.setdefault((due.day, due.job), []).append(due)
    told = [
        words.say(
            LATE_LINE if any(due.is_over for due in dues) else LINE,
            day=words.day(day, after=today),
            job=words.names.of("job", job),
            what=words.both(name_of(words, due) for due in dues),
        )
        for (day, job), dues in sorted(days.items())
    ]
    more = len(told) - TOLD_COUNT
    if more > 0:
        told = told[:TOLD_COUNT]
        told.append(capital(words.say(MORE, count=more, number=words.number_word(more))))
    if told:
        told.append(words.say(LAST_WORD))
    return told


def due_line(words: "Words", due: "Due", today: date) -> str:
    """Give all that is to be said of a notice or paper."""
    return " ".join((_first(words, due, today), *_rest(words, due, today)))


def _first(words: "Words", due: "Due", today: date) -> str:
    what = capital(name_of(words, due))
    if due.done is not None:
        return words.say(DONE, what=what, day=words.day(due.done, after=today))
    how = how_of(words, due)
    if isinstance(due.by, datetime):
        moment = words.moment(due.by, after=today, zone=due.receiver.zone)
        return words.say(BY_INSTANT, what=what, moment=moment, how=how)
    return words.say(BY_DAY, what=what, day=words.day(due.by, after=today), how=how)


def how_of(words: "Words", due: "Due") -> str:
    """Give how long ahead of what it is due."""
    event = words.say(
        _EVENTS[due.before],
        moment=words.moment(due.at, after=due.day, zone=due.receiver.zone),
    )
    number = words.number_word(due.lead)
    return words.say(_HOW[due.counted], lead=due.lead, number=number, event=event)


def _rest(words: "Words", due: "Due", today: date) -> "Sequence[str]":
    told = []
    if due.is_over:
        count = due.late_days
        number = words.number_word(count)
        told.append(words.say(OVER, count=count, number=number) if count else words.say(OVER_TODAY))
    if due.office:
        told.append(words.say(OFFICE, office=due.office))
    told += _because(words, due, today)
    if due.code in MORE_OF:
        told.append(words.say(MORE_OF[due.code]))
    if is_practice(due):
        told.append(words.say(PRACTICE))
    if due.is_legal:
        told.append(words.say(LEGAL))
    return told


def _because(words: "Words", due: "Due", today: date) -> "Sequence[str]":
    facts = dict(due.because)
    told = []
    if facts.get("what") in _TOO_BIG:
        told.append(words.say(_TOO_BIG[str(facts["what"])], **facts))
    if facts.get("rules") == "stricter":
        told.append(words.say(_STRICTER))
    if "most" in facts:
        told.append(words.say(_STAY, **facts))
    if "until" in facts:
        until = date.fromisoformat(str(facts["until"]))
        told.append(words.say(_PASSPORTS, day=words.day(until, after=today)))
        told += _people(words, _ENDS, facts.get("ending"))
        told += _people(words, _UNKNOWN, facts.get("unknown"))
    if "instead_of" in facts:
        told.append(words.say(_INSTEAD))
    if "holidays" in facts:
        told.append(words.say(_HOLIDAYS))
    return told


def _people(words: "Words", template: Template, ids: object) -> list[str]:
    people = [words.names.of("person", each) for each in str(ids or "").split()]
    return [words.say(template, people=words.both(people))] if people else []


def is_practice(due: "Due") -> bool:
    """Return whether no source stands behind how long ahead it is due."""
    from shared.trade import Confidence, figure

    return bool(due.figures) and figure(due.figures[0]).confidence is Confidence.PRACTICE
