"""Which files hold the rules that are mutated."""

from pathlib import Path

from tests.house.tree import ROOT

TESTS = (
    "tests/published/worked/test_*.py",
    "tests/scheduler/check/**/test_*.py",
    "tests/scheduler/test_*climate.py",
    "tests/scheduler/test_abrading.py",
    "tests/scheduler/test_away.py",
    "tests/scheduler/test_delivering.py",
    "tests/scheduler/test_departing.py",
    "tests/scheduler/test_floor.py",
    "tests/scheduler/test_going.py",
    "tests/scheduler/test_journey*.py",
    "tests/scheduler/test_model_rules.py",
    "tests/scheduler/test_several_trips.py",
    "tests/scheduler/test_spraying.py",
    "tests/scheduler/test_takes_off.py",
    "tests/scheduler/test_trip_times.py",
    "tests/shared/delivery/test_*.py",
    "tests/shared/road/test_*.py",
    "tests/shared/test_*climate.py",
    "tests/shared/test_*date*.py",
    "tests/shared/test_clear_days.py",
    "tests/shared/test_*route*.py",
    "tests/shared/test_estimate*.py",
    "tests/shared/test_learning.py",
    "tests/shared/test_leg_clocks.py",
    "tests/shared/test_offices.py",
    "tests/shared/test_ready_legs.py",
    "tests/shared/test_trade_*.py",
    "tests/shared/test_worktime_*.py",
)
"""Tests of these rules: what only some other test would notice counts as noticed by none."""

TEST_FOLDERS = ("tests/published", "tests/scheduler", "tests/shared")
MARKED = "not slow and not published and not journey"

MODULES = {
    "check": ("scheduler/check/**/*.py",),
    "worktime": ("shared/worktime/*.py",),
    "cures": (
        "scheduler/cured.py",
        "scheduler/model/rules/cures.py",
        "scheduler/normalise/climate*.py",
        "shared/climate/*.py",
        "shared/trade/recoat.py",
    ),
    "delivery": (
        "scheduler/departing.py",
        "scheduler/journey.py",
        "scheduler/model/rules/trips.py",
        "scheduler/trip_times.py",
        "scheduler/trips.py",
        "shared/delivery/*.py",
        "shared/journeys/*.py",
        "shared/road/*.py",
        "shared/routes/*.py",
    ),
}


def files_of(names: tuple[str, ...]) -> tuple[Path, ...]:
    """Paths relative to the checkout, in the order of their names."""
    globs = [pattern for name in names for pattern in MODULES[name]]
    found = {path.relative_to(ROOT) for pattern in globs for path in ROOT.glob(pattern)}
    return tuple(sorted(found))
