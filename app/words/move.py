"""A window that moves, in words: what is dated anew, who is to be called, and what it costs."""

from typing import TYPE_CHECKING

from app.words.amounts import money
from app.words.notices import code_name, name_of
from app.words.template import Template, counted, within
from app.words.voice import capital
from shared.notices.calling import Calling

if TYPE_CHECKING:
    from datetime import date, datetime
    from decimal import Decimal

    from app.words import Words
    from shared.book import Job, Window
    from shared.notices import Call, Due
    from shared.notices.calling import When
    from shared.notices.standing import Stands

HEAD: Template = "The window of {job} moves from {was} to {now}."

DATES: Template = "Dates"
PAPERS: Template = "Notices and papers"
CALLS: Template = "Calls to make"
NO_CALLS: Template = "Nobody has to be called that the book knows of."
TOTAL: Template = "Changing what is booked costs {amount} {currency}."
TOTAL_NOTHING: Template = "Changing what is booked costs nothing that is known."
BOOKED_STAYS: Template = "What is booked stays written as it is until its booking is changed."

REDATED: Template = "{what}: {was}, now {now}."
NEW: Template = "{what}: now {now}."
GONE: Template = "{what}: {was}, no longer."
PAST: Template = "{line} That day is past."
WHATS: dict[str, Template] = {
    "latest_loading": within("redated", "loaded at the latest"),
    "loading": within("redated", "{name}, begun"),
    "departure": within("redated", "{name}, leaving"),
    "sailing": within("redated", "{name}, sailing"),
    "gate": within("redated", "{name}, at the site"),
}

STANDS: Template = counted(
    "count",
    "Meanwhile {pieces} stands at {place}, {span}.",
    "Meanwhile {pieces} stand at {place}, {span}.",
)
STANDS_WITH: Template = "Pieces of {others} stand there as well meanwhile."
UNDATED: Template = (
    "{journey} finds no way into the new window, so nothing of it has a date; what is arranged for "
    "it is to be seen to once it has."
)

KINDS: dict[str, Template] = {
    "crane": within("called about", "crane"),
    "sailing": within("called about", "sailing"),
    "escort": within("called about", "escort"),
    "hotel": within("called about", "bed"),
    "freelancer": within("called about", "freelancer"),
    "slot": within("called about", "slot"),
    "blocked": within("called about", "stretch of other trades"),
}
_NAMED: Template = "{what} ({name})"
_CALLINGS: dict[Calling, Template] = {
    Calling.CHANGE: "Change {what}: {was}, now {now}.",
    Calling.CANCEL: "Cancel {what}: {was}, no longer needed.",
    Calling.ASK: "Ask for {what}: {now}; nobody has yet.",
    Calling.SLOT: "Have {what} moved: {was}, now {now}.",
    Calling.BLOCKED: "Ask whether {what} moves along: {was}, now {now}.",
    Calling.NOTICE: "Give anew: {what}, given {given} for {was}, now for {now}.",
}
_CHANGE_OPEN: Template = "Change {what}: {was}; for when is not known yet."
_NO_TIME: Template = within("instant", "no time written")
WHOM: Template = "{whom}, {number}."
WHOM_ONLY: Template = "{whom}."
REFERENCE: Template = "Reference {reference}."
FREE: Template = "Free to change until {moment}."
COSTS: Template = "It costs {amount} {currency}, free only until {moment}."
COSTS_NO_DAY: Template = "It costs {amount} {currency}."
PRICE: Template = "Price: {amount} {currency}."


def head_line(words: "Words", job: "Job", was: "Window", now: "Window") -> str:
    """Give from when to when a window moves, by the site's clock."""
    zone, first = job.site.zone, None
    old, new = (words.span(each.start, each.end, after=first, zone=zone) for each in (was, now))
    return words.say(HEAD, job=job.name, was=old, now=new)


