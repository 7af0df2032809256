"""Ways out in sentences: every kind of lever has one, with its price and who must agree."""

from dataclasses import replace
from decimal import Decimal

import pytest

from app.words import Words, amounts
from app.words import levers as say
from shared.book import Book, GateKind
from shared.ids import OfferId
from shared.levers import Lever, LeverKind
from tests.app.catalogue import facts_of
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_stage,
    a_workshop,
    at,
    on,
)

TODAY = on("2026-01-05")
SATURDAY = {"start": at("2026-01-10 08:00"), "end": at("2026-01-10 13:00")}
NEXT_WEEK = {"first": on("2026-01-12"), "last": on("2026-01-16"), "facts": (("days", 5),)}
WINDOW = {"start": at("2026-03-09 08:00"), "end": at("2026-03-13 18:00")}


def named(name: str, **more: object) -> dict[str, object]:
    return {"offer": OfferId("x"), "facts": (("name", name),), **more}


ROWS: tuple[tuple[LeverKind, tuple[str, ...], dict[str, object], str], ...] = (
    (
        LeverKind.OVERTIME,
        ("ana",),
        {**SATURDAY, "price": Decimal("159.5"), "agrees": "Ana"},
        "Ana works on Sat 10 Jan from 08:00 to 13:00, 5 h: 159.50 GBP.",
    ),
    (
        LeverKind.OVERTIME,
        ("ana",),
        {**SATURDAY, "price": Decimal(45), "is_priced": False, "agrees": "Ana"},
        "Ana works on Sat 10 Jan from 08:00 to 13:00, 5 h: 45 GBP and the pay, of which no rate "
        "is written.",
    ),
    (
        LeverKind.FREELANCER,
        ("ben",),
        {**NEXT_WEEK, "price": Decimal(1100), "agrees": "Ben"},
        "Ben comes from Mon 12 Jan to Fri 16 Jan, 5 working days: 1100 GBP.",
    ),
    (
        LeverKind.HIRED_HAND,
        (),
        {
            **named("A carver"),
            **{**NEXT_WEEK, "facts": (("days", 1), ("name", "A carver"))},
            "price": Decimal(1100),
            "once": Decimal(80),
            "agrees": "the agency",
        },
        "A carver comes from Mon 12 Jan to Fri 16 Jan, 1 working day: 1100 GBP and 80 GBP once. "
        "The agency must agree.",
    ),
    (
        LeverKind.TRAINING,
        ("ana", "ben"),
        named("A refresher", first=on("2026-01-12"), price=Decimal(300)),
        "A refresher for Ana and Ben, to be had from Mon 12 Jan on: 300 GBP.",
    ),
    (LeverKind.HEATING, ("bay",), named("A heater in bay 3"), "A heater in bay 3: costs nothing."),
    (
        LeverKind.FAST_CURE,
        ("heron-carve",),
        named("Quick resin", price=Decimal(90)),
        "Quick resin for Heron-carve: 90 GBP.",
    ),
    (
        LeverKind.SUBCONTRACT,
        ("heron-carve",),
        named("Hired out", price=Decimal(900), agrees="the carvers"),
        "Hired out: Heron-carve: 900 GBP. The carvers must agree.",
    ),
    (
        LeverKind.STORE,
        ("heron-torso",),
        named("The barn"),
        "The barn for Heron-torso: costs nothing.",
    ),
    (
        LeverKind.SCREEN,
        ("bay",),
        named("A curtain"),
        "A curtain, so that Bay has air of its own: costs nothing.",
    ),
    (LeverKind.ROOM, ("bay",), named("A tent"), "A tent, for more room in Bay: costs nothing."),
    (LeverKind.EQUIPMENT, ("lorry",), named("A second van"), "A second van: costs nothing."),
    (
        LeverKind.COURIER,
        ("heron-carve",),
        named("By courier"),
        "By courier for Heron-carve: costs nothing.",
    ),
    (
        LeverKind.PUT_OFF,
        ("course",),
        {"start": at("2026-01-12 08:00"), "facts": (("name", "The course"),)},
        "The course is put off to Mon 12 Jan 08:00: costs nothing.",
    ),
    (
        LeverKind.FREE_PLACE,
        ("bay",),
        {"start": at("2026-01-12 08:00"), "facts": (("name", "Foam"),)},
        "Bay is cleared; “Foam” has it from Mon 12 Jan 08:00 on: costs nothing.",
    ),
    (
        LeverKind.ANSWER_SOONER,
        ("heron-approve",),
        {"days": 2, "agrees": "The client"},
        "The client agrees in writing to answer within 2 working days (Heron-approve): costs "
        "nothing.",
    ),
    (
        LeverKind.ONE_ROUND,
        ("heron-approve",),
        {"agrees": "The client"},
        "The client agrees in writing to one round only (Heron-approve): costs nothing.",
    ),
    (
        LeverKind.OTHER_WINDOW,
        ("heron", "later"),
        {**WINDOW, "price": Decimal(300), "agrees": "The client"},
        "Heron goes into the window Mon 9 Mar 08:00 to Fri 13 Mar 18:00: 300 GBP. The client must "
        "agree.",
    ),
    (
        LeverKind.RE_PROMISE,
        ("heron", "later"),
        {**WINDOW, "agrees": "The client"},
        "Heron is promised anew, into the window Mon 9 Mar 08:00 to Fri 13 Mar 18:00: costs "
        "nothing. The client must agree.",
    ),
    (
        LeverKind.START_AT_ONCE,
        ("heron",),
        {},
        "Heron need not wait for the day that is written down: costs nothing.",
    ),
    (LeverKind.LIFT_PIN, ("heron-carve",), {}, "The pin on Heron-carve is lifted: costs nothing."),
    (
        LeverKind.LIFT_NAMES,
        ("heron-carve",),
        {},
        "Heron-carve may be done by anybody who can: costs nothing.",
    ),
    (
        LeverKind.LIFT_SAME,
        ("heron-carve",),
        {},
        "Heron-carve may be done by another team: costs nothing.",
    ),
    (
        LeverKind.CREW,
        ("heron-journey", "ana", "ben"),
        {"agrees": "Ben"},
        "Ben goes along in the place of Ana (Heron-journey): costs nothing.",
    ),
    (
        LeverKind.SAILING,
        ("heron-journey",),
        named("The night boat", price=Decimal(590)),
        "The night boat (Heron-journey): 590 GBP.",
    ),
    (
        LeverKind.MEANS,
        ("heron-journey",),
        named("Two drivers", price=Decimal(400)),
        "Two drivers (Heron-journey): 400 GBP.",
    ),
    (
        LeverKind.NO_RESERVE,
        ("heron-journey",),
        {},
        "No reserve of drivers’ hours is kept (Heron-journey): costs nothing.",
    ),
)


