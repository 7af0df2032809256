"""What stands on a day's sheets: rows, changes, marks, what is under them; no widgets."""

from collections import Counter
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from itertools import chain
from zoneinfo import ZoneInfo

import pytest

from app.window.sheets.day import DaySheet, Row, Sort
from app.window.sheets.derive import Asked, derive, for_each
from app.window.sheets.layout import BOTTOM, MARGIN, RIGHT, Page, Text, broken, width_of
from app.window.sheets.pages import pages_of
from app.window.sheets.standing import Mark
from app.words import Words
from scheduler.cured import cured
from scheduler.outcome import Breach, CheckResult, Outcome
from shared.book import (
    Book,
    Equipment,
    EquipmentKind,
    FactKind,
    Leave,
    OtherWork,
    Place,
    PlaceKind,
)
from shared.book import Fact as BookFact
from shared.cautions import cautions_of
from shared.edits import tell_plan
from shared.ids import EquipmentId, FactId, PersonId, PlaceId
from shared.plan import MadeFrom, Placement, Plan
from shared.worktime import Shift
from tests.app.window.scenes import outcome_for, planted
from tests.builders import a_book, a_job, a_person, a_stage, at

pytestmark = pytest.mark.usefixtures("prepared")

A_DAY = timedelta(days=1)
WHY = "a broken arm"


def made(seed: int = 4) -> tuple[Book, Plan, Outcome, datetime]:
    found = planted(seed)
    assert found.plan is not None
    return found.book, found.plan, outcome_for(found), found.now


def busy_day(book: Book, plan: Plan) -> date:
    """Return the day on which most pieces of work begin."""
    zone = ZoneInfo(book.workshop.zone)
    days = Counter(p.start.astimezone(zone).date() for p in plan.placements if p.people)
    return max(days, key=lambda day: (days[day], day))


def sheet_of(book: Book, plan: Plan, day: date, **facts: object) -> DaySheet:
    now = facts.pop("now", plan.now)
    asked = Asked(book=book, plan=plan, now=now, day=day, **facts)  # type: ignore[arg-type]
    return derive(asked, Words("en", book=book))[0]


def told(book: Book, plan: Plan) -> Book:
    return tell_plan(book, plan, plan.now).book


def with_placed(plan: Plan, old: Placement, new: Placement | None) -> Plan:
    kept = [p if p is not old else new for p in plan.placements]
    return replace(plan, placements=tuple(p for p in kept if p is not None))


def texts(pages: tuple[Page, ...]) -> list[list[str]]:
    return [
        [
            mark.text
            for placed in page.blocks
            for mark in placed.block.marks
            if isinstance(mark, Text)
        ]
        for page in pages
    ]


# Rows.


@pytest.mark.parametrize("seed", [4, 5, 7])
def test_everybody_has_a_row_for_all_they_do_on_a_day(seed: int) -> None:
    book, plan, _, _ = made(seed)
    day = busy_day(book, plan)
    zone = ZoneInfo(book.workshop.zone)
    names = {p.id: p.name for p in book.people}
    steps = {step.id: step.name for job in book.jobs for step in job.steps}
    begun = {
        (names[person], steps[p.step], p.start)
        for p in plan.placements
        if p.start.astimezone(zone).date() == day and p.step in steps and p.start < p.end
        for person in p.people
    }
    rows = {
        (
            person.name,
            row.stage.removesuffix(", in one go"),
            datetime.combine(day, time.fromisoformat(row.start), zone),
        )
        for person in sheet_of(book, plan, day).people
        for row in person.rows
        if row.start
    }
    assert begun
    quarter = timedelta(minutes=15)
    for name, stage, start in begun:
        near = [r for r in rows if r[:2] == (name, stage) and abs(r[2] - start) <= quarter]
        assert near, (name, stage, start)


def test_what_was_told_as_done_before_it_was_to_begin_takes_nobody_s_time() -> None:
    book, plan, _, _ = made()
    day = busy_day(book, plan)
    zone = ZoneInfo(book.workshop.zone)
    old = next(
        p
        for p in plan.placements
        if p.people and not p.part and p.start.astimezone(zone).date() == day and p.start < p.end
    )
    at_once = with_placed(plan, old, replace(old, end=old.start))
    without = with_placed(plan, old, None)
    assert sheet_of(book, at_once, day).people == sheet_of(book, without, day).people


