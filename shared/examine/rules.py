"""Rules that hold for every value of a class, wherever it stands: one table, no cases."""

from collections.abc import Callable
from decimal import Decimal
from operator import attrgetter
from typing import Any

from shared.book import (
    Abrade,
    After,
    Apart,
    Arrangement,
    Booking,
    Certificate,
    Client,
    Closure,
    Delivery,
    Departure,
    Driving,
    Engaged,
    Equipment,
    EquipmentNeed,
    ExtraHours,
    Fact,
    Gate,
    Hours,
    Job,
    Journey,
    Leave,
    Leg,
    Material,
    MaterialNeed,
    Means,
    Need,
    Notice,
    Offer,
    Opening,
    OtherWork,
    OwnFigure,
    Person,
    Pin,
    Place,
    Reading,
    RecoatBand,
    RoadShare,
    Route,
    RouteRule,
    Segment,
    Site,
    Skill,
    Stage,
    Supplier,
    Temperature,
    Timetable,
    Way,
    Window,
    Workshop,
)
from shared.examine.look import Look, Path
from shared.value import Value

Part = Any
"""A value of the class under which a rule stands in the table."""

Rule = Callable[[Part, Path, Look], None]


def refers(sort: str, field: str) -> Rule:
    """Make the rule that a field names known things, and each but once."""
    get = attrgetter(field)

    def rule(value: Part, path: Path, look: Look) -> None:
        named = get(value)
        if isinstance(named, tuple):
            for index, each in enumerate(named):
                look.refer(sort, each, (*path, field, index))
            _check_once(sort, named, (*path, field), look)
        elif named is not None:
            look.refer(sort, named, (*path, field))

    return rule


def _check_once(sort: str, named: tuple[str, ...], path: Path, look: Look) -> None:
    if len(set(named)) < len(named):
        for index, each in enumerate(named):
            if each in named[:index]:
                look.add("named_twice", (*path, index), sort=sort, id=each)


def not_below_zero(*fields: str) -> Rule:
    """Make the rule that numbers are 0 or more where they are given."""
    return _bounded("below_zero", lambda number: number < 0, fields)


def above_zero(*fields: str) -> Rule:
    """Make the rule that numbers are more than 0 where they are given."""
    return _bounded("not_above_zero", lambda number: number <= 0, fields)


def _bounded(code: str, is_wrong: Callable[[Any], bool], fields: tuple[str, ...]) -> Rule:
    getters = tuple((field, attrgetter(field)) for field in fields)

    def rule(value: Part, path: Path, look: Look) -> None:
        for field, get in getters:
            number = get(value)
            if number is not None and is_wrong(number):
                look.add(code, (*path, field), field=field, value=_plain(number))

    return rule


def _plain(number: int | Decimal) -> str:
    return f"{Decimal(number):f}"


def at_most(field: str, limit: int) -> Rule:
    """Make the rule that a number does not pass a limit."""

    def rule(value: Part, path: Path, look: Look) -> None:
        number = getattr(value, field)
        if number is not None and number > limit:
            told = {"field": field, "value": _plain(number), "limit": limit}
            look.add("above_limit", (*path, field), **told)

    return rule


def starts_first(value: Part, path: Path, look: Look) -> None:
    """Hold that a stretch starts before it ends."""
    if value.start >= value.end:
        look.add("ends_before_start", (*path, "end"), start=value.start, end=value.end)


def days_in_order(first: str, last: str) -> Rule:
    """Make the rule that the first day is not after the last."""

    def rule(value: Part, path: Path, look: Look) -> None:
        begins, ends = getattr(value, first), getattr(value, last)
        if begins is not None and ends is not None and begins > ends:
            look.add("days_reversed", (*path, last), first=begins, last=ends)

    return rule


def has_name(sort: str) -> Rule:
    """Make the rule that a thing has a name to be called by."""

    def rule(value: Part, path: Path, look: Look) -> None:
        if not value.name.strip():
            look.add("name_empty", (*path, "name"), sort=sort)

    return rule


def arrives_later(value: Departure, path: Path, look: Look) -> None:
    """Hold that a departure arrives after it leaves."""
    if value.leaves >= value.arrives:
        where = (*path, "arrives")
        look.add("ends_before_start", where, start=value.leaves, end=value.arrives)


