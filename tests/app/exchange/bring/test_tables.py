"""Tables brought in: whole ones taken value by value, of spoiled ones every bad cell named."""

from datetime import UTC, date, datetime, time
from decimal import Decimal
from random import Random
from zoneinfo import ZoneInfo

import pytest

from app.exchange.bring.bringing import Judged, bring_table
from app.exchange.bring.cells import NoTable, letter
from app.exchange.bring.grid import read_grid
from shared.book import Book, FactKind, SkillLevel, Stage, Standing
from tests.app.exchange.bring.made import KINDS, a_book, a_table, as_csv, as_xlsx, spoiled

FILES = 300


def bring(kind: str, data: bytes, book: Book | None = None, **said: str) -> Judged:
    used = book or a_book()
    assert used.as_of is not None
    return bring_table(used, kind, data, said, used.as_of, "Wren")


def taken(found: Judged) -> Book:
    assert not found.troubles, found.troubles
    assert not found.findings, found.findings
    assert found.edited is not None
    return found.edited.book


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("german", [False, True])
def test_whole_tables_are_taken_whichever_way_they_are_written(kind: str, german: bool) -> None:
    grid = a_table(kind, Random(7), 12).grid(german=german)
    ways = {
        "comma": as_csv(grid),
        "semicolon": as_csv(grid, separator=";"),
        "tab": as_csv(grid, separator="\t"),
        "marked": as_csv(grid, encoding="utf-8-sig"),
        "wide": as_csv(grid, encoding="utf-16"),
        "western": as_csv(grid, separator=";", encoding="cp1252"),
        "workbook": as_xlsx(grid),
    }
    books = {name: taken(bring(kind, data)) for name, data in ways.items()}

    assert all(book == books["comma"] for book in books.values())
    assert books["comma"].revision == a_book().revision + 1


def test_jobs_are_as_their_rows_say() -> None:
    text = (
        "Auftrag;Kunde;Land;Fenster von;Fenster bis;Status;vorgemerkt bis;Preis\n"
        "Kröte;Stadtbücherei;Norwegen;11.05.2027 08:00;14.5.2027 17:00;vorgemerkt;"
        "1.4.2027;1.250,50\n"
    )
    (job,) = taken(bring("jobs", text.encode("cp1252"))).jobs[len(a_book().jobs) :]
    oslo = ZoneInfo("Europe/Oslo")
    (window,) = job.windows

    assert (job.id, job.name, job.client.name) == ("kröte", "Kröte", "Stadtbücherei")
    assert (job.site.country, job.site.zone) == ("NO", "Europe/Oslo")
    assert window.start == datetime(2027, 5, 11, 8, tzinfo=oslo)
    assert window.end == datetime(2027, 5, 14, 17, tzinfo=oslo)
    assert job.standing is Standing.PENCILLED
    assert job.pencilled_until == date(2027, 4, 1)
    assert job.price == Decimal("1250.50")


def test_stages_go_before_the_loading_with_their_segments() -> None:
    book = a_book()
    job = book.jobs[0]
    text = (
        "job,segment,stage,kind,skill,hands,hours,low,high,cure hours,in one go,places,length\n"
        f"{job.name},Crest,carve it,foam,{book.people[0].skills[0].skill},2,10,8,14,,,"
        f"{book.places[0].name},2.5\n"
        f"{job.name},Crest,skin it,laminate,,,4.5,,,24,yes,,\n"
    )
    after = taken(bring("stages", text.encode())).jobs[0]
    first, second = [s for s in after.steps if s not in job.steps]
    crest = after.segments[-1]

    assert after.steps.index(second) == after.steps.index(first) + 1
    assert {type(s).__name__ for s in after.steps[after.steps.index(second) + 1 :]} <= {
        "Gate",
        "Journey",
    }
    assert isinstance(first, Stage)
    assert isinstance(second, Stage)
    (way,) = first.ways
    assert (crest.name, crest.length_m) == ("Crest", Decimal("2.5"))
    assert first.segments == second.segments == (crest.id,)
    assert [way.hours.low, way.hours.likely, way.hours.high] == [8, 10, 14]
    assert (way.hands_count, way.places) == (2, (book.places[0].id,))
    assert second.ways[0].hours.high == Decimal("4.5")
    assert second.cure_hours == 24
    assert second.in_one_go


