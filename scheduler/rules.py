"""The codes of every rule of the world: what a plan can break, and what is not judged yet."""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType


class Rule(StrEnum):
    """A rule of the world, by code; the sentences for them are app's."""

    # What a plan as a whole owes.
    UNKNOWN_STEP = "unknown_step"
    UNKNOWN_THING = "unknown_thing"
    MISSING_STEP = "missing_step"
    TWICE = "twice"
    NO_REASON = "no_reason"
    BACKWARDS = "backwards"
    BEFORE_NOW = "before_now"
    OFF_GRID = "off_grid"
    FACT_TIME = "fact_time"
    FACT_PEOPLE = "fact_people"
    TOLD = "told"
    # How a stage is worked.
    WAY = "way"
    TEAM = "team"
    SKILL = "skill"
    ASKED = "asked"
    CERTIFICATE = "certificate"
    SAME_PEOPLE = "same_people"
    COMPANY = "company"
    PIECES = "pieces"
    SANDING = "sanding"
    HOURS = "hours"
    DURATION = "duration"
    ONE_GO = "one_go"
    WATCH = "watch"
    PAUSE = "pause"
    PIN = "pin"
    NOT_BEFORE = "not_before"
    # In which order.
    ORDER = "order"
    CURE = "cure"
    RECOAT = "recoat"
    TEMPERATURE = "temperature"
    HUMIDITY = "humidity"
    DEW_POINT = "dew_point"
    ANSWER = "answer"
    BEFORE_ANSWER = "before_answer"
    BEFORE_CHANGES = "before_changes"
    ROUND = "round"
    LOADING = "loading"
    # What is held.
    PERSON_TWICE = "person_twice"
    REST = "rest"
    PLACE = "place"
    PLACE_FULL = "place_full"
    PLACE_SHUT = "place_shut"
    STANDING_FULL = "standing_full"
    SHARED_AIR = "shared_air"
    OPEN_SPRAYING = "open_spraying"
    EQUIPMENT = "equipment"
    EQUIPMENT_FULL = "equipment_full"
    EQUIPMENT_SHUT = "equipment_shut"
    # The way out and in.
    SIZE = "size"
    MASS = "mass"
    # The delivery.
    LEAVES_EARLY = "leaves_early"
    LEG = "leg"
    BACK = "back"
    MEANS = "means"
    STRETCH = "stretch"
    LEG_LENGTH = "leg_length"
    OPENING = "opening"
    SLOT = "slot"
    BLOCKED = "blocked"
    WHOLE = "whole"
    SITE_CURE = "site_cure"
    SAILING = "sailing"
    BAN = "ban"
    DRIVING = "driving"
    WHEEL = "wheel"
    TRAVEL = "travel"
    LONGEST = "longest"
    STANDS = "stands"
    ONE_DAY = "one_day"
    ON_LEAVE = "on_leave"
    # Held in the book, but not honoured or judged by this version.
    ABRADE = "abrade"
    DRIVERS_HOURS = "drivers_hours"
    HOME_HOURS = "home_hours"
    OFFERS = "offers"
    CROWDED = "crowded"
    LET_GO = "let_go"
    TURNS = "turns"
    INTERRUPTED = "interrupted"
    REMAINING = "remaining"
    LATE_WORK = "late_work"
    NO_SIZE = "no_size"
    AFTER_OUTSIDE = "after_outside"
    AFTER_JOURNEY = "after_journey"
    WAIT_FOR_JOURNEY = "wait_for_journey"


class Limit(StrEnum):
    """What of a driver's hours is passed."""

    UNBROKEN_DRIVING = "unbroken_driving"
    DAILY_DRIVING = "daily_driving"
    LONG_DAYS = "long_days"
    WEEKLY_DRIVING = "weekly_driving"
    FORTNIGHTLY_DRIVING = "fortnightly_driving"
    UNBROKEN_WORK = "unbroken_work"
    DAILY_WORK = "daily_work"
    BREAKS = "breaks"
    DAILY_REST = "daily_rest"
    FERRY_REST = "ferry_rest"
    WEEKLY_REST = "weekly_rest"


COMMON_FACTS = ("job", "step", "part", "round")
"""Facts of every breach: names of job and step (None where there is none), part and round."""

_WAITS = ("before", "start", "ready")
_ROOM = ("place", "at", "taken", "room", "unit")
_ON_LEG = ("leg", "number", "start", "end")

