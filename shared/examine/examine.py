"""The examination of a book, and the way in for bytes: reading and examination in one."""

from collections.abc import Callable
from typing import Any

from shared.book import (
    Abrade,
    Arrangement,
    Book,
    Client,
    Delivery,
    Driving,
    EquipmentNeed,
    Fact,
    Gate,
    Job,
    Journey,
    Leg,
    Material,
    Means,
    Need,
    Notice,
    Offer,
    Person,
    Pin,
    Place,
    RoadShare,
    Route,
    Segment,
    Site,
    Stage,
    Supplier,
    Timetable,
    Way,
    Window,
    Workshop,
)
from shared.examine.climate import check_climate, check_heating, check_recoat
from shared.examine.facts import check_fact, check_facts
from shared.examine.figures import check_figures
from shared.examine.hours import check_calendar, check_leg_zone, check_shift, check_workshop
from shared.examine.jobs import check_job, check_segment, check_window
from shared.examine.journeys import (
    check_arranged,
    check_arrangement,
    check_blocked,
    check_driving,
    check_means,
    check_notice,
    check_road,
    check_sailings,
    check_share,
    check_slots,
    check_timetable,
    check_ways_to_go,
)
from shared.examine.look import Look, Path
from shared.examine.materials import (
    check_agreed,
    check_delivery,
    check_material,
    check_suppliers,
)
from shared.examine.names import check_ids
from shared.examine.passing import check_turns, check_way_in, check_way_out
from shared.examine.people import check_equipment_need, check_need, check_person
from shared.examine.places import check_kinds, check_lift, check_move, check_place
from shared.examine.routes import check_measures, check_route, check_segment_route
from shared.examine.rules import RULES
from shared.examine.steps import (
    check_abrade,
    check_gate,
    check_journey,
    check_leg,
    check_order,
    check_pin,
    check_stage,
)
from shared.examine.walk import every_value
from shared.findings import Finding
from shared.value import Value
from shared.worktime import Shift

_Check = Callable[[Any, Path, Look], None]


def _check_offer(offer: Offer, path: Path, look: Look) -> None:
    known = {each for owner in look.owners.values() for each in owner}
    for index, about in enumerate(offer.about):
        if about not in known:
            near = look.nearest(about, known)
            look.add("offer_about_unknown", (*path, "about", index), id=about, nearest=near)


_CHECKS: dict[type[Value], tuple[_Check, ...]] = {
    Book: (check_facts, check_climate, check_suppliers),
    Workshop: (check_workshop, check_way_out, check_figures),
    Shift: (check_shift,),
    Client: (check_calendar,),
    Site: (check_calendar,),
    Place: (check_place,),
    Person: (check_person,),
    Offer: (_check_offer, check_heating),
    Job: (check_job, check_order, check_measures, check_agreed, check_way_in, check_arranged),
    Window: (check_window, check_blocked),
    Segment: (check_segment, check_segment_route, check_turns),
    Route: (check_route,),
    Stage: (check_stage, check_recoat, check_move, check_lift),
    Way: (check_kinds,),
    Gate: (check_gate,),
    Abrade: (check_abrade,),
    Pin: (check_pin,),
    Journey: (check_journey, check_ways_to_go),
    Leg: (check_leg, check_leg_zone, check_sailings, check_road, check_slots),
    Timetable: (check_timetable,),
    RoadShare: (check_share,),
    Means: (check_means,),
    Driving: (check_driving,),
    Arrangement: (check_arrangement,),
    Notice: (check_notice,),
    Need: (check_need,),
    EquipmentNeed: (check_equipment_need,),
    Fact: (check_fact,),
    Supplier: (check_calendar,),
    Material: (check_material,),
    Delivery: (check_delivery,),
}


def examine(book: Book) -> tuple[Finding, ...]:
    """Give everything in a book that contradicts itself or deserves a look.

    In the order of the file; those about ids first. The plan and the told plan are not looked
    at: they are held against the book by the check.
    """
    look = Look(book)
    check_ids(look)
    for path, value in every_value(book):
        for rule in RULES.get(type(value), ()):
            rule(value, path, look)
        for check in _CHECKS.get(type(value), ()):
            check(value, path, look)
    return tuple(look.found)
