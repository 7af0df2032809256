"""The sentences of a commission as edits of the book. No Qt."""

import re
from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from typing import TYPE_CHECKING

from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.window.sheet.writing import job as job_of
from app.words import Words
from app.words import editor as say
from app.words.brought import routes_in_words
from app.words.voice import Voice
from shared.book import Book, Gate, GateKind, Job, Journey, LegKind, Segment, Standing
from shared.edits import (
    Edited,
    change_job,
    change_step,
    change_window,
    remove_segment,
    take_route,
)
from shared.ids import EquipmentId, JobId, PersonId
from shared.worktime import Shift

if TYPE_CHECKING:
    from shared.book import Route
    from shared.routes import Names

MOST_SEGMENTS = 60
_EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)
_is_hours = re.compile(r"(\d\d?)[:.](\d\d)\s*\D+?\s*(\d\d?)[:.](\d\d)").fullmatch


def _one(book: Book, made: Book, edited: Edited) -> Edited:
    """Return several edits after one another as one, called like one of them."""
    return Edited(
        book=replace(made, revision=book.revision + 1),
        changed=edited.changed,
        label=edited.label,
    )


# In how many segments, and how.


def count_text(book: Book, identity: JobId) -> str:
    """Return how many segments a job is cut into."""
    return str(len(job_of(book, identity).segments))


def write_count(book: Book, identity: JobId, text: str, words: Words) -> Edited:
    """Make it so many segments: the whole is cut; else more like the last one, or the last go."""
    from app.window.sheet.through import cut_whole
    from app.window.sheet.writing import another_segment

    wanted = typed.whole(text)
    if not 1 <= wanted <= MOST_SEGMENTS:
        raise NotTaken("not_between", value=text, least=1, most=MOST_SEGMENTS)
    cut = cut_whole(book, identity, wanted, words)
    if cut is not None:
        return cut
    made, edited = book, change_job(book, job_of(book, identity))
    while len(segments := job_of(made, identity).segments) != wanted:
        last = segments[-1].id
        is_less = len(segments) > wanted
        edited = remove_segment(made, last) if is_less else another_segment(made, last, words)
        made = edited.book
    return _one(book, made, edited)


def routes(book: Book) -> "tuple[Route, ...]":
    """Return the ways of making there are."""
    return routes_in_words(Voice(), book)


def route_text(book: Book, identity: JobId, words: Words) -> str:
    """Return the way of making that most segments are written from."""
    names = {route.id: route.name for route in routes(book)}
    found = [s.route for s in job_of(book, identity).segments if s.route in names]
    if not found:
        return words.say(say.NO_ROUTE)
    most = max(dict.fromkeys(found), key=found.count)
    return names[most] if most is not None else ""


def write_route(book: Book, identity: JobId, text: str) -> Edited:
    """Write another way of making in the place of all steps of a job."""
    known = {route.name: str(route.id) for route in routes(book)}
    wanted = typed.one_of(text, known, "not_a_route")
    route = next(route for route in routes(book) if route.id == wanted)
    return _rewritten(book, identity, route, ())


def write_like(book: Book, identity: JobId, past_text: str, times_text: str) -> Edited:
    """Write a job's steps with the hours of another job so many times as large."""
    from shared.estimate.likened import likened

    known = {each.name: str(each.id) for each in book.jobs if each.id != identity}
    past_id = typed.one_of(past_text, known, "not_a_job")
    past = next(each for each in book.jobs if each.id == past_id)
    times = typed.number(times_text)
    if not 0 < times <= 20:
        raise NotTaken("not_times", value=times_text, most=20)
    owner = job_of(book, identity)
    sized = _sized_like(owner.segments, past, times)
    grown = change_job(book, replace(owner, segments=sized)).book
    like = likened(grown, past, times, sized)
    made = _rewritten(grown, identity, like.route, like.options)
    return _one(book, made.book, made)


def _sized_like(segments: tuple[Segment, ...], past: Job, times: Decimal) -> tuple[Segment, ...]:
    """Return segments, those without a size as large as those of the past job have grown."""
    from shared.estimate.like import scaled_segment

    found = []
    for number, segment in enumerate(segments):
        if number < len(past.segments) and segment.length_m is None:
            grown = scaled_segment(past.segments[number], times)
            segment = replace(grown, id=segment.id, name=segment.name)
        found.append(segment)
    return tuple(found)


