"""Ways of making as data: on disk as written, every number a figure's, in the trade's order."""

import csv
import json
import re
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

import shared.routes
from shared.book import Act, Gate, GateKind, Journey, Kind, Route, Stage
from shared.edits import copy_route
from shared.examine import examine
from shared.routes import PROGRAM_ROUTES, known_routes, program_route, route_of, sources_of
from shared.trade import Confidence, figure
from tests.books.making_more import NO_FIGURES, ROUTES, route_text, sources_text
from tests.books.shops import shop
from tests.builders import a_book, a_route

FOLDER = Path(shared.routes.__file__).parent
FIGURE = re.compile(r"\b([A-Z]{2,3}[0-9]+[a-z]?)(\.low|\.high)?\b")
NAMED = re.compile(r"in the name of ([A-Z]{2}[0-9]+[a-z]?)")
BASIC_WORDS = [
    *("block", "carve", "approve", "laminate", "flow coat", "paint", "lacquer", "ship"),
]


def the(route_id: str) -> Route:
    route = program_route(route_id)
    assert route is not None
    return route


def numbers_in(value: Any, path: str = "") -> list[tuple[str, Decimal]]:
    """Every number in a plain tree with its path; counts of people and things are left out."""
    if isinstance(value, dict):
        return [
            found
            for key, inner in value.items()
            if key not in NO_FIGURES
            for found in numbers_in(inner, f"{path}.{key}".lstrip("."))
        ]
    if isinstance(value, list):
        return [f for at, inner in enumerate(value) for f in numbers_in(inner, f"{path}.{at}")]
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        return []
    return [(path, Decimal(value))]


