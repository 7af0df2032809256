"""What is bought for a plan: what is there already, what comes together, what is too late."""

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.book import (
    Abrade,
    Book,
    Closure,
    Delivery,
    FactKind,
    GateKind,
    Job,
    Kind,
    MaterialKind,
    Stage,
)
from shared.orders import Buying, Order, buying
from shared.orders.days import Road, arrives, first_open, order_by, workshop_days
from shared.orders.quantities import gross, pack_size, parts_for_store
from shared.orders.uses import uses_of
from shared.worktime import DateSpan, DayCalendar, is_working_day
from tests.builders import (
    NOW,
    a_book,
    a_delivery,
    a_fact,
    a_gate,
    a_job,
    a_material,
    a_placement,
    a_plan,
    a_segment,
    a_stage,
    a_supplier,
    a_way,
    a_workshop,
    at,
    so_much,
)

PACK = Decimal(5)
FEB, MARCH, JULY = "2026-02-09", "2026-03-02", "2026-07-06"
"""Mondays."""


def a_use(step: str, quantity: int | str = 4, **changes: Any) -> Stage:
    return a_stage(step, Kind.PAINT, materials=(so_much(quantity),), **changes)


def painted(job: str, *days: str, quantity: int | str = 4, **changes: Any) -> tuple[Job, Any]:
    """A job whose stages each take so much, and the day on which each is done."""
    stages = tuple(a_use(f"{job}-{number}", quantity) for number in range(len(days)))
    return a_job(job, steps=stages, **changes), days


def in_book(*painted_jobs: tuple[Job, Any], material: Any = None, **changes: Any) -> Book:
    usual = {"materials": (material or a_material(pack_size=PACK),), "suppliers": (a_supplier(),)}
    return a_book(*(job for job, _ in painted_jobs), **{**usual, **changes})


def bought(book: Book, *days: Any, now: str = "2026-01-05 08:00") -> Buying:
    """The buying list when each stage of the jobs is done on its day, from 08:00 to 12:00."""
    placements = [
        a_placement(step.id, f"{day} 08:00", f"{day} 12:00", job=job.id)
        for job, of_job in zip(book.jobs, days, strict=True)
        for step, day in zip(job.steps, of_job, strict=True)
    ]
    return buying(book, a_plan(book, placements=tuple(placements)), at(now))


def listed(*painted_jobs: tuple[Job, Any], **changes: Any) -> Buying:
    return bought(in_book(*painted_jobs, **changes), *(days for _, days in painted_jobs))


def only(found: Buying) -> Order:
    (order,) = found.orders
    return order


def packs_of(found: Buying) -> list[int | None]:
    return [order.packs for order in found.orders]


def test_a_book_without_materials_buys_nothing() -> None:
    assert bought(a_book(a_job(steps=(a_stage(),))), [FEB]) == Buying()


def test_an_order_names_how_much_for_whom_and_by_when() -> None:
    price = a_material(pack_size=PACK, pack_price=Decimal("31.50"))
    order = only(listed(painted("heron", FEB, "2026-02-10"), material=price))

    assert (order.needed, order.packs, order.quantity) == (Decimal(8), 2, Decimal(10))
    assert (order.jobs, order.steps) == (("heron",), ("heron-0", "heron-1"))
    assert order.cost == 63
    dates = order.dates
    assert (dates.need, dates.receive_by) == (date(2026, 2, 9), date(2026, 2, 6))
    assert (dates.order_by, dates.overdue_days) == (date(2026, 2, 3), 0)
    assert (dates.made_not_before, dates.arrives, dates.aged) == (None, None, None)


def test_a_courier_comes_on_the_morning_it_is_needed() -> None:
    order = only(listed(painted("heron", FEB), suppliers=(a_supplier(same_day=True),)))

    assert (order.dates.receive_by, order.dates.order_by) == (date(2026, 2, 9), date(2026, 2, 4))