def _rewritten(book: Book, identity: JobId, route: "Route", options: tuple[str, ...]) -> Edited:
    owner = job_of(book, identity)
    journeys = tuple(step for step in owner.steps if isinstance(step, Journey))
    bare = change_job(book, replace(owner, steps=journeys)).book
    ids = [segment.id for segment in owner.segments]
    edited = take_route(bare, identity, ids, route, options=options, names=_names(owner))
    return _one(book, edited.book, edited)


def _names(owner: Job) -> "Names":
    from shared.routes import Names

    crew = next((s.crew for s in owner.steps if isinstance(s, Journey)), ())
    return Names(crew=crew)


# The site's gate.


def access_text(book: Book, identity: JobId, words: Words) -> str:
    """Return when the site gate opens, by the site's clock."""
    held = job_of(book, identity).held_window
    if held is None or not held.access:
        return words.say(say.AT_ANY_HOUR)
    first = held.access[0]
    return f"{first.start:%H:%M}–{first.end:%H:%M}"


def write_access(book: Book, identity: JobId, text: str, words: Words) -> Edited:
    """Say when the site gate opens, each day alike; nothing typed means at any hour."""
    held = job_of(book, identity).held_window
    if held is None:
        raise NotTaken("not_hours", value=text)
    plain = text.strip().casefold()
    if plain in {"", "-", "–", words.say(say.AT_ANY_HOUR).casefold()}:
        return change_window(book, identity, replace(held, access=()))
    found = _is_hours(text.strip())
    if not found:
        raise NotTaken("not_hours", value=text)
    hour, minute, last, over = (int(part) for part in found.groups())
    try:
        start, end = time(hour, minute), time(last % 24, over)
    except ValueError:
        raise NotTaken("not_hours", value=text) from None
    days = held.access[0].days if held.access else _EVERY_DAY
    return change_window(
        book, identity, replace(held, access=(Shift(days=days, start=start, end=end),))
    )


# The answer.


def no_text(book: Book, identity: JobId) -> str:
    """Return for how many noes it is planned."""
    gates = _answers(job_of(book, identity))
    return str(max((gate.allow_no for gate in gates), default=0))


def write_no(book: Book, identity: JobId, text: str) -> Edited:
    """Plan for so many noes in each answer of the client."""
    wanted = typed.whole(text)
    if wanted > 9:
        raise NotTaken("not_between", value=text, least=0, most=9)
    owner = job_of(book, identity)
    ids = {gate.id for gate in _answers(owner)}
    steps = tuple(
        replace(step, allow_no=wanted) if isinstance(step, Gate) and step.id in ids else step
        for step in owner.steps
    )
    return change_job(book, replace(owner, steps=steps))


def _answers(owner: Job) -> list[Gate]:
    return [
        step
        for step in owner.steps
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER and step.answered_by is None
    ]


# The journey.


def journey_of(book: Book, identity: JobId) -> Journey | None:
    """Return a job's first journey."""
    steps = job_of(book, identity).steps
    return next((step for step in steps if isinstance(step, Journey)), None)


def vehicle_text(book: Book, identity: JobId, words: Words) -> str:
    """Return what takes it."""
    journey = journey_of(book, identity)
    names = {thing.id: thing.name for thing in book.equipment}
    found = [names.get(each, str(each)) for each in journey.vehicles] if journey else []
    return words.series(found) or words.say(say.NO_VEHICLE)


def write_vehicle(book: Book, identity: JobId, text: str, words: Words) -> Edited:
    """Say which vehicles take it; nothing typed means none."""
    journey = _journey(book, identity, text)
    if text.strip().casefold() in {"", "-", words.say(say.NO_VEHICLE).casefold()}:
        return change_step(book, replace(journey, vehicles=()))
    known = {thing.name: str(thing.id) for thing in book.equipment if thing.kind.value == "vehicle"}
    parts = [part for part in text.split(",") if part.strip()]
    wanted = tuple(EquipmentId(typed.one_of(part, known, "not_a_vehicle")) for part in parts)
    return change_step(book, replace(journey, vehicles=wanted))


