"""Countback against printed critical paths, floats and relations with lags."""

from fractions import Fraction

import pytest

from tests.published.worked.examples import Network, arcs_of, expected, rows

NETWORKS = (
    "cpm01_vanhoucke2009_p18",
    "cpm02_vanhoucke2014_p6",
    "cpm03_vanhoucke2014_p9",
    "cpm04_stadium",
    "cpm05_small_with_free_float",
    "cpm06_construction_nine",
)
FIGURE_COUNT = {
    NETWORKS[0]: 61,
    NETWORKS[1]: 69,
    NETWORKS[2]: 86,
    NETWORKS[3]: 109,
    NETWORKS[4]: 37,
    NETWORKS[5]: 10,
}


@pytest.mark.parametrize("name", NETWORKS)
def test_every_printed_figure_of_a_network(name: str) -> None:
    activities = rows(f"{name}.activities")
    durations = {row["activity"]: Fraction(row["duration"]) for row in activities}
    network = Network(durations, arcs_of(activities))
    wrong = []
    printed = expected(name)
    for (item, quantity), value in printed.items():
        if item == "project":
            found = Fraction(network.duration, network.scale)
        else:
            found = network.figure(item, quantity)
        if found != Fraction(value):
            wrong.append(f"{item} {quantity}: {found}, printed {value}")

    assert len(printed) == FIGURE_COUNT[name]
    assert not wrong


@pytest.mark.parametrize(
    "case", sorted({row["case"] for row in rows("lag01_relation_types.activities")})
)
def test_every_printed_figure_of_relations_with_lags(case: str) -> None:
    durations = {
        row["activity"]: Fraction(row["duration"])
        for row in rows("lag01_relation_types.activities")
        if row["case"] == case
    }
    relations = [
        (row["from"], row["to"], row["type"], int(row["lag"]))
        for row in rows("lag01_relation_types.relations")
        if row["case"] == case
    ]
    network = Network(durations, relations)
    printed = [row for row in rows("lag01_relation_types.expected") if row["case"] == case]

    assert len(printed) == 17
    for row in printed:
        if row["item"] == "project":
            assert network.duration == int(row["value"])
        else:
            assert network.figure(row["item"], row["quantity"]) == int(row["value"]), row
