"""The codes of every rule of the world: what a plan can break, and what is not judged yet."""

from enum import StrEnum


class Rule(StrEnum):
    """A rule of the world, by code; the sentences for them are app's."""

    # What a plan as a whole owes.
    UNKNOWN_STEP = "unknown_step"
    MISSING_STEP = "missing_step"
    TWICE = "twice"
    BEFORE_NOW = "before_now"
    OFF_GRID = "off_grid"
    # How a stage is worked.
    WAY = "way"
    TEAM = "team"
    SKILL = "skill"
    ASKED = "asked"
    CERTIFICATE = "certificate"
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
    ANSWER = "answer"
    # What is held.
    PERSON_TWICE = "person_twice"
    PERSON_AWAY = "person_away"
    REST = "rest"
    PLACE = "place"
    PLACE_FULL = "place_full"
    STANDING_FULL = "standing_full"
    EQUIPMENT = "equipment"
    EQUIPMENT_FULL = "equipment_full"
    # The delivery.
    LEG = "leg"
    LOADING = "loading"
    # Held in the book, but not honoured or judged by this version.
    TEMPERATURE = "temperature"
    ABRADE = "abrade"
    SAME_PEOPLE = "same_people"
    DRIVERS_HOURS = "drivers_hours"
    OFFERS = "offers"
    TOLD = "told"
    SHARED_AIR = "shared_air"
    TURNS = "turns"
    INTERRUPTED = "interrupted"
    SIZE = "size"
    AFTER_JOURNEY = "after_journey"
    WAIT_FOR_JOURNEY = "wait_for_journey"
