"""Orders counted back from the day something is needed, against worked cases.

The cases are worked out by hand from published figures and public holidays. Holidays: Banking and
Financial Dealings Act 1971 Sch. 1 (England), Bavarian list (Epiphany on 6 January). Age of foam
under a hard coat: published datasheets of spray hard coats, 30 days. Storage life of resin:
published datasheet, 6 months. Ratios of a laminate: UK fibreglass working guide. Foam in store:
guidance of the industry, 60 m3. Coverage: published datasheet PC 0458. Waste, and the practical
share of coverage: common practice, no source.
"""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from shared.book import Kind, Material, MaterialKind, Supplier
from shared.orders import Buying, Order, buying
from shared.orders.days import (
    Road,
    dispatch_by,
    made_not_before,
    moulded,
    order_by,
    order_by_age,
    receive_by,
    road_of,
)
from shared.orders.quantities import block_m3, gross, packs, parts_for_store
from shared.trade import figure
from shared.trade.laminate import laminate
from shared.trade.spraying import coverage_m2_per_litre, paint_litres
from tests.builders import (
    a_book,
    a_job,
    a_material,
    a_placement,
    a_plan,
    a_stage,
    a_supplier,
    a_workshop,
    at,
    so_much,
)
from tests.published.trade_rows import outside

NOW = "2026-12-01 08:00"


def road(**changes: Any) -> Road:
    """From a supplier in England to a workshop there, unless a case says otherwise."""
    return road_of(a_workshop(), a_supplier(**changes))


def bought(
    materials: list[Material], uses: list[tuple[Any, str, str]], now: str = NOW, **changes: Any
) -> Buying:
    """The buying list for stages with their first and last hours, as of a moment."""
    job = a_job(steps=tuple(stage for stage, _, _ in uses))
    book = a_book(job, materials=tuple(materials), as_of=at(now), **changes)
    placements = tuple(a_placement(stage.id, start, end) for stage, start, end in uses)
    return buying(book, a_plan(book, placements=placements), at(now))


def only(found: Buying) -> Order:
    (order,) = found.orders
    return order


# Foam is carved from Mon 22 March 2027 and hard coated on Mon 12 April.

CARVED, COATED = date(2027, 3, 22), date(2027, 4, 12)


def test_foam_that_is_there_in_time_is_too_fresh_for_the_hard_coat() -> None:
    way = road(lead_days=5)
    age = int(outside("EP06").amount)

    assert order_by(way, receive_by(way.here, CARVED)) == date(2027, 3, 12)
    assert order_by_age(way, COATED, age, 2) == date(2027, 3, 10)
    made = moulded(way, date(2027, 3, 10), 2)
    assert (made, (COATED - made).days) == (date(2027, 3, 12), 31)
    assert (COATED - moulded(way, date(2027, 3, 11), 2)).days < age


def foam(**changes: Any) -> Material:
    usual = {"kind": MaterialKind.FOAM, "unit": "m3", "moulded_days": 2, **changes}
    return a_material("foam", **usual)


def foamed(material: Material, quantity: str = "5", coat: Any = ("spray", "isocyanate")) -> Buying:
    carve = a_stage("heron-carve", materials=(so_much(quantity, "foam"),))
    skin = a_stage("heron-coat", Kind.COAT, does=coat)
    uses = [
        (carve, "2027-03-22 08:00", "2027-03-26 12:00"),
        (skin, "2027-04-12 08:00", "2027-04-12 12:00"),
    ]
    return bought([material], uses, suppliers=(a_supplier(lead_days=5),))


def test_the_buying_list_orders_foam_by_its_age_where_a_hard_coat_follows() -> None:
    dates = only(foamed(foam())).dates
    assert (dates.need, dates.receive_by) == (CARVED, date(2027, 3, 19))
    assert (dates.order_by, dates.by_age) == (date(2027, 3, 10), True)

    plain = only(foamed(foam(), coat=("resin", "wet"))).dates
    assert (plain.order_by, plain.by_age) == (date(2027, 3, 12), False)


# Lay-ups from Mon 20 to Tue 28 September 2027; the resin keeps for six months, lead three days.


def test_resin_is_neither_too_late_nor_too_old() -> None:
    resin = a_material("resin", "kg", kind=MaterialKind.RESIN, pack_size=Decimal(25))
    first, last = (
        a_stage(f"heron-{name}", Kind.LAMINATE, materials=(so_much(10, "resin"),))
        for name in ("first", "last")
    )
    uses = [
        (first, "2027-09-20 08:00", "2027-09-20 12:00"),
        (last, "2027-09-28 08:00", "2027-09-28 12:00"),
    ]
    order = only(bought([resin], uses, suppliers=(a_supplier(lead_days=3),)))

    assert order.dates.receive_by == date(2027, 9, 17)
    assert order.dates.order_by == date(2027, 9, 14)
    assert order.dates.made_not_before == date(2027, 3, 28)
    assert order.dates.not_before == date(2027, 3, 30)
    assert order.steps == ("heron-first", "heron-last")
    months = int(outside("PL26").amount)
    assert made_not_before(date(2027, 9, 28), months) == order.dates.made_not_before


# 10 m2 in three layers of 450 g/m2, and 10 % more of mat and resin.


def test_a_laminate_is_bought_with_its_waste_in_whole_packs() -> None:
    made = laminate(Decimal(10), [Decimal(450)] * 3)
    mat = gross(made.glass_kg, outside("QL04a").amount)
    resin = gross(made.resin_kg, outside("QL04b").amount)
    percent = Fraction(outside("PL01").amount) / 100

    assert made.glass_kg == outside("WC01a").amount
    assert made.resin_kg == outside("WC01b").amount
    assert (mat, packs(mat, Fraction(33))) == (Fraction("14.85"), 1)
    assert (resin, packs(resin, Fraction(25))) == (Fraction("37.125"), 2)
    assert made.catalyst_kg == Fraction("0.675")
    assert resin * percent == Fraction("0.7425")


