"""A sound plan of one piece through seven days of work, every instant worked out by hand.

England, Monday to Friday 08:00 to 12:00 and 13:00 to 17:00, from Monday 1 March 2027 (British
winter time, so local time is UTC): carve 16 h; barrier coat 4 h in one go, cures 24 h; lay-up
4 h in one go, cures 48 h; sand 6 h; lacquer 3 h in one go by a painter who is busy until
Tuesday 9 March 12:00, cures 72 h; pack 4 h.
"""

from decimal import Decimal

from shared.book import Book, Kind, PlaceKind, Stage
from shared.plan import Placement, Plan
from tests.builders import (
    a_book,
    a_job,
    a_person,
    a_place,
    a_plan,
    a_segment,
    a_shift,
    a_stage,
    a_window,
    a_workshop,
    an_other_work,
    at,
)
from tests.scheduler.check.change import placed

NOW = at("2027-03-01 08:00")

WORKSHOP = a_workshop(
    shifts=(a_shift("08:00", "12:00", breaks=()), a_shift("13:00", "17:00", breaks=())),
    useful_hours=Decimal(8),
    watch_minutes=0,
    bridged_break_minutes=0,
)


def _steps() -> tuple[Stage, ...]:
    return (
        a_stage("carve", hours=16, places=("bay",)),
        a_stage("barrier", Kind.LAMINATE, hours=4, places=("bay",), cure_hours=24, in_one_go=True),
        a_stage("lay-up", Kind.LAMINATE, hours=4, places=("bay",), cure_hours=48, in_one_go=True),
        a_stage("sand", Kind.FILL, hours=6, places=("bay",)),
        a_stage(
            "lacquer",
            Kind.LACQUER,
            hours=3,
            places=("booth",),
            cure_hours=72,
            in_one_go=True,
            stays=True,
        ),
        a_stage("pack", Kind.PACK, hours=4, places=("bay",)),
    )


def chain_book() -> Book:
    painter = a_person("pia", ("lacquer",))
    busy = an_other_work(
        start=at("2027-03-08 08:00"), end=at("2027-03-09 12:00"), people=(painter.id,)
    )
    job = a_job(
        "fox",
        segments=(a_segment("fox-body"),),
        steps=_steps(),
        windows=(a_window("fox-window", "2027-03-20 00:00", "2027-03-27 00:00"),),
    )
    return a_book(
        job,
        workshop=WORKSHOP,
        as_of=NOW,
        places=(a_place(), a_place("booth", PlaceKind.BOOTH, whole=True, clear_out_minutes=60)),
        people=(a_person("ivo", ("carve", "laminate", "fill", "pack")), painter),
        other_work=(busy,),
    )


def chain_placements() -> tuple[Placement, ...]:
    return (
        placed("fox", "carve", "2027-03-01 08:00", "2027-03-02 17:00", "ivo", place="bay"),
        placed("fox", "barrier", "2027-03-03 08:00", "2027-03-03 12:00", "ivo", place="bay"),
        placed("fox", "lay-up", "2027-03-04 13:00", "2027-03-04 17:00", "ivo", place="bay"),
        placed("fox", "sand", "2027-03-08 08:00", "2027-03-08 15:00", "ivo", place="bay"),
        placed("fox", "lacquer", "2027-03-09 13:00", "2027-03-09 16:00", "pia", place="booth"),
        placed("fox", "pack", "2027-03-12 16:00", "2027-03-15 11:00", "ivo", place="bay"),
    )


def chain_plan(book: Book) -> Plan:
    return a_plan(book, now=NOW, placements=chain_placements(), trips=())
