"""The figure behind each limit of a set of rules, as the data of the rule sets name it."""

import json
from functools import cache
from importlib.resources import files

from scheduler.rules import Limit
from shared.road.rules import HoursRules

_FIELDS = {
    Limit.UNBROKEN_DRIVING: "drive_unbroken",
    Limit.DAILY_DRIVING: "drive_extended",
    Limit.LONG_DAYS: "extensions",
    Limit.WEEKLY_DRIVING: "drive_week",
    Limit.FORTNIGHTLY_DRIVING: "drive_fortnight",
    Limit.UNBROKEN_WORK: "work_unbroken",
    Limit.DAILY_WORK: "work_daily",
    Limit.BREAKS: "medium_break",
    Limit.DAILY_REST: "rest_within",
    Limit.FERRY_REST: "interruptions",
    Limit.WEEKLY_REST: "weekly_rest_after",
}


def figure_behind(rules: HoursRules, limit: Limit) -> str:
    """Give the id of the figure behind a limit, empty for rules that no data name."""
    told = _told().get(rules.id, {})
    return told.get(_FIELDS[limit], "")


@cache
def _told() -> dict[str, dict[str, str]]:
    text = files("shared.road").joinpath("data", "rules.json").read_text(encoding="utf-8")
    return {name: each["figures"] for name, each in json.loads(text).items()}