def test_rows_of_a_person_follow_one_another_and_name_the_others() -> None:
    book, plan, _, _ = made()
    for person in sheet_of(book, plan, busy_day(book, plan)).people:
        times = [(row.start, row.end) for row in person.rows]
        assert times == sorted(times)
        assert all(person.name not in row.beside for row in person.rows)


def test_a_break_parts_no_row_but_other_work_does() -> None:
    book, plan, _, _ = made()
    zone = ZoneInfo(book.workshop.zone)
    day = busy_day(book, plan)
    who = book.people[0]
    free = replace(plan, placements=(), trips=())
    start = datetime(day.year, day.month, day.day, 8, tzinfo=zone)
    held = OtherWork(
        id="r", name="filters", start=start, end=start + timedelta(hours=7), people=(who.id,)
    )
    only = replace(book, other_work=(held,))
    (row,) = next(p for p in sheet_of(only, free, day).people if p.id == who.id).rows
    assert (row.sort, row.segment, row.start, row.end) == (Sort.OTHER, "Filters", "08:00", "15:00")


@pytest.mark.parametrize(
    ("place", "things", "start", "end"),
    [
        (PlaceKind.BAY, (), "10:00", "11:30"),
        (PlaceKind.BOOTH, (), "09:45", "11:15"),
        (PlaceKind.BAY, (EquipmentKind.CRANE,), "09:45", "11:15"),
        (PlaceKind.BAY, (EquipmentKind.TOOL,), "10:00", "11:30"),
    ],
)
def test_the_bench_is_told_in_half_hours_booth_and_crane_in_quarters(
    place: PlaceKind, things: tuple[EquipmentKind, ...], start: str, end: str
) -> None:
    row = row_of(place, things, "2026-02-02 09:45", "2026-02-02 11:15")

    assert (row.start, row.end) == (start, end)


@pytest.mark.parametrize(
    ("first", "last", "says"),
    [
        ("09:40", "11:10", ("09:30", "11:00")),
        ("09:45", "10:00", ("09:45", "10:00")),
        ("07:15", "09:00", ("07:15", "09:00")),
        ("13:15", "16:15", ("13:30", "16:15")),
    ],
)
def test_what_is_shorter_than_half_an_hour_and_where_a_shift_ends_is_told_as_it_is(
    first: str, last: str, says: tuple[str, str]
) -> None:
    """The shift is from 07:15 to 16:15."""
    row = row_of(PlaceKind.BAY, (), f"2026-02-02 {first}", f"2026-02-02 {last}")

    assert (row.start, row.end) == says


def row_of(place: PlaceKind, things: tuple[EquipmentKind, ...], start: str, end: str) -> Row:
    """Give the only row of somebody who works from 07:15 to 16:15, by the clock of Greenwich."""
    hours = Shift(days=(0, 1, 2, 3, 4), start=time(7, 15), end=time(16, 15))
    equipment = tuple(
        Equipment(id=EquipmentId(f"thing-{n}"), name=f"thing {n}", kind=kind)
        for n, kind in enumerate(things)
    )
    job = a_job("owl", steps=(a_stage("owl-carve"),))
    book = a_book(
        job,
        people=(a_person("asta", hours=(hours,)),),
        places=(Place(id=PlaceId("here"), name="Here", kind=place),),
        equipment=equipment,
    )
    placed = Placement(
        job=job.id, step=job.steps[0].id, start=at(start), end=at(end),
        people=(PersonId("asta"),), place=PlaceId("here"),
        equipment=tuple(each.id for each in equipment),
    )  # fmt: skip
    made_from, now = MadeFrom(revision=1, digest="x"), at("2026-02-02 07:00")
    plan = Plan(now=now, made_from=made_from, jobs=(job.id,), placements=(placed,))
    rows = [row for person in sheet_of(book, plan, date(2026, 2, 2)).people for row in person.rows]
    assert len(rows) == 1
    return rows[0]


def test_who_has_nothing_to_do_reads_so() -> None:
    book, plan, _, _ = made()
    free = replace(plan, placements=(), trips=())
    sheet = sheet_of(book, free, busy_day(book, plan))
    assert {row.segment for person in sheet.people for row in person.rows} == {"nothing planned"}


