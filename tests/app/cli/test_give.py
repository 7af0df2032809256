"""`countback give`: which files there are, what is refused, and what stands in none of them."""

import io
import re
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from zipfile import ZipFile

import pytest

from app.cli.books import load_book
from app.cli.give import SORTS
from shared.book import Book, Leave, Stage, Standing
from shared.files.write import write_plan
from tests.app import pdf_read
from tests.app.cli.shell import Said, a_file, countback
from tests.app.cli.test_rush import a_rush_book, asked
from tests.app.exchange.scenes import (
    NOTE,
    PRICES,
    REASON,
    a_book,
    changed_since,
    told,
)
from tests.builders import NOW

OUTS = {"calendar": "cal", "workbook": "w.xlsx", "tables": "tab", "page": "p.html"}
OUTS |= {"board": "b.pdf", "wall": "wall.svg", "letter": "le.pdf", "loads": "lo.pdf"}
OUTS |= {"owner": "o.pdf"}
ONLY_WITH_PRICE = "le.pdf"
"""The letter holds the price that is asked."""

pytestmark = pytest.mark.usefixtures("qapp")
"""Paper begins Qt; all tests share one application."""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_book())


def give(path: Path, what: str, *more: str) -> Said:
    if what == "letter":
        book = load_book(path).book
        assert book is not None
        firm = next(job for job in book.jobs if job.standing is not Standing.ENQUIRY)
        more = ("--for", firm.id, *more)
    return countback("give", path, what, path.parent / OUTS[what], *more)


def files(folder: Path) -> dict[str, bytes]:
    """Every file given out, members of archives apart and not packed."""
    found: dict[str, bytes] = {}
    for each in sorted(folder.rglob("*")):
        if each.is_dir() or each.suffix in {".countback", ".plan"}:
            continue
        data = each.read_bytes()
        found[each.name] = data
        if data.startswith(b"PK"):
            with ZipFile(io.BytesIO(data)) as archive:
                found |= {f"{each.name}/{n}": archive.read(n) for n in archive.namelist()}
        if data.startswith(b"%PDF"):
            found[f"{each.name}/streams"] = pdf_read.streams(data)
            found[f"{each.name}/words"] = " ".join(pdf_read.page_texts(data)).encode()
    return found


def test_there_is_an_out_for_everything() -> None:
    assert set(OUTS) == set(SORTS)


def test_everything_is_given_and_the_book_stays_as_it_is(path: Path) -> None:
    before = path.read_bytes()
    said = [give(path, what, "--json") for what in SORTS]
    book = a_book()
    names = set(files(path.parent))

    assert [each.code for each in said] == [0] * len(SORTS)
    assert path.read_bytes() == before
    assert {*OUTS.values()} - {"cal", "tab"} <= names
    assert {"w.xlsx", "p.html", "plan.csv", "hours.csv", "orders.csv"} <= names
    wanted = {f"person-{one.id}.ics" for one in book.people}
    wanted |= {f"place-{one.id}.ics" for one in book.places}
    wanted |= {f"job-{one.id}.ics" for one in book.jobs}
    assert {name for name in names if name.endswith(".ics")} == wanted
    assert not [name for name in names if name.endswith(".before")]
    assert [each.last["count"] for each in said] == [len(wanted), 1, 3, 1, 1, 1, 1, 1, 1]
    assert not said[0].last["is_old"]
    assert "By the plan that the book holds." in said[0].out


def test_one_calendar_by_name_is_one_file(path: Path) -> None:
    out = path.parent / "asta.ics"
    person = a_book().people[0]

    assert countback("give", path, "calendar", out, "--of", person.name).code == 0
    give(path, "calendar")
    assert out.read_bytes() == (path.parent / "cal" / f"person-{person.id}.ics").read_bytes()