def test_closures_of_the_workshop_and_of_the_supplier_count() -> None:
    shut = Closure(first=date(2026, 2, 5), last=date(2026, 2, 6))
    here = only(listed(painted("heron", FEB), workshop=a_workshop(closures=(shut,))))
    there = only(listed(painted("heron", FEB), suppliers=(a_supplier(closures=(shut,)),)))

    assert (here.dates.receive_by, here.dates.order_by) == (date(2026, 2, 4), date(2026, 1, 30))
    assert (there.dates.receive_by, there.dates.order_by) == (date(2026, 2, 6), date(2026, 1, 30))


def test_jobs_share_a_delivery_and_what_is_needed_much_later_has_its_own() -> None:
    found = listed(painted("heron", FEB), painted("otter", MARCH), painted("newt", JULY))

    assert [order.jobs for order in found.orders] == [("heron", "otter"), ("newt",)]
    assert packs_of(found) == [2, 1]


def test_what_is_left_in_a_pack_serves_the_next_delivery() -> None:
    found = listed(painted("heron", FEB, JULY, quantity="2.5"))

    assert packs_of(found) == [1]


def test_a_delivery_is_split_where_it_would_be_too_old() -> None:
    resin = a_material(pack_size=PACK, shelf_life_months=2, join_days=365)
    found = listed(painted("heron", FEB, MARCH, JULY, quantity="2.5"), material=resin)

    assert packs_of(found) == [1, 1]
    first, second = (order.dates for order in found.orders)
    assert first.made_not_before == date(2026, 1, 2)
    assert second.made_not_before == date(2026, 5, 6)
    assert not first.is_too_old


def test_one_step_that_outlasts_its_material_says_so() -> None:
    book = in_book(painted("heron", FEB), material=a_material(shelf_life_months=1, margin_days=9))
    placed = a_placement("heron-0", f"{FEB} 08:00", "2026-03-20 12:00")
    order = only(buying(book, a_plan(book, placements=(placed,)), NOW))

    assert order.dates.made_not_before == date(2026, 3, 1)
    assert order.dates.not_before == date(2026, 3, 2)
    assert order.dates.is_too_old
    assert (order.packs, order.quantity, order.cost) == (None, Decimal(4), None)


def test_peroxide_comes_for_each_job_and_what_is_left_is_used_up() -> None:
    peroxide = a_material(kind=MaterialKind.PEROXIDE, pack_size=PACK)
    heron, otter = painted("heron", FEB), painted("otter", "2026-02-10")
    apart = listed(heron, otter, material=peroxide)
    small = listed(
        painted("heron", FEB, quantity="0.7"),
        painted("otter", "2026-02-10", quantity="0.7"),
        material=peroxide,
    )

    assert [order.jobs for order in apart.orders] == [("heron",), ("otter",)]
    assert packs_of(listed(heron, otter)) == [2]
    assert packs_of(small) == [1]


@pytest.mark.parametrize(
    ("lots", "packs"),
    [
        ((a_delivery(4, "2026-01-02 08:00", arrived=True),), []),
        ((a_delivery(3, "2026-01-02 08:00", arrived=True),), [1]),
        ((a_delivery(4, "2026-02-06 08:00"),), []),
        ((a_delivery(4, "2026-01-02 08:00"),), []),
        ((a_delivery(4, "2026-01-02 08:00", material="putty"),), [1]),
    ],
)
def test_what_came_and_what_is_on_order_is_not_bought_again(
    lots: tuple[Delivery, ...], packs: list[int]
) -> None:
    found = listed(painted("heron", FEB), deliveries=lots)

    assert packs_of(found) == packs
    assert found.coming == ()


def test_what_is_on_order_and_comes_too_late_is_told_where_nothing_comes_sooner() -> None:
    """As of Wed 4 February a new order would come on Mon 9, and this comes then too."""
    late = a_delivery(10, "2026-02-09 12:00")
    book = in_book(painted("heron", "2026-02-06"), deliveries=(late,))
    (coming,) = bought(book, ["2026-02-06"], now="2026-02-04 08:00").coming

    assert (coming.arrives, coming.receive_by) == (date(2026, 2, 9), date(2026, 2, 5))
    assert (coming.late_days, coming.quantity) == (2, Decimal(4))


