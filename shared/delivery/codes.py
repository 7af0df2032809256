"""Codes for what stands in the way of a delivery, and for what is to be known about it."""

from enum import StrEnum


class Trouble(StrEnum):
    """Why a choice has no departure in time.

    site_too_short: the legs on site don't fit before the window's end, whenever one comes.
    no_sailing: a leg has no sailing before the window's end. sailing_missed: none of them is
    reached from the workshop and gets there in time, even by a lorry without a driver.
    weekly_rest_due: in time but for a weekly rest that has to be taken. crew_hours: the lorry is in
    time, but whoever rides along has no hours left for the site. window_past: the last departure
    lies before the first that is asked for. no_departure: the exact search, or the road alone,
    rules every departure out.
    """

    SITE_TOO_SHORT = "site_too_short"
    NO_SAILING = "no_sailing"
    SAILING_MISSED = "sailing_missed"
    WEEKLY_REST_DUE = "weekly_rest_due"
    CREW_HOURS = "crew_hours"
    WINDOW_PAST = "window_past"
    NO_DEPARTURE = "no_departure"


class Note(StrEnum):
    """What is to be known about a choice.

    stricter_rules: which drivers' hours hold is not known, so the stricter are taken.
    mass_unknown: no mass of a vehicle is given, so bans hold as for the heaviest.
    home_not_judged: hours of the way home are not judged. reserve_kept: of daily limits.
    check_in_usual: a timetable says no check-in, so it is as usual (TR15).
    """

    STRICTER_RULES = "stricter_rules"
    MASS_UNKNOWN = "mass_unknown"
    HOME_NOT_JUDGED = "home_not_judged"
    RESERVE_KEPT = "reserve_kept"
    CHECK_IN_USUAL = "check_in_usual"
