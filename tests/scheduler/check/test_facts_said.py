"""What is said of a breach: when, who, how much, each as the change of a plan laid by hand has it.

facts_said.csv: the plan, the rule, which of its changes in the lists of breaks (from 0), and the
facts by name; instants are of 2027 and in UTC, a fact that is None is empty.
"""

import csv
import re
from pathlib import Path

import pytest

from scheduler.check import check
from scheduler.rules import Rule
from tests.scheduler.check.breaks import CHAIN, DELIVERY
from tests.scheduler.check.chain import chain_book, chain_plan
from tests.scheduler.check.changed import CHANGED, changed_book, changed_plan
from tests.scheduler.check.delivery import delivery_book, delivery_plan
from tests.scheduler.check.haul import haul_book, haul_plan
from tests.scheduler.check.haul_breaks import HAUL

WORKED_OUT = Path(__file__).with_name("facts_said.csv")
BOOKS = {
    "chain": (chain_book, chain_plan, CHAIN),
    "delivery": (delivery_book, delivery_plan, DELIVERY),
    "changed": (changed_book, changed_plan, CHANGED),
    "haul": (haul_book, haul_plan, HAUL),
}
INSTANT = re.compile(r"2027-(\d\d-\d\d)T(\d\d:\d\d)(:\d\d)\+00:00")


def rows() -> list[tuple[str, str, int, str]]:
    with WORKED_OUT.open(encoding="utf-8", newline="") as file:
        return [
            (row["book"], row["rule"], int(row["which"]), row["facts"])
            for row in csv.DictReader(file)
        ]


def _plain(fact: object) -> str:
    at = INSTANT.fullmatch(str(fact))
    if at is None:
        return "" if fact is None else str(fact)
    return f"{at[1]} {at[2]}{at[3].removesuffix(':00')}"


@pytest.mark.parametrize(("book", "rule", "which", "facts"), rows())
def test_a_breach_says_when_who_and_how_much(book: str, rule: str, which: int, facts: str) -> None:
    make_book, make_plan, breaks = BOOKS[book]
    sound = make_book()
    of_rule = [(where, change) for each, where, change in breaks if each is Rule(rule)]
    where, change = of_rule[which]

    found = check(*change(sound, make_plan(sound))).breaches
    mine = next(each for each in found if (each.rule, each.where) == (rule, where))

    said = {name: _plain(fact) for name, fact in mine.facts}
    expected = dict(pair.split("=", 1) for pair in facts.split("; "))
    assert {name: said[name] for name in expected} == expected