def test_what_is_done_is_ticked() -> None:
    book, plan, _, _ = made()
    day = busy_day(book, plan)
    zone = ZoneInfo(book.workshop.zone)
    placed = next(p for p in plan.placements if p.people and p.start.astimezone(zone).date() == day)
    fact = BookFact(id=FactId("f"), kind=FactKind.DONE, step=placed.step, at=placed.end, told_by="")
    sheet = sheet_of(replace(book, facts=(*book.facts, fact)), plan, day)
    done = [row for person in sheet.people for row in person.rows if row.is_done]
    assert len(done) >= len(placed.people)
    assert not any(
        row.is_done for person in sheet_of(book, plan, day).people for row in person.rows
    )


# Who is away.


def away_book() -> tuple[Book, Plan, date]:
    book, plan, _, _ = made()
    day = busy_day(book, plan)
    zone = ZoneInfo(book.workshop.zone)
    start = datetime(day.year, day.month, day.day, 0, tzinfo=zone)
    leave = Leave(start=start, end=start + 3 * A_DAY, reason=WHY)
    first = replace(book.people[0], leave=(leave,))
    return replace(book, people=(first, *book.people[1:])), plan, day


def test_away_is_told_with_the_day_of_coming_back_and_never_with_the_reason() -> None:
    book, plan, day = away_book()
    sheet = sheet_of(book, plan, day)
    words = Words("en", book=book)
    summary = " ".join(text for text, _ in sheet.summary)
    assert f"{book.people[0].name} is away, back " in summary
    for sheets in ((sheet,), for_each(sheet)):
        pages = pages_of(sheets, words)
        all_told = [placed.block.told for page in pages for placed in page.blocks]
        assert WHY not in " ".join([*chain.from_iterable(texts(pages)), *all_told])
    assert WHY not in repr(sheet)


@pytest.mark.parametrize(("days", "back"), [(1, "Tue"), (2, "Wed"), (5, "Mon"), (6, "Mon")])
def test_back_is_a_day_on_which_they_work(days: int, back: str) -> None:
    book, plan, _, now = made()
    zone = ZoneInfo(book.workshop.zone)
    monday = now.astimezone(zone).date()
    assert monday.weekday() == 0
    start = datetime(monday.year, monday.month, monday.day, 0, tzinfo=zone)
    leave = Leave(start=start, end=start + days * A_DAY)
    book = replace(book, people=(replace(book.people[0], leave=(leave,)), *book.people[1:]))
    summary = " ".join(text for text, _ in sheet_of(book, plan, monday).summary)
    assert f"{book.people[0].name} is away, back {back}" in summary


# What has changed, and which sheet it is.


def one_moved(by: timedelta) -> tuple[Book, Plan, date, Placement]:
    book, plan, _, _ = made()
    day = busy_day(book, plan)
    zone = ZoneInfo(book.workshop.zone)
    placed = next(
        p
        for p in plan.placements
        if p.people and p.start.astimezone(zone).date() == day and p.end - p.start > by
    )
    moved = replace(placed, start=placed.start + by)
    return told(book, plan), with_placed(plan, placed, moved), day, placed


def test_a_row_that_begins_at_another_time_is_marked_and_its_people_named() -> None:
    book, plan, day, placed = one_moved(timedelta(minutes=30))
    sheet = sheet_of(book, plan, day)
    names = {p.name for p in book.people if p.id in placed.people}
    changed = {p.name for p in sheet.people if any(row.is_changed for row in p.rows)}
    assert changed == names
    assert all(name in sheet.changes for name in names)
    assert (sheet.number, sheet.is_told) == (2, False)


def test_what_takes_a_little_longer_is_no_change() -> None:
    book, plan, _, _ = made()
    day = busy_day(book, plan)
    zone = ZoneInfo(book.workshop.zone)
    placed = next(p for p in plan.placements if p.people and p.end.astimezone(zone).date() == day)
    longer = with_placed(plan, placed, replace(placed, end=placed.end - timedelta(minutes=15)))
    sheet = sheet_of(told(book, plan), longer, day)
    assert not sheet.changes
    assert sheet.is_told