FACTS: Mapping[Rule, tuple[str, ...]] = MappingProxyType(
    {
        Rule.UNKNOWN_STEP: (),
        Rule.UNKNOWN_THING: ("kind", "id"),
        Rule.MISSING_STEP: (),
        Rule.TWICE: ("count",),
        Rule.NO_REASON: (),
        Rule.BACKWARDS: ("start", "end"),
        Rule.BEFORE_NOW: ("start", "now"),
        Rule.OFF_GRID: ("instant",),
        Rule.FACT_TIME: ("fact", "planned", "told"),
        Rule.FACT_PEOPLE: ("people", "told"),
        Rule.TOLD: ("start", "told_start", "people", "told"),
        Rule.WAY: ("way",),
        Rule.TEAM: ("people_count", "hands_count"),
        Rule.SKILL: ("people", "skills"),
        Rule.ASKED: ("person", "said_by"),
        Rule.CERTIFICATE: ("person", "certificate", "expires"),
        Rule.SAME_PEOPLE: ("people", "other", "told"),
        Rule.COMPANY: ("person", "start", "end"),
        Rule.PIECES: ("person", "start", "count", "most"),
        Rule.SANDING: ("person", "day", "sanded_minutes", "most_minutes"),
        Rule.HOURS: ("start",),
        Rule.DURATION: ("start", "end", "worked_minutes", "needed_minutes"),
        Rule.ONE_GO: ("start", "end", "person"),
        Rule.WATCH: ("end", "shift_end", "watch_minutes", "person"),
        Rule.PAUSE: ("start", "paused_minutes", "longest_minutes"),
        Rule.PIN: ("start", "pinned"),
        Rule.NOT_BEFORE: ("start", "not_before", "said_by"),
        Rule.ORDER: _WAITS,
        Rule.CURE: (*_WAITS, "cured"),
        Rule.RECOAT: ("before", "start", "latest"),
        Rule.TEMPERATURE: ("place", "hour", "celsius", "limit"),
        Rule.HUMIDITY: ("place", "hour", "humidity", "limit"),
        Rule.DEW_POINT: ("place", "hour", "celsius", "air", "humidity", "limit"),
        Rule.ANSWER: ("end", "due"),
        Rule.BEFORE_ANSWER: _WAITS,
        Rule.BEFORE_CHANGES: _WAITS,
        Rule.ROUND: ("start", "ready"),
        Rule.LOADING: _WAITS,
        Rule.PERSON_TWICE: ("person", "other", "start", "end"),
        Rule.REST: ("person", "other", "start", "end"),
        Rule.PLACE: ("place",),
        Rule.PLACE_FULL: _ROOM,
        Rule.PLACE_SHUT: ("place", "start", "end", "why"),
        Rule.STANDING_FULL: _ROOM,
        Rule.SHARED_AIR: ("place", "start", "act", "other", "other_act", "until"),
        Rule.OPEN_SPRAYING: ("place",),
        Rule.EQUIPMENT: ("equipment", "wanted"),
        Rule.EQUIPMENT_FULL: ("equipment", "at", "taken", "room"),
        Rule.EQUIPMENT_SHUT: ("equipment", "start", "end", "why"),
        Rule.SIZE: ("segment", "opening", "over_mm", "dimension"),
        Rule.MASS: ("segment", "equipment", "mass_kg", "payload_kg"),
        Rule.LEAVES_EARLY: _WAITS,
        Rule.LEG: (*_ON_LEG, "expected"),
        Rule.BACK: ("who", "planned", "expected"),
        Rule.MEANS: ("means",),
        Rule.STRETCH: ("start", "end", "expected"),
        Rule.LEG_LENGTH: ("leg", "number", "done_minutes", "needed_minutes"),
        Rule.OPENING: _ON_LEG,
        Rule.SLOT: _ON_LEG,
        Rule.BLOCKED: (*_ON_LEG, "other"),
        Rule.WHOLE: _ON_LEG,
        Rule.SITE_CURE: ("leg", "number", "start", "ready"),
        Rule.SAILING: _ON_LEG,
        Rule.BAN: ("leg", "number", "start", "country", "figure"),
        Rule.DRIVING: ("driver", "start", "limit", "rules", "figure"),
        Rule.WHEEL: ("start", "rules"),
        Rule.TRAVEL: ("start", "end", "gate"),
        Rule.LONGEST: ("start", "gate", "most_minutes"),
        Rule.STANDS: ("start", "ended", "stood_minutes", "most_minutes"),
        Rule.ONE_DAY: ("person", "start", "end", "least_minutes"),
        Rule.ON_LEAVE: ("person", "start", "end"),
    }
)
"""What a plan can break, each with the facts of its breach beside the common ones.

Instants, `hour` among them, are ISO strings in UTC, days ISO dates. celsius, air, humidity and
limit: decimal strings, the limit of the dew point in degrees above it. kind: "job", "person",
"place" or "equipment".
cured: the Kind of what cures, "" of a gate.
said_by: "job", "step" or "pin". pinned: an instant or a day. why: "closure", "booking",
"other_work", "usable" or "test_due". unit: "m2" or "slots" (`taken` and `room` are then decimal
strings; whole numbers for equipment). over_mm, mass_kg: whole numbers, rounded up; payload_kg: a
decimal string. dimension: "width", "height" or "length". act, other_act: an Act. who: "vehicles"
or "crew". fact: a FactKind. people, skills, equipment, wanted, told: names joined by ", ".
means: an id, None where none is named. expected: of a stretch, when the one before ended. driver:
a name, "1" or "2" of two that are hired, None of one. limit: of `driving`, a Limit. rules, figure:
ids of a rule set, of a figure. gate: when the lorry is at the site, or the crew is needed there.
"""

NOT_JUDGED = frozenset(Rule) - frozenset(FACTS)
"""What the check can't judge yet: a plan that one of these touches is never called sound."""
