"""Small books for tests: every field has a value, a test names only what matters to it.

Unchanged, the book is a sound one: one person, one bay, one job of one segment that is carved,
loaded, driven to its site and put up there within its window.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any

from shared.book import (
    After,
    Book,
    Client,
    Delivery,
    Equipment,
    EquipmentKind,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Hours,
    Job,
    Journey,
    Kind,
    Leg,
    LegKind,
    Material,
    MaterialNeed,
    Need,
    OtherWork,
    Person,
    Place,
    PlaceKind,
    Route,
    Segment,
    Site,
    Skill,
    SkillLevel,
    Stage,
    Step,
    Supplier,
    Told,
    Way,
    Window,
    Workshop,
)
from shared.files.write import digest
from shared.ids import (
    EquipmentId,
    FactId,
    JobId,
    MaterialId,
    PersonId,
    PlaceId,
    RouteId,
    SegmentId,
    SkillId,
    StepId,
    SupplierId,
    WindowId,
)
from shared.plan import LegTime, MadeFrom, Placement, Plan, Trip
from shared.worktime import Break, Shift

Number = int | str | Decimal

SKILLS = ("carve", "laminate", "coat", "fill", "paint", "lacquer", "pack")
"""What everybody can do unless a test says otherwise."""

SKILL_OF_KIND = {
    Kind.FOAM: "carve",
    Kind.LAMINATE: "laminate",
    Kind.COAT: "coat",
    Kind.FILL: "fill",
    Kind.PAINT: "paint",
    Kind.LACQUER: "lacquer",
    Kind.PACK: "pack",
}

WEEK = (0, 1, 2, 3, 4)


def at(text: str) -> datetime:
    """Give an instant in UTC: at("2026-01-05 08:00")."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def on(text: str) -> date:
    """Give a day: on("2026-01-05")."""
    return date.fromisoformat(text)


def clock(text: str) -> time:
    """Give a time of the wall clock: clock("07:30")."""
    return time.fromisoformat(text)


NOW = at("2026-01-05 08:00")
"""The moment of every small book: a Monday morning."""


def a_break(start: str = "12:00", end: str = "12:30") -> Break:
    return Break(start=clock(start), end=clock(end))


def a_shift(
    start: str = "07:30",
    end: str = "16:00",
    days: tuple[int, ...] = WEEK,
    breaks: tuple[Break, ...] | None = None,
) -> Shift:
    """Give a shift, Monday to Friday with half an hour's break unless a test says otherwise."""
    pauses = (a_break(),) if breaks is None else breaks
    return Shift(days=days, start=clock(start), end=clock(end), breaks=pauses)


def a_workshop(**changes: Any) -> Workshop:
    """Give a workshop in which the rules of air, company and half days are switched off."""
    usual = Workshop(
        name="Hall Seven",
        zone="Europe/London",
        country="GB",
        subdivision="ENG",
        shifts=(a_shift(),),
        apart=(),
        never_alone=(),
        pieces_per_half_day=0,
    )
    return replace(usual, **changes)


def a_place(place: str = "bay", kind: PlaceKind = PlaceKind.BAY, **changes: Any) -> Place:
    usual = Place(id=PlaceId(place), name=place.capitalize(), kind=kind, slots=1)
    return replace(usual, **changes)


def a_floor(place: str = "hall", area_m2: Number = 100, **changes: Any) -> Place:
    """Give a standing floor."""
    usual = Place(
        id=PlaceId(place),
        name=place.capitalize(),
        kind=PlaceKind.FLOOR,
        area_m2=Decimal(area_m2),
        standing=True,
    )
    return replace(usual, **changes)


def an_equipment(equipment: str = "lorry", **changes: Any) -> Equipment:
    usual = Equipment(
        id=EquipmentId(equipment), name=equipment.capitalize(), kind=EquipmentKind.VEHICLE
    )
    return replace(usual, **changes)


def a_skill(skill: str, level: SkillLevel = SkillLevel.CAN) -> Skill:
    return Skill(skill=SkillId(skill), level=level)


def a_person(person: str = "ana", skills: tuple[str, ...] = SKILLS, **changes: Any) -> Person:
    usual = Person(
        id=PersonId(person),
        name=person.capitalize(),
        skills=tuple(a_skill(skill) for skill in skills),
    )
    return replace(usual, **changes)


def a_need(skill: str = "carve", can: int = 1, helps: int = 0) -> Need:
    return Need(skill=SkillId(skill), can=can, helps=helps)


