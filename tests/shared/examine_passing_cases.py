"""One book for each thing that can be wrong with pieces and what they must pass."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from shared.book import Body, Book, Face, Opening
from tests.builders import a_book, a_job, a_journey, a_segment, a_site, a_workshop, an_equipment
from tests.shared.examine_books import Case

JOB = ("jobs", 0)
SEGMENT = (*JOB, "segments", 0)
# As moved the usual piece is 2.1 x 1.1 m and 1.25 m high.
DOOR = Opening(name="roller", width_m=Decimal(3), height_m=Decimal(3))


def out_and_in(out: tuple[Opening, ...], into: tuple[Opening, ...], **piece: Any) -> Book:
    """Give the usual book with these openings of its workshop and of its site."""
    job = a_job(segments=(a_segment("heron-torso", **piece),), site=a_site(openings=into))
    return a_book(job, workshop=a_workshop(openings=out))


def driven_by(length_m: int = 2, **vehicle: Any) -> Book:
    """Give the usual book, its piece driven by one vehicle."""
    segment = a_segment("heron-torso", length_m=Decimal(length_m))
    job = a_job(segments=(segment,))
    steps = (*job.steps[:2], a_journey("heron-journey", vehicles=("van",)))
    return a_book(replace(job, steps=steps), equipment=(an_equipment("van", **vehicle),))


def _piece(**changes: Any) -> Book:
    return a_book(a_job(segments=(a_segment("heron-torso", **changes),)))


CASES: list[Case] = [
    (
        "opening_not_measured",
        out_and_in((replace(DOOR, measured=False),), (DOOR,)),
        ("workshop", "openings", 0, "measured"),
        {"opening": "roller"},
    ),
    (
        "opening_not_measured",
        out_and_in((DOOR,), (DOOR, replace(DOOR, name="hall", measured=False))),
        (*JOB, "site", "openings", 1, "measured"),
        {"opening": "hall"},
    ),
    ("way_out_unknown", out_and_in((), (DOOR,)), ("workshop", "openings"), {}),
    (
        "way_in_unknown",
        out_and_in((DOOR,), ()),
        (*JOB, "site", "openings"),
        {"site": "The site"},
    ),
    (
        "segment_size_for_opening",
        out_and_in((DOOR,), (DOOR,), height_m=None),
        SEGMENT,
        {"segment": "heron-torso", "opening": "roller"},
    ),
    (
        "close_fit",
        out_and_in((replace(DOOR, width_m=Decimal("1.1999")),), (DOOR,)),
        SEGMENT,
        {"opening": "roller", "dimension": "width", "spare_mm": 99},
    ),
    (
        "vehicle_not_measured",
        driven_by(4, body=Body.VAN),
        SEGMENT,
        {"segment": "heron-torso", "opening": "Van", "dimension": "length", "over_mm": 100},
    ),
    (
        "weigh_it",
        # 40 to 60 kg: up to 60 x 1.35 + 60 kg with frame, fixings and gear.
        driven_by(payload_kg=Decimal(140)),
        SEGMENT,
        {"segment": "heron-torso", "equipment": "van"},
    ),
    (
        "turn_unknown",
        _piece(turns=("upright", "on_sid")),
        (*SEGMENT, "turns", 1),
        {"word": "on_sid", "nearest": "on_side"},
    ),
    (
        "no_way_round",
        _piece(turns=("on_end",), finished_faces=(Face.LEFT, Face.RIGHT)),
        (*SEGMENT, "finished_faces"),
        {"segment": "heron-torso"},
    ),
]

FINE: list[Book] = [
    out_and_in((DOOR,), (DOOR,)),
    out_and_in((replace(DOOR, width_m=Decimal("1.2")),), (DOOR,)),
    # Too big for what is measured: a fact of the job, and no finding.
    out_and_in((replace(DOOR, width_m=Decimal("0.5")),), (DOOR,)),
    driven_by(body=Body.VAN),
    driven_by(payload_kg=Decimal(141)),
    driven_by(payload_kg=Decimal(39)),
    _piece(turns=("upright", "lying"), finished_faces=(Face.FRONT, Face.BACK)),
]
"""Books with nothing to tell of their pieces and openings."""
