"""The hours: shifts, zones, holidays, and what a day of work holds."""

from datetime import time
from functools import cache

from shared.book import Client, Leg, Site, Supplier, Workshop
from shared.examine.known_calendars import has_holidays
from shared.examine.look import Look, Path
from shared.worktime import Break, Shift, is_known_zone

_DAY_SECONDS = 24 * 60 * 60


def check_workshop(workshop: Workshop, path: Path, look: Look) -> None:
    """Hold that the workshop has hours, holidays and a currency that can be understood."""
    if not any(shift.days for shift in workshop.shifts):
        look.add("no_shifts", (*path, "shifts"))
    if 0 < workshop.shift_hours < workshop.useful_hours:
        lengths = {"useful_hours": workshop.useful_hours, "shift_hours": workshop.shift_hours}
        look.add("useful_above_shift", (*path, "useful_hours"), **lengths)
    money = workshop.currency
    if not (len(money) == 3 and money.isascii() and money.isalpha() and money.isupper()):
        look.add("odd_currency", (*path, "currency"), currency=money)
    check_calendar(workshop, path, look)


def check_calendar(where: Workshop | Client | Site | Supplier, path: Path, look: Look) -> None:
    """Hold that zone, country, subdivision and categories of holidays are known."""
    check_zone(where.zone, (*path, "zone"), look)
    categories = () if isinstance(where, Site) else where.holiday_categories
    if not has_holidays(where.country, None, ()):
        look.add("unknown_country", (*path, "country"), country=where.country)
    elif where.subdivision is not None and not has_holidays(where.country, where.subdivision, ()):
        told = {"country": where.country, "subdivision": where.subdivision}
        look.add("unknown_subdivision", (*path, "subdivision"), **told)
    else:
        _check_categories(where, categories, (*path, "holiday_categories"), look)


def _check_categories(
    where: Workshop | Client | Site | Supplier, categories: tuple[str, ...], path: Path, look: Look
) -> None:
    for index, category in enumerate(categories):
        if not has_holidays(where.country, where.subdivision, (category,)):
            told = {"country": where.country, "category": category}
            look.add("unknown_holiday_category", (*path, index), **told)


def check_zone(zone: str, path: Path, look: Look) -> None:
    """Hold that a zone is known."""
    if not is_known_zone(zone):
        look.add("unknown_zone", path, zone=zone, nearest=look.nearest(zone, _zones()))


@cache
def _zones() -> tuple[str, ...]:
    from zoneinfo import available_timezones

    return tuple(sorted(available_timezones()))


def check_leg_zone(leg: Leg, path: Path, look: Look) -> None:
    """Hold that a leg's opening hours have a zone, and that it is known."""
    if leg.zone is not None:
        check_zone(leg.zone, (*path, "zone"), look)
    elif leg.opens:
        look.add("opens_without_zone", (*path, "zone"), leg=leg.name or leg.kind.value)


def check_shift(shift: Shift, path: Path, look: Look) -> None:
    """Hold that a shift has days and its breaks lie inside it."""
    if not shift.days:
        look.add("shift_without_days", (*path, "days"))
    for index, pause in enumerate(shift.breaks):
        if not _is_inside(pause, shift):
            where = (*path, "breaks", index)
            look.add("break_outside_shift", where, start=_text(pause.start), end=_text(pause.end))


def _is_inside(pause: Break, shift: Shift) -> bool:
    length = _seconds_after(shift.start, shift.end) or _DAY_SECONDS
    begins = _seconds_after(shift.start, pause.start)
    return begins + _seconds_after(pause.start, pause.end) <= length


def _seconds_after(first: time, second: time) -> int:
    return (_seconds(second) - _seconds(first)) % _DAY_SECONDS


def _seconds(at: time) -> int:
    return (at.hour * 60 + at.minute) * 60 + at.second


def _text(at: time) -> str:
    return at.isoformat("seconds" if at.second else "minutes")
