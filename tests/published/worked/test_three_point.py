"""Three-point estimates against printed means, variances, floats and chances.

The chance is the normal approximation along the critical path (D.G. Malcolm, J.H. Roseboom,
C.E. Clark, W. Fazar, Operations Research 7 (1959) 646-669).
"""

from fractions import Fraction
from math import sqrt
from statistics import NormalDist

import pytest

from shared.estimate import three_point_mean, three_point_variance
from tests.published.worked.examples import Network, Row, arcs_of, expected, rows


def _points(row: Row) -> tuple[Fraction, Fraction, Fraction]:
    low, likely, high = row["optimistic"], row["most_likely"], row["pessimistic"]
    return Fraction(low), Fraction(likely), Fraction(high)


def _rounds_to(found: float, printed: str) -> bool:
    """Whether a figure is the printed one as far as that was printed."""
    digits = len(printed.partition(".")[2])
    return abs(found - float(printed)) <= 0.5 * 10.0**-digits + 1e-12


def _network(activities: list[Row]) -> Network:
    means = {row["activity"]: three_point_mean(*_points(row)) for row in activities}
    return Network(means, arcs_of(activities))


def _along(network: Network, activities: list[Row]) -> NormalDist:
    variance = sum(
        three_point_variance(*_points(row))
        for row in activities
        if network.figure(row["activity"], "critical")
    )
    return NormalDist(network.duration / network.scale, sqrt(variance))


@pytest.mark.parametrize(
    ("name", "count"), [("pert01_portavac", 65), ("pert02_nine_activities", 77)]
)
def test_every_printed_figure(name: str, count: int) -> None:
    activities = rows(f"{name}.activities")
    network = _network(activities)
    finish = _along(network, activities)
    by_name = {row["activity"]: row for row in activities}
    printed = expected(name)

    assert len(printed) == count
    for (item, quantity), value in printed.items():
        match quantity:
            case "expected_duration" if item == "project":
                found = finish.mean
            case "expected_duration":
                found = float(three_point_mean(*_points(by_name[item])))
            case "variance":
                found = float(three_point_variance(*_points(by_name[item])))
            case "std_dev_critical_path":
                found = finish.stdev
            case "z_for_20":
                found = (20 - finish.mean) / finish.stdev
            case "prob_finish_by_30":
                found = finish.cdf(30)
            case "time_at_prob_0.3" | "time_at_prob_0.6":
                found = finish.inv_cdf(float(quantity.removeprefix("time_at_prob_")))
            case _:
                found = float(network.figure(item, quantity))
        assert _rounds_to(found, value), (item, quantity, found, value)


def test_the_chance_along_a_given_critical_path() -> None:
    activities = rows("pert03_critical_path_only.activities")
    critical = [_points(row) for row in activities if row["on_critical_path"] == "1"]
    mean = float(sum(three_point_mean(*points) for points in critical))
    deviation = sqrt(sum(three_point_variance(*points) for points in critical))
    printed = expected("pert03_critical_path_only")

    assert mean == float(printed["project", "expected_duration"])
    # The book rounds z to two places before it looks the chance up.
    chance = NormalDist().cdf(round((28 - mean) / deviation, 2))
    assert _rounds_to(chance, printed["project", "prob_finish_by_28"])