def test_what_comes_much_too_late_is_left_for_others() -> None:
    found = listed(painted("heron", FEB), deliveries=(a_delivery(10, "2026-03-09 12:00"),))

    assert packs_of(found) == [1]
    assert found.coming == ()


def test_what_has_grown_old_is_bought_again() -> None:
    old = a_delivery(10, "2026-01-02 08:00", arrived=True, made_on=date(2025, 12, 1))
    keeps = a_material(pack_size=PACK, shelf_life_months=2)
    found = listed(painted("heron", FEB), deliveries=(old,), material=keeps)

    assert packs_of(found) == [1]
    assert packs_of(listed(painted("heron", FEB), deliveries=(old,))) == []


def test_what_was_counted_counts_and_what_came_before_does_not() -> None:
    came = a_delivery(40, "2026-01-02 08:00", arrived=True)
    counted: Any = {"counted": Decimal(3), "counted_at": at("2026-01-03 08:00")}
    material = a_material(pack_size=PACK, **counted)

    assert packs_of(listed(painted("heron", FEB), material=material, deliveries=(came,))) == [1]


@pytest.mark.parametrize("kind", [FactKind.DONE, FactKind.RUNNING, FactKind.MATERIAL])
def test_for_what_is_done_or_has_its_material_nothing_is_bought(kind: FactKind) -> None:
    told = a_fact(step="heron-0", kind=kind)
    found = listed(painted("heron", FEB, "2026-02-10"), facts=(told,))

    assert only(found).steps == ("heron-1",)


def test_what_is_done_has_taken_its_share_of_what_came() -> None:
    told = a_fact(step="heron-0")
    came = a_delivery(5, "2026-01-02 08:00", arrived=True)
    heron = painted("heron", "2026-01-05", FEB, quantity=3)
    found = bought(in_book(heron, facts=(told,), deliveries=(came,)), heron[1], now="2026-01-06")

    assert only(found).needed == 1


def test_what_should_have_been_ordered_says_how_late_it_is() -> None:
    """Ordered on Thu 5 February it comes on Tue 10, three working days after Thu 5."""
    book = in_book(painted("heron", "2026-02-06"))
    dates = only(bought(book, ["2026-02-06"], now="2026-02-05 08:00")).dates

    assert (dates.receive_by, dates.order_by) == (date(2026, 2, 5), date(2026, 2, 2))
    assert dates.overdue_days == 3
    assert (dates.arrives, dates.late_days) == (date(2026, 2, 10), 3)


def test_foam_ordered_too_late_says_when_it_is_old_enough() -> None:
    foam = a_material("foam", "m3", kind=MaterialKind.FOAM)
    carve = a_stage("heron-carve", materials=(so_much(1, "foam"),))
    skin = a_stage("heron-skin", Kind.COAT, does=("spray", "isocyanate"))
    book = a_book(
        a_job(steps=(carve, skin)), materials=(foam,), suppliers=(a_supplier(),), as_of=NOW
    )
    dates = only(bought(book, [FEB, "2026-02-16"], now="2026-02-02 08:00")).dates

    # Moulded three working days later, on Fri 16 January, it would be 31 days old on the day.
    assert (dates.order_by, dates.by_age) == (date(2026, 1, 13), True)
    assert (dates.late_days, dates.arrives) == (0, date(2026, 2, 5))
    assert dates.aged == date(2026, 2, 5) + timedelta(days=30)


def test_a_hard_coat_is_known_by_its_material_and_only_on_the_same_pieces() -> None:
    foam = a_material("foam", "m3", kind=MaterialKind.FOAM)
    shell = a_material("shell", "kg", kind=MaterialKind.HARD_COAT)
    carve = a_stage("carve", materials=(so_much(1, "foam"),), segments=("head",))

    def coat_of(*pieces: str) -> date | None:
        skin = a_stage("skin", Kind.COAT, materials=(so_much(9, "shell"),), segments=pieces)
        segments = (a_segment("head"), a_segment("tail"))
        book = a_book(a_job(steps=(carve, skin), segments=segments), materials=(foam, shell))
        days = (a_placement("carve", f"{FEB} 08:00"), a_placement("skin", f"{MARCH} 08:00"))
        return uses_of(book, a_plan(book, placements=days), NOW)[0].coat

    assert coat_of("head") == date(2026, 3, 2)
    assert coat_of("tail") is None


