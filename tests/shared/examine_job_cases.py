"""One book for each thing that can be wrong with jobs, steps, journeys and facts."""

from dataclasses import replace
from decimal import Decimal

from shared.book import (
    Abrade,
    Answer,
    Book,
    Certificate,
    EquipmentNeed,
    FactKind,
    GateKind,
    Kind,
    LegKind,
    Pin,
    SkillLevel,
    Standing,
)
from shared.ids import EquipmentId
from tests.builders import (
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_need,
    a_person,
    a_segment,
    a_shift,
    a_skill,
    a_stage,
    a_way,
    an_after,
    an_equipment,
    at,
    on,
    some_hours,
)
from tests.shared.examine_books import (
    JOURNEY,
    STEP0,
    TWO,
    Case,
    departs,
    sailing,
    with_leg,
    with_segments,
    with_step,
    with_way,
)
from tests.shared.examine_route_cases import CASES as ROUTE_CASES


def at_work(*held: Certificate) -> Book:
    """Give a stage that wants a certificate, and Ana told to be at it on 5 January."""
    licensed = Certificate(certificate="isocyanates", expires=on("2026-01-05"))
    running = a_fact(
        step="spray",
        kind=FactKind.RUNNING,
        people=("ana",),
        at=at("2026-01-05 07:30"),
        remaining_hours=Decimal(2),
    )
    book = with_step(a_stage("spray", Kind.COAT, certificates=("isocyanates",)))
    people = a_person("ana", certificates=held), a_person("ben", certificates=(licensed,))
    return replace(book, people=people, facts=(running,))


