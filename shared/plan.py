"""A plan: where every step was placed, and from which state of the book it was made."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from shared.ids import EquipmentId, JobId, PersonId, PlaceId, StepId
from shared.value import Value


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class MadeFrom(Value):
    """The state of a book: its revision and the digest of its canonical form."""

    revision: int
    digest: str


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Placement(Value):
    """A stage or gate placed in time, half-open, with its people, place and equipment.

    step: the stage or gate. way: id of the way that is used, "" where the step has none.
    round: counts the rounds of an answer from 1; else 0. part: "" for the step itself,
    "abrade" for an inserted abrade stage before it, "rework" for rework after a round, "changes"
    for what a yes with changes asked for.
    An answer is placed from the moment the pictures go out to the moment the answer is due.
    """

    job: JobId
    step: StepId
    start: datetime
    end: datetime
    way: str = ""
    people: tuple[PersonId, ...] = ()
    place: PlaceId | None = None
    equipment: tuple[EquipmentId, ...] = ()
    round: int = 0
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class LegTime(Value):
    """One leg of a journey in time: arrived before it at `start`, over at `end`."""

    start: datetime
    end: datetime


class Doing(StrEnum):
    """What is done in a stretch; `_in_rest` is boarding or landing that breaks a rest.

    stand: something cures, nobody is needed.
    """

    DRIVE = "drive"
    WORK = "work"
    REST = "rest"
    STAND = "stand"
    BOARD = "board"
    BOARD_IN_REST = "board_in_rest"
    SEA_REST = "sea_rest"
    SEA = "sea"
    LAND = "land"
    LAND_IN_REST = "land_in_rest"


class Because(StrEnum):
    """Why the lorry, or whoever works on site, stands."""

    BAN = "ban"
    CLOSED = "closed"
    SAILING = "sailing"
    WEEK = "week"
    WEEKLY_REST = "weekly_rest"
    DAILY_REST = "daily_rest"
    BREAK = "break"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Stretch(Value):
    """One thing done on a leg of a journey, half-open.

    leg: counted from 0. because, rule: of a rest, what it waits for and the id of the figure
    behind it; the rule is empty where a timetable or opening hours decide. sailing: which of the
    leg's departures, in their order. share: which part of the road, by country. wheel: of two
    drivers, which one drives, 1 or 2; else 0.
    """

    doing: Doing
    leg: int
    start: datetime
    end: datetime
    because: Because | None = None
    rule: str = ""
    sailing: int | None = None
    share: int = 0
    wheel: int = 0


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Trip(Value):
    """A journey placed in time: it leaves at `start`; the last leg ends at `end`.

    free: when the crew may stand at the bench again. back: when the vehicles are back.
    legs: in the order of the journey's legs. means: id of the means it goes by, None where the
    journey has none to choose from. stretches: where drivers' hours are judged, what the driver and
    then whoever works on site does, from `start` to `end` without a gap. travel: the same of the
    crew's own way; `crew_from`: when they leave, None with the lorry.
    """

    job: JobId
    step: StepId
    start: datetime
    end: datetime
    back: datetime
    free: datetime
    legs: tuple[LegTime, ...]
    means: str | None = None
    stretches: tuple[Stretch, ...] = ()
    travel: tuple[Stretch, ...] = ()
    crew_from: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Unplaced(Value):
    """A step that nothing in the book allows, with the code of the reason."""

    job: JobId
    step: StepId
    code: str


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class LetGo(Value):
    """Work that was told for today or tomorrow and could not stay as it was told."""

    job: JobId
    step: StepId
    round: int = 0
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Plan(Value):
    """Placements of every step of the jobs planned, sorted by job, step, round and part.

    now: nothing starts before it, told facts apart. jobs: the jobs that were planned. let_go: what
    the told plan had for today or tomorrow and this one has otherwise.
    """

    made_from: MadeFrom
    now: datetime
    seed: int = 0
    jobs: tuple[JobId, ...] = ()
    placements: tuple[Placement, ...] = ()
    trips: tuple[Trip, ...] = ()
    unplaced: tuple[Unplaced, ...] = ()
    let_go: tuple[LetGo, ...] = ()