def test_the_way_that_is_chosen_decides_and_so_does_what_is_put_in() -> None:
    """Abrading is a way of the coat before, rework and changes are ways of the gate."""
    abrade = Abrade(ways=(a_way("rub", materials=(so_much(1),)),))
    rework = Abrade(ways=(a_way("again", materials=(so_much(2),)),))
    ways = (a_way("bench"), a_way("hired", materials=(so_much(8),)))
    coat = a_stage("coat", Kind.PAINT, ways=ways, abrade=abrade)
    second = a_stage("second", Kind.PAINT)
    answer = a_gate("answer", GateKind.ANSWER, rework=rework)
    book = in_book((a_job(steps=(coat, second, answer)), ()))
    placements = (
        a_placement("coat", way="hired"),
        a_placement("second", way="rub", part="abrade"),
        a_placement("second"),
        a_placement("answer", way="again", part="rework", round=1),
        a_placement("answer", way="", round=2),
    )
    found = uses_of(book, a_plan(book, placements=placements), NOW)

    assert {use.step: use.net for use in found} == {"coat": 8, "second": 1, "answer": 2}


def test_what_stands_in_no_plan_is_named() -> None:
    book = in_book(painted("heron", FEB, MARCH))
    placed = a_placement("heron-0", f"{FEB} 08:00", f"{FEB} 12:00")

    assert buying(book, a_plan(book, placements=(placed,)), NOW).undated == ("heron-1",)
    assert buying(book, a_plan(book, jobs=(), placements=()), NOW) == Buying()


def test_a_deposit_comes_before_the_order_until_it_is_paid() -> None:
    due: Any = {"deposit_due": date(2026, 1, 30)}
    paid: Any = {**due, "deposit_paid": date(2026, 1, 4)}
    found = only(listed(painted("heron", FEB, **due), painted("otter", FEB, **paid)))

    assert (found.jobs, found.deposit_first) == (("heron", "otter"), ("heron",))


def test_what_nobody_delivers_has_a_day_to_be_there_and_none_to_be_ordered() -> None:
    order = only(listed(painted("heron", FEB), material=a_material(supplier=None)))

    assert (order.dates.order_by, order.day) == (None, date(2026, 2, 6))


def test_a_supplier_who_never_works_has_no_day_to_order_by() -> None:
    shut = Closure(first=date(2010, 1, 1), last=date(2050, 1, 1))
    order = only(listed(painted("heron", FEB), suppliers=(a_supplier(closures=(shut,)),)))

    assert (order.supplier, order.dates.order_by) == ("harbour", None)


def test_orders_stand_by_their_days_and_their_known_prices_are_added_up() -> None:
    primer = a_material(pack_size=PACK, pack_price=Decimal(20), join_days=0)
    found = listed(painted("heron", JULY, FEB), painted("otter", MARCH), material=primer)
    loose = listed(painted("heron", FEB), material=a_material(pack_price=Decimal(20)))

    days = [order.day for order in found.orders]
    assert days == sorted(days)
    assert (found.cost, found.priced_count) == (Decimal(60), 3)
    assert (loose.cost, loose.priced_count) == (Decimal(0), 0)


# What is so for any.

shares = st.decimals(0, 90, places=1)
amounts = st.fractions(min_value=Fraction(1, 100), max_value=10_000, max_denominator=100)


@given(amounts, shares)
def test_what_is_left_of_the_gross_is_the_net(net: Fraction, percent: Decimal) -> None:
    share = Fraction(percent) / 100
    assert gross(net, percent, of_gross=True) * (1 - share) == net
    assert gross(net, percent) - net == share * net