def test_the_buying_list_has_the_same_rolls_and_drums() -> None:
    mat = a_material("mat", "kg", kind=MaterialKind.MAT, pack_size=Decimal(33))
    stage = a_stage("heron-skin", Kind.LAMINATE, materials=(so_much("13.5", "mat"),))
    uses = [(stage, "2027-03-22 08:00", "2027-03-22 12:00")]
    order = only(bought([mat], uses, suppliers=(a_supplier(),)))

    assert (order.needed, order.packs) == (Decimal("14.85"), 1)
    assert order.quantity == 33


# 20.5 m3 of foam net, 30 % waste; the store holds 33 blocks and 20 are there.


def test_foam_comes_in_blocks_and_as_the_store_has_room() -> None:
    net = Decimal("20.5")
    assert round(block_m3(), 3) == Fraction("1.813")
    assert gross(net, Decimal(30)) == Fraction("26.65")
    assert round(gross(net, Decimal(30)) / block_m3(), 2) == Fraction("14.70")
    assert packs(gross(net, Decimal(30)), block_m3()) == 15
    assert packs(gross(net, Decimal(30), of_gross=True), block_m3()) == 17
    assert int(Fraction(outside("EP09").amount) / block_m3()) == 33
    assert parts_for_store(Fraction(15), Fraction(33 - 20), Fraction(33)) == (
        Fraction(13),
        Fraction(2),
    )


@pytest.mark.parametrize("is_first", [True, False])
def test_the_buying_list_splits_what_the_store_has_no_room_for(is_first: bool) -> None:
    """20 blocks of denser foam lie there for a stage in June."""
    there = 20 * block_m3()
    dense = a_material(
        "dense",
        "m3",
        kind=MaterialKind.FOAM,
        waste_percent=Decimal(0),
        counted=Decimal(there.numerator) / Decimal(there.denominator),
    )
    carve = a_stage("heron-carve", materials=(so_much("20.5", "foam"),))
    later = a_stage("heron-more", materials=(so_much("36", "dense"),))
    uses = [
        (carve, "2027-03-22 08:00", "2027-03-26 12:00"),
        (later, "2027-06-21 08:00", "2027-06-25 12:00"),
    ]
    both = [foam(waste_percent=Decimal(30)), dense]
    materials = both if is_first else both[::-1]
    found = bought(materials, uses, suppliers=(a_supplier(),))

    assert [order.packs for order in found.orders] == [13, 2]
    assert [order.is_rest for order in found.orders] == [False, True]
    now, rest = (order.dates for order in found.orders)
    assert (now.receive_by, rest.receive_by) == (date(2027, 3, 19), CARVED)
    assert (now.order_by, rest.order_by) == (date(2027, 3, 16), date(2027, 3, 17))


# 48 m2, two coats of lacquer with 45 % solids at 25 um, of whose coverage 60 % is reached.


def test_lacquer_is_counted_by_what_is_reached_and_its_loss_not_once_more() -> None:
    theory = coverage_m2_per_litre(Decimal(45), Decimal(25))
    share = outside("PT14").amount
    coat = paint_litres(Decimal(48), theory)
    both = paint_litres(Decimal(48), theory, coats=2)

    assert theory == outside("PT13a").amount
    assert theory * Fraction(share) / 100 == Fraction("10.8")
    assert (round(coat, 3), round(both, 3)) == (Fraction("4.444"), Fraction("8.889"))
    assert packs(both, Fraction(5)) == 2
    assert figure("PT05").amount == outside("PT05").amount == 2

    lacquer = a_material("lacquer", "l", kind=MaterialKind.PAINT, pack_size=Decimal(5))
    stage = a_stage("heron-lacquer", Kind.LACQUER, materials=(so_much("8.889", "lacquer"),))
    uses = [(stage, "2027-03-22 08:00", "2027-03-22 12:00")]
    order = only(bought([lacquer], uses, suppliers=(a_supplier(),)))
    assert (order.needed, order.packs) == (Decimal("8.889"), 2)


# Needed on Mon 11 January 2027 in England, from Bavaria: lead four days, transit three.


def bavarian(**changes: Any) -> Supplier:
    land = {"country": "DE", "subdivision": "BY", "zone": "Europe/Berlin"}
    return a_supplier(**land, lead_days=4, transit_days=3, **changes)


def test_an_order_abroad_minds_the_holidays_of_both_ends() -> None:
    way = road_of(a_workshop(), bavarian())
    arrival = receive_by(way.here, date(2027, 1, 11))

    assert arrival == date(2027, 1, 8)
    assert dispatch_by(way, arrival) == date(2027, 1, 4)
    assert order_by(way, arrival) == date(2026, 12, 28)


@pytest.mark.parametrize(("now", "overdue"), [("2026-12-28 15:00", 0), ("2026-12-29 07:00", 1)])
def test_the_buying_list_has_the_same_day_and_says_when_it_is_over(now: str, overdue: int) -> None:
    stage = a_stage("heron-paint", Kind.PAINT, materials=(so_much(3),))
    uses = [(stage, "2027-01-11 08:00", "2027-01-11 12:00")]
    order = only(bought([a_material()], uses, now, suppliers=(bavarian(),)))

    assert order.dates.order_by == date(2026, 12, 28)
    assert order.dates.overdue_days == overdue
