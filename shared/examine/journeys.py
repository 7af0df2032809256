"""Journeys: timetables, drives, means, slots, what is arranged with others, and notices."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal

from shared.book import (
    AT_SEA,
    Arrangement,
    Driving,
    EquipmentKind,
    Job,
    Journey,
    Leg,
    LegKind,
    Means,
    Notice,
    RoadShare,
    Segment,
    Timetable,
    Window,
)
from shared.book.workshop import Booking
from shared.examine.hours import check_zone
from shared.examine.known_calendars import has_holidays
from shared.examine.look import Look, Path
from shared.ids import EquipmentId
from shared.worktime import is_known_zone, local_instant

_ON_THE_WAY = frozenset(
    {
        LegKind.LOAD,
        LegKind.DRIVE,
        LegKind.SAILING,
        LegKind.TRAIN,
        LegKind.BORDER,
        LegKind.WAIT,
    }
)
_YEAR_DAYS = 366
_DAY = timedelta(days=1)


def check_timetable(table: Timetable, path: Path, look: Look) -> None:
    """Hold that a timetable has days and zones, lands after it leaves, and is of this season."""
    if not table.weekdays:
        look.add("timetable_without_days", (*path, "weekdays"))
    for index, day in enumerate(table.weekdays):
        if not 1 <= day <= 7:
            look.add("unknown_weekday", (*path, "weekdays", index), weekday=day)
    check_zone(table.zone, (*path, "zone"), look)
    if table.arrives_zone is not None:
        check_zone(table.arrives_zone, (*path, "arrives_zone"), look)
    for length in _crossings(table):
        if length <= timedelta():
            where = (*path, "arrives")
            hours = {"start": _clock(table.leaves), "end": _clock(table.arrives)}
            look.add("lands_before_it_leaves", where, **hours)
            return


def _crossings(table: Timetable) -> list[timedelta]:
    """Give how long a crossing takes in winter and in summer; nothing if a zone is not known."""
    there = table.arrives_zone or table.zone
    if not (is_known_zone(table.zone) and is_known_zone(there)):
        return []
    year = 2026 if table.first is None else min(9000, table.first.year)
    later = min(30, max(0, table.days_later)) * _DAY
    return [
        local_instant(day + later, table.arrives, there, opening=False)
        - local_instant(day, table.leaves, table.zone, opening=True)
        for day in (date(year, 1, 15), date(year, 7, 15))
    ]


def _clock(at: time) -> str:
    return at.isoformat("minutes")


def check_sailings(leg: Leg, path: Path, look: Look) -> None:
    """Hold that a leg by timetable can have a departure before a window of its job ends."""
    if leg.kind not in AT_SEA or not (leg.timetable or leg.departures):
        return
    home, journey = look.home(path), journey_of(path, look)
    if journey is not None and leg.bunk is None and is_judged(journey):
        _check_bunk(leg, path, look)
    if not isinstance(home, Job) or not home.windows or journey is None:
        return
    first = min(_earliest(window, journey, look) for window in home.windows)
    end = max(window.end for window in home.windows)
    for index, table in enumerate(leg.timetable):
        where = (*path, "timetable", index)
        if table.last is not None and table.last < first.date():
            look.add("season_over", (*where, "last"), last=table.last, first=first.date())
        if table.first is not None and table.first > end.date():
            look.add("season_later", (*where, "first"), first=table.first, end=end.date())
    if not leg.timetable and not any(first <= each.leaves < end for each in leg.departures):
        where = (*path, "departures")
        look.add("departures_elsewhere", where, leg=_label(leg), first=first, end=end)


def _check_bunk(leg: Leg, path: Path, look: Look) -> None:
    """Tell of a crossing that is long enough for a rest, where a bunk is not spoken of."""
    from shared.trade import figure

    lengths = [each.arrives - each.leaves for each in leg.departures]
    lengths += [length for table in leg.timetable for length in _crossings(table)]
    if max(lengths, default=timedelta()) >= timedelta(hours=float(figure("DR04d").amount)):
        look.add("bunk_unsaid", (*path, "bunk"), leg=_label(leg))


def _earliest(window: Window, journey: Journey, look: Look) -> datetime:
    """Give before what no departure to a window is of use; two days are left for the zones."""
    from shared.delivery.asked import BEFORE_WINDOW, USUAL_DAYS

    days = USUAL_DAYS if journey.longest_days is None else int(journey.longest_days)
    days = min(_YEAR_DAYS, max(0, days)) if is_judged(journey) else _YEAR_DAYS
    length = timedelta(days=days) + BEFORE_WINDOW + 2 * _DAY
    start = window.start.astimezone(UTC)
    soonest = start - length if start.year > 2 else start
    return soonest if look.as_of is None else max(soonest, look.as_of - _DAY)


def check_road(leg: Leg, path: Path, look: Look) -> None:
    """Hold that a drive that is judged has its countries, and what is written of it is known."""
    if leg.country is not None:
        _check_country(leg.country, None, path, look)
    if leg.rules is not None:
        check_rules_id(leg.rules, (*path, "rules"), look)
    if leg.shares:
        total = sum((share.percent for share in leg.shares), Decimal(0))
        if total != 100:
            look.add("shares_not_whole", (*path, "shares"), total=total)
    if leg.speed_kmh is not None:
        _check_speed(leg, path, look)
    if leg.kind is LegKind.DRIVE:
        _check_drive(leg, path, look)


def _check_drive(leg: Leg, path: Path, look: Look) -> None:
    journey = journey_of(path, look)
    if journey is None or not is_judged(journey):
        return
    if leg.country is None and not leg.shares:
        look.add("leg_without_country", (*path, "country"), leg=_label(leg))
    if leg.driving_minutes is None and leg.distance_km is None and leg.minutes > 0:
        look.add("minutes_at_the_wheel", (*path, "minutes"), leg=_label(leg), minutes=leg.minutes)


def _check_speed(leg: Leg, path: Path, look: Look) -> None:
    from shared.trade import figure

    limit = figure("TR22a").amount
    if leg.speed_kmh is not None and leg.speed_kmh > limit:
        where = (*path, "speed_kmh")
        look.add("faster_than_lorries", where, speed_kmh=leg.speed_kmh, limit=limit)


def check_share(share: RoadShare, path: Path, look: Look) -> None:
    """Hold that country, part and area of a road are known."""
    _check_country(share.country, share.subdivision, path, look)
    if share.area:
        from shared.road.bans import areas

        if share.area not in areas():
            near = look.nearest(share.area, areas())
            look.add("unknown_area", (*path, "area"), area=share.area, nearest=near)


def _check_country(country: str, subdivision: str | None, path: Path, look: Look) -> None:
    if not has_holidays(country, None, ()):
        look.add("unknown_country", (*path, "country"), country=country)
    elif subdivision is not None and not has_holidays(country, subdivision, ()):
        told = {"country": country, "subdivision": subdivision}
        look.add("unknown_subdivision", (*path, "subdivision"), **told)


def check_rules_id(rules_id: str, path: Path, look: Look) -> None:
    """Hold that a set of drivers' hours is one that there is."""
    from shared.road.rules import RULE_SETS

    if rules_id not in RULE_SETS:
        near = look.nearest(rules_id, RULE_SETS)
        known = ", ".join(RULE_SETS)
        look.add("unknown_rules", path, rules=rules_id, nearest=near, known=known)


