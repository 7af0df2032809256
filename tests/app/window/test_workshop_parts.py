"""The workshop's page without a window: what is typed, the edits it makes, where it stands."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from string import Formatter

import pytest

from app.window.sheet.typed import NotTaken
from app.window.workshop import people, standing, typed
from app.window.workshop.items import Sentence, line_for
from app.window.workshop.parts import PARTS, part_of
from app.words import Words
from app.words import workshop_view as say
from shared.book import (
    Answer,
    Book,
    Certificate,
    EngagementState,
    FactKind,
    GateKind,
    MaterialKind,
    PlaceKind,
    SkillLevel,
    Standing,
    Step,
)
from shared.edits import change_person
from shared.examine import examine
from shared.ids import PersonId, SegmentId, SkillId
from shared.order import touched
from shared.worktime import Break
from tests.app.window.bought import bought
from tests.app.window.shops import at_of, field, full_book, part
from tests.builders import NOW, a_book, a_fact, a_gate, a_job, a_person, a_segment, a_stage, at

WORDS = Words("en")
TODAY = date(2027, 3, 15)


# What stands in a blank can be typed back.


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("name", PARTS)
def test_what_stands_in_a_blank_typed_again_changes_nothing(name: str, language: str) -> None:
    book = full_book()
    at = replace(at_of(book), words=Words(language, book=book))
    seen = 0
    for each in part_of(name, book, at, "", str).fields:
        if not each.text or each.keep is not None or each.name.endswith("counted"):
            continue
        made = each.write(book, each.text).book
        assert replace(made, revision=book.revision) == book, each.name
        seen += 1
    assert seen or name in {"ways", "standing", "learned"}


SLIPS = (
    "", "0", "-1", "1e9", "NaN", "inf", "100000", "½", "abc", "a" * 300, "31 Feb", "1 Jan 0001",
    "31 Dec 9999", "9999-12-31", "24:61 to 25:00", "00:00 to 00:00", "Mon to Fri 08:00 to 08:00",
    "Europe/Nowhere", "XX", "0 m²", "Nov to Oct", ":", ";", ",", "3 May 08:00 to 3 May 08:00",
)  # fmt: skip


@pytest.mark.parametrize("name", PARTS)
def test_a_slip_of_the_hand_is_taken_or_refused_with_words(name: str) -> None:
    book = full_book()
    for each in part(name, book).fields:
        for slip in SLIPS if each.keep is None else ():
            try:
                each.write(book, slip)
            except NotTaken as no:
                said = say.not_taken(WORDS, no.code, **no.facts)
                assert "…" not in said, (each.name, slip)


def test_a_clock_and_holidays_that_nobody_knows_are_refused() -> None:
    book = full_book()
    slips = (("zone", "Europe/Nowhere"), ("country", "XX"), ("subdivision", "QQ"))
    for name, slip in slips:
        with pytest.raises(NotTaken) as no:
            field(name, "hours", book).write(book, slip)
        assert no.value.code == f"not_a_{name}"
    moved = field("country", "hours", book).write(book, "de").book
    assert (moved.workshop.country, moved.workshop.subdivision) == ("DE", None)


def test_names_of_blanks_differ() -> None:
    for name in PARTS:
        names = [each.name for each in part(name, full_book()).fields]
        assert len(names) == len(set(names)), name


@pytest.mark.parametrize(
    ("text", "days", "first", "last", "breaks"),
    [
        ("Mon to Fri 07:30 to 16:00, break 12:00 to 12:30", (0, 1, 2, 3, 4), "07:30", "16:00", 1),
        ("07:30-16:00", (0, 1, 2, 3, 4), "07:30", "16:00", 0),
        ("Sat 8.00 to 12.00", (5,), "08:00", "12:00", 0),
        ("Mon, Wed and Fri 22:00 to 06:00", (0, 2, 4), "22:00", "06:00", 0),
        ("Sat to Mon 08:00 to 12:00", (0, 5, 6), "08:00", "12:00", 0),
    ],
)
def test_hours_are_read(
    text: str, days: tuple[int, ...], first: str, last: str, breaks: int
) -> None:
    (shift,) = typed.hours(text, WORDS)

    assert shift.days == days
    assert (f"{shift.start:%H:%M}", f"{shift.end:%H:%M}") == (first, last)
    assert len(shift.breaks) == breaks


@pytest.mark.parametrize(
    "text", ["early", "Mon 08:00", "Mon to Xyz 08:00 to 12:00", "25:99 to 9:00"]
)
def test_hours_that_are_none_are_refused(text: str) -> None:
    with pytest.raises(NotTaken) as no:
        typed.hours(text, WORDS)
    assert no.value.code == "not_hours"


def test_several_shifts_and_none() -> None:
    text = (
        "Mon to Thu 07:00 to 16:00, break 09:00 to 09:15, break 12:00 to 12:30; Fri 07:00 to 12:00"
    )
    found = typed.hours(text, WORDS)

    assert found[0].breaks == (
        Break(start=time(9), end=time(9, 15)),
        Break(start=time(12), end=time(12, 30)),
    )
    assert typed.hours_text(found, WORDS) == text
    assert typed.hours("", WORDS) == ()


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("3 May to 7 May", date(2027, 5, 3), date(2027, 5, 7)),
        ("Mon 3 May – Fri 7 May", date(2027, 5, 3), date(2027, 5, 7)),
        ("24 Dec to 2 Jan", date(2027, 12, 24), date(2028, 1, 2)),
        ("2027-05-03", date(2027, 5, 3), date(2027, 5, 3)),
        ("3 Feb", date(2028, 2, 3), date(2028, 2, 3)),
    ],
)
def test_spans_of_days_are_read(text: str, first: date, last: date) -> None:
    assert typed.days(text, WORDS, TODAY) == (first, last)


@pytest.mark.parametrize("text", ["soon", "7 May 2027 to 3 May 2027", "3 May to 5 May to 7 May"])
def test_spans_that_are_none_are_refused(text: str) -> None:
    with pytest.raises(NotTaken) as no:
        typed.days(text, WORDS, TODAY)
    assert no.value.code == "not_days"


@pytest.mark.parametrize(
    ("text", "room"),
    [("120 m²", ("120", None)), ("90m2", ("90", None)), ("3 slots", (None, 3)), ("2", (None, 2))],
)
def test_rooms_are_read(text: str, room: tuple[str | None, int | None]) -> None:
    area, slots = typed.room(text)
    assert (None if area is None else f"{area}", slots) == room


@pytest.mark.parametrize("text", ["big", "1.5 slots", "0 slots"])
def test_rooms_that_are_none_are_refused(text: str) -> None:
    with pytest.raises(NotTaken):
        typed.room(text)


@pytest.mark.parametrize(
    ("text", "months"),
    [
        ("Nov to Mar", (11, 12, 1, 2, 3)),
        ("Jul, Aug", (7, 8)),
        ("all year", tuple(range(1, 13))),
        ("May", (5,)),
    ],
)
def test_months_are_read_and_written(text: str, months: tuple[int, ...]) -> None:
    assert typed.months(text, WORDS) == months
    assert typed.months(typed.months_text(months, WORDS), WORDS) == months


# People.


def test_a_pasted_list_makes_people_and_is_one_edit() -> None:
    book = a_book()
    made = people.add_named(book, "Edda\nFemi\n\nGoran Holm\nEdda\n")

    assert [person.name for person in made.book.people[1:]] == ["Edda", "Femi", "Goran Holm"]
    assert made.book.revision == book.revision + 1
    assert dict(made.label.facts) == {"count": 3}
    with pytest.raises(NotTaken):
        people.add_named(made.book, "edda, FEMI")


def test_a_list_in_columns_brings_skills_along() -> None:
    made = people.add_named(a_book(), "Edda\tCarve\tlaminate\nFemi: paint, upholster")
    by_name = {person.name: [skill.skill for skill in person.skills] for person in made.book.people}

    assert by_name["Edda"] == ["carve", "laminate"], "as the book writes them already"
    assert by_name["Femi"] == ["paint", "upholster"]


def test_ids_stay_apart_where_names_look_alike() -> None:
    made = people.add_named(a_book(), "Jo Holm; Jo-Holm; Ø; !")
    ids = [person.id for person in made.book.people]

    assert len(ids) == len(set(ids))
    assert all(ids)


def test_ticks_and_levels() -> None:
    book = a_book(people=(a_person("edda"), a_person("femi")))
    none = people.tick(book, PersonId("edda"), SkillId("carve"), "").book
    edda = none.people[0]
    assert people.level_of(edda, SkillId("carve")) == ""
    back = people.tick(none, PersonId("edda"), SkillId("carve"), "leads").book
    assert people.level_of(back.people[0], SkillId("carve")) == SkillLevel.LEADS
    everybody = people.tick_all(none, SkillId("carve")).book
    assert all(people.level_of(each, SkillId("carve")) for each in everybody.people)
    nobody = people.tick_all(everybody, SkillId("carve")).book
    assert not any(people.level_of(each, SkillId("carve")) for each in nobody.people)


def test_levels_stay_at_their_ends() -> None:
    assert [people.next_level(level, 1) for level in ("", "helps", "can", "leads")] == [
        "helps", "can", "leads", "leads",
    ]  # fmt: skip
    assert people.next_level("", -1) == ""


def test_a_book_that_asks_for_nothing_shows_the_skills_of_the_basic_way_of_making() -> None:
    bare = a_book(people=(), jobs=())
    assert len(people.skills_of(bare)) > 3


def test_a_certificate_and_a_leave_are_added_and_taken_out() -> None:
    book = a_book()
    added = field("person add holds", "people", book).write(book, "isocyanate training").book
    held = field("person holds 1 until", "people", added).write(added, "30 Sep 2027").book
    assert held.people[0].certificates == (
        Certificate(certificate="isocyanate training", expires=date(2027, 9, 30)),
    )
    away = field("person add away", "people", held).write(held, "3 May 2027 to 7 May 2027").book
    assert away.people[0].leave[0].start == at("2027-05-02 23:00"), "midnight in London in summer"
    assert away.people[0].leave[0].end == at("2027-05-07 23:00")


# Places and the rest.


def test_a_place_takes_its_sort_from_its_name() -> None:
    book = a_book()
    made = field("add place", "places", book).write(book, "Second booth").book
    assert made.places[-1].kind.value == "booth"
    other = field("add place", "places", made).write(made, "Second booth").book
    assert other.places[-1].id != made.places[-1].id


def test_a_material_comes_from_the_only_one_who_delivers() -> None:
    book = a_book()
    shop = field("add supplier", "bought", book).write(book, "Oakham").book
    made = field("add material", "bought", shop).write(shop, "foam").book
    assert made.materials[0].supplier == shop.suppliers[0].id
    assert made.materials[0].unit == "m3"
    assert not [f for f in examine(made) if f.path[:1] in (("materials",), ("suppliers",))]


def test_counting_the_store_says_when() -> None:
    book = bought().book
    made = field("foam counted", "bought", book).write(book, "7,5").book
    foam = next(each for each in made.materials if each.id == "foam")
    assert foam.counted == Decimal("7.5")
    assert foam.counted_at == bought().now


def test_a_way_of_making_is_copied_into_the_book() -> None:
    book = a_book()
    acts = [act for item in part("ways", book).items for act in getattr(item, "acts", ())]
    assert len(acts) == 5
    assert acts[0].edit is not None
    made = acts[0].edit(book).book
    assert len(made.routes) == 1
    left = [act for item in part("ways", made).items for act in getattr(item, "acts", ())]
    assert len(left) == 4


def test_money_is_hidden_with_the_rest() -> None:
    book = full_book()
    hidden = replace(at_of(book), is_money_hidden=True)
    for name in ("rates", "bought"):
        made = part_of(name, book, hidden, "", str)
        assert not any("price" in each.name or "rate" in each.name for each in made.fields)


# Findings stand at their field.


def test_a_finding_stands_at_the_line_of_its_field() -> None:
    book = bought().book
    made = part("bought", book)
    (found,) = [each for each in examine(book) if made.owns(each)]
    line = line_for(made, found)
    index = int(line.split()[1])

    assert found.path[:2] == ("materials", 2)
    assert index == 2


def test_a_finding_of_a_person_not_shown_stands_at_the_top() -> None:
    book = full_book()
    freelance = replace(book.people[1], freelance=True)
    changed = change_person(book, freelance).book
    made = part("people", changed)
    found = next(f for f in examine(changed) if f.path[:2] == ("people", 1))

    assert made.owns(found)
    assert line_for(made, found) == ""
    chosen = part_of("people", changed, at_of(changed, freelance.id), "", str)
    assert line_for(chosen, found) != ""


# Day one.


def two_wings() -> Book:
    """A job of two segments: each is carved and laminated, one answer for both, then loaded."""
    segments = (a_segment("left"), a_segment("right"))
    own = [
        a_stage(f"{name} {what}", segments=(SegmentId(name),))
        for what in ("carve", "laminate")
        for name in ("left", "right")
    ]
    gate = a_gate("yes", GateKind.ANSWER)
    steps: tuple[Step, ...] = (*own[:2], gate, *own[2:], a_gate("load", GateKind.LOADING))
    return a_book(a_job("owl", segments=segments, steps=steps))


def reached(book: Book, step: str) -> Book:
    name = next(s.id for job in book.jobs for s in job.steps if s.id == step)
    return standing.reach(book, name, NOW, WORDS, "a segment").book


def told(book: Book) -> set[tuple[str, str]]:
    return {(fact.step, fact.kind.value) for fact in book.facts}


def test_all_before_what_is_reached_is_done() -> None:
    assert told(reached(two_wings(), "left carve")) == set()
    assert told(reached(two_wings(), "yes")) == {("left carve", "done"), ("right carve", "done")}


def test_what_lies_behind_an_answer_had_its_yes_and_so_had_all_who_share_it() -> None:
    book = reached(two_wings(), "left laminate")

    assert told(book) == {("left carve", "done"), ("right carve", "done"), ("yes", "answer")}
    (answer,) = [fact for fact in book.facts if fact.kind is FactKind.ANSWER]
    assert answer.answer is Answer.YES


def test_going_back_takes_what_was_said_too_far() -> None:
    book = reached(reached(two_wings(), "load"), "yes")

    assert told(book) == {("left carve", "done"), ("right carve", "done")}
    assert told(reached(book, "left carve")) == {("right carve", "done")}


def test_what_was_told_before_keeps_its_time() -> None:
    first = reached(two_wings(), "yes")
    second = standing.reach(first, first.jobs[0].steps[-1].id, at("2026-01-06 08:00"), WORDS, "x")
    times = {fact.step: fact.at for fact in second.book.facts}

    assert times[first.jobs[0].steps[0].id] == NOW
    assert times[first.jobs[0].steps[-2].id] == at("2026-01-06 08:00")


def test_a_stage_that_is_told_to_run_and_is_passed_only_counts_as_done() -> None:
    running = a_fact("run", "left carve", kind=FactKind.RUNNING, remaining_hours=Decimal(2))
    book = reached(replace(two_wings(), facts=(running,)), "yes")

    assert told(book) == {("left carve", "done"), ("right carve", "done")}


def test_no_finding_comes_of_where_it_stands() -> None:
    book = bought().book
    before = {each.code for each in examine(book)}
    job = book.jobs[0]
    step = job.steps[len(job.steps) // 2]
    made = standing.reach(book, step.id, bought().now, WORDS, "x").book

    assert {each.code for each in examine(made)} <= before
    assert made.facts


def test_strips_show_each_segment_with_its_own_steps() -> None:
    book = reached(two_wings(), "left laminate")
    (running,) = standing.derive(book, WORDS)
    job = book.jobs[0]
    for strip in running.strips:
        own = [s.id for s in job.steps if strip.segment in touched(job, s)]
        assert [stop.step for stop in strip.stops] == own
        assert [stop.state for stop in strip.stops].count("here") == 1
    assert [stop.state for stop in running.strips[0].stops] == ["over", "over", "here", "ahead"]


def test_an_enquiry_is_not_running() -> None:
    book = two_wings()
    asked = replace(book.jobs[0], standing=Standing.ENQUIRY)
    assert standing.derive(replace(book, jobs=(asked,)), WORDS) == ()


def test_sentences_have_a_field_for_each_of_their_blanks() -> None:
    for name in PARTS:
        for item in part(name, full_book()).items:
            if isinstance(item, Sentence):
                text = item.template if isinstance(item.template, str) else item.template.text
                wanted = {each for _, each, _, _ in Formatter().parse(text) if each}
                assert wanted == {key for key, _ in item.fields}, text


def test_places_know_all_their_sorts() -> None:
    assert set(say.PLACE_KINDS) == {kind.value for kind in PlaceKind}
    assert set(say.MATERIAL_KINDS) == {kind.value for kind in MaterialKind}
    assert set(say.LEVELS) == {"", *(level.value for level in SkillLevel)}
    assert set(say.STATES) == {state.value for state in EngagementState}