def redated_line(
    words: "Words",
    what: str,
    name: str,
    was: "datetime | None",
    now: "datetime | None",
    today: "date",
    zone: str | None = None,
) -> str:
    """Give an instant as it was and as it is, by the clock of `zone`, else of the workshop."""
    told = capital(words.say(WHATS[what], name=name))
    old, new = (
        None if each is None else words.moment(each, after=today, zone=zone) for each in (was, now)
    )
    return words.say(_template(old, new), what=told, was=old, now=new)


def due_line(words: "Words", was: "Due | None", now: "Due | None", today: "date") -> str:
    """Give by when a notice or paper was due and is."""
    due = now or was
    assert due is not None
    old, new = (None if each is None else words.day(each.day, after=today) for each in (was, now))
    what = capital(name_of(words, due))
    line = words.say(_template(old, new), what=what, was=old, now=new)
    is_past = now is not None and now.is_over
    return words.say(PAST, line=line) if is_past else line


def _template(old: str | None, new: str | None) -> Template:
    if old is None:
        return NEW
    return GONE if new is None else REDATED


def call_lines(
    words: "Words", call: "Call", zone: str, today: "date", *, has_money: bool = True
) -> list[str]:
    """Give a call: what for, whom, and what it costs unless money is hidden."""
    told = [_about(words, call, zone, today)]
    if call.whom:
        template = WHOM if call.number else WHOM_ONLY
        told.append(words.say(template, whom=capital(call.whom), number=call.number))
    if call.reference:
        told.append(words.say(REFERENCE, reference=call.reference))
    return [*told, *_cost(words, call, zone, today)] if has_money else told


def _about(words: "Words", call: "Call", zone: str, today: "date") -> str:
    given = None if call.given is None else words.day(call.given, after=today)
    is_open = call.calling is Calling.CHANGE and call.now[0] is None
    return words.say(
        _CHANGE_OPEN if is_open else _CALLINGS[call.calling],
        what=_what(words, call),
        was=_span(words, call.was, zone, today),
        now=_span(words, call.now, zone, today),
        given=given,
    )


def _what(words: "Words", call: "Call") -> str:
    if call.calling is Calling.NOTICE:
        return code_name(words, call.what, call.name)
    kind = words.say(KINDS[call.what]) if call.what in KINDS else call.what
    return words.say(_NAMED, what=kind, name=call.name) if call.name else kind


def _span(words: "Words", when: "When", zone: str, today: "date") -> str:
    start, end = when
    if start is None:
        return words.say(_NO_TIME)
    if end is None:
        return words.moment(start, after=today, zone=zone)
    return words.span(start, end, after=today, zone=zone)


def _cost(words: "Words", call: "Call", zone: str, today: "date") -> list[str]:
    told = []
    until = None if call.free_until is None else words.moment(call.free_until, after=today)
    if call.cost:
        amount = money(words, call.cost)
        template = COSTS if until else COSTS_NO_DAY
        told.append(words.say(template, amount=amount, currency=words.currency, moment=until))
    elif until and call.calling in (Calling.CHANGE, Calling.CANCEL):
        told.append(words.say(FREE, moment=until))
    if call.calling is Calling.ASK and call.price:
        told.append(words.say(PRICE, amount=money(words, call.price), currency=words.currency))
    return told


def total_line(words: "Words", cost: "Decimal") -> str:
    """Give what all calls come to."""
    if not cost:
        return words.say(TOTAL_NOTHING)
    return words.say(TOTAL, amount=money(words, cost), currency=words.currency)


def stands_line(words: "Words", found: "Stands", today: "date") -> str:
    """Give where pieces stand longer, and what else stands there."""
    line = words.say(
        STANDS,
        count=len(found.segments),
        pieces=words.both(words.names.of("segment", each) for each in found.segments),
        place=words.names.of("place", found.place),
        span=words.span(found.start, found.end, after=today),
    )
    if not found.others:
        return line
    others = words.both(words.names.of("job", each) for each in found.others)
    return f"{line} {words.say(STANDS_WITH, others=others)}"
