"""What a normalised book carries for the way back: which part of the problem stands for what."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from scheduler.journey import Ride
from scheduler.problem import Problem
from shared.book import Act, Book, Job, Window
from shared.findings import Clash
from shared.ids import EquipmentId, JobId, PersonId, PlaceId, StepId
from shared.plan import MadeFrom, Trip, Unplaced

if TYPE_CHECKING:
    from shared.delivery.run import Run


@dataclass(frozen=True, slots=True, kw_only=True)
class StageName:
    """The step that a stage of the problem stands for.

    part: "", "abrade", "rework", "changes"; or a moment that is no step of the book: "ready", at
    which a journey may leave, "stands", from which a segment takes its floor, and "since", from
    which a wait of something done is counted. round: counts the rounds of an answer from 1, else 0.
    begun: when a running stage began, or the pictures went out of an answer that is being waited
    for. due: when that answer is expected.
    """

    job: JobId
    step: StepId
    part: str = ""
    round: int = 0
    begun: datetime | None = None
    due: datetime | None = None

    @property
    def is_told(self) -> bool:
        """Return whether it stands for something people are told about."""
        return self.part not in ("ready", "stands", "since")


@dataclass(frozen=True, slots=True, kw_only=True)
class WayName:
    """The way of the book that a way of the problem stands for, and what it takes."""

    way: str = ""
    place: PlaceId | None = None
    equipment: tuple[EquipmentId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomName:
    """The place or the equipment that a room of the problem stands for, or an act in an air."""

    place: PlaceId | None = None
    equipment: EquipmentId | None = None
    air: str | None = None
    act: Act | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ridden:
    """A ride with how it is gone: by which means, at which price, and whoever goes by themselves.

    means: None where the journey has none to choose from. crew_from: when the crew leaves, None
    with the lorry. first_duty_ends: of the crew, and run: the whole of it, where drivers' hours
    are asked of it.
    """

    ride: Ride
    means: str | None = None
    price: Decimal = Decimal(0)
    crew_from: int | None = None
    first_duty_ends: int | None = None
    run: "Run | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class JourneyOption:
    """One departure: a ride for each journey of the job, in the order of its steps."""

    rides: tuple[tuple[StepId, Ridden], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobName:
    """The job that JobAim of the same position stands for.

    options: as Trip.options. done_at: when loading ended, where that is a fact. behind: doors at
    the site, which come after the journey and are no part of the problem. others: the windows on
    offer that are not held, by their starts, each with the latest end of loading that makes it,
    None where nothing does. more: it could leave at other moments than these as well, each being a
    search of its own.
    """

    job: Job
    options: tuple[JourneyOption, ...] = ()
    done_at: datetime | None = None
    behind: tuple[StepId, ...] = ()
    others: tuple[tuple[Window, int | None], ...] = ()
    more: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Gone:
    """A job whose lorry has gone: it is no part of the problem. kept: it makes its window."""

    job: Job
    trips: tuple[Trip, ...]
    kept: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Normal:
    """A book as an integer problem, with every name that leads back.

    origin: the instant of step 0. planned: every job that is planned. jobs, stages, workers,
    rooms: by position in the problem; ways: by stage and position in Stage.ways. clashes: facts
    of a job that keep it from its window whatever is done. not_honoured: codes of the rules that
    the book holds and this version does not keep. held: by stage, the only way it has left of those
    it had, where it stays as it was told for today or tomorrow. let_go: what was told for these
    days and could not stay.
    """

    book: Book
    made_from: MadeFrom
    now: datetime
    origin: datetime
    problem: Problem
    planned: tuple[JobId, ...]
    jobs: tuple[JobName, ...]
    gone: tuple[Gone, ...]
    stages: tuple[StageName, ...]
    ways: tuple[tuple[WayName, ...], ...]
    workers: tuple[PersonId, ...]
    rooms: tuple[RoomName, ...]
    clashes: tuple[tuple[JobId, Clash], ...] = ()
    unplaced: tuple[Unplaced, ...] = ()
    not_honoured: tuple[str, ...] = ()
    held: tuple[tuple[int, int], ...] = ()
    let_go: tuple[StageName, ...] = ()

    def clashes_of(self, job: JobId) -> tuple[Clash, ...]:
        """Return the clashes of one job."""
        return tuple(clash for owner, clash in self.clashes if owner == job)
