"""What a quarter of an hour of a job is spent on, by class; a module of its own, quickly read."""

from enum import StrEnum


class Class(StrEnum):
    """What a quarter of an hour is spent on.

    nights: and weekends, breaks, leave: nobody of the team works. shift_end: what is left of the
    shift is too short. outside: a day that is written, something under way. slack: loaded and
    still here, or there before the window ends.
    """

    WORK = "work"
    CURE = "cure"
    CLIENT = "client"
    PEOPLE = "people"
    PLACE = "place"
    NIGHTS = "nights"
    SHIFT_END = "shift_end"
    RECOAT = "recoat"
    WEATHER = "weather"
    OUTSIDE = "outside"
    JOURNEY = "journey"
    SLACK = "slack"


USUAL = (
    Class.WORK,
    Class.CURE,
    Class.CLIENT,
    Class.PEOPLE,
    Class.PLACE,
    Class.NIGHTS,
    Class.SHIFT_END,
    Class.JOURNEY,
    Class.SLACK,
)
"""Told even where nothing of it is there; the others only where something is."""
