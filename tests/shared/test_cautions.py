"""Which cautions go with which step, and that no number of theirs stands elsewhere."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from shared.book import (
    Act,
    Book,
    GateKind,
    Job,
    Kind,
    LegKind,
    MaterialKind,
    PlaceKind,
    Purpose,
    Step,
)
from shared.cautions import Caution, caution_ids, cautions_of
from shared.ids import PlaceId
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_material,
    a_place,
    a_segment,
    a_stage,
    a_way,
    so_much,
)
from tests.published.trade_rows import outside

NO_ACTS: tuple[Act, ...] = ()


def of_step(step: Step, *before: Step, book: dict[str, Any] | None = None, **job: Any) -> list[str]:
    return [each.id for each in found(step, *before, book=book, **job)]


def found(
    step: Step, *before: Step, book: dict[str, Any] | None = None, **job: Any
) -> tuple[Caution, ...]:
    made: Job = a_job(steps=(*before, step), **job)
    whole: Book = a_book(made, **(book or {}))
    return cautions_of(whole, made, step)


def only(step: Step, caution: str, **more: Any) -> Caution:
    (one,) = [each for each in found(step, **more) if each.id == caution]
    return one


def does(*acts: Act, kind: Kind = Kind.PACK, **changes: Any) -> Step:
    return a_stage("step", kind, does=acts, **changes)


@pytest.mark.parametrize(
    ("acts", "cautions"),
    [
        (NO_ACTS, []),
        ((Act.WET,), []),
        ((Act.ISOCYANATE,), ["isocyanate_spray", "isocyanate_training"]),
        ((Act.SPRAY,), ["no_flame"]),
        ((Act.SOLVENT,), ["isocyanate_glue", "no_flame"]),
        ((Act.RESIN,), ["styrene", "peroxide", "no_flame"]),
        ((Act.HOT_WIRE,), ["hot_wire", "no_flame"]),
        ((Act.WELD,), ["no_flame"]),
        ((Act.DUST,), []),
        ((Act.POWER_SAND,), ["vibration"]),
        ((Act.GRIND,), ["vibration", "no_flame"]),
        ((Act.LIFT,), ["lifting", "hung_piece"]),
    ],
)
def test_acts_call_cautions_up(acts: tuple[Act, ...], cautions: list[str]) -> None:
    assert of_step(does(*acts)) == cautions


@pytest.mark.parametrize(
    ("kind", "cautions"),
    [
        (Kind.FOAM, ["hot_wire", "no_flame"]),
        (Kind.LAMINATE, ["styrene", "peroxide", "no_flame"]),
        (Kind.COAT, ["styrene", "peroxide", "no_flame"]),
        (Kind.FILL, []),
        (Kind.PAINT, ["no_flame"]),
        (Kind.LACQUER, ["no_flame"]),
        (Kind.PACK, []),
    ],
)
def test_a_stage_that_does_not_say_what_it_does_has_those_of_its_kind(
    kind: Kind, cautions: list[str]
) -> None:
    assert of_step(a_stage("step", kind)) == cautions


@pytest.mark.parametrize(
    ("kind", "cautions"),
    [
        (MaterialKind.FOAM, ["no_flame"]),
        (MaterialKind.MAT, []),
        (MaterialKind.RESIN, ["styrene", "peroxide", "no_flame"]),
        (MaterialKind.PEROXIDE, ["peroxide", "no_flame"]),
        (MaterialKind.HARD_COAT, ["isocyanate_spray", "isocyanate_training"]),
        (MaterialKind.FOAM_GLUE, ["isocyanate_training", "isocyanate_glue"]),
        (MaterialKind.ADHESIVE, ["isocyanate_glue"]),
        (MaterialKind.SEALANT, ["isocyanate_training", "isocyanate_glue"]),
        (MaterialKind.OTHER, []),
    ],
)
@pytest.mark.parametrize("is_of_way", [True, False])
def test_materials_call_cautions_up(
    kind: MaterialKind, cautions: list[str], is_of_way: bool
) -> None:
    needs = (so_much(1),)
    step = does(ways=(a_way(materials=needs),)) if is_of_way else does(materials=needs)

    assert of_step(step, book={"materials": (a_material(kind=kind),)}) == cautions


def test_vapour_goes_on_in_the_place_of_the_cure_and_what_shares_its_air() -> None:
    places = (
        a_place("bay", air="hall"),
        a_place("bench", air="hall"),
        a_place("booth", PlaceKind.BOOTH),
        a_place("floor", PlaceKind.FLOOR),
    )
    book = {"places": places}
    skin = a_stage("skin", Kind.LAMINATE, places=("bay",), cure_hours=48)
    in_booth = a_stage(
        "skin", Kind.COAT, cure_hours=16, ways=(a_way(place_kinds=(PlaceKind.BOOTH,)),)
    )

    assert only(skin, "styrene_cure", book=book).places == ("bay", "bench")
    assert only(in_booth, "styrene_cure", book=book).places == ("booth",)
    moved = replace(skin, moves_to=PlaceId("floor"))
    assert only(moved, "styrene_cure", book=book).places == ("floor",)
    assert only(replace(skin, ways=(a_way(),)), "styrene_cure", book=book).places == ()
    assert "styrene_cure" not in of_step(replace(skin, cure_hours=Decimal(0)))
    assert only(skin, "styrene", book=book).places == ()


def test_dust_is_of_laminate_only_on_a_piece_that_has_one() -> None:
    pieces: Any = {"segments": (a_segment("head"), a_segment("tail"))}
    sand = does(Act.DUST, segments=("head",))
    head = a_stage("head-skin", Kind.LAMINATE, segments=("head",))
    tail = a_stage("tail-skin", Kind.LAMINATE, segments=("tail",))
    shell = a_stage("shell", Kind.COAT, segments=("head",), does=(Act.SPRAY,))

    assert of_step(sand, head, **pieces) == ["laminate_dust"]
    assert of_step(sand, a_stage("flow", Kind.COAT, segments=("head",)), **pieces) == [
        "laminate_dust"
    ]
    assert of_step(sand, tail, **pieces) == []
    assert of_step(sand, shell, **pieces) == []
    assert "laminate_dust" in of_step(does(Act.DUST, kind=Kind.LAMINATE))
    job = a_job(steps=(sand, head), **pieces)
    assert cautions_of(a_book(job), job, sand) == (), "what comes later has not hardened yet"


@pytest.mark.parametrize(("height", "cautions"), [("2", []), ("2.01", ["tower"]), (None, [])])
def test_a_piece_higher_than_two_metres_is_worked_on_from_a_tower(
    height: str | None, cautions: list[str]
) -> None:
    tall = a_segment("torso", height_m=None if height is None else Decimal(height))

    assert of_step(does(), segments=(tall,)) == cautions
    assert of_step(a_gate("answer", GateKind.ANSWER), segments=(tall,)) == []


@pytest.mark.parametrize(
    ("legs", "cautions"),
    [
        ((LegKind.DRIVE,), []),
        ((LegKind.UNLOAD,), ["lifting"]),
        ((LegKind.LIFT,), ["lifting", "hung_piece"]),
        ((LegKind.SEAL,), ["isocyanate_training", "isocyanate_glue"]),
    ],
)
def test_legs_call_cautions_up(legs: tuple[LegKind, ...], cautions: list[str]) -> None:
    journey = a_journey(legs=tuple(a_leg(kind) for kind in legs))

    assert of_step(journey) == cautions


def test_gates_with_work_are_lifted_at_and_answers_are_not() -> None:
    assert of_step(a_gate(ways=(a_way(),))) == ["lifting"]
    assert of_step(a_gate("fit", GateKind.TRIAL_FIT, ways=(a_way(),))) == ["lifting"]
    assert of_step(a_gate()) == []
    assert of_step(a_gate("answer", GateKind.ANSWER, ways=(a_way(),))) == []


@pytest.mark.parametrize(
    ("purpose", "step", "caution"),
    [
        (Purpose.PLAYGROUND, a_journey(), "playground"),
        (Purpose.SLIDE, a_journey(), "slide"),
        (Purpose.FIRE_TESTED, a_stage("step", Kind.PAINT), "fire_test"),
    ],
)
def test_inspections_and_tests_go_by_what_the_piece_is_for(
    purpose: Purpose, step: Step, caution: str
) -> None:
    other = next(each for each in Purpose if each is not purpose)

    assert caution in of_step(step, purposes=(purpose,))
    assert caution not in of_step(step, purposes=(other,))
    assert caution not in of_step(step)
    assert caution not in of_step(a_stage("step", Kind.PACK), purposes=(purpose,))


def test_numbers_are_those_of_the_figures_with_their_source() -> None:
    spray = only(does(Act.ISOCYANATE), "isocyanate_spray")
    training = only(does(Act.ISOCYANATE), "isocyanate_training")
    vibration = only(does(Act.GRIND), "vibration")
    test = only(a_stage("step", Kind.PAINT), "fire_test", purposes=(Purpose.FIRE_TESTED,))

    assert dict(spray.facts) == {"minutes": outside("HS03").amount}
    assert (spray.is_from_memory, "isocyanates" in spray.source) == (False, True)
    # Regulation (EC) 1907/2006 (REACH), Annex XVII entry 74: training from 24 August 2023.
    assert dict(training.facts) == {
        "percent": outside("HS06b").value,
        "years": outside("HS06").amount,
        "since": "2023-08-24",
    }
    assert "REACH" in training.source
    assert dict(vibration.facts) == {
        "action": outside("HS20a").value,
        "limit": outside("HS20b").amount,
    }
    assert vibration.is_from_memory
    low, high = outside("HS19").low, outside("HS19").high
    assert test.facts == (("least", int(low)), ("most", int(high)))


def test_every_caution_names_its_source_and_can_be_called_up() -> None:
    steps = (
        *(does(act, materials=(so_much(1),), cure_hours=1) for act in Act),
        *(a_stage("step", kind, cure_hours=1) for kind in Kind),
        a_journey(legs=tuple(a_leg(kind) for kind in LegKind)),
    )
    tall = a_segment("torso", height_m=Decimal(3))
    skin = a_stage("skin", Kind.LAMINATE)
    told = [
        each
        for step in steps
        for each in found(step, skin, purposes=tuple(Purpose), segments=(tall,))
    ]

    assert {each.id for each in told} == set(caution_ids())
    assert len(caution_ids()) == len(set(caution_ids())) == 16
    assert all(each.source for each in told)