def test_nothing_is_left_where_all_is_wasted() -> None:
    with pytest.raises(ValueError, match="nothing is left"):
        gross(Fraction(1), Decimal(100), of_gross=True)


def test_foam_that_is_not_counted_in_cubic_metres_has_no_block() -> None:
    assert pack_size(a_material("foam", "m3", kind=MaterialKind.FOAM)) is not None
    assert pack_size(a_material("foam", "kg", kind=MaterialKind.FOAM)) is None


@given(st.integers(1, 400), st.integers(0, 60), st.integers(0, 60))
def test_parts_add_up_and_none_is_more_than_the_store_holds(
    count: int, room: int, most: int
) -> None:
    parts = parts_for_store(Fraction(count), Fraction(min(room, most)), Fraction(most))

    assert sum(parts) == count
    assert all(part > 0 for part in parts)
    assert len(parts) <= 12
    assert not most or all(part <= most for part in parts[:11])


days = st.dates(date(2026, 1, 1), date(2027, 12, 31))


@st.composite
def roads(draw: Any) -> Road:
    def calendar() -> DayCalendar:
        first = draw(days)
        shut = DateSpan(first=first, last=first + timedelta(days=draw(st.integers(0, 20))))
        weekdays = tuple(sorted(draw(st.sets(st.integers(0, 6), min_size=1))))
        return DayCalendar(holidays=None, closed=(shut,), weekdays=weekdays)

    return Road(
        here=calendar(),
        there=DayCalendar(holidays=None, closed=calendar().closed),
        lead_days=draw(st.integers(0, 12)),
        transit_days=draw(st.integers(0, 4)),
    )


@given(roads(), days)
def test_the_last_day_to_order_is_the_last_whose_goods_come_in_time(
    road: Road, wanted: date
) -> None:
    """By trying every day, wherever the two ends share a working day at all."""
    common = set(road.here.weekdays) & set(road.there.weekdays)
    if not common:
        return
    found = order_by(road, wanted)
    assert is_working_day(road.there, found)
    assert arrives(road, found) <= wanted
    later = found + timedelta(days=1)
    while not is_working_day(road.there, later):
        later += timedelta(days=1)
    assert arrives(road, later) > wanted


needs = st.lists(st.tuples(st.integers(0, 200), st.integers(1, 300)), min_size=1, max_size=12)


@given(needs, st.integers(1, 50), st.sampled_from([None, 1, 3]), st.sampled_from([None, 60]))
def test_whatever_is_needed_is_there_on_its_day_and_not_too_old(
    wanted: list[tuple[int, int]], size: int, months: int | None, cap: int | None
) -> None:
    """Every use, replayed one after the other, finds enough of what has come by then.

    Work on a day on which the workshop is shut could not be brought what the store had no room for.
    """
    stages = tuple(
        a_use(f"s{number}", f"{tenths / 10:.1f}") for number, (_, tenths) in enumerate(wanted)
    )
    material = a_material(
        pack_size=Decimal(size),
        shelf_life_months=months,
        store_cap=None if cap is None else Decimal(cap),
    )
    book = in_book((a_job(steps=stages), ()), material=material)
    first = date(2026, 3, 2)
    here = workshop_days(book.workshop)
    on = [str(first_open(here, first + timedelta(days=day))) for day, _ in wanted]
    found = bought(book, on)

    assert found.coming == ()
    total = sum(Decimal(tenths) / 10 for _, tenths in wanted)
    assert sum(order.needed for order in found.orders) <= total
    for day in sorted(set(on)):
        used = sum(
            Decimal(tenths) / 10
            for there, (_, tenths) in zip(on, wanted, strict=True)
            if there <= day
        )
        came = sum(
            o.quantity for o in found.orders if o.dates.receive_by <= date.fromisoformat(day)
        )
        assert came >= used
    for order in found.orders:
        made = order.dates.made_not_before
        assert made is None or order.is_rest or made <= order.dates.receive_by