def drive_text(book: Book, identity: JobId) -> str:
    """Return the hours of its first drive."""
    journey = journey_of(book, identity)
    legs = journey.legs if journey else ()
    found = next((leg for leg in legs if leg.kind is LegKind.DRIVE), None)
    return "" if found is None else typed.figure(round(Decimal(found.minutes) / 60, 2))


def write_drive(book: Book, identity: JobId, text: str) -> Edited:
    """Say how many hours its first drive takes."""
    journey, minutes = _journey(book, identity, text), int(typed.number(text) * 60)
    legs, is_set = [], False
    for leg in journey.legs:
        if leg.kind is LegKind.DRIVE and not is_set:
            leg, is_set = replace(leg, minutes=minutes), True
        legs.append(leg)
    if not is_set:
        raise NotTaken("no_drive")
    return change_step(book, replace(journey, legs=tuple(legs)))


def crew_text(book: Book, identity: JobId, words: Words) -> str:
    """Return who goes with it."""
    journey = journey_of(book, identity)
    names = {person.id: person.name for person in book.people}
    found = [names.get(each, str(each)) for each in journey.crew] if journey else []
    return words.series(found) or words.say(say.NOBODY)


def write_crew(book: Book, identity: JobId, text: str, words: Words) -> Edited:
    """Say who goes with it."""
    journey = _journey(book, identity, text)
    nobody = text.strip().casefold() in {"", "-", words.say(say.NOBODY).casefold()}
    known = {person.name: str(person.id) for person in book.people}
    wanted = () if nobody else typed.people(text, known)
    return change_step(book, replace(journey, crew=tuple(PersonId(each) for each in wanted)))


def _journey(book: Book, identity: JobId, text: str) -> Journey:
    found = journey_of(book, identity)
    if found is None:
        raise NotTaken("no_journey", value=text)
    return found


# Standing and money.


def standing_text(book: Book, identity: JobId, words: Words) -> str:
    """Return how far it is agreed."""
    owner = job_of(book, identity)
    if owner.standing is Standing.PENCILLED and owner.pencilled_until is not None:
        until = owner.pencilled_until
        return words.say(say.PENCILLED_UNTIL, day=words.day(until, after=until))
    return words.say(say.STANDINGS[owner.standing])


def write_standing(book: Book, identity: JobId, text: str, words: Words, today: date) -> Edited:
    """Say how far it is agreed: firm, an enquiry, or pencilled until a day."""
    owner = job_of(book, identity)
    until = words.say(say.UNTIL)
    word, has_day, day_text = text.partition(until)
    known = {words.say(template): each.value for each, template in say.STANDINGS.items()}
    standing = Standing(typed.one_of(word, known, "not_a_standing"))
    day = owner.pencilled_until if standing is Standing.PENCILLED else None
    if has_day and standing is Standing.PENCILLED:
        day = typed.day(day_text, today, typed.months_of(words))
    return change_job(book, replace(owner, standing=standing, pencilled_until=day))


def money_text(value: Decimal | None, words: Words) -> str:
    """Return an amount of money as it is typed."""
    return words.say(say.NO_PRICE) if value is None else typed.figure(value)


def write_price(book: Book, identity: JobId, text: str, words: Words) -> Edited:
    """Say which price is asked."""
    return change_job(book, replace(job_of(book, identity), price=_amount(text, words)))


def write_late(book: Book, identity: JobId, text: str, words: Words) -> Edited:
    """Say what each day late costs."""
    owner = job_of(book, identity)
    return change_job(book, replace(owner, late_cost_per_day=_amount(text, words)))


def _amount(text: str, words: Words) -> Decimal | None:
    if text.strip().casefold() == words.say(say.NO_PRICE).casefold():
        return None
    plain = text.replace(" ", "").replace("’", "")
    if re.fullmatch(r"\d{1,3}(,\d{3})+", plain):
        plain = plain.replace(",", "")
    return typed.number_or_none(plain)