def test_people_timetables_and_hours_are_as_their_rows_say() -> None:
    book = a_book()
    people = b'name,can,helps with,pace,rate\nZita,"carve; paint",laminate,"0,8",31.5\n'
    zita = taken(bring("people", people)).people[-1]
    assert {(s.skill, s.level) for s in zita.skills} == {
        ("carve", SkillLevel.CAN),
        ("paint", SkillLevel.CAN),
        ("laminate", SkillLevel.HELPS),
    }
    assert (zita.pace, zita.rate_per_hour) == (Decimal("0.8"), Decimal("31.5"))

    row = a_table("timetables", Random(1), 1).rows[0]
    sailing = f"Auftrag;Tage;ab;an;Tage später\n{row['job']};Mo+Fr;22:15;07.30;1\n"
    after = taken(bring("timetables", sailing.encode()))
    was = {
        t for j in book.jobs for s in j.steps for g in getattr(s, "legs", ()) for t in g.timetable
    }
    now = [
        t for j in after.jobs for s in j.steps for g in getattr(s, "legs", ()) for t in g.timetable
    ]
    (new,) = [t for t in now if t not in was]
    assert (new.weekdays, new.leaves, new.arrives) == ((1, 5), time(22, 15), time(7, 30))
    assert (new.days_later, new.zone) == (1, book.workshop.zone)

    made = a_table("hours", Random(1), 1).rows[0]
    hours = f"job,step,who,from,to\n{made['job']},{made['stage']},{made['people']}," + (
        f"{made['begun']},{made['done']}\n"
    )
    begun, done = taken(bring("hours", hours.encode())).facts[len(book.facts) :]
    assert (begun.kind, done.kind) == (FactKind.RUNNING, FactKind.DONE)
    assert begun.step == done.step == made["stage"]
    wanted = datetime.fromisoformat(str(made["begun"])).replace(tzinfo=ZoneInfo(book.workshop.zone))
    assert begun.at.astimezone(UTC) == wanted.astimezone(UTC)
    assert done.told_by == "Wren"


@pytest.mark.parametrize("number", range(FILES))
def test_of_a_spoiled_file_every_bad_row_is_named_and_nothing_is_taken(number: int) -> None:
    rng = Random(number)
    kind = KINDS[number % len(KINDS)]
    made, spots = spoiled(a_table(kind, rng, rng.randint(1, 30)), rng)
    grid = made.grid(german=rng.random() < 0.5)
    if rng.random() < 0.5 and not any("\x01" in map(str, row) for row in grid):
        data = as_xlsx(grid)
    else:
        data = as_csv(grid, separator=rng.choice(",;\t"))
    before = a_book()
    found = bring(kind, data)

    assert found.edited is None
    assert a_book() is before
    named = {(each.row, each.column) for each in found.troubles}
    assert named == {(row, letter(column)) for row, column in spots}


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty"),
        (b"\r\n ,, \r\n", "empty"),
        (b"name\n", "no_rows"),
        (b'name,skills\n"Wren,carve\n', "broken_text"),
        (b"PK\x03\x04 no zip", "no_workbook"),
        (as_xlsx([["name"], ["Wren"]])[:200], "no_workbook"),
        (b"name\n\x81\xff\n", "no_text"),
        (b"\xff\xfe\x00", "no_text"),
    ],
)
def test_a_file_that_is_no_table_says_why(data: bytes, code: str) -> None:
    with pytest.raises(NoTable) as refused:
        bring("people", data)

    assert refused.value.code == code


@pytest.mark.parametrize(
    ("kind", "text", "row", "column", "code"),
    [
        ("people", "skills\ncarve\n", 1, "", "column_missing"),
        ("people", "name,skills\nWren,carve,more\n", 2, "C", "no_name"),
        ("people", "name\nWren\nWREN\n", 3, "A", "twice"),
        (
            "people",
            "name,works from,works until\nWren,2027-02-01,2027-01-01\n",
            2,
            "C",
            "ends_first",
        ),
        (
            "jobs",
            "job,client,country,window start,window end\n"
            "A,B,NO,2027-05-11 08:00,2027-05-11 08:00\n",
            2,
            "E",
            "ends_first",
        ),
        (
            "jobs",
            "job,client,country,window start,window end,standing\n"
            "A,B,NO,2027-05-11 08:00,2027-05-12 08:00,pencilled\n",
            2,
            "",
            "cell_missing",
        ),
    ],
)
def test_what_cells_mean_together_is_judged_too(
    kind: str, text: str, row: int, column: str, code: str
) -> None:
    (found,) = bring(kind, text.encode()).troubles

    assert (found.row, found.column, found.code) == (row, column, code)


def test_a_column_may_be_said_by_name_or_letter() -> None:
    text = b"a,b\nWren,carve\n"

    assert taken(bring("people", text, name="a", skills="B")).people[-1].name == "Wren"
    (found,) = bring("people", text, name="c").troubles
    assert (found.code, found.of) == ("no_column", "name")


def test_what_is_there_already_is_left() -> None:
    book = a_book()
    text = f"name\n{book.people[0].name.upper()}\nZita\n"
    found = bring("people", text.encode())
    again = bring("people", text.encode(), taken(found))

    assert found.left_count == 1
    assert len(taken(found).people) == len(book.people) + 1
    assert again.left_count == 2
    assert again.edited is None


def test_a_row_is_counted_as_spreadsheets_and_editors_do() -> None:
    grid = read_grid(b'name,skills\n\n"Wren\nthe second",carve\nZita,paint\n')

    assert [line.number for line in grid.lines] == [3, 5]


@pytest.mark.parametrize(
    ("at", "name"), [(0, "A"), (25, "Z"), (26, "AA"), (701, "ZZ"), (702, "AAA")]
)
def test_columns_are_called_as_in_spreadsheets(at: int, name: str) -> None:
    assert letter(at) == name