def check_slots(leg: Leg, path: Path, look: Look) -> None:
    """Hold that slots of a leg inside the window lie in a window of the job."""
    home = look.home(path)
    if not leg.slots or not leg.inside or not isinstance(home, Job) or not home.windows:
        return
    for index, slot in enumerate(leg.slots):
        if not any(_meet(slot, window) for window in home.windows):
            told = {"start": slot.start, "end": slot.end}
            look.add("slot_outside_window", (*path, "slots", index), leg=_label(leg), **told)


def check_blocked(window: Window, path: Path, look: Look) -> None:
    """Hold that stretches in which other trades have the site lie in the window."""
    for index, each in enumerate(window.blocked):
        if not _meet(each, window):
            told = {"start": each.start, "end": each.end}
            look.add("blocked_outside_window", (*path, "blocked", index), **told)


def _meet(stretch: Booking, window: Window) -> bool:
    return stretch.start < window.end and window.start < stretch.end


def check_means(means: Means, path: Path, look: Look) -> None:
    """Hold that a means has drivers as many as it says, vehicles, and rules that there are."""
    if means.drivers not in (1, 2):
        look.add("drivers_count", (*path, "drivers"), drivers=means.drivers)
    if means.driven_by and len(means.driven_by) != means.drivers:
        counts = {"named": len(means.driven_by), "drivers": means.drivers}
        look.add("drivers_not_as_named", (*path, "driven_by"), **counts)
    if means.driving and len(means.driving) != means.drivers:
        rows = {"rows": len(means.driving), "drivers": means.drivers}
        look.add("driving_rows", (*path, "driving"), **rows)
    if means.rules is not None:
        check_rules_id(means.rules, (*path, "rules"), look)
    if means.rules == "eu_two_drivers" and means.drivers == 1:
        look.add("rules_of_two", (*path, "rules"))
    if not means.vehicles:
        look.add("means_without_vehicle", (*path, "vehicles"), means=means.name or means.id)


