"""Every field of the workshop can be written on its page, in words that are read back."""

from dataclasses import fields, replace
from datetime import date
from decimal import Decimal

import pytest

from app.window.sheet.typed import NotTaken
from app.window.workshop import people
from app.window.workshop.items import Sentence
from app.window.workshop.parts import PARTS
from shared.book import Act as ActOfWork
from shared.book import (
    Apart,
    Equipment,
    Material,
    OtherWork,
    Person,
    Place,
    Supplier,
    Workshop,
)
from shared.trade import defaults, figure
from tests.app.window.shops import at_of, field, full_book, part
from tests.builders import at

# Everything that is written of the workshop can be written here.

ELSEWHERE = {
    "Place": {"id", "area_m2"},
    "Equipment": {"id"},
    "Person": {"id", "skills"},
    "Supplier": {"id", "zone", "holiday_categories"},
    "Material": {"id", "counted_at"},
    "OtherWork": {"id", "start", "end"},
    "Workshop": set(),
}
"""Ids nobody sees; area goes with slots as room; skills are ticked in a grid; clock and holidays of
a supplier go with the country; a count is of when it is typed; days are one blank."""


@pytest.mark.parametrize(
    ("of", "root"),
    [
        (Workshop, ("workshop",)),
        (Place, ("places", 0)),
        (Equipment, ("equipment",)),
        (Person, ("people", 0)),
        (Supplier, ("suppliers", 0)),
        (Material, ("materials", 0)),
        (OtherWork, ("other_work", 0)),
    ],
)
def test_every_field_of_the_workshop_has_its_blank(of: type, root: tuple[str | int, ...]) -> None:
    book = full_book()
    paths = [each.path for name in PARTS for each in part(name, book).fields]
    below = len(root) + (root == ("equipment",))
    reached = {path[below] for path in paths if path[: len(root)] == root and len(path) > below}
    asked = {each.name for each in fields(of)} - {"kept"}

    assert asked - reached - ELSEWHERE[of.__name__] == set()


def test_what_is_kept_apart_is_usual_until_it_is_changed_and_can_be_usual_again() -> None:
    book = full_book()
    plain = replace(book, workshop=replace(book.workshop, apart=None))
    shown = [f.text for f in part("places", plain).fields if f.name.startswith("apart 1 ")]
    assert shown == ["resin", "the hot wire", "0"]

    made = field("apart 1 minutes", "places", plain).write(plain, "30").book
    assert made.workshop.apart is not None
    assert made.workshop.apart[0].minutes == 30
    assert made.workshop.apart[1:] == defaults.APART[1:]

    back = field("apart 1 minutes", "places", made).write(made, "0").book
    assert back.workshop.apart is None
    more = field("add apart", "places", plain).write(plain, "lifting and dust").book
    assert more.workshop.apart == (
        *defaults.APART,
        Apart(first=ActOfWork.LIFT, second=ActOfWork.DUST),
    )
    acts = [a for i in part("places", more).items if isinstance(i, Sentence) for a in i.acts]
    usual = next(act for act in acts if act.text == "as usual again")
    assert usual.edit is not None
    assert usual.edit(more).book.workshop.apart is None


def test_what_is_usual_around_a_piece_is_hinted_in_metres() -> None:
    book = full_book()
    hints = {f.name: f.hint for f in part("rates", book).fields}

    assert (hints["wrap_m"], hints["skates_m"], hints["spare_m"]) == ("0.05", "0.15", "0.1")
    assert hints["pieces_per_half_day"] == "2"


def test_what_nobody_does_alone_is_a_list_nothing_or_as_usual() -> None:
    book = full_book()
    blank = field("never_alone", "rates", book)

    assert blank.text == "spraying, lifting"
    assert blank.write(book, "").book.workshop.never_alone is None
    assert blank.write(book, "nothing").book.workshop.never_alone == ()
    never = blank.write(book, "welding, a flame and resin").book.workshop.never_alone
    assert never == (ActOfWork.WELD, ActOfWork.FLAME, ActOfWork.RESIN)
    with pytest.raises(NotTaken, match="not_an_act"):
        blank.write(book, "welding and whistling")


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("Mon 15 Mar 07:30, 17.5 °C", "17.5"),
        ("2027-03-15 07:30 -2", "-2"),
        ("15 March 07:30; 18", "18"),
    ],
)
def test_a_measurement_is_a_moment_and_how_warm_it_was(text: str, celsius: str) -> None:
    book = full_book()
    made = field("add measured", "places", book).write(book, text).book.workshop.readings[-1]

    assert (made.at, made.celsius) == (at("2027-03-15 07:30"), Decimal(celsius))
    assert made.place is None


def test_what_is_taken_shut_or_here_for_a_time_is_written_by_name() -> None:
    book = full_book()
    name = book.places[1].name

    made = field("add taken", "places", book).write(book, f"{name}, 3 May to 4 May").book
    assert len(made.places[1].bookings) == len(book.places[1].bookings) + 1
    made = field("add taken", "places", book).write(book, "Truck, 3 May 08:00 to 3 May 09:00").book
    assert made.equipment[-1].bookings[-1].start == at("2027-05-03 07:00")
    made = field("add closed", "places", book).write(book, f"{name}, 1 Jun").book
    assert made.places[1].closures[-1].first == date(2027, 6, 1)
    made = field("add here", "places", book).write(book, "Truck, 3 May to 9 Jun").book
    assert made.equipment[-1].usable_until == date(2027, 6, 9)
    with pytest.raises(NotTaken, match="not_there"):
        field("add closed", "places", book).write(book, "Truck, 3 May")
    with pytest.raises(NotTaken, match="not_days"):
        field("add taken", "places", book).write(book, name)


def test_other_work_holds_people_places_and_things() -> None:
    book = full_book()
    add = field("add other", "hours", book)
    made = add.write(book, "Hoist test, Mon 5 Apr 08:00 to Mon 5 Apr 10:00").book

    work = made.other_work[-1]
    assert (work.id, work.name, work.start) == ("hoist-test", "Hoist test", at("2027-04-05 07:00"))
    who = field("other 2 people", "hours", made)
    first, second = (person.name for person in made.people[:2])
    held = who.write(made, f"{first} and {second}").book.other_work[-1]
    assert held.people == tuple(person.id for person in made.people[:2])
    with pytest.raises(NotTaken, match="not_other_work"):
        add.write(book, "Hoist test")


def test_a_figure_of_ones_own_begins_as_the_table_has_it() -> None:
    book = full_book()
    add = field("add figure", "rates", book)

    made = add.write(book, "CP02").book.workshop.figures[-1]
    assert (made.figure, made.value) == ("CP02", figure("CP02").amount)
    with pytest.raises(NotTaken, match="figure_there"):
        add.write(book, "CP01")
    with pytest.raises(NotTaken, match="not_a_figure"):
        add.write(book, "XX01")


def test_offered_hours_show_no_money_when_it_is_hidden() -> None:
    book = full_book()
    hidden = people.people_part(book, replace(at_of(book), is_money_hidden=True))

    assert "person overtime_offered 1 premium" in {f.name for f in part("people", book).fields}
    assert not [f.name for f in hidden.fields if "premium" in f.name]
