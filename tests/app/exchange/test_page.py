"""The page: well-formed by the HTML standard as html5lib reads it, and what stands on it."""

import re
from collections.abc import Callable
from datetime import date
from functools import cache
from xml.etree.ElementTree import Element

import html5lib
import pytest

from app.exchange.page import at_places, page
from app.exchange.text import plain
from app.window.people.days import first_day, next_day
from app.window.sheets.day import Sort
from app.window.sheets.derive import Asked, derive
from app.window.sheets.rows import Day
from app.window.sheets.under import cure_lines, near_cures
from app.words import Words
from shared.book import Book
from tests.app.exchange.scenes import (
    a_book,
    an_awkward_book,
    changed_since,
    give,
    told,
)

BOOKS: dict[str, Callable[[], Book]] = {"usual": a_book, "awkward": an_awkward_book}


@cache
def text_of(which: str) -> str:
    return page(give(BOOKS[which]())).decode()


@cache
def tree_of(which: str) -> Element:
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    found: Element = parser.parse(text_of(which))
    return found


def words_in(node: Element) -> str:
    return re.sub(r"\s+", " ", "".join(node.itertext())).strip()


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", plain(text)).strip()


def classed(node: Element, name: str) -> list[Element]:
    return [each for each in node.iter() if name in (each.get("class") or "").split()]


def days_of(which: str) -> list[tuple[date, Element]]:
    found = classed(tree_of(which), "day")
    return [(date.fromisoformat(each.get("data-day") or ""), each) for each in found]


def test_it_shows_today_and_the_next_working_day() -> None:
    book = a_book()
    assert book.plan is not None
    now = book.plan.now

    assert [day for day, _ in days_of("usual")] == [first_day(book, now), next_day(book, now)]


@pytest.mark.parametrize("which", BOOKS)
def test_everybody_s_rows_are_those_of_the_sheet(which: str) -> None:
    given = give(BOOKS[which]())
    count = 0
    for day, shown in days_of(which):
        asked = Asked(book=given.book, plan=given.plan, now=given.now, day=day)
        wanted = derive(asked, given.words)[0].people
        people = classed(shown, "person")
        assert [words_in(each[0]) for each in people] == [flat(one.name) for one in wanted]
        for each, person in zip(people, wanted, strict=True):
            lines = list(each[1])
            assert len(lines) == len(person.rows)
            for line, row in zip(lines, person.rows, strict=True):
                if row.sort is Sort.FREE:
                    continue
                assert [words_in(part) for part in line][:2] == [
                    f"{row.start}–{row.end}",
                    flat(row.segment),
                ]
                for name, text in (("stage", row.stage), ("place", row.place)):
                    assert [words_in(p) for p in classed(line, name)] == [flat(text)] * bool(text)
                count += 1
    assert count > 5


@pytest.mark.parametrize("which", BOOKS)
def test_places_cures_and_cautions_are_there(which: str) -> None:
    given = give(BOOKS[which]())
    placed = 0
    for day, shown in days_of(which):
        wanted = {name: rows for name, rows in at_places(given, day).items() if rows}
        found = {words_in(each[0]): list(each[1]) for each in classed(shown, "at")}
        assert list(found) == [flat(name) for name in wanted]
        for name, rows in wanted.items():
            for line, row in zip(found[flat(name)], rows, strict=True):
                assert words_in(line) == flat(
                    f"{row.start}–{row.end} {row.what}{row.stage} · {row.people}"
                )
                placed += 1
        of_day = Day(given.book, given.words, day)
        cures = cure_lines(of_day, given.plan, near_cures(of_day, given.plan), given.now, most=None)
        (part,) = classed(shown, "cures")
        listed = [words_in(each) for each in part.iter("li")]
        assert listed == [flat(f"{line.what} {line.when}") for line in cures]
        asked = Asked(book=given.book, plan=given.plan, now=given.now, day=day)
        for care in derive(asked, given.words)[0].cares:
            assert flat(care.text) in words_in(shown)
    assert placed > 2


