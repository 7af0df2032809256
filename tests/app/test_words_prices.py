"""The least price is for the owner's eyes: no text and no answer for programs names it."""

import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from app.words import owner_enquiry, owner_rush
from tests.app.catalogue import all_texts
from tests.app.cli.shell import a_file, countback
from tests.builders import a_book, a_job, a_material, a_stage, a_supplier, so_much

LEAST_PRICE = re.compile(
    r"(least|lowest|minimum|min|floor|bottom)[ _-]?(price|fee)|(price|fee)[ _-]?(floor|least|min)",
    re.IGNORECASE,
)


def names_in(told: Any) -> Iterator[str]:
    """Names of all fields of an answer, and its texts."""
    if isinstance(told, dict):
        for name, value in told.items():
            yield name
            yield from names_in(value)
    elif isinstance(told, list):
        for value in told:
            yield from names_in(value)
    elif isinstance(told, str):
        yield told


def test_no_text_names_the_least_price_but_the_owners() -> None:
    owners = {
        text
        for module in (owner_rush, owner_enquiry)
        for text in vars(module).values()
        if isinstance(text, str)
    }
    naming = [text for text in all_texts() if LEAST_PRICE.search(text)]

    assert [text for text in naming if text not in owners] == []
    assert naming, "the owner is told"


@pytest.mark.parametrize("verb", ["plan", "orders", "findings", "cautions"])
def test_no_answer_for_programs_names_the_least_price(verb: str, tmp_path: Path) -> None:
    paint = a_stage("heron-carve", materials=(so_much(3),))
    steps = (paint, *a_job().steps[1:])
    job = a_job(steps=steps, price=Decimal(9000), late_cost_per_day=Decimal(250))
    material = a_material(pack_size=Decimal(5), pack_price=Decimal(20))
    book = a_book(job, materials=(material,), suppliers=(a_supplier(),))
    quick = ("--seconds", "1") if verb in ("plan", "orders") else ()
    said = countback(verb, a_file(tmp_path, book), "--json", *quick)

    found = list(names_in(said.last))
    assert found
    assert [name for name in found if LEAST_PRICE.search(name)] == []
    assert not LEAST_PRICE.search(said.out)


@pytest.mark.parametrize("text", ["The least price is 4000 EUR.", "price_floor", "min_price"])
def test_one_that_does_would_be_seen(text: str) -> None:
    assert LEAST_PRICE.search(text)


@pytest.mark.parametrize("text", ["Price: 31 EUR.", "price", "at no extra cost", "floor time"])
def test_a_price_as_such_is_not_one(text: str) -> None:
    assert not LEAST_PRICE.search(text)
