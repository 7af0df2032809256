"""A delivery for programs; described in FORMAT.md."""

from collections.abc import Sequence
from datetime import datetime

from app.cli.books import Json
from app.cli.delivered import Delivered, Way
from app.notices_json import due_objects
from app.outcome_json import instant_text
from shared.book import Book, Leg
from shared.delivery.judged import goal_of
from shared.journeys.clocks import Clock, clocks_of
from shared.notices import Wanted
from shared.plan import Doing, LegTime, Stretch
from shared.road.bans import BanNote
from shared.worktime import Spans

_LANDED = frozenset({Doing.LAND, Doing.LAND_IN_REST})


def delivery_object(book: Book, made: Delivered) -> Json:
    """Give all that is told of a journey."""
    trip, window = made.trip, made.window
    loaded = made.loaded
    return {
        "job": made.job.id,
        "journey": made.journey.id,
        "is_judged": made.judged,
        "is_met": made.is_met,
        "window": None if window is None else _span(window.start, window.end),
        "latest_departure": instant_text(made.leaves_by),
        "earliest_useful": instant_text(made.spans[0].start) if made.spans else None,
        "departures": _spans(made.spans),
        "latest_loading_start": instant_text(made.loading_by),
        "loading": None if loaded is None else _span(loaded.start, loaded.end),
        "loading_minutes": made.loading_minutes,
        "ways": [_way(book, made, at, way) for at, way in enumerate(made.ways)],
        "planned": None
        if trip is None
        else {
            "leaves": instant_text(trip.start),
            "gate": instant_text(made.gate(trip)),
            "done": instant_text(made.goal_end(trip)),
            "end": instant_text(trip.end),
            "back": instant_text(trip.back),
            "free": instant_text(trip.free),
            "crew_from": instant_text(trip.crew_from),
            "means": trip.means,
            "legs": _legs(book, made, trip.legs),
            "stretches": _stretches(book, made, made.journey.legs, trip.stretches),
            "travel": _stretches(book, made, made.journey.travel, trip.travel),
        },
        "wanted": [_wanted(each) for each in made.wanted],
        "dues": due_objects(made.dues),
    }


def _way(book: Book, made: Delivered, at: int, way: Way) -> Json:
    run, choice = way.latest, way.choice
    goal = goal_of(made.journey)
    return {
        "means": choice.means_id,
        "sailings": [
            {"leg": o.leg, "price": float(o.price), "check_in_minutes": o.check_in_minutes}
            for o in choice.offers
        ],
        "price": float(choice.price),
        "rules": choice.law.id,
        "crew_rules": None if choice.crew_rules is None else choice.crew_rules.id,
        "notes": [str(note) for note in choice.notes],
        "regime": {
            "because": choice.regime.because.value,
            "is_stricter": choice.regime.is_stricter,
            "figures": list(choice.regime.figures),
        },
        "look_up": [_doubt(each) for each in way.doubts],
        "is_taken": at == made.taken,
        "trouble": None if way.trouble is None else way.trouble.value,
        "latest_departure": None if run is None else instant_text(run.leaves),
        "latest_loading_start": instant_text(way.loading),
        "site_by": instant_text(way.site_by),
        "departures": _spans(way.spans),
        "later": None
        if way.after is None
        else {
            "leaves": instant_text(way.after.leaves),
            "gate": instant_text(way.after.gate),
            "done": instant_text(way.after.ends[goal - 1] if goal else way.after.end),
        },
        "legs": [] if run is None else _legs(book, made, run.legs),
        "stretches": []
        if run is None
        else _stretches(book, made, made.journey.legs, run.stretches),
    }


def _doubt(note: BanNote) -> Json:
    return {
        "doubt": note.doubt.value,
        "country": note.country,
        "day": None if note.day is None else note.day.isoformat(),
        "figure": note.rule,
        "area": note.area,
    }


def _legs(book: Book, made: Delivered, times: Sequence[LegTime]) -> list[Json]:
    legs = made.journey.legs
    clocks = clocks_of(book, made.job, legs)
    return [
        {
            "kind": leg.kind.value,
            "name": leg.name,
            **_span(time.start, time.end),
            "zone_from": clock.start,
            "zone_to": clock.end,
        }
        for leg, clock, time in zip(legs, clocks, times, strict=False)
    ]


def _stretches(
    book: Book, made: Delivered, legs: Sequence[Leg], stretches: Sequence[Stretch]
) -> list[Json]:
    clocks = clocks_of(book, made.job, legs)
    return [_stretch(clocks[one.leg], one) for one in stretches]


def _stretch(clock: Clock, one: Stretch) -> Json:
    zone = clock.end if one.doing in _LANDED else clock.start
    if one.doing is Doing.DRIVE and clock.shares:
        zone = clock.of_share(one.share)
    return {
        "doing": one.doing.value,
        "leg": one.leg,
        **_span(one.start, one.end),
        "zone": zone,
        "because": None if one.because is None else one.because.value,
        "rule": one.rule,
        "wheel": one.wheel,
    }


def _wanted(each: Wanted) -> Json:
    own = each.arrangement
    return {
        "what": each.what,
        "name": each.name,
        "leg": each.leg,
        "start": instant_text(each.start),
        "end": instant_text(each.end),
        "price": float(each.price),
        "state": each.state.value,
        "reference": each.reference,
        "arrangement": None if own is None else own.id,
        "free_until": None if own is None else instant_text(own.free_until),
        "cost_after": 0.0 if own is None else float(own.cost_after),
        "is_needed": each.is_needed,
        "is_moved": each.is_moved,
    }


def _spans(spans: Spans) -> list[Json]:
    return [_span(span.start, span.end) for span in spans]


def _span(start: datetime, end: datetime) -> Json:
    return {"start": instant_text(start), "end": instant_text(end)}