def test_what_cures_is_all_there_even_where_paper_has_no_room() -> None:
    given = give(a_book())
    most = 0
    for day in sorted({p.end.date() for p in given.plan.placements}):
        of_day = Day(given.book, given.words, day)
        found = near_cures(of_day, given.plan)
        every = cure_lines(of_day, given.plan, found, given.now, most=None)
        few = cure_lines(of_day, given.plan, found, given.now, most=2)
        assert few == every[:2]
        most = max(most, len(every))
    assert most > 2


@pytest.mark.parametrize("which", BOOKS)
def test_nothing_is_fetched_and_nothing_is_run(which: str) -> None:
    tree, text = tree_of(which), text_of(which)
    names = {node.tag for node in tree.iter()}

    assert not names & {"script", "link", "img", "iframe", "object", "embed", "a", "form", "base"}
    for node in tree.iter():
        assert not [name for name in node.keys() if name.startswith("on")]  # noqa: SIM118
        assert not {"src", "href", "style", "action"} & set(node.keys())
    style = next(iter(tree.iter("style"))).text or ""
    assert "url(" not in style
    assert "@import" not in style
    assert "//" not in style
    policy = next(m for m in tree.iter("meta") if m.get("http-equiv") == "Content-Security-Policy")
    assert "default-src 'none'" in (policy.get("content") or "")
    assert "http://" not in text
    assert "https://" not in text


def test_it_is_made_for_phones_and_screens_light_and_dark() -> None:
    tree = tree_of("usual")
    metas = {m.get("name") or m.get("http-equiv"): m.get("content") for m in tree.iter("meta")}
    style = next(iter(tree.iter("style"))).text or ""

    assert metas["viewport"] == "width=device-width, initial-scale=1"
    assert "prefers-color-scheme:dark" in style
    assert "color-scheme:light dark" in style
    assert tree.get("lang") == "en"
    assert metas["generator"] == "Countback"


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, "relative luminance" and "contrast ratio"."""

    def luminance(colour: str) -> float:
        digits = colour if len(colour) == 6 else "".join(2 * c for c in colour)
        parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_text_can_be_read_on_its_ground_in_both() -> None:
    style = next(iter(tree_of("usual").iter("style"))).text or ""
    schemes = [
        dict(re.findall(r"--(\w+):#([0-9a-f]+)", each)) for each in style.split("@media")[:2]
    ]

    assert [set(each) for each in schemes] == [{"ground", "ink", "soft", "line", "mark"}] * 2
    for scheme in schemes:
        for name in ("ink", "soft", "mark"):
            # WCAG 2.2, success criterion 1.4.6, the stricter one, for text read from far.
            assert contrast(scheme[name], scheme["ground"]) >= 7


def test_it_says_when_the_plan_was_made_and_that_it_is_old() -> None:
    book = a_book()
    given = give(changed_since(told(book)))
    text = page(given).decode()
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    old = [words_in(each) for each in classed(parser.parse(text), "mark")]

    (made,) = classed(tree_of("usual"), "made")
    assert words_in(made) == "Plan of Mon 15 Mar 07:30, revision 1"
    assert [words_in(each) for each in classed(tree_of("usual"), "mark")] == [
        "NOT TOLD. Nobody has been told this plan yet."
    ]
    assert old == ["OLD PLAN. The book has changed since it was made: revision 1, now 3."]
    assert not classed(parser.parse(page(give(told(book))).decode()), "mark")


def test_it_says_who_is_away_and_never_why() -> None:
    text = text_of("usual")

    assert "Zita is away" in text
    assert "broken" not in text


def test_it_speaks_german() -> None:
    text = page(give(a_book(), language="de")).decode()

    assert '<html lang="de">' in text
    assert "Wer was macht" in text
    assert Words("de").say("Who does what") == "Who does what", "it has a context"