def test_giving_again_writes_over_it_and_gives_the_same(path: Path) -> None:
    for what in SORTS:
        give(path, what)
    before = files(path.parent)
    for what in SORTS:
        give(path, what)

    # A PDF says when it was made.
    again = files(path.parent)
    assert set(again) == set(before)
    same = [n for n in before if ".pdf" not in n or n.endswith("/words")]
    assert [n for n in same if again[n] != before[n]] == []


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("poster", "x.html"), "“poster” is nothing that can be given out; there are calendar,"),
        (("page", "x.countback"), "has to end in .html"),
        (("workbook", "x.ics"), "has to end in .xlsx"),
        (("tables", "x.txt"), "x.txt is a file; tables goes into a folder"),
        (("page", "folder"), "folder is a folder; a file is wanted"),
        (("calendar", "folder", "--of", "Asta"), "folder is a folder; a file is wanted"),
        (("calendar", "x.ics", "--of", "Nobody"), "is called “Nobody”"),
        (("page", "x.html", "--of", "Asta"), "--of goes with a calendar only, not with page"),
        (("page", "x.html", "--for", "job"), "--for goes with wall, letter, loads only, not with"),
        (("board", "x.pdf", "--paper", "A4"), "--paper goes with wall only, not with board"),
        (("wall", "x.pdf", "--paper", "A5"), "“A5” is no paper that is printed on; there are A3,"),
        (("wall", "x.tif"), "has to end in .pdf, .svg, .png"),
        (("letter", "x.pdf"), "A letter goes to the client of one job: say which with --for"),
        (("letter", "x.pdf", "--for", "nothing"), "“nothing”"),
        (("page", "x.html", "--told"), "Nobody was told a plan yet"),
        (("page", "x.html", "--told", "--plan", "x"), "There is no file x"),
        (("page", "none/x.html"), "There is no folder for"),
        (("tables", "none/x"), "There is no folder for"),
    ],
)
def test_what_can_t_be_given_is_said(
    path: Path, words: tuple[str, ...], sentence: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(path.parent)
    Path("folder").mkdir()
    Path("x.txt").write_text("mine")
    said = countback("give", path, *words)

    assert said.code == 2
    assert sentence in said.err
    assert sorted(each.name for each in path.parent.iterdir()) == [
        "book.countback",
        "folder",
        "x.txt",
    ]
    assert Path("x.txt").read_text() == "mine"


def test_a_plan_of_a_file_that_breaks_a_rule_is_not_given(path: Path) -> None:
    plan = a_book().plan
    assert plan is not None
    at, placed = next((i, p) for i, p in enumerate(plan.placements) if p.people)
    sooner = replace(placed, start=placed.start - timedelta(days=30))
    broken = replace(plan, placements=(*plan.placements[:at], sooner, *plan.placements[at + 1 :]))
    kept = path.parent / "broken.plan"
    kept.write_bytes(write_plan(broken))
    said = give(path, "page", "--plan", str(kept), "--json")

    assert said.code == 4
    assert "Nothing is given out: the plan breaks" in said.out
    assert said.last["files"] == []
    assert said.last["breaches"]
    assert not (path.parent / OUTS["page"]).exists()


def test_an_old_plan_says_so_in_every_file(tmp_path: Path) -> None:
    path = a_file(tmp_path, changed_since(told(a_book())))
    for what in SORTS:
        said = give(path, what, "--told", "--json")
        assert said.code == 0
        assert said.last["is_old"]
        assert "By the plan that people were told." in said.out
    found = {
        name: data.replace(b"\r\n ", b"")
        for name, data in files(tmp_path).items()
        if not name.startswith("w.xlsx") and not name.endswith((".pdf", "/streams"))
    }
    found["sheets"] = b"".join(d for n, d in files(tmp_path).items() if "sharedStrings" in n)

    assert len(found) > 10
    assert [name for name, data in found.items() if b"OLD PLAN." not in data] == []


def spellings(amount: Decimal) -> set[bytes]:
    """An amount as programs and people of either language write it."""
    cents = f"{amount:,.2f}"
    found = {cents, cents.replace(",", ""), f"{amount:f}", cents.replace(",", " ")}
    found |= {each.rstrip("0").rstrip(".") for each in found}
    found |= {each.translate(str.maketrans(",.", ".,")) for each in found}
    return {each.encode() for each in found}


def found_in(data: bytes, secret: bytes) -> bool:
    """Whether a text stands in a file, folded or not, in any coding of text that is usual."""
    unfolded = re.sub(rb"\r\n[ \t]", b"", data)
    coded = (secret, secret.decode().encode("utf-16-le"), secret.decode().encode("utf-16-be"))
    return any(each in data or each in unfolded for each in coded)


def test_private_reasons_notes_rates_and_prices_stand_in_no_file(path: Path) -> None:
    for what in SORTS:
        assert give(path, what).code == 0
    found = files(path.parent)
    secrets = {REASON.encode(), NOTE.encode(), *(s for p in PRICES for s in spellings(p))}
    asked = spellings(PRICES[0])

    assert len(found) > 30
    assert found_in(path.read_bytes(), REASON.encode()), "it was not planted"
    told = {(name, s) for name, data in found.items() for s in secrets if found_in(data, s)}
    assert {name for name, _ in told} == {f"{ONLY_WITH_PRICE}/words"}
    assert {secret for _, secret in told} <= asked


def test_a_planted_secret_would_be_found(tmp_path: Path) -> None:
    (tmp_path / "a.ics").write_bytes(b"SUMMARY:broken-\r\n arm-4711\r\n")
    with ZipFile(tmp_path / "a.xlsx", "w", compression=8) as archive:
        archive.writestr("xl/sharedStrings.xml", "48,213.37")
    found = files(tmp_path)

    assert found_in(found["a.ics"], REASON.encode())
    assert any(found_in(found["a.xlsx/xl/sharedStrings.xml"], s) for s in spellings(PRICES[0]))


def with_reason(book: Book) -> Book:
    away = Leave(start=NOW + timedelta(days=90), end=NOW + timedelta(days=91), reason=REASON)
    first, *more = book.people
    return replace(book, people=(replace(first, leave=(away,)), *more))


def test_the_least_price_of_an_enquiry_stands_in_no_file(tmp_path: Path) -> None:
    made = with_reason(a_rush_book())
    owl = next(job for job in made.jobs if job.standing is Standing.ENQUIRY)
    steps = tuple(
        replace(s, ways=tuple(replace(w, cost=Decimal("7313.37")) for w in s.ways))
        if isinstance(s, Stage)
        else s
        for s in owl.steps
    )
    jobs = tuple(replace(j, steps=steps) if j.id == owl.id else j for j in made.jobs)
    path = a_file(tmp_path, replace(made, jobs=jobs))
    least = Decimal(str(asked(path).last["least_price"]))
    kept = tmp_path / "with.plan"
    planned = countback(
        "plan", path, "--with", "owl", "--out", kept, "--seconds", "2", "--now", str(NOW)
    )
    for what in SORTS:
        assert give(path, what, "--plan", str(kept)).code == 0
    found = files(tmp_path)

    assert planned.code == 0
    assert least > 7000
    assert any(b"Owl" in data for data in found.values())
    secrets = {REASON.encode(), *spellings(least)}
    assert not [(name, s) for name, data in found.items() for s in secrets if found_in(data, s)]