def worth(asked: str) -> Fraction:
    """Work a sum out anew: figures put in as fractions, the rest is Python's own arithmetic."""
    named = NAMED.fullmatch(asked)
    if named:
        ends = re.findall(r"([0-9]+) degC", figure(named[1]).name)
        return Fraction(ends[-1])
    rounds_up = asked.startswith("quarters(")
    text = asked.removeprefix("quarters")
    text = re.sub(r"\b([0-9]+)\b(?![a-z])", r"Fraction(\1)", FIGURE.sub(_as_fraction, text))
    found: Fraction = eval(text, {"Fraction": Fraction, "__builtins__": {}})
    return Fraction(-(-found * 4 // 1)) / 4 if rounds_up else found


def _as_fraction(found: re.Match[str]) -> str:
    one = figure(found[1])
    number = {None: one.value, ".low": one.low, ".high": one.high}[found[2]]
    assert number is not None, found[0]
    top, bottom = number.as_integer_ratio()
    return f"({top}/Fraction({bottom}))"


@pytest.mark.parametrize("name", PROGRAM_ROUTES)
def test_what_lies_on_disk_is_what_its_recipe_makes(name: str) -> None:
    assert list(ROUTES) == list(PROGRAM_ROUTES)
    text = (FOLDER / f"{name}.json").read_text(encoding="utf-8")
    assert text == route_text(ROUTES[name]())
    assert the(name) == ROUTES[name]()
    assert (FOLDER / "sources.csv").read_text(encoding="utf-8") == sources_text()


@pytest.mark.parametrize("name", PROGRAM_ROUTES)
def test_every_number_is_a_figure_of_the_trade(name: str) -> None:
    tree = json.loads((FOLDER / f"{name}.json").read_bytes(), parse_float=Decimal)
    told = {(s.step, s.field): s for s in sources_of(name)}
    seen = set()
    for part in (*tree["steps"], *tree["rules"]):
        step = part.get("id", part["step"])
        for field, number in numbers_in(part):
            if (step, field) not in told:
                assert number == 0, f"{name} {step} {field}: {number} is of no figure"
                continue
            source = told[step, field]
            seen.add((step, field))
            assert number == Decimal(source.number)
            # To the third decimal, quantities to the sixth: what is asked of figures is rounded.
            places = 6 if field.endswith(".quantity") else 3
            away = abs(Fraction(number) - worth(source.figures))
            assert away <= Fraction(1, 2 * 10**places), source
    assert seen == told.keys()


def test_every_figure_of_a_route_says_where_it_is_from_or_that_it_is_practice() -> None:
    with (FOLDER / "sources.csv").open(encoding="utf-8", newline="") as lines:
        rows = [row["figures"] for row in csv.DictReader(lines)]
    asked = {found[0] for text in rows for found in FIGURE.findall(text)}
    assert len(asked) > 60
    for name in asked:
        one = figure(name)
        assert one.source
        if one.source.startswith(("common practice", "no source")):
            assert one.confidence is Confidence.PRACTICE, one


def test_a_number_of_no_figure_would_be_seen() -> None:
    assert numbers_in({"cure_hours": 48, "ways": [{"hours": {"likely": 1.5}, "can": 2}]}) == [
        ("cure_hours", Decimal(48)),
        ("ways.0.hours.likely", Decimal("1.5")),
    ]
    assert worth("1/QL03a") == 1 / Fraction("0.6")
    assert worth("quarters(FM04/60)") == Fraction(1, 2)
    assert worth("in the name of PT01a") == 21


def test_the_basic_way_bears_the_words_of_the_trade_in_their_order() -> None:
    names = list(dict.fromkeys(step.name for step in the(PROGRAM_ROUTES[0]).steps))
    assert [name for name in names if name in BASIC_WORDS] == BASIC_WORDS


ORDER = [
    *("survey", "steel frame", "lifting points", "block", "glue", "carve", "detail", "approve"),
    *("barrier", "laminate", "second laminate", "hollow", "thicken flanges", "trial fit"),
    *("fair across joints", "take apart", "flow coat", "sand", "mask", "prime", "paint"),
    *("airbrush", "lacquer", "wrap", "loading", "ship"),
]


def test_stages_stand_in_the_trades_order() -> None:
    names = list(dict.fromkeys(step.name for step in the("hollow").steps))
    assert [name for name in names if name in ORDER] == ORDER


def test_a_mould_is_made_and_used_in_the_order_of_its_chain() -> None:
    # The chain: seal, wax, film, tooling gel coat, skin, bulk, strip, wax, gel coat, laminate.
    chain = [
        *("plaster face", "approve", "seal", "wax", "release film", "tooling gel coat"),
        *("mould skin", "mould laminate", "strip mould", "wax again", "gel coat", "laminate"),
        *("strip cast", "join halves", "prime", "paint", "lacquer"),
    ]
    names = list(dict.fromkeys(step.name for step in the("cast").steps))
    assert [name for name in names if name in chain] == chain


@pytest.mark.parametrize("name", PROGRAM_ROUTES)
def test_a_route_in_a_book_holds_together(name: str) -> None:
    book = copy_route(shop("Hall Seven", 5, "1"), the(name)).book
    assert examine(book) == ()


@pytest.mark.parametrize("name", PROGRAM_ROUTES)
def test_what_is_sprayed_with_isocyanates_asks_for_training_and_an_enclosed_place(
    name: str,
) -> None:
    stages = [step for step in the(name).steps if isinstance(step, Stage)]
    sprayed = [stage for stage in stages if Act.ISOCYANATE in (stage.does or ())]
    assert sprayed
    for stage in sprayed:
        assert stage.certificates == ("isocyanate training",)
        assert {kind.value for way in stage.ways for kind in way.place_kinds} == {"booth"}
        assert stage.in_one_go


@pytest.mark.parametrize("name", PROGRAM_ROUTES)
def test_resin_wants_warmth_and_coats_a_product(name: str) -> None:
    for step in the(name).steps:
        if isinstance(step, Stage) and step.kind is Kind.LAMINATE and step.cure_hours > 0:
            assert step.coldest_celsius == figure("PL05").amount, step.id
            assert step.cure_celsius is not None
        if isinstance(step, Stage) and step.product is not None:
            assert all(way.setup_hours for way in step.ways), step.id


def test_whoever_answers_and_whatever_leaves_is_in_every_route() -> None:
    for name in PROGRAM_ROUTES:
        gates = [step.gate for step in the(name).steps if isinstance(step, Gate)]
        assert gates.count(GateKind.LOADING) == 1
        assert any(isinstance(step, Journey) for step in the(name).steps)


def test_the_books_own_goes_before_the_programs_of_the_same_id() -> None:
    own = a_route("hollow", name="Our hollow")
    book = a_book(routes=(own,))
    assert route_of(book, "hollow") == own
    assert route_of(book, "cast") == the("cast")
    assert route_of(book, "nothing") is None
    assert [route.id for route in known_routes(book)] == ["hollow", *PROGRAM_ROUTES[1:]]
    assert known_routes()[0] == the("hollow")


_ASK = """
import sys
opened = []
sys.addaudithook(lambda event, facts: opened.append(str(facts[0])) if event == "open" else None)
import shared.routes, shared.edits, shared.examine
print(sum("routes" in name and name.endswith((".json", ".csv")) for name in opened))
shared.routes.program_route("repair")
print(sum("routes" in name and name.endswith((".json", ".csv")) for name in opened))
"""


def test_no_route_is_read_before_it_is_asked_for() -> None:
    done = subprocess.run([sys.executable, "-c", _ASK], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["0", "1"]