CASES: list[Case] = [
    *ROUTE_CASES,
    ("job_without_window", a_book(a_job(windows=())), ("jobs", 0, "windows"), {}),
    (
        "window_over",
        a_book(as_of=at("2026-03-06 18:00")),
        ("jobs", 0, "windows", 0, "end"),
        {"end": "2026-03-06T18:00:00Z", "as_of": "2026-03-06T18:00:00Z"},
    ),
    (
        "pencilled_without_date",
        a_book(a_job(standing=Standing.PENCILLED)),
        ("jobs", 0, "pencilled_until"),
        {},
    ),
    (
        "pencilled_over",
        a_book(a_job(standing=Standing.PENCILLED, pencilled_until=on("2026-01-04"))),
        ("jobs", 0, "pencilled_until"),
        {"until": "2026-01-04", "as_of": "2026-01-05"},
    ),
    (
        "date_but_not_pencilled",
        a_book(a_job(pencilled_until=on("2026-02-04"))),
        ("jobs", 0, "pencilled_until"),
        {"standing": "firm"},
    ),
    ("job_without_segments", with_segments(), ("jobs", 0, "segments"), {}),
    ("job_without_steps", a_book(a_job(steps=())), ("jobs", 0, "steps"), {}),
    (
        "job_without_loading",
        a_book(a_job(steps=(a_stage(), a_journey()))),
        ("jobs", 0, "steps"),
        {},
    ),
    (
        "segment_without_work",
        with_segments(*TWO, steps=(a_stage(segments=("heron-a",)), a_gate(), a_journey())),
        ("jobs", 0, "segments", 1),
        {"segment": "heron-b"},
    ),
    (
        "segment_without_loading",
        with_segments(*TWO, steps=(a_stage(), a_gate(segments=("heron-a",)), a_journey())),
        ("jobs", 0, "segments", 1),
        {"segment": "heron-b"},
    ),
    (
        "several_loadings",
        with_segments(*TWO, steps=(a_stage(), a_gate(segments=("heron-b",)), a_gate("again"))),
        ("jobs", 0, "segments", 1),
        {"segment": "heron-b"},
    ),
    (
        "several_journeys",
        a_book(a_job(steps=(a_stage(), a_gate(), a_journey(), a_journey("back")))),
        ("jobs", 0, "segments", 0),
        {"segment": "heron-torso"},
    ),
    (
        "segment_without_size",
        with_segments(a_segment(width_m=None)),
        ("jobs", 0, "segments", 0),
        {},
    ),
    (
        "segment_without_size",
        replace(
            with_way(places=("hall",)),
            places=(a_floor(standing=False),),
            jobs=(
                a_job(
                    segments=(a_segment(length_m=None),),
                    steps=(a_stage(places=("hall",)), a_gate(), a_journey()),
                ),
            ),
        ),
        ("jobs", 0, "segments", 0),
        {},
    ),
    ("stage_without_ways", with_step(a_stage(ways=())), (*STEP0, "ways"), {}),
    (
        "stage_without_ways",
        with_step(a_stage(abrade=Abrade(ways=()))),
        (*STEP0, "abrade", "ways"),
        {},
    ),
    (
        "need_without_hands",
        with_way(needs=(a_need(can=0),)),
        (*STEP0, "ways", 0, "needs", 0),
        {"skill": "carve"},
    ),
    (
        "hours_out_of_order",
        with_step(a_stage(ways=(replace(a_way(), hours=some_hours(8, low=9)),))),
        (*STEP0, "ways", 0, "hours"),
        {"low": "9", "likely": "8", "high": "8"},
    ),
    (
        "skill_of_nobody",
        with_way(skill="carven"),
        (*STEP0, "ways", 0, "needs", 0, "skill"),
        {"skill": "carven", "nearest": "carve"},
    ),
    (
        "too_few_for_need",
        with_way(hands=2),
        (*STEP0, "ways", 0, "needs", 0),
        {"skill": "carve", "wanted": 2, "there": 1},
    ),
    (
        "too_few_for_need",
        with_way(needs=(a_need(can=1, helps=2),)),
        (*STEP0, "ways", 0, "needs", 0),
        {"wanted": 3, "there": 1},
    ),
    (
        "too_few_for_need",
        a_book(people=(replace(a_person(), skills=(a_skill("carve", SkillLevel.HELPS),)),)),
        (*STEP0, "ways", 0, "needs", 0),
        {"wanted": 1, "there": 0},
    ),
    (
        "too_few_equipment",
        replace(
            with_way(equipment=(EquipmentNeed(equipment=EquipmentId("lorry"), count=2),)),
            equipment=(an_equipment(),),
        ),
        (*STEP0, "ways", 0, "equipment", 0, "count"),
        {"wanted": 2, "there": 1},
    ),
    (
        "asked_person_cannot",
        replace(
            with_step(a_stage(people=("bo",))),
            people=(a_person(), a_person("bo", skills=("paint",))),
        ),
        (*STEP0, "people", 0),
        {"person": "bo"},
    ),
    (
        "certificate_of_nobody",
        replace(
            with_step(a_stage(certificates=("crane",))),
            people=(a_person(certificates=(Certificate(certificate="cranes"),)),),
        ),
        (*STEP0, "certificates", 0),
        {"certificate": "crane", "nearest": "cranes"},
    ),
    (
        "ring",
        a_book(
            a_job(
                steps=(
                    a_stage("a", after=("c",)),
                    a_stage("b", after=("a",)),
                    a_stage("c", after=("b",)),
                    a_gate(after=("c",)),
                    a_journey(),
                )
            )
        ),
        (*STEP0, "after"),
        {"steps": "A, C, B"},
    ),
    (
        "ring",
        a_book(a_job(steps=(a_stage("a", after=("b",)), a_stage("b"), a_gate(), a_journey()))),
        (*STEP0, "after"),
        {"steps": "A, B"},
    ),
    ("ring", with_step(a_stage("a", after=("a",))), (*STEP0, "after"), {"steps": "A"}),
    (
        "most_below_least",
        with_step(
            a_stage("a", after=(an_after("heron-loading", 5, most_hours=Decimal(4)),)),
        ),
        (*STEP0, "after", 0, "most_hours"),
        {"least_hours": "5", "most_hours": "4"},
    ),
    (
        "recoat_before_cured",
        with_step(a_stage(kind=Kind.COAT, cure_hours=24, recoat_hours=Decimal(12))),
        (*STEP0, "recoat_hours"),
        {"cure_hours": "24", "recoat_hours": "12"},
    ),
    (
        "temperatures_reversed",
        with_step(a_stage(coldest_celsius=Decimal(20), warmest_celsius=Decimal(15))),
        (*STEP0, "warmest_celsius"),
        {"coldest": "20", "warmest": "15"},
    ),
    (
        "pin_before_now",
        with_step(a_stage(pin=Pin(day=on("2026-01-04")))),
        (*STEP0, "pin", "day"),
        {"at": "2026-01-04", "as_of": "2026-01-05T08:00:00Z"},
    ),
    (
        "pin_before_now",
        with_step(a_stage(pin=Pin(start=at("2026-01-04 23:59")))),
        (*STEP0, "pin", "start"),
        {"at": "2026-01-04T23:59:00Z"},
    ),
    (
        "pin_contradicts",
        with_step(a_stage(pin=Pin(start=at("2026-02-04 09:00"), day=on("2026-02-05")))),
        (*STEP0, "pin"),
        {"start": "2026-02-04T09:00:00Z", "day": "2026-02-05", "not_before": None},
    ),
    (
        "pin_contradicts",
        with_step(
            a_stage(pin=Pin(start=at("2026-02-04 09:00"), not_before=at("2026-02-04 10:00")))
        ),
        (*STEP0, "pin"),
        {"day": None},
    ),
    (
        "pin_contradicts",
        with_step(a_stage(pin=Pin(day=on("2026-02-04"), not_before=at("2026-02-05 10:00")))),
        (*STEP0, "pin"),
        {"start": None},
    ),
    (
        "rework_missing",
        with_step(a_gate("answer", GateKind.ANSWER, allow_no=1)),
        (*STEP0, "rework"),
        {"allow_no": 1},
    ),
    (
        "journey_without_legs",
        a_book(a_job(steps=(a_stage(), a_gate(), a_journey(legs=())))),
        (*JOURNEY, "legs"),
        {},
    ),
    (
        "journey_without_inside",
        a_book(a_job(steps=(a_stage(), a_gate(), a_journey(legs=(a_leg(),))))),
        (*JOURNEY, "legs"),
        {},
    ),
    ("leg_without_time", with_leg(minutes=0), (*JOURNEY, "legs", 0, "minutes"), {"leg": "drive"}),
    ("sailing_without_departures", sailing(), (*JOURNEY, "legs", 0, "departures"), {}),
    (
        "departures_out_of_order",
        sailing(
            departs("2026-02-21 09:00", "2026-02-21 19:00"),
            departs("2026-02-20 09:00", "2026-02-20 19:00"),
        ),
        (*JOURNEY, "legs", 0, "departures", 1, "leaves"),
        {"leaves": "2026-02-20T09:00:00Z", "before": "2026-02-21T09:00:00Z"},
    ),
    (
        "opens_without_zone",
        with_leg(kind=LegKind.BORDER, name="The pass", opens=(a_shift(),)),
        (*JOURNEY, "legs", 0, "zone"),
        {"leg": "The pass"},
    ),
    (
        "fact_fits_not",
        a_book(facts=(a_fact(kind=FactKind.ANSWER, answer=Answer.YES),)),
        ("facts", 0, "kind"),
        {"kind": "answer", "step": "Heron-carve"},
    ),
    (
        "fact_fits_not",
        a_book(facts=(a_fact(kind=FactKind.GONE),)),
        ("facts", 0, "kind"),
        {"kind": "gone"},
    ),
    (
        "fact_fits_not",
        a_book(facts=(a_fact(step="heron-journey", kind=FactKind.MATERIAL),)),
        ("facts", 0, "kind"),
        {"kind": "material"},
    ),
    (
        "answer_missing",
        replace(
            with_step(a_gate("heron-answer", GateKind.ANSWER)),
            facts=(a_fact(step="heron-answer", kind=FactKind.ANSWER),),
        ),
        ("facts", 0, "answer"),
        {},
    ),
    (
        "changes_missing",
        replace(
            with_step(a_gate("heron-answer", GateKind.ANSWER)),
            facts=(a_fact(step="heron-answer", kind=FactKind.ANSWER, answer=Answer.CHANGES),),
        ),
        ("facts", 0, "answer"),
        {"step": "Heron-answer"},
    ),
    (
        "remaining_missing",
        a_book(facts=(a_fact(kind=FactKind.RUNNING),)),
        ("facts", 0, "remaining_hours"),
        {},
    ),
    (
        "held_missing",
        a_book(facts=(a_fact(kind=FactKind.HELD),)),
        ("facts", 0, "held_by"),
        {},
    ),
    (
        "fact_doubled",
        a_book(facts=(a_fact(), a_fact("other"))),
        ("facts", 1),
        {"kind": "done", "step": "heron-carve"},
    ),
    (
        "fact_after_now",
        a_book(facts=(a_fact(at=at("2026-01-05 08:01")),)),
        ("facts", 0, "at"),
        {"at": "2026-01-05T08:01:00Z", "as_of": "2026-01-05T08:00:00Z"},
    ),
    (
        "uncertified_at_work",
        at_work(Certificate(certificate="isocyanates", expires=on("2026-01-04"))),
        ("facts", 0, "people"),
        {"person": "Ana", "certificate": "isocyanates"},
    ),
]