def some_hours(likely: Number = 8, low: Number | None = None, high: Number | None = None) -> Hours:
    """Give person-hours; the likely ones stand for all three unless a test says otherwise."""
    return Hours(
        low=Decimal(likely if low is None else low),
        likely=Decimal(likely),
        high=Decimal(likely if high is None else high),
    )


def a_way(
    way: str = "bench",
    hours: Number = 8,
    hands: int = 1,
    skill: str = "carve",
    places: tuple[str, ...] = (),
    **changes: Any,
) -> Way:
    usual = Way(
        id=way,
        needs=(a_need(skill, can=hands),) if hands else (),
        hours=some_hours(hours),
        places=tuple(PlaceId(place) for place in places),
    )
    return replace(usual, **changes)


def an_after(step: str, least_hours: Number = 0, **changes: Any) -> After:
    return replace(After(step=StepId(step), least_hours=Decimal(least_hours)), **changes)


def _afters(after: tuple[str | After, ...] | None) -> tuple[After, ...] | None:
    if after is None:
        return None
    return tuple(an_after(each) if isinstance(each, str) else each for each in after)


def a_stage(
    step: str = "carve",
    kind: Kind = Kind.FOAM,
    segments: tuple[str, ...] = (),
    hours: Number = 8,
    hands: int = 1,
    places: tuple[str, ...] = (),
    cure_hours: Number = 0,
    after: tuple[str | After, ...] | None = None,
    **changes: Any,
) -> Stage:
    """Give a stage with one way; `changes` may name `ways` or any other field."""
    usual = Stage(
        id=StepId(step),
        name=step.capitalize(),
        kind=kind,
        segments=tuple(SegmentId(segment) for segment in segments),
        ways=(a_way(hours=hours, hands=hands, skill=SKILL_OF_KIND[kind], places=places),),
        cure_hours=Decimal(cure_hours),
        after=_afters(after),
    )
    return replace(usual, **changes)


def a_gate(
    step: str = "loading",
    gate: GateKind = GateKind.LOADING,
    segments: tuple[str, ...] = (),
    after: tuple[str | After, ...] | None = None,
    **changes: Any,
) -> Gate:
    usual = Gate(
        id=StepId(step),
        name=step.capitalize(),
        gate=gate,
        segments=tuple(SegmentId(segment) for segment in segments),
        after=_afters(after),
    )
    return replace(usual, **changes)


def a_leg(kind: LegKind = LegKind.DRIVE, minutes: int = 120, **changes: Any) -> Leg:
    return replace(Leg(kind=kind, name=kind.value, minutes=minutes), **changes)


def a_journey(
    step: str = "journey",
    legs: tuple[Leg, ...] | None = None,
    crew: tuple[str, ...] = (),
    vehicles: tuple[str, ...] = (),
    **changes: Any,
) -> Journey:
    """Give a journey: two hours on the road and two of putting up inside the window."""
    there = (a_leg(), a_leg(LegKind.ASSEMBLE, inside=True)) if legs is None else legs
    usual = Journey(
        id=StepId(step),
        name=step.capitalize(),
        legs=there,
        crew=tuple(PersonId(person) for person in crew),
        vehicles=tuple(EquipmentId(vehicle) for vehicle in vehicles),
    )
    return replace(usual, **changes)


def a_segment(segment: str = "torso", **changes: Any) -> Segment:
    usual = Segment(
        id=SegmentId(segment),
        name=segment.capitalize(),
        length_m=Decimal(2),
        width_m=Decimal(1),
        height_m=Decimal(1),
        mass_low_kg=Decimal(40),
        mass_high_kg=Decimal(60),
    )
    return replace(usual, **changes)


def a_window(
    window: str = "window",
    start: str = "2026-03-02 08:00",
    end: str = "2026-03-06 18:00",
    **changes: Any,
) -> Window:
    return replace(Window(id=WindowId(window), start=at(start), end=at(end)), **changes)


def a_client(**changes: Any) -> Client:
    usual = Client(name="The client", zone="Europe/London", country="GB", subdivision="ENG")
    return replace(usual, **changes)


def a_site(**changes: Any) -> Site:
    usual = Site(name="The site", zone="Europe/London", country="GB", subdivision="ENG")
    return replace(usual, **changes)


def a_job(
    job: str = "heron",
    segments: tuple[Segment, ...] | None = None,
    steps: tuple[Step, ...] | None = None,
    **changes: Any,
) -> Job:
    """Give a job; the ids of its parts begin with its own, so that two jobs never share one."""
    usual = Job(
        id=JobId(job),
        name=job.capitalize(),
        client=a_client(),
        site=a_site(),
        windows=(a_window(f"{job}-window"),),
        segments=(a_segment(f"{job}-torso"),) if segments is None else segments,
        steps=_usual_steps(job) if steps is None else steps,
    )
    return replace(usual, **changes)