def the_book() -> Book:
    steps = (
        a_stage("heron-carve"),
        a_gate("heron-approve", GateKind.ANSWER),
        a_gate("heron-loading"),
        a_journey("heron-journey"),
    )
    book = a_book(a_job(steps=steps), workshop=a_workshop(currency="GBP"))
    return replace(book, people=(a_person(), a_person("ben")))


@pytest.fixture(scope="module")
def words(tmp_path_factory: pytest.TempPathFactory) -> Words:
    return Words("en", book=the_book(), folder=tmp_path_factory.mktemp("nothing"))


def test_every_kind_has_a_sentence_and_a_row() -> None:
    assert set(say.LEVERS) == set(LeverKind) == {kind for kind, *_ in ROWS}


@pytest.mark.parametrize(("kind", "about", "more", "sentence"), ROWS)
def test_a_lever_is_said(
    words: Words, kind: LeverKind, about: tuple[str, ...], more: dict[str, object], sentence: str
) -> None:
    lever = Lever(kind=kind, id="x", about=about, **more)  # type: ignore[arg-type]

    assert say.lever_line(words, lever, TODAY) == sentence


@pytest.mark.parametrize("kind", list(LeverKind))
def test_a_sentence_asks_for_no_facts_that_do_not_come(kind: LeverKind) -> None:
    assert facts_of(say.LEVERS[kind]) <= say.FACTS


@pytest.mark.parametrize(
    ("amount", "said"),
    [("0", "0"), ("159.5", "159.50"), ("12345", "12,345"), ("0.001", "0.01"), ("220", "220")],
)
def test_money_is_whole_or_to_the_hundredth(words: Words, amount: str, said: str) -> None:
    assert amounts.money(words, Decimal(amount)) == said
