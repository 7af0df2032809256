"""The codes of why a step can't be placed or a job can't keep its window."""

from enum import StrEnum


class Reason(StrEnum):
    """A reason, by code; it stands in Clash.code and Unplaced.code, the sentences are app's.

    The facts of a clash name ids by what they are: step, skill, place, equipment, person ...
    """

    NOBODY_CAN = "nobody_can"
    TOO_FEW_CAN = "too_few_can"
    NO_CERTIFICATE = "no_certificate"
    CERTIFICATE_OVER = "certificate_over"
    ASKED_CANNOT = "asked_cannot"
    NOBODY_ELSE = "nobody_else"
    OTHER_PEOPLE = "other_people"
    SANDING_TOO_LONG = "sanding_too_long"
    NO_WAY = "no_way"
    PLACE_UNKNOWN = "place_unknown"
    PLACE_TOO_SMALL = "place_too_small"
    FLOOR_TOO_SMALL = "floor_too_small"
    TOO_BIG = "too_big"
    TOO_HEAVY = "too_heavy"
    OPEN_SPRAYING = "open_spraying"
    NO_PLACE_OF_KIND = "no_place_of_kind"
    EQUIPMENT_TOO_FEW = "equipment_too_few"
    EQUIPMENT_OVER = "equipment_over"
    PLACE_OVER = "place_over"
    PIN_PAST = "pin_past"
    RECOAT_OVER = "recoat_over"
    TOO_COLD = "too_cold"
    TOO_WARM = "too_warm"
    TOO_DAMP = "too_damp"
    FOLLOWS_UNPLACED = "follows_unplaced"
    AFTER_JOURNEY = "after_journey"
    GONE = "gone"
    NO_WINDOW = "no_window"
    WINDOW_PAST = "window_past"
    NO_DEPARTURE = "no_departure"
    CREW_AWAY = "crew_away"
    CHAIN_TOO_LONG = "chain_too_long"
    ALONE_TOO_LONG = "alone_too_long"
    TOGETHER_TOO_MUCH = "together_too_much"
    NOT_PLACED = "not_placed"
    LATE = "late"
