"""A workshop in which every sort of line stands, and the blanks of its page."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal

from app.window.workshop.items import Field, Part
from app.window.workshop.parts import part_of
from app.window.workshop.people import At
from app.words import Words
from shared.book import Act as ActOfWork
from shared.book import (
    Apart,
    Body,
    Book,
    Booking,
    Certificate,
    Closure,
    Engaged,
    EngagementState,
    Equipment,
    EquipmentKind,
    ExtraHours,
    Leave,
    Offer,
    Opening,
    OtherWork,
    OwnFigure,
    Person,
    Place,
    Reading,
    Temperature,
    Workshop,
)
from shared.edits import change_person, change_workshop
from shared.ids import EquipmentId, OfferId, PersonId
from shared.worktime import Shift
from shared.worktime.zones import local_date
from tests.app.window.bought import bought
from tests.builders import at


def full_book() -> Book:
    """A book in which every sort of line stands."""
    made = bought().book
    book = change_person(made, _person(made.people[0])).book
    book = change_workshop(book, _shop(made)).book
    suppliers = (
        replace(
            book.suppliers[0], closures=(Closure(first=date(2027, 8, 2), last=date(2027, 8, 20)),)
        ),
        *book.suppliers[1:],
    )
    return replace(
        book,
        suppliers=suppliers,
        places=tuple(_in_full(place) for place in book.places),
        equipment=(
            *book.equipment,
            Equipment(
                id=EquipmentId("truck"),
                name="Truck",
                kind=EquipmentKind.VEHICLE,
                body=Body.VAN,
                payload_kg=Decimal(900),
                usable_from=date(2027, 3, 1),
                bookings=(_TAKEN,),
            ),
        ),
        materials=tuple(replace(m, waste_percent=Decimal(12)) for m in book.materials),
        offers=(
            Offer(
                id=OfferId("warm"),
                name="night heating",
                kind="heating",
                price=Decimal(40),
                notice_days=2,
                agrees="the landlord",
                first=date(2027, 4, 1),
            ),
        ),
        other_work=(
            OtherWork(
                id="filters",
                name="filters",
                start=at("2027-04-01 06:30"),
                end=at("2027-04-01 15:00"),
                people=(book.people[0].id,),
                places=(book.places[0].id,),
            ),
        ),
    )


def _person(person: Person) -> Person:
    """Somebody of whom all is written."""
    return replace(
        person,
        hours=(Shift(days=(0, 2, 5), start=time(6), end=time(14, 30)),),
        leave=(
            Leave(start=at("2027-04-05 23:00"), end=at("2027-04-09 23:00"), reason="training"),
            Leave(start=at("2027-04-20 08:00"), end=at("2027-04-20 12:00")),
        ),
        certificates=(
            Certificate(certificate="isocyanate training", expires=date(2027, 9, 30)),
            Certificate(certificate="hoist"),
        ),
        freelance=True,
        engaged=(
            Engaged(first=date(2027, 4, 5), last=date(2027, 4, 9), state=EngagementState.CONFIRMED),
        ),
        works_from=date(2024, 1, 8),
        overtime_taken=(ExtraHours(start=at("2027-04-10 07:00"), end=at("2027-04-10 12:00")),),
        overtime_offered=(
            ExtraHours(
                start=at("2027-04-17 07:00"),
                end=at("2027-04-17 12:00"),
                premium_per_hour=Decimal(9),
            ),
        ),
        sanding_hours_per_day=Decimal(2),
        least_days=3,
        cancel_by=date(2027, 3, 29),
    )


def _shop(made: Book) -> Workshop:
    """A workshop of which all is written."""
    return replace(
        made.workshop,
        holiday_categories=("public",),
        apart=(Apart(first=ActOfWork.WELD, second=ActOfWork.SOLVENT, minutes=15),),
        never_alone=(ActOfWork.SPRAY, ActOfWork.LIFT),
        pieces_per_half_day=3,
        sanding_hours_per_day=Decimal("3.5"),
        wrap_m=Decimal("0.05"),
        figures=(OwnFigure(figure="CP01", value=Decimal(3), low=Decimal(2), note="gloves"),),
        readings=(
            Reading(at=at("2027-03-14 07:30"), celsius=Decimal("-1.5")),
            Reading(
                at=at("2027-03-14 13:00"),
                celsius=Decimal(17),
                place=made.places[0].id,
                humidity_percent=Decimal(60),
            ),
        ),
        closures=(Closure(first=date(2027, 12, 24), last=date(2028, 1, 2), name="Christmas"),),
        openings=(Opening(name="Gate", width_m=Decimal(3), height_m=Decimal("2.6")),),
        temperatures=(
            Temperature(
                months=(11, 12, 1, 2),
                day_celsius=Decimal(16),
                night_celsius=Decimal(-2),
            ),
            Temperature(
                months=tuple(range(1, 13)),
                day_celsius=Decimal(19),
                night_celsius=Decimal("16.5"),
                place=made.places[0].id,
                heated=(Shift(days=(0, 1, 2, 3, 4), start=time(5), end=time(22)),),
                heated_celsius=Decimal(21),
                spread_celsius=Decimal(1),
                humidity_percent=Decimal(55),
            ),
        ),
    )


_TAKEN = Booking(start=at("2027-04-12 07:00"), end=at("2027-04-13 11:00"), name="stock")


def _in_full(place: Place) -> Place:
    """A place that is taken, shut, and only there for a time."""
    return replace(
        place,
        bookings=(replace(_TAKEN, area_m2=Decimal(4)) if place.area_m2 else _TAKEN,),
        closures=(Closure(first=date(2027, 5, 3), last=date(2027, 5, 7)),),
        usable_until=date(2027, 12, 31),
    )


def at_of(book: Book, person: PersonId | None = None) -> At:
    words = Words("en", book=book)
    now = bought().now
    return At(words=words, now=now, today=local_date(now, words.zone), person=person)


def part(name: str, book: Book) -> Part:
    return part_of(name, book, at_of(book), "Mon 15 Mar 2027 07:30", str)


def field(name: str, of: str, book: Book) -> Field:
    return next(each for each in part(of, book).fields if each.name == name)
