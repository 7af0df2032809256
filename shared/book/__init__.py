"""The book: the whole document as one frozen tree of values."""

from dataclasses import dataclass
from datetime import datetime

from shared.book.acts import Act
from shared.book.after import After
from shared.book.client import Client
from shared.book.facts import NOT_BEGUN, Answer, Fact, FactKind, Held
from shared.book.jobs import (
    Detail,
    Face,
    Finish,
    Invoice,
    Job,
    Purpose,
    Segment,
    Site,
    Standing,
    Window,
)
from shared.book.journeys import (
    AT_SEA,
    ON_SITE,
    Arrangement,
    ArrangementState,
    Before,
    Counted,
    Departure,
    Driving,
    Journey,
    Leg,
    LegKind,
    Means,
    Notice,
    RoadShare,
    Timetable,
)
from shared.book.materials import Delivery, Material, MaterialKind, MaterialNeed, Supplier
from shared.book.people import (
    Certificate,
    Engaged,
    EngagementState,
    ExtraHours,
    Leave,
    Offer,
    Person,
    Skill,
    SkillLevel,
)
from shared.book.steps import (
    Abrade,
    ClassOf,
    EquipmentNeed,
    Gate,
    GateKind,
    Hours,
    Kind,
    Measure,
    Need,
    Pin,
    RecoatBand,
    Route,
    RouteRule,
    Stage,
    Step,
    Way,
)
from shared.book.workshop import (
    Apart,
    Body,
    Booking,
    Closure,
    Equipment,
    EquipmentKind,
    Opening,
    OtherWork,
    OwnFigure,
    Place,
    PlaceKind,
    Reading,
    Temperature,
    Workshop,
)
from shared.plan import Plan
from shared.value import Value

FORMAT = 1
"""The number of the file format that this version writes."""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Told(Value):
    """The plan that people were last given, when, by whom, and its sheet number."""

    plan: Plan
    at: datetime
    told_by: str = ""
    sheet_number: int = 1


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Book(Value):
    """The whole document.

    revision: one more with each edit and each undo. as_of: the moment it speaks of, used as
    now where none is given; None means the clock's.
    """

    name: str
    workshop: Workshop
    revision: int = 1
    as_of: datetime | None = None
    places: tuple[Place, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    people: tuple[Person, ...] = ()
    offers: tuple[Offer, ...] = ()
    other_work: tuple[OtherWork, ...] = ()
    routes: tuple[Route, ...] = ()
    jobs: tuple[Job, ...] = ()
    facts: tuple[Fact, ...] = ()
    suppliers: tuple[Supplier, ...] = ()
    materials: tuple[Material, ...] = ()
    deliveries: tuple[Delivery, ...] = ()
    plan: Plan | None = None
    told: Told | None = None


__all__ = [
    "AT_SEA",
    "FORMAT",
    "NOT_BEGUN",
    "ON_SITE",
    "Abrade",
    "Act",
    "After",
    "Answer",
    "Apart",
    "Arrangement",
    "ArrangementState",
    "Before",
    "Body",
    "Book",
    "Booking",
    "Certificate",
    "ClassOf",
    "Client",
    "Closure",
    "Counted",
    "Delivery",
    "Departure",
    "Detail",
    "Driving",
    "Engaged",
    "EngagementState",
    "Equipment",
    "EquipmentKind",
    "EquipmentNeed",
    "ExtraHours",
    "Face",
    "Fact",
    "FactKind",
    "Finish",
    "Gate",
    "GateKind",
    "Held",
    "Hours",
    "Invoice",
    "Job",
    "Journey",
    "Kind",
    "Leave",
    "Leg",
    "LegKind",
    "Material",
    "MaterialKind",
    "MaterialNeed",
    "Means",
    "Measure",
    "Need",
    "Notice",
    "Offer",
    "Opening",
    "OtherWork",
    "OwnFigure",
    "Person",
    "Pin",
    "Place",
    "PlaceKind",
    "Purpose",
    "Reading",
    "RecoatBand",
    "RoadShare",
    "Route",
    "RouteRule",
    "Segment",
    "Site",
    "Skill",
    "SkillLevel",
    "Stage",
    "Standing",
    "Step",
    "Supplier",
    "Temperature",
    "Timetable",
    "Told",
    "Way",
    "Window",
    "Workshop",
]