def check_driving(driving: Driving, path: Path, look: Look) -> None:
    """Hold that a weekly rest ended before the moment that the hours speak of."""
    ended = driving.weekly_rest_ended
    if ended is not None and ended > driving.as_of:
        look.add("rest_ends_later", (*path, "weekly_rest_ended"), ended=ended, as_of=driving.as_of)


def check_ways_to_go(journey: Journey, path: Path, look: Look) -> None:
    """Hold that means are told apart, vehicles are some, and legs stand where they belong."""
    _check_means_ids(journey, path, look)
    if journey.means and journey.vehicles:
        look.add("vehicles_beside_means", (*path, "vehicles"))
    if journey.travel_vehicles and not journey.travel:
        look.add("travel_without_legs", (*path, "travel_vehicles"))
    for index, leg in enumerate(journey.travel):
        if leg.kind not in _ON_THE_WAY:
            where = (*path, "travel", index, "kind")
            look.add("travel_leg_on_site", where, leg=_label(leg))
    for index in _early_returns(journey):
        where = (*path, "legs", index, "kind")
        look.add("return_not_last", where, leg=_label(journey.legs[index]))
    if is_judged(journey):
        _check_vehicles(journey, path, look)
        _check_abnormal(journey, path, look)


def _check_means_ids(journey: Journey, path: Path, look: Look) -> None:
    seen: set[str] = set()
    for index, means in enumerate(journey.means):
        where = (*path, "means", index, "id")
        if not means.id.strip():
            look.add("id_empty", where, sort="means")
        elif means.id in seen:
            look.add("id_doubled", where, sort="means", id=means.id)
        seen.add(means.id)


def _early_returns(journey: Journey) -> Iterator[int]:
    for index, (leg, after) in enumerate(zip(journey.legs, journey.legs[1:], strict=False)):
        if leg.kind is LegKind.RETURN and after.kind is not LegKind.RETURN:
            yield index


def _check_vehicles(journey: Journey, path: Path, look: Look) -> None:
    """Tell of things that are no vehicles, and of masses that drivers' hours would go by."""
    known = {each.id: each for each in look.book.equipment}
    for where, each in _vehicles_of(journey, path):
        vehicle = known.get(each)
        if vehicle is None:
            continue
        if vehicle.kind is not EquipmentKind.VEHICLE:
            look.add("not_a_vehicle", where, equipment=vehicle.name or vehicle.id)
        elif vehicle.gross_t is None:
            look.add("mass_unknown", where, equipment=vehicle.name or vehicle.id)


def _check_abnormal(journey: Journey, path: Path, look: Look) -> None:
    """Tell of pieces that are abnormal on a British road, where a means doesn't say so."""
    home = look.home(path)
    unsaid = [at for at, means in enumerate(journey.means) if means.abnormal is None]
    if not unsaid or not isinstance(home, Job) or "GB" not in _countries(journey):
        return
    from shared.trade import figure

    limit = figure("TR03a").amount
    over = set(journey.segments or (each.id for each in home.segments))
    for segment in home.segments:
        width = _least_width(segment)
        if segment.id in over and width is not None and width > limit:
            told = {"segment": segment.name or segment.id, "width_m": width, "limit": limit}
            for at in unsaid:
                look.add("abnormal_unsaid", (*path, "means", at, "abnormal"), **told)
            return