def _usual_steps(job: str) -> tuple[Step, ...]:
    return (a_stage(f"{job}-carve"), a_gate(f"{job}-loading"), a_journey(f"{job}-journey"))


def a_route(route: str = "skin", steps: tuple[Step, ...] | None = None, **changes: Any) -> Route:
    usual = Route(
        id=RouteId(route),
        name=route.capitalize(),
        steps=(a_stage("block"), a_stage("skin", Kind.LAMINATE)) if steps is None else steps,
    )
    return replace(usual, **changes)


def an_other_work(work: str = "repair", **changes: Any) -> OtherWork:
    usual = OtherWork(
        id=work,
        name=work.capitalize(),
        start=at("2026-01-12 08:00"),
        end=at("2026-01-12 12:00"),
    )
    return replace(usual, **changes)


def a_fact(fact: str = "fact", step: str = "heron-carve", **changes: Any) -> Fact:
    """Give a fact: the stage was done an hour before now, as Ana told."""
    usual = Fact(
        id=FactId(fact),
        kind=FactKind.DONE,
        step=StepId(step),
        at=at("2026-01-05 07:00"),
        told_by="Ana",
    )
    return replace(usual, **changes)


def a_supplier(supplier: str = "harbour", **changes: Any) -> Supplier:
    """Give a supplier in England who dispatches three working days after an order."""
    usual = Supplier(
        id=SupplierId(supplier),
        name=supplier.capitalize(),
        zone="Europe/London",
        country="GB",
        subdivision="ENG",
        lead_days=3,
    )
    return replace(usual, **changes)


def a_material(material: str = "primer", unit: str = "l", **changes: Any) -> Material:
    """Give a material of no kind of its own, so that nothing is wasted or grows old."""
    usual = Material(
        id=MaterialId(material),
        name=material.capitalize(),
        unit=unit,
        supplier=SupplierId("harbour"),
    )
    return replace(usual, **changes)


def so_much(quantity: Number, material: str = "primer") -> MaterialNeed:
    return MaterialNeed(material=MaterialId(material), quantity=Decimal(quantity))


def a_delivery(quantity: Number, when: str, material: str = "primer", **changes: Any) -> Delivery:
    """Give what comes at an instant in UTC."""
    quantity = Decimal(quantity)
    usual = Delivery(material=MaterialId(material), quantity=quantity, at=at(when))
    return replace(usual, **changes)


def a_book(*jobs: Job, **changes: Any) -> Book:
    """Give a book of these jobs, or of the usual one."""
    usual = Book(
        name="The small book",
        workshop=a_workshop(),
        as_of=NOW,
        places=(a_place(), a_floor()),
        people=(a_person(),),
        jobs=jobs or (a_job(),),
    )
    return replace(usual, **changes)


def a_placement(
    step: str = "heron-carve",
    start: str = "2026-01-05 08:00",
    end: str = "2026-01-06 09:00",
    job: str = "heron",
    people: tuple[str, ...] = ("ana",),
    **changes: Any,
) -> Placement:
    usual = Placement(
        job=JobId(job),
        step=StepId(step),
        start=at(start),
        end=at(end),
        way="bench",
        people=tuple(PersonId(person) for person in people),
    )
    return replace(usual, **changes)


def a_trip(step: str = "heron-journey", job: str = "heron", **changes: Any) -> Trip:
    usual = Trip(
        job=JobId(job),
        step=StepId(step),
        start=at("2026-03-02 06:00"),
        end=at("2026-03-02 10:00"),
        back=at("2026-03-02 10:00"),
        free=at("2026-03-02 21:00"),
        legs=(
            LegTime(start=at("2026-03-02 06:00"), end=at("2026-03-02 08:00")),
            LegTime(start=at("2026-03-02 08:00"), end=at("2026-03-02 10:00")),
        ),
    )
    return replace(usual, **changes)


def a_plan(book: Book | None = None, **changes: Any) -> Plan:
    """Give a plan that names the state of a book; its placements are not worked out."""
    made = a_book() if book is None else book
    usual = Plan(
        made_from=MadeFrom(revision=made.revision, digest=digest(made)),
        now=NOW,
        jobs=tuple(job.id for job in made.jobs),
        placements=(a_placement(),),
        trips=(a_trip(),),
    )
    return replace(usual, **changes)


def a_told(plan: Plan | None = None, **changes: Any) -> Told:
    return replace(Told(plan=plan or a_plan(), at=NOW, told_by="Ana"), **changes)