def months_known(value: Temperature, path: Path, look: Look) -> None:
    """Hold that months are those of a year."""
    for index, month in enumerate(value.months):
        if not 1 <= month <= 12:
            look.add("unknown_month", (*path, "months", index), month=month)


def hours_in_order(value: Hours, path: Path, look: Look) -> None:
    """Hold that person-hours rise from low over likely to high."""
    if not value.low <= value.likely <= value.high:
        told = {"low": value.low, "likely": value.likely, "high": value.high}
        look.add("hours_out_of_order", path, **told)


def most_above_least(value: After, path: Path, look: Look) -> None:
    """Hold that the greatest wait is not below the least."""
    if value.most_hours is not None and value.most_hours < value.least_hours:
        waits = {"least_hours": value.least_hours, "most_hours": value.most_hours}
        look.add("most_below_least", (*path, "most_hours"), **waits)


def area_or_slots(value: Place, path: Path, look: Look) -> None:
    """Hold that a place is counted one way only."""
    if value.area_m2 is not None and value.slots is not None:
        look.add("place_with_area_and_slots", path, area_m2=value.area_m2, slots=value.slots)


def range_in_order(value: OwnFigure, path: Path, look: Look) -> None:
    """Hold that a figure lies within its range."""
    if value.low is not None and value.low > value.value:
        look.add("low_above_high", (*path, "low"), low=value.low, high=value.value)
    if value.high is not None and value.high < value.value:
        look.add("low_above_high", (*path, "high"), low=value.value, high=value.high)


def masses_in_order(value: Segment, path: Path, look: Look) -> None:
    """Hold that the least mass is not above the greatest."""
    low, high = value.mass_low_kg, value.mass_high_kg
    if low is not None and high is not None and low > high:
        look.add("low_above_high", (*path, "mass_high_kg"), low=low, high=high)


