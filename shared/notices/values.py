"""What a notice or paper of a delivery is: by when, for whom, ahead of what, and why."""

from dataclasses import dataclass
from datetime import date, datetime, time
from enum import StrEnum

from shared.book import Before, Counted
from shared.findings import Fact
from shared.ids import JobId, StepId
from shared.worktime.offices import CLOSES
from shared.worktime.zones import local_date

Facts = tuple[tuple[str, Fact], ...]


class Paper(StrEnum):
    """What has to be given, asked for or had.

    road_*: of an abnormal load. ferry_*: asked of the line. own: written in the book.
    """

    ROAD_REGISTRATION = "road_registration"
    ROAD_NOTICE = "road_notice"
    ROAD_FORM = "road_form"
    ROAD_ORDER = "road_order"
    ROAD_PERMIT = "road_permit"
    ROAD_ROUTE = "road_route"
    ESCORT = "escort"
    FERRY_OVERSIZE = "ferry_oversize"
    FERRY_DANGEROUS = "ferry_dangerous"
    CARNET = "carnet"
    EXPORT_DECLARATION = "export_declaration"
    IMPORT_CLEARANCE = "import_clearance"
    ENTRY_DECLARATION = "entry_declaration"
    METHOD_STATEMENT = "method_statement"
    LIFTING_PLAN = "lifting_plan"
    INSPECTION_BOOKING = "inspection_booking"
    FIRE_TEST = "fire_test"
    CREW_NAMES = "crew_names"
    INDUCTIONS = "inductions"
    PASSES = "passes"
    INSURANCE = "insurance"
    PASSPORT = "passport"
    STAY = "stay"
    POSTING = "posting"
    OWN = "own"


LEGAL = frozenset(
    {
        Paper.ROAD_REGISTRATION,
        Paper.ROAD_NOTICE,
        Paper.ROAD_FORM,
        Paper.ROAD_ORDER,
        Paper.ROAD_PERMIT,
        Paper.CARNET,
        Paper.EXPORT_DECLARATION,
        Paper.IMPORT_CLEARANCE,
        Paper.ENTRY_DECLARATION,
        Paper.LIFTING_PLAN,
        Paper.FIRE_TEST,
        Paper.PASSPORT,
        Paper.STAY,
        Paper.POSTING,
    }
)
"""Papers that a law stands behind: for these the current text is to be opened."""

ONCE = frozenset(
    {
        Paper.ROAD_REGISTRATION,
        Paper.METHOD_STATEMENT,
        Paper.INSURANCE,
        Paper.FIRE_TEST,
    }
)
"""Papers that one job has once, however many trips it takes: ahead of the first."""

OF_THE_DATE = frozenset(
    {
        Paper.ROAD_NOTICE,
        Paper.ROAD_FORM,
        Paper.ROAD_ORDER,
        Paper.ROAD_PERMIT,
        Paper.ESCORT,
        Paper.FERRY_OVERSIZE,
        Paper.FERRY_DANGEROUS,
        Paper.EXPORT_DECLARATION,
        Paper.IMPORT_CLEARANCE,
        Paper.ENTRY_DECLARATION,
        Paper.INSPECTION_BOOKING,
        Paper.INDUCTIONS,
        Paper.PASSES,
        Paper.POSTING,
        Paper.OWN,
    }
)
"""Papers that name the day: once it moves they are given anew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Receiver:
    """Who receives something, with its calendar, zone and hour of closing.

    name: as the book has it, "" for a derived one. country: None, or one of which no holidays are
    known: then only weekends are closed.
    """

    zone: str
    country: str | None = None
    subdivision: str | None = None
    categories: tuple[str, ...] = ()
    name: str = ""
    closes: time = CLOSES


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """A notice or paper of a journey with its latest date.

    id: of the notice in the book that takes its place, or that tells when it was given. code: a
    `Paper`. name: as the book names it, "" for a derived one. by: the last day, at the office,
    or the last instant where the hour counts. before, at: ahead of what, and when that is.
    lead, counted: how long before. figures: ids behind lead and limit; none for the book's own.
    because: what calls for it. done: the day it was given. is_over: not given, and too late
    now; late_days: by so many calendar days, 0 on the day itself.
    """

    id: str
    code: Paper
    job: JobId
    journey: StepId
    by: date | datetime
    before: Before
    at: datetime
    lead: int
    counted: Counted
    receiver: Receiver
    name: str = ""
    figures: tuple[str, ...] = ()
    because: Facts = ()
    done: date | None = None
    is_over: bool = False
    late_days: int = 0

    @property
    def day(self) -> date:
        """Return the last day, at the office."""
        if isinstance(self.by, datetime):
            return local_date(self.by, self.receiver.zone)
        return self.by

    @property
    def is_legal(self) -> bool:
        """Return whether a law stands behind it, whose current text is to be opened."""
        return self.code in LEGAL

    @property
    def office(self) -> str:
        """Return the name of the office, "" where the book names none."""
        return self.receiver.name

    @property
    def country(self) -> str | None:
        """Return the country of the office."""
        return self.receiver.country


@dataclass(frozen=True, slots=True, kw_only=True)
class Called:
    """A notice or paper that is called for: ahead of what, how long, by whom received.

    receivers: each of them must have it, so the earliest date rules. figures: behind lead and
    limit. ahead_of: it is counted back from the day of the paper of that code instead.
    """

    code: Paper
    before: Before
    at: datetime
    lead: int
    counted: Counted
    receivers: tuple[Receiver, ...]
    figures: tuple[str, ...]
    because: Facts = ()
    ahead_of: Paper | None = None
