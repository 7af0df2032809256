"""The rules a plan is held against, and what the check can't judge yet: stable codes."""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType


class Rule(StrEnum):
    """A rule that a plan can break; the code stands in files and sentences, so it never changes."""

    # The plan's shape.
    MISSING = "missing"
    TWICE = "twice"
    EXTRA = "extra"
    UNKNOWN = "unknown"
    NO_REASON = "no_reason"
    BACKWARDS = "backwards"
    # When a step may start.
    OFF_GRID = "off_grid"
    BEFORE_NOW = "before_now"
    NOT_BEFORE = "not_before"
    PINNED_START = "pinned_start"
    PINNED_DAY = "pinned_day"
    # Who does it.
    WAY = "way"
    HANDS = "hands"
    SKILLS = "skills"
    CERTIFICATE = "certificate"
    ASKED = "asked"
    PERSON_BUSY = "person_busy"
    # How long it takes.
    STARTS_SHUT = "starts_shut"
    TOO_SHORT = "too_short"
    TOO_LONG = "too_long"
    IN_ONE_GO = "in_one_go"
    WATCH = "watch"
    PAUSE = "pause"
    # Where, and with what.
    PLACE = "place"
    PLACE_FULL = "place_full"
    FLOOR_FULL = "floor_full"
    PLACE_SHUT = "place_shut"
    EQUIPMENT = "equipment"
    EQUIPMENT_SHORT = "equipment_short"
    EQUIPMENT_SHUT = "equipment_shut"
    # What comes before what.
    ORDER = "order"
    CURE = "cure"
    GREATEST_WAIT = "greatest_wait"
    BEFORE_ANSWER = "before_answer"
    ANSWER_DUE = "answer_due"
    ROUNDS = "rounds"
    LOADING = "loading"
    # The journey.
    LEAVES_EARLY = "leaves_early"
    LEG = "leg"
    BACK = "back"
    # What was told.
    FACT_TIME = "fact_time"
    FACT_PEOPLE = "fact_people"


class Unjudged(StrEnum):
    """Something a book says that no rule judges yet: a plan it touches is never called sound."""

    TEMPERATURE_LIMITS = "temperature_limits"
    READINGS = "readings"
    TOLD_PLAN = "told_plan"
    OFFERS_TAKEN = "offers_taken"
    SAME_PEOPLE = "same_people"
    DRIVERS_HOURS = "drivers_hours"
    SHARED_AIR = "shared_air"
    SIZES = "sizes"
    AREA_UNKNOWN = "area_unknown"
    LATE_WORK = "late_work"
    INTERRUPTED = "interrupted"
    REMAINING_UNKNOWN = "remaining_unknown"
    AFTER_OUTSIDE = "after_outside"


COMMON_FACTS = ("job", "step", "part", "round")
"""Facts of every breach: names of job and step (None where there is none), part and round."""

_STARTS = ("start",)
_WAITS = ("before", "start", "ready")
_WORKED = ("worked_minutes", "needed_minutes")
_ROOM = ("place", "at", "taken", "room", "unit")

FACTS: Mapping[Rule, tuple[str, ...]] = MappingProxyType(
    {
        Rule.MISSING: (),
        Rule.TWICE: ("count",),
        Rule.EXTRA: (),
        Rule.UNKNOWN: ("kind", "id"),
        Rule.NO_REASON: (),
        Rule.BACKWARDS: ("start", "end"),
        Rule.OFF_GRID: ("instant",),
        Rule.BEFORE_NOW: ("start", "now"),
        Rule.NOT_BEFORE: ("start", "not_before", "said_by"),
        Rule.PINNED_START: ("start", "pinned"),
        Rule.PINNED_DAY: ("start", "day"),
        Rule.WAY: ("way",),
        Rule.HANDS: ("people_count", "hands_count"),
        Rule.SKILLS: ("people", "skills"),
        Rule.CERTIFICATE: ("person", "certificate", "expires"),
        Rule.ASKED: ("person", "said_by"),
        Rule.PERSON_BUSY: ("person", "other", "start", "end"),
        Rule.STARTS_SHUT: _STARTS,
        Rule.TOO_SHORT: _WORKED,
        Rule.TOO_LONG: _WORKED,
        Rule.IN_ONE_GO: ("start", "end", "person"),
        Rule.WATCH: ("end", "shift_end", "watch_minutes", "person"),
        Rule.PAUSE: ("paused_minutes", "longest_minutes", "start"),
        Rule.PLACE: ("place",),
        Rule.PLACE_FULL: _ROOM,
        Rule.FLOOR_FULL: _ROOM,
        Rule.PLACE_SHUT: ("place", "start", "end", "why"),
        Rule.EQUIPMENT: ("equipment", "wanted"),
        Rule.EQUIPMENT_SHORT: ("equipment", "at", "taken_count", "count"),
        Rule.EQUIPMENT_SHUT: ("equipment", "start", "end", "why"),
        Rule.ORDER: _WAITS,
        Rule.CURE: _WAITS,
        Rule.GREATEST_WAIT: ("before", "start", "latest"),
        Rule.BEFORE_ANSWER: _WAITS,
        Rule.ANSWER_DUE: ("end", "due"),
        Rule.ROUNDS: ("start", "ready"),
        Rule.LOADING: _WAITS,
        Rule.LEAVES_EARLY: _WAITS,
        Rule.LEG: ("leg", "number", "start", "end", "expected"),
        Rule.BACK: ("who", "planned", "expected"),
        Rule.FACT_TIME: ("fact", "planned", "told"),
        Rule.FACT_PEOPLE: ("people", "told"),
    }
)
"""Facts of a breach beside the common ones.

Instants are ISO strings in UTC, days ISO dates. kind: "job", "step", "person", "place" or
"equipment". said_by: "job", "step" or "pin". why: "closure", "booking", "other_work", "usable"
or "test_due". unit: "m2" or "slots" (`taken` and `room` are decimal strings). who: "vehicles"
or "crew". fact: a FactKind. people, skills, equipment, wanted: names joined by ", ".
"""