RULES: dict[type[Value], tuple[Rule, ...]] = {
    Workshop: (
        not_below_zero("longest_pause_days", "bridged_break_minutes", "watch_minutes"),
        not_below_zero("working_room_m", "standing_room_m", "wished_buffer_days", "rest_hours"),
        not_below_zero("pair_loss_percent", "wrap_m", "skates_m", "spare_m"),
        at_most("pair_loss_percent", 100),
        above_zero("useful_hours", "shift_hours"),
        at_most("shift_hours", 24),
    ),
    OwnFigure: (above_zero("value"), not_below_zero("low", "high"), range_in_order),
    Closure: (days_in_order("first", "last"),),
    Apart: (not_below_zero("minutes"),),
    Booking: (starts_first, not_below_zero("area_m2")),
    Temperature: (
        months_known,
        refers("place", "place"),
        not_below_zero("spread_celsius", "humidity_percent"),
        at_most("humidity_percent", 100),
    ),
    Reading: (
        refers("place", "place"),
        not_below_zero("humidity_percent"),
        at_most("humidity_percent", 100),
    ),
    Opening: (above_zero("width_m", "height_m", "length_m"),),
    Place: (
        has_name("place"),
        above_zero("area_m2", "slots"),
        not_below_zero("clear_out_minutes"),
        area_or_slots,
        days_in_order("usable_from", "usable_until"),
    ),
    Equipment: (
        has_name("equipment"),
        above_zero("gross_t", "trailer_t"),
        above_zero("count", "inside_length_m", "inside_width_m", "inside_height_m", "payload_kg"),
        above_zero("door_width_m", "door_height_m"),
        days_in_order("usable_from", "usable_until"),
    ),
    OtherWork: (
        starts_first,
        refers("person", "people"),
        refers("place", "places"),
        refers("equipment", "equipment"),
    ),
    Person: (
        has_name("person"),
        above_zero("pace"),
        not_below_zero("rate_per_hour", "day_rate", "least_days"),
        days_in_order("works_from", "works_until"),
    ),
    Skill: (),
    Certificate: (),
    Leave: (starts_first,),
    ExtraHours: (starts_first, not_below_zero("premium_per_hour")),
    Engaged: (days_in_order("first", "last"),),
    Offer: (
        not_below_zero("price", "notice_days", "limit_hours", "day_rate", "cure_hours"),
        not_below_zero("away_days", "answer_days"),
        above_zero("area_m2", "slots"),
        days_in_order("first", "last"),
    ),
    Job: (
        has_name("job"),
        refers("window", "window"),
        not_below_zero("wished_buffer_days", "price", "late_cost_per_day"),
        not_below_zero("chance_wanted_percent"),
        at_most("chance_wanted_percent", 100),
    ),
    Client: (not_below_zero("answer_days"),),
    Site: (),
    Window: (starts_first,),
    Segment: (
        has_name("segment"),
        above_zero("length_m", "width_m", "height_m", "surface_m2", "volume_m3"),
        not_below_zero("mass_low_kg", "mass_high_kg", "joints_m"),
        masses_in_order,
        refers("place", "stands"),
    ),
    Route: (has_name("route"),),
    RouteRule: (
        refers("step", "step"),
        above_zero("session_hours"),
        not_below_zero("session_recoat_hours"),
    ),
    Stage: (
        has_name("step"),
        refers("segment", "segments"),
        refers("person", "people"),
        refers("step", "same_people_as"),
        refers("place", "moves_to"),
        not_below_zero("cure_hours", "recoat_hours", "watch_minutes", "longest_pause_days"),
        not_below_zero("most_humidity_percent", "dew_point_margin_celsius"),
        at_most("most_humidity_percent", 100),
        not_below_zero("wet_hours"),
    ),
    Gate: (
        has_name("step"),
        refers("segment", "segments"),
        not_below_zero("cure_hours", "answer_days", "allow_no"),
        not_below_zero("chance_no_percent", "chance_changes_percent"),
        at_most("chance_no_percent", 100),
        at_most("chance_changes_percent", 100),
    ),
    Journey: (
        has_name("step"),
        refers("segment", "segments"),
        refers("person", "crew"),
        refers("equipment", "vehicles"),
        not_below_zero("back_minutes", "reserve_minutes", "stands_most_minutes"),
        refers("equipment", "travel_vehicles"),
        above_zero("longest_days"),
        at_most("longest_days", 31),
        at_most("reserve_minutes", 240),
    ),
    Leg: (
        not_below_zero("minutes", "cure_hours"),
        above_zero("driving_minutes", "distance_km", "speed_kmh", "hands", "person_hours"),
        at_most("driving_minutes", 20_000),
        at_most("distance_km", 20_000),
        at_most("person_hours", 10_000),
        at_most("cure_hours", 1_000),
        refers("equipment", "equipment"),
    ),
    Departure: (arrives_later, not_below_zero("check_in_minutes", "price")),
    Timetable: (
        not_below_zero("days_later", "check_in_minutes", "price"),
        at_most("days_later", 30),
        days_in_order("first", "last"),
    ),
    RoadShare: (above_zero("percent"), at_most("percent", 100)),
    Driving: (
        not_below_zero("reduced_rests", "long_days", "week_hours", "week_before_hours"),
        at_most("week_hours", 168),
        at_most("week_before_hours", 168),
    ),
    Means: (
        refers("equipment", "vehicles"),
        refers("person", "driven_by"),
        not_below_zero("price"),
    ),
    Arrangement: (not_below_zero("price", "cost_after"),),
    Notice: (not_below_zero("lead"), at_most("lead", 1000)),
    Abrade: (),
    RecoatBand: (not_below_zero("most_hours"),),
    After: (refers("step", "step"), not_below_zero("least_hours"), most_above_least),
    Pin: (refers("person", "people"),),
    Way: (refers("place", "places"), not_below_zero("area_m2", "cost")),
    Need: (not_below_zero("can", "helps"),),
    EquipmentNeed: (refers("equipment", "equipment"), above_zero("count")),
    Hours: (not_below_zero("low", "likely", "high"), hours_in_order),
    Fact: (
        refers("step", "step"),
        refers("person", "people"),
        refers("place", "place"),
        not_below_zero("remaining_hours"),
    ),
    Supplier: (has_name("supplier"), not_below_zero("lead_days", "transit_days")),
    Material: (
        has_name("material"),
        refers("supplier", "supplier"),
        above_zero("pack_size", "shelf_life_months", "store_cap"),
        not_below_zero("pack_price", "margin_days", "waste_percent", "join_days"),
        not_below_zero("moulded_days", "age_days", "counted"),
    ),
    MaterialNeed: (refers("material", "material"), above_zero("quantity")),
    Delivery: (refers("material", "material"), above_zero("quantity")),
}
"""For each class its rules; a class without an entry has none of its own."""