def test_who_has_lost_work_is_named_too() -> None:
    book, plan, _, _ = made()
    day = busy_day(book, plan)
    zone = ZoneInfo(book.workshop.zone)
    placed = next(p for p in plan.placements if p.people and p.start.astimezone(zone).date() == day)
    sheet = sheet_of(told(book, plan), with_placed(plan, placed, None), day)
    names = {p.name for p in book.people if p.id in placed.people}
    assert all(name in sheet.changes for name in names)


def test_the_sheet_told_keeps_its_marks_against_the_one_before() -> None:
    book, plan, day, _ = one_moved(timedelta(minutes=30))
    again = tell_plan(book, plan, plan.now).book
    known = sheet_of(again, plan, day, former=book.told)
    assert (known.number, known.is_told, bool(known.changes)) == (2, True, True)
    assert "sheet 2" in known.number_line
    assert "throw sheet 1 away" in known.number_line
    unknown = sheet_of(again, plan, day)
    assert (unknown.number, unknown.is_told, bool(unknown.changes)) == (2, True, False)


def test_the_first_sheet_throws_none_away() -> None:
    book, plan, _, _ = made()
    sheet = sheet_of(told(book, plan), plan, busy_day(book, plan))
    assert "throw" not in sheet.number_line
    assert not sheet_of(book, plan, busy_day(book, plan)).is_told


# An old plan is never given out unmarked.


def standing_marks(book: Book, plan: Plan, outcome: Outcome | None, now: datetime) -> set[Mark]:
    asked = Asked(book=book, plan=plan, now=now, day=now.date(), outcome=outcome)
    return set(derive(asked, Words("en", book=book))[1].marks)


def test_marks() -> None:
    book, plan, outcome, now = made()
    breach = Breach(rule="place", where="x")
    broken = replace(outcome, check=CheckResult(breaches=(breach,)))
    newer = replace(book, revision=book.revision + 3)
    just_told = told(book, plan)
    new = {Mark.NOT_TOLD}
    assert standing_marks(book, plan, outcome, now) == new
    assert standing_marks(just_told, plan, outcome, now) == set()
    assert standing_marks(newer, plan, outcome, now) == {*new, Mark.OLD_BOOK}
    assert standing_marks(book, plan, outcome, now + A_DAY) == {*new, Mark.OLD_DAY}
    assert standing_marks(book, plan, broken, now) == {*new, Mark.FAULTY}
    assert standing_marks(book, plan, None, now) == {*new, Mark.NOT_CHECKED}
    after = replace(just_told, revision=just_told.revision + 1)
    assert standing_marks(after, plan, outcome, now) == {Mark.OLD_BOOK}


@pytest.mark.parametrize("is_each", [False, True])
def test_no_page_of_an_old_plan_is_without_its_mark(is_each: bool) -> None:
    book, plan, outcome, now = made()
    cases = {
        "revision": (replace(told(book, plan), revision=book.revision + 4), now, outcome),
        "made on": (told(book, plan), now + A_DAY, outcome),
        "fault": (
            told(book, plan),
            now,
            replace(outcome, check=CheckResult(breaches=(Breach(rule="place", where="x"),))),
        ),
    }
    for word, (old, moment, said) in cases.items():
        sheet = sheet_of(old, plan, busy_day(book, plan), now=moment, outcome=said)
        assert sheet.is_old
        words = Words("en", book=old)
        pages = pages_of(for_each(sheet) if is_each else (sheet,), words)
        assert pages
        for page in texts(pages):
            assert any("OLD PLAN" in text for text in page), word
            assert any(word in text for text in page), word


# Under the rows.


def test_cures_are_those_that_run_on_that_day() -> None:
    book, plan, _, _ = made()
    zone = ZoneInfo(book.workshop.zone)
    found = cured(book, plan)
    day = next(
        one.end.astimezone(zone).date()
        for one in found.values()
        if one.ready - one.end > timedelta(hours=20)
    )
    sheet = sheet_of(book, plan, day)
    ends = {one.ready.astimezone(zone).strftime("%H:%M") for one in found.values()}
    assert sheet.cures
    assert all(line.when.rpartition(" ")[2] in ends for line in sheet.cures)


