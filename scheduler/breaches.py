"""What a schedule can break of its problem."""

from dataclasses import dataclass
from enum import StrEnum


class ProblemRule(StrEnum):
    """A rule of the integer problem, by code."""

    SHAPE = "shape"
    NOT_PLACED = "not_placed"
    INSERTED = "inserted"
    WAY = "way"
    BACKWARDS = "backwards"
    HORIZON = "horizon"
    RELEASE = "release"
    START_BY = "start_by"
    FIXED_START = "fixed_start"
    ENDS = "ends"
    TEAM = "team"
    ASKED = "asked"
    CERTIFICATE = "certificate"
    SAME_TEAM = "same_team"
    COMPANY = "company"
    PIECES = "pieces"
    SANDING = "sanding"
    HOURS = "hours"
    LENGTH = "length"
    PAUSE = "pause"
    ONE_GO = "one_go"
    WATCH = "watch"
    CLEAR = "clear"
    ORDER = "order"
    CURE = "cure"
    WAIT = "wait"
    WORKER_TWICE = "worker_twice"
    NO_REST = "no_rest"
    ROOM = "room"
    AIR = "air"
    STOCK = "stock"
    TRIP = "trip"
    TRIP_TOO_SOON = "trip_too_soon"
    TRIP_STANDS = "trip_stands"
    TRIP_LEFT_OUT = "trip_left_out"


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemBreach:
    """A rule that is broken, and by what: positions in the problem, None where not about it.

    day: position in Problem.half_days for pieces, in Problem.days for sanding.
    """

    rule: ProblemRule
    stage: int | None = None
    edge: int | None = None
    worker: int | None = None
    room: int | None = None
    consumable: int | None = None
    job: int | None = None
    day: int | None = None