def _least_width(segment: Segment) -> Decimal | None:
    """Give how wide a piece is at least on the road: as made, or any way where none is named."""
    flat, height = (segment.length_m, segment.width_m), segment.height_m
    sizes = flat if segment.turns else (*flat, height)
    known = [size for size in sizes if size is not None]
    return min(known) if len(known) == len(sizes) else None


def _countries(journey: Journey) -> set[str | None]:
    drives = [leg for leg in journey.legs if leg.kind is LegKind.DRIVE]
    shared = {share.country for leg in drives for share in leg.shares}
    return shared | {leg.country for leg in drives if not leg.shares}


def _vehicles_of(journey: Journey, path: Path) -> Iterator[tuple[Path, EquipmentId]]:
    """Give the vehicles that a journey may go by, each with its place."""
    if not journey.means:
        for index, each in enumerate(journey.vehicles):
            yield (*path, "vehicles", index), each
    for at, means in enumerate(journey.means):
        for index, each in enumerate(means.vehicles):
            yield (*path, "means", at, "vehicles", index), each


def check_arranged(job: Job, path: Path, look: Look) -> None:
    """Hold that what is arranged, and notices, have ids of their own within a job."""
    for sort, field in (("arrangement", "arrangements"), ("notice", "notices")):
        seen: set[str] = set()
        for index, each in enumerate(getattr(job, field)):
            where = (*path, field, index, "id")
            if not each.id.strip():
                look.add("id_empty", where, sort=sort)
            elif each.id in seen:
                look.add("id_doubled", where, sort=sort, id=each.id)
            seen.add(each.id)


def check_arrangement(arranged: Arrangement, path: Path, look: Look) -> None:
    """Hold that an arrangement serves a leg that there is, and ends after it starts."""
    start, end = arranged.start, arranged.end
    if start is not None and end is not None and start >= end:
        look.add("ends_before_start", (*path, "end"), start=start, end=end)
    journey = _check_journey(arranged.journey, path, look)
    if arranged.leg is None:
        return
    if arranged.journey is None:
        look.add("leg_of_no_journey", (*path, "leg"), leg=arranged.leg)
    elif journey is not None and not 1 <= arranged.leg <= len(journey.legs):
        counts = {"leg": arranged.leg, "legs": len(journey.legs)}
        look.add("no_such_leg", (*path, "leg"), **counts)


def check_notice(notice: Notice, path: Path, look: Look) -> None:
    """Hold that a notice has an office whose days and clock are known, and a journey."""
    if notice.country is not None:
        _check_country(notice.country, notice.subdivision, path, look)
    if notice.zone is not None:
        check_zone(notice.zone, (*path, "zone"), look)
    _check_journey(notice.journey, path, look)


def _check_journey(step: str | None, path: Path, look: Look) -> Journey | None:
    """Give the journey of an id; note it if it is none of this job."""
    if step is None:
        return None
    look.refer("step", step, (*path, "journey"))
    home = look.home(path)
    found = next((each for each in home.steps if each.id == step), None) if home else None
    if found is not None and not isinstance(found, Journey):
        look.add("not_a_journey", (*path, "journey"), step=found.name or found.id)
    return found if isinstance(found, Journey) else None


def is_judged(journey: Journey) -> bool:
    """Say whether a journey is held against drivers' hours."""
    from shared.delivery.judged import is_judged as judged

    return judged(journey)


def journey_of(path: Path, look: Look) -> Journey | None:
    """Give the journey in which a path lies."""
    home = look.home(path)
    if home is None or len(path) < 4 or path[2] != "steps" or not isinstance(path[3], int):
        return None
    step = home.steps[path[3]]
    return step if isinstance(step, Journey) else None


def _label(leg: Leg) -> str:
    return leg.name or leg.kind.value