def test_cautions_are_those_of_the_stages_of_the_day_and_of_nobody_else() -> None:
    book, plan, _, _ = made()
    day = busy_day(book, plan)
    sheet = sheet_of(book, plan, day)
    stages = {row.stage for person in sheet.people for row in person.rows}
    wanted = {
        caution.id
        for job in book.jobs
        for step in job.steps
        if step.name in stages or f"{step.name}, in one go" in stages
        for caution in cautions_of(book, job, step)
    }
    assert {care.id for care in sheet.cares} <= wanted
    for one in for_each(sheet):
        assert {care.id for care in one.cares} == set(one.people[0].cautions)


def test_days_left_are_the_working_days_before_the_window() -> None:
    book, plan, _, now = made()
    zone = ZoneInfo(book.workshop.zone)
    day = now.astimezone(zone).date()
    sheet = sheet_of(book, plan, day)
    later = sheet_of(book, plan, day + A_DAY)
    figures = {each.job: int(each.figure) for each in sheet.left}
    after = {each.job: int(each.figure) for each in later.left}
    assert set(figures) == {job.name for job in book.jobs if job.id in plan.jobs}
    assert all(after[job] == count - 1 for job, count in figures.items())
    for job in book.jobs:
        held = job.held_window
        assert held is not None
        opens = held.start.astimezone(ZoneInfo(job.site.zone)).date()
        weekdays = sum((day + n * A_DAY).weekday() < 5 for n in range((opens - day).days))
        assert weekdays - 12 <= figures[job.name] <= weekdays


# Pages.


def test_no_text_leaves_its_page_and_nobody_is_cut() -> None:
    book, plan, _, _ = made()
    sheet = sheet_of(book, plan, busy_day(book, plan))
    person = max(sheet.people, key=lambda one: len(one.rows))
    many = tuple(replace(person, id=PersonId(f"p{n}"), name=f"Person {n}") for n in range(40))
    words = Words("en", book=book)
    pages = pages_of((replace(sheet, people=many),), words)
    assert len(pages) > 1
    rows = [p.block.id for page in pages for p in page.blocks if p.block.id.startswith("row ")]
    assert rows == [f"row p{n}" for n in range(40)]
    for page in pages:
        ends = [placed.y + placed.block.high for placed in page.blocks]
        starts = [placed.y for placed in page.blocks[1:]]
        assert all(end <= start + 0.01 for end, start in zip(ends[:-1], starts, strict=True))
        assert ends[-1] <= BOTTOM + 1
        for placed in page.blocks:
            for mark in placed.block.marks:
                if isinstance(mark, Text):
                    style = {"serif": mark.serif, "italic": mark.italic}
                    wide = width_of(mark.text, mark.size, mark.weight, **style)
                    left = mark.x - wide if mark.is_right else mark.x
                    assert left >= MARGIN - 1
                    assert left + wide <= RIGHT + 1
    titles = [texts((page,))[0] for page in pages]
    assert all(sheet.title in page and sheet.number_line in page for page in titles)
    assert [page[-1] for page in titles] == [f"{n + 1} of {len(pages)}" for n in range(len(pages))]


def test_fourteen_people_stand_on_one_page() -> None:
    book, plan, _, _ = made()
    sheet = sheet_of(book, plan, busy_day(book, plan))
    row = sheet.people[0].rows[0]
    short = replace(row, segment="Owl, body", stage="carve", place="bay 2", beside="Cato")
    person = replace(sheet.people[0], rows=(short, short))
    many = tuple(replace(person, id=PersonId(f"p{n}"), name=f"Name {n}") for n in range(14))
    bare = replace(sheet, people=many, cares=(), dues=(), cures=())
    assert len(pages_of((bare,), Words("en", book=book))) == 1
    whole = replace(sheet, people=many)
    first = pages_of((whole,), Words("en", book=book))[0]
    rows = [placed.block.id for placed in first.blocks if placed.block.id.startswith("row ")]
    assert rows == [f"row p{n}" for n in range(14)]


@pytest.mark.parametrize("text", ["", "one", "several words of a text", "W" * 90, "a " + "W" * 90])
def test_lines_fit_their_width_and_lose_no_letter(text: str) -> None:
    lines = broken(text, 300)
    assert all(width_of(line) <= 300 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
