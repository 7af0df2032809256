"""Every finding there is: its code, whether it stops, and the facts that come with it.

App's catalogue has a sentence and a cure for each; a test holds the two against each other.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from shared.findings import Fact, Finding


@dataclass(frozen=True, slots=True)
class Entry:
    """What is fixed about a code: the names of its facts, in order, and whether it stops."""

    facts: tuple[str, ...] = ()
    stops: bool = True


def _stops(*facts: str) -> Entry:
    return Entry(facts)


def _tells(*facts: str) -> Entry:
    return Entry(facts, stops=False)


_FILE = {
    # The file as a whole.
    "too_big": _stops("limit_megabytes"),
    "not_utf8": _stops("byte"),
    "not_json": _stops("line", "column"),
    "too_deep": _stops("limit"),
    "not_countback": _stops("wanted"),
    "wrong_kind": _stops("kind", "wanted"),
    "bad_format": _stops("value"),
    "newer_format": _stops("format", "known"),
    "more_findings": _tells("count"),
    "locked": _stops("who", "host", "pid", "since", "stale"),
    # Any part of it.
    "doubled_field": _stops("field"),
    "missing_field": _stops("field"),
    "unknown_field": _tells("field", "nearest"),
    "wrong_type": _stops("wanted", "found", "value"),
    "broken_text": _stops("value"),
    "unknown_word": _stops("word", "nearest", "known"),
    # Numbers and dates.
    "not_a_number": _stops("value"),
    "not_whole": _stops("value"),
    "number_too_large": _stops("value", "limit"),
    "number_too_fine": _stops("value", "limit"),
    "bad_date": _stops("value"),
    "bad_time": _stops("value"),
    "bad_instant": _stops("value"),
    "instant_without_offset": _stops("value"),
    "year_out_of_range": _stops("value", "first", "last"),
    "break_without_length": _stops(),
    "not_allowed": _stops(),
}

_BOOK = {
    # Names and references. sort: job, segment, step, person, place, equipment, ...
    "id_empty": _stops("sort"),
    "id_doubled": _stops("sort", "id"),
    "name_empty": _tells("sort"),
    "unknown_id": _stops("sort", "id", "nearest"),
    "id_of_other_job": _stops("sort", "id", "job"),
    "named_twice": _tells("sort", "id"),
    "offer_about_unknown": _tells("id", "nearest"),
    # Numbers, days and instants, wherever they stand.
    "below_zero": _stops("field", "value"),
    "not_above_zero": _stops("field", "value"),
    "above_limit": _stops("field", "value", "limit"),
    "low_above_high": _stops("low", "high"),
    "days_reversed": _stops("first", "last"),
    "ends_before_start": _stops("start", "end"),
    # The workshop and the hours.
    "no_shifts": _stops(),
    "shift_without_days": _tells(),
    "break_outside_shift": _tells("start", "end"),
    "unknown_zone": _stops("zone", "nearest"),
    "unknown_country": _stops("country"),
    "unknown_subdivision": _stops("country", "subdivision"),
    "unknown_holiday_category": _stops("country", "category"),
    "useful_above_shift": _stops("useful_hours", "shift_hours"),
    "unknown_month": _stops("month"),
    "odd_currency": _tells("currency"),
    "figure_unknown": _stops("figure", "nearest"),
    "figure_doubled": _stops("figure"),
    "break_part_over": _stops(),
    # Places and people.
    "place_with_area_and_slots": _stops("area_m2", "slots"),
    "stands_where_nothing_stands": _tells("place"),
    "booking_without_area": _tells("area_m2"),
    "no_place_of_kind": _tells("kind"),
    "lifted_alone": _tells("mass_kg", "limit_kg"),
    "skill_doubled": _tells("skill"),
    "freelance_without_days": _tells(),
    "engaged_too_short": _tells("days_count", "least_count"),
    "cancel_soon": _tells("until", "first"),
    # Jobs.
    "job_without_window": _stops(),
    "window_over": _tells("end", "as_of"),
    "pencilled_without_date": _stops(),
    "pencilled_over": _tells("until", "as_of"),
    "date_but_not_pencilled": _tells("standing"),
    "job_without_segments": _tells(),
    "job_without_steps": _tells(),
    "job_without_loading": _tells(),
    "segment_without_work": _tells("segment"),
    "segment_without_loading": _tells("segment"),
    "several_loadings": _stops("segment"),
    "several_journeys": _stops("segment"),
    "segment_without_size": _tells("segment"),
    # The way out and in. spare_mm, over_mm: whole numbers; dimension: width, height or length.
    "opening_not_measured": _tells("opening"),
    "way_out_unknown": _tells(),
    "way_in_unknown": _tells("site"),
    "segment_size_for_opening": _tells("segment", "opening"),
    "close_fit": _tells("segment", "opening", "dimension", "spare_mm"),
    "vehicle_not_measured": _tells("segment", "opening", "dimension", "over_mm"),
    "weigh_it": _tells("segment", "equipment"),
    "turn_unknown": _tells("word", "nearest"),
    "no_way_round": _tells("segment"),
    # Steps.
    "stage_without_ways": _stops(),
    "need_without_hands": _stops("skill"),
    "hours_out_of_order": _stops("low", "likely", "high"),
    "skill_of_nobody": _tells("skill", "nearest"),
    "too_few_for_need": _tells("skill", "wanted", "there"),
    "too_few_equipment": _tells("equipment", "wanted", "there"),
    "asked_person_cannot": _tells("person"),
    "certificate_of_nobody": _tells("certificate", "nearest"),
    "ring": _stops("steps"),
    "most_below_least": _stops("least_hours", "most_hours"),
    "recoat_before_cured": _stops("cure_hours", "recoat_hours"),
    "temperatures_reversed": _stops("coldest", "warmest"),
    "recoat_bands_out_of_order": _stops("upto", "before"),
    "recoat_band_before_cured": _stops("upto", "most_hours", "cure_hours"),
    "recoat_hours_beside_bands": _tells("recoat_hours"),
    # The weather.
    "temperature_unknown": _tells("step", "celsius"),
    "months_without_temperature": _tells("months", "celsius"),
    "humidity_unknown": _tells("step"),
    "heating_incomplete": _stops("field"),
    "heating_of_no_place": _stops("id"),
    "pin_before_now": _tells("at", "as_of"),
    "pin_contradicts": _stops("start", "day", "not_before"),
    "rework_missing": _tells("allow_no"),
    # Ways of making. taken: what is taken instead.
    "rule_doubled": _tells("step"),
    "option_unknown": _tells("option", "nearest"),
    "measure_missing": _tells("segment", "field", "taken"),
    # The journey.
    "journey_without_legs": _stops(),
    "journey_without_inside": _tells(),
    "leg_without_time": _stops("leg"),
    "sailing_without_departures": _stops(),
    "departures_out_of_order": _stops("leaves", "before"),
    "opens_without_zone": _stops("leg"),
    # first, last, end: days or instants; start, end of a timetable: hours.
    "timetable_without_days": _stops(),
    "unknown_weekday": _stops("weekday"),
    "lands_before_it_leaves": _stops("start", "end"),
    "season_over": _tells("last", "first"),
    "season_later": _tells("first", "end"),
    "departures_elsewhere": _tells("leg", "first", "end"),
    "bunk_unsaid": _tells("leg"),
    "leg_without_country": _stops("leg"),
    "minutes_at_the_wheel": _tells("leg", "minutes"),
    "shares_not_whole": _stops("total"),
    "unknown_area": _stops("area", "nearest"),
    "faster_than_lorries": _tells("speed_kmh", "limit"),
    "unknown_rules": _stops("rules", "nearest", "known"),
    "rules_of_two": _stops(),
    "slot_outside_window": _tells("leg", "start", "end"),
    "blocked_outside_window": _tells("start", "end"),
    "travel_leg_on_site": _stops("leg"),
    "travel_without_legs": _tells(),
    "return_not_last": _stops("leg"),
    "drivers_count": _stops("drivers"),
    "drivers_not_as_named": _stops("named", "drivers"),
    "driving_rows": _stops("rows", "drivers"),
    "rest_ends_later": _stops("ended", "as_of"),
    "means_without_vehicle": _tells("means"),
    "vehicles_beside_means": _tells(),
    "not_a_vehicle": _tells("equipment"),
    "mass_unknown": _tells("equipment"),
    "abnormal_unsaid": _tells("segment", "width_m", "limit"),
    # What is arranged with others, and notices.
    "not_a_journey": _stops("step"),
    "leg_of_no_journey": _stops("leg"),
    "no_such_leg": _stops("leg", "legs"),
    # What has happened.
    "fact_fits_not": _stops("kind", "step"),
    "answer_missing": _stops(),
    "changes_missing": _tells("step"),
    "remaining_missing": _stops(),
    "held_missing": _stops(),
    "fact_doubled": _tells("kind", "step"),
    "fact_after_now": _tells("at", "as_of"),
    "uncertified_at_work": _tells("person", "certificate"),
    # Material, and the days on the way to a firm job.
    "material_without_supplier": _tells("material"),
    "foam_not_in_blocks": _tells("unit"),
    "quote_over": _tells("until", "as_of"),
    "deposit_overdue": _tells("due", "as_of"),
}

CODES: Mapping[str, Entry] = MappingProxyType({**_FILE, **_BOOK})
"""Each code with its entry."""


def finding(code: str, path: tuple[str | int, ...], name: str, **facts: Fact) -> Finding:
    """Make a finding of a known code, its facts in their order.

    Raises
    ------
    KeyError
        If the code is not known or one of its facts is missing.
    ValueError
        If there are facts that the code doesn't have.
    """
    entry = CODES[code]
    if facts.keys() - set(entry.facts):
        raise ValueError(f"facts that {code} doesn't have: {sorted(facts)}")
    told = tuple((key, facts[key]) for key in entry.facts)
    return Finding(code=code, path=path, name=name, facts=told, stops=entry.stops)
