"""What blanks are called when they are read out: the word of the code for each, in words."""

import re

from app.words.template import Template, within
from app.words.voice import Voice

NAMES: dict[str, Template] = {
    # Writing a job.
    "access": within("blank read out", "when the site gate opens"),
    "answer days": within("blank read out", "days to answer"),
    "client": within("blank read out", "client"),
    "crew": within("blank read out", "who goes with it"),
    "cure": within("blank read out", "hours of cure"),
    "currency": within("blank read out", "currency"),
    "drive": within("blank read out", "hours on the road"),
    "hours high": within("blank read out", "hours at most"),
    "hours likely": within("blank read out", "hours likely"),
    "hours low": within("blank read out", "hours at least"),
    "job name": within("blank read out", "name of the job"),
    "kind": within("blank read out", "kind"),
    "late cost": within("blank read out", "cost of each day late"),
    "noes": within("blank read out", "noes allowed for"),
    "one go": within("blank read out", "in one go or with pauses"),
    "past": within("blank read out", "past job"),
    "people": within("blank read out", "people"),
    "price": within("blank read out", "price asked"),
    "recoat": within("blank read out", "hours to the next coat"),
    "route": within("blank read out", "way of making"),
    "segment count": within("blank read out", "number of segments"),
    "share": within("blank read out", "share in per cent"),
    "cause": within("blank read out", "what happened"),
    "standing": within("blank read out", "enquiry, pencilled or firm"),
    "until": within("blank read out", "until when"),
    "step name": within("blank read out", "name of the stage"),
    "times": within("blank read out", "times as large"),
    "vehicle": within("blank read out", "vehicle"),
    "what": within("blank read out", "what"),
    "window end": within("blank read out", "end of the window"),
    "window start": within("blank read out", "start of the window"),
    # People.
    "gate days": within("blank read out", "working days to answer"),
    "hands": within("blank read out", "how many together"),
    "name": within("blank read out", "name"),
    "hours": within("blank read out", "hours"),
    "pace": within("blank read out", "pace"),
    "works_from": within("blank read out", "here from"),
    "works_until": within("blank read out", "here until"),
    "freelance": within("blank read out", "freelance"),
    "young": within("blank read out", "under 18"),
    "rate_per_hour": within("blank read out", "cost of an hour"),
    "day_rate": within("blank read out", "cost of a day"),
    "away {number}": within("blank read out", "away, {number}"),
    "away {number} reason": within("blank read out", "why away, {number}"),
    "add away": within("blank read out", "away as well"),
    "comes {number}": within("blank read out", "comes, {number}"),
    "comes {number} state": within("blank read out", "offered, pencilled or confirmed, {number}"),
    "add comes": within("blank read out", "comes as well"),
    "holds {number}": within("blank read out", "certificate, {number}"),
    "holds {number} until": within("blank read out", "certificate until, {number}"),
    "add holds": within("blank read out", "another certificate"),
    # Places, tools and vehicles.
    "room": within("blank read out", "room"),
    "whole": within("blank read out", "taken whole"),
    "air": within("blank read out", "air"),
    "enclosed": within("blank read out", "sprayed in"),
    "clear_out_minutes": within("blank read out", "minutes to clear out"),
    "count": within("blank read out", "how many"),
    "test due": within("blank read out", "test due"),
    "inside length m": within("blank read out", "length inside, metres"),
    "inside width m": within("blank read out", "width inside, metres"),
    "inside height m": within("blank read out", "height inside, metres"),
    "measured": within("blank read out", "measured"),
    "opening {number} name": within("blank read out", "opening {number}, name"),
    "opening {number} width m": within("blank read out", "opening {number}, width"),
    "opening {number} height m": within("blank read out", "opening {number}, height"),
    "opening {number} depth m": within("blank read out", "opening {number}, depth"),
    "opening {number} measured": within("blank read out", "opening {number}, measured"),
    "add opening": within("blank read out", "another opening"),
    "warmth {number} months": within("blank read out", "months, {number}"),
    "warmth {number} place": within("blank read out", "place of these months, {number}"),
    "warmth {number} day celsius": within("blank read out", "degrees by day, {number}"),
    "warmth {number} night celsius": within("blank read out", "degrees by night, {number}"),
    "add warmth": within("blank read out", "other months"),
    # Hours, closures, rates.
    "zone": within("blank read out", "clock"),
    "country": within("blank read out", "country"),
    "subdivision": within("blank read out", "part of the country"),
    "shift hours": within("blank read out", "hours of a shift"),
    "useful hours": within("blank read out", "useful hours of a shift"),
    "shut {number}": within("blank read out", "shut, {number}"),
    "shut {number} name": within("blank read out", "why shut, {number}"),
    "add shut": within("blank read out", "shut as well"),
    "pair loss percent": within("blank read out", "loss of each pair, per cent"),
    "longest pause days": within("blank read out", "longest pause, days"),
    "bridged break minutes": within("blank read out", "longest break in turns, minutes"),
    "watch minutes": within("blank read out", "watch after laminating, minutes"),
    "wished buffer days": within("blank read out", "days to spare before loading"),
    "rest hours": within("blank read out", "hours of rest after a journey"),
    "working room m": within("blank read out", "room to work, metres"),
    "standing room m": within("blank read out", "room to stand, metres"),
    # What is bought.
    "unit": within("blank read out", "unit"),
    "supplier": within("blank read out", "from whom"),
    "pack_size": within("blank read out", "size of a pack"),
    "pack_price": within("blank read out", "price of a pack"),
    "shelf_life_months": within("blank read out", "keeps, months"),
    "counted": within("blank read out", "counted"),
    "lead_days": within("blank read out", "days to dispatch"),
    "transit_days": within("blank read out", "days on the way"),
    "same_day": within("blank read out", "comes on the morning"),
}
OF: Template = within("blank read out", "{whose}, {name}")

_number = re.compile(r"\d+")


def field_text(label: str) -> str:
    """Return a blank's name in words; what is in words already stays as it is.

    label: as the code has it, with whose it is before a comma: "Edda, holds 2 until".
    """
    voice = Voice()
    whose, _, name = label.rpartition(", ")
    found = _number.search(name)
    known = NAMES.get(_number.sub("{number}", name, count=1) if found else name)
    if known is None:
        return label
    told = voice.say(known, number=found[0] if found else "")
    return voice.say(OF, whose=whose, name=told) if whose else told
