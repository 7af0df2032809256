"""The wall on paper: all jobs, once each; nothing too small; lines and letters only."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from app.exchange.given import Given
from app.window.papers import jobs
from shared.ids import JobId
from tests.app import pdf_read
from tests.app.exchange.scenes import changed_since, give, told
from tests.app.window.papers.written import of_sample, pdf, replan, sample, svgs

A4_ACROSS, A3_ACROSS = (842, 595), (1191, 842)
"""ISO 216: 297 by 210 and 420 by 297 mm, in points."""
SVG = "{http://www.w3.org/2000/svg}"
SEVEN_POINTS_MM, QUARTER_MM = 7 * 25.4 / 72, 0.25


@pytest.fixture(scope="module")
def full() -> Given:
    return of_sample("full")


@pytest.mark.parametrize(("paper", "size"), [("A3", A3_ACROSS), ("A4", A4_ACROSS)])
def test_every_job_and_segment_stands_on_one_of_the_pages(
    full: Given, paper: str, size: tuple[int, int]
) -> None:
    data = pdf(jobs.wall_job(full), paper, is_across=True)
    texts = pdf_read.page_texts(data)

    assert pdf_read.sizes(data) == [size] * len(texts)
    for job in full.book.jobs:
        on = [text for text in texts if job.name in text and job.segments[-1].name in text]
        assert on, job.name
    outcome = jobs.stands(full)
    sentence = full.words.book_line(outcome.jobs)
    assert all(sentence in text for text in texts)
    assert all(mark in text for text in texts for mark in full.marks)
    assert full.marks


def test_more_jobs_than_fit_go_on_over_pages_without_cutting_one() -> None:
    book = sample("full")
    twice = [replace(job, id=JobId(f"{job.id}2"), name=f"{job.name} II") for job in book.jobs]
    more = replan(replace(book, jobs=(*book.jobs, *(replace(j, steps=()) for j in twice))))
    data = pdf(jobs.wall_job(give(more)), "A4", is_across=True)
    texts = pdf_read.page_texts(data)

    assert len(texts) > 1
    for job in more.jobs:
        pages = [text for text in texts if re.search(rf"{job.name}(?! II)", text)]
        assert pages, job.name
    assert all(f"Page {n} of {len(texts)}" in text for n, text in enumerate(texts, start=1))


def test_one_window_by_itself_holds_no_other_job(full: Given) -> None:
    only = full.book.jobs[2]
    (text,) = pdf_read.page_texts(pdf(jobs.wall_job(full, only.id), "A4", is_across=True))

    assert all(segment.name in text for segment in only.segments)
    assert [job.name for job in full.book.jobs if job.name in text] == [only.name]


def test_it_is_lines_and_letters_and_neither_tiles_nor_pictures(full: Given) -> None:
    data = pdf(jobs.wall_job(full), "A3", is_across=True)
    packed = pdf_read.streams(data) + data

    assert b"/Subtype /Image" not in data
    assert b"/PatternType" not in packed
    for svg in svgs(jobs.wall_job(full), "A3", is_across=True):
        tags = {each.tag.removeprefix(SVG) for each in ElementTree.fromstring(svg).iter()}
        assert not tags & {"image", "pattern", "script", "use"}
        assert b"http" not in svg.replace(b"http://www.w3.org/", b"")


def test_an_svg_has_the_words_of_the_pdf_and_is_as_large(full: Given) -> None:
    (svg,) = svgs(jobs.wall_job(full), "A3", is_across=True)
    root = ElementTree.fromstring(svg)
    words = [pdf_read.flat("".join(each.itertext())) for each in root.iter(f"{SVG}text")]
    (text,) = pdf_read.page_texts(pdf(jobs.wall_job(full), "A3", is_across=True))

    assert (root.get("width"), root.get("height")) == ("420mm", "297mm")
    assert len(words) > 100
    squeezed = text.replace(" ", "")
    assert [word for word in words if word.replace(" ", "") not in squeezed] == []


def test_nothing_is_written_smaller_than_seven_points_nor_drawn_thinner_than_a_quarter(
    full: Given,
) -> None:
    (svg,) = svgs(jobs.wall_job(full), "A3", is_across=True)
    root = ElementTree.fromstring(svg)
    _, _, wide, _ = (float(each) for each in (root.get("viewBox") or "").split())
    a_unit = 420 / wide
    sizes, strokes = set(), set()
    for group in root.iter(f"{SVG}g"):
        scale = _scale_of(group.get("transform") or "")
        for text in group.findall(f"{SVG}text"):
            sizes.add(float(text.get("font-size") or 0) * scale * a_unit)
        drawn = [each for each in group if each.tag in (f"{SVG}path", f"{SVG}polyline")]
        for rect in group.findall(f"{SVG}rect"):
            sides = (float(rect.get(side) or 0) for side in ("width", "height"))
            thin = min(sides)
            # A part without an end, such as an empty share, is no stroke.
            if thin:
                strokes.add(thin * scale * a_unit)
        if group.get("stroke") not in (None, "none") and drawn:
            strokes.add(float(group.get("stroke-width") or 1) * scale * a_unit)

    assert sizes
    assert strokes
    assert min(sizes) >= SEVEN_POINTS_MM
    assert min(strokes) >= QUARTER_MM - 1e-6


def _scale_of(transform: str) -> float:
    found = re.search(r"matrix\(([\d.]+)", transform)
    return float(found[1]) if found else 1.0


def test_an_old_plan_is_marked_as_one_and_not_veiled() -> None:
    book = changed_since(told(sample("tight")))
    assert book.told is not None
    given = give(book, book.told.plan)
    texts = pdf_read.page_texts(pdf(jobs.wall_job(given), "A4", is_across=True))

    assert given.is_old
    assert texts
    assert all("OLD PLAN." in text for text in texts)
