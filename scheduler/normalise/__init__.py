"""From a book to the integer problem: the only place where instants and hours are rounded."""

from scheduler.normalise.build import normalise
from scheduler.normalise.memory import Memory
from scheduler.normalise.names import (
    Gone,
    JobName,
    JourneyOption,
    Normal,
    RoomName,
    StageName,
    WayName,
)

__all__ = [
    "Gone",
    "JobName",
    "JourneyOption",
    "Memory",
    "Normal",
    "RoomName",
    "StageName",
    "WayName",
    "normalise",
]
