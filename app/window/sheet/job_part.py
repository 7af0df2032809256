"""The job in sentences: whose it is, when the site is ours, when the client answers, what it is."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout

from app.window.sheet import commission, typed, writing
from app.window.sheet.form import Form
from app.window.sheet.writing import Writing
from app.window.tokens import px
from app.words import Words
from app.words import editor as say
from app.words import first as first_words
from app.words import window as window_words
from app.words.template import Template
from shared.book import Book
from shared.edits import Edited, copy_job, remove_job
from shared.ids import JobId

if TYPE_CHECKING:
    from app.window.sheet.blanks import Blank

LARGE, SMALL, LARGE_FROM = 17, 15, 780
Cell = tuple[str, Callable[[Book], str], Writing]
"""A blank: its name, what stands in it, what a text in it does."""


def write_job(sheet: Form, column: QVBoxLayout, *, has_money: bool) -> None:
    """Write the job's sentences."""
    job, words = sheet.job, sheet.words
    assert job is not None
    assert words is not None
    _sentence(sheet, column, say.JOB, _of_job(job, words), "job")
    _sentence(sheet, column, say.SITE, _of_site(job, words), "site")
    _sentence(sheet, column, say.ANSWER, _of_answer(job), "answer")
    assert sheet.book is not None
    if commission.journey_of(sheet.book, job) is not None:
        _sentence(sheet, column, say.JOURNEY, _of_journey(job, words), "journey")
    _money(sheet, column, job, words, has_money=has_money)
    _like(sheet, column, job)


def sentence_pixels(sheet: Form) -> int:
    """Return how large the sentences are written, so that the segments have room below."""
    return LARGE if sheet.width() >= px(LARGE_FROM) else SMALL


def _sentence(
    sheet: Form, column: QVBoxLayout, template: Template, cells: dict[str, Cell], note: str
) -> None:
    pixels = sentence_pixels(sheet)
    parts: dict[str, Blank | str] = {}
    for field, (name, read, write) in cells.items():
        parts[field] = sheet.add_blank(
            name, read, write, pixels=pixels, serif=True, suggestions=_suggested(sheet, field)
        )
    sheet.add_sentence(column, template, parts, note, pixels=pixels, serif=True)


def _suggested(sheet: Form, field: str) -> tuple[str, ...]:
    assert sheet.book is not None
    assert sheet.words is not None
    if field == "route":
        return tuple(route.name for route in commission.routes(sheet.book))
    if field == "crew":
        return tuple(person.name for person in sheet.book.people)
    if field == "vehicle":
        things = (each for each in sheet.book.equipment if each.kind.value == "vehicle")
        return tuple(each.name for each in things)
    if field == "standing":
        return tuple(sheet.words.say(each) for each in say.STANDINGS.values())
    return ()


def _of_job(job: JobId, words: Words) -> dict[str, Cell]:
    return {
        "client": (
            "client",
            lambda b: writing.job(b, job).client.name,
            lambda b, t: writing.client_name(b, job, t),
        ),
        "name": (
            "job name",
            lambda b: writing.job(b, job).name,
            lambda b, t: writing.job_name(b, job, t),
        ),
        "count": (
            "segment count",
            lambda b: commission.count_text(b, job),
            lambda b, t: commission.write_count(b, job, t, words),
        ),
        "route": (
            "route",
            lambda b: commission.route_text(b, job, words),
            lambda b, t: commission.write_route(b, job, t),
        ),
    }


def _of_site(job: JobId, words: Words) -> dict[str, Cell]:
    def edge(book: Book, *, start: bool) -> str:
        owner = writing.job(book, job)
        held = owner.held_window
        if held is None:
            return ""
        return typed.written_moment(words, held.start if start else held.end, owner.site.zone)

    return {
        "start": (
            "window start",
            partial(edge, start=True),
            lambda b, t: writing.window_edge(b, job, t, words, start=True),
        ),
        "end": (
            "window end",
            partial(edge, start=False),
            lambda b, t: writing.window_edge(b, job, t, words, start=False),
        ),
        "access": (
            "access",
            lambda b: commission.access_text(b, job, words),
            lambda b, t: commission.write_access(b, job, t, words),
        ),
    }


def _of_answer(job: JobId) -> dict[str, Cell]:
    return {
        "days": (
            "answer days",
            lambda b: str(writing.job(b, job).client.answer_days),
            lambda b, t: writing.answer_days(b, job, t),
        ),
        "no": (
            "noes",
            lambda b: commission.no_text(b, job),
            lambda b, t: commission.write_no(b, job, t),
        ),
    }


def _of_journey(job: JobId, words: Words) -> dict[str, Cell]:
    return {
        "vehicle": (
            "vehicle",
            lambda b: commission.vehicle_text(b, job, words),
            lambda b, t: commission.write_vehicle(b, job, t, words),
        ),
        "drive": (
            "drive",
            lambda b: commission.drive_text(b, job),
            lambda b, t: commission.write_drive(b, job, t),
        ),
        "crew": (
            "crew",
            lambda b: commission.crew_text(b, job, words),
            lambda b, t: commission.write_crew(b, job, t, words),
        ),
    }


def _money(sheet: Form, column: QVBoxLayout, job: JobId, words: Words, *, has_money: bool) -> None:
    cells: dict[str, Cell] = {
        "standing": (
            "standing",
            lambda b: commission.standing_text(b, job, words),
            lambda b, t: commission.write_standing(b, job, t, words, sheet.today),
        )
    }
    if has_money:
        cells["price"] = (
            "price",
            lambda b: commission.money_text(writing.job(b, job).price, words),
            lambda b, t: commission.write_price(b, job, t, words),
        )
        cells["late"] = (
            "late cost",
            lambda b: commission.money_text(writing.job(b, job).late_cost_per_day, words),
            lambda b, t: commission.write_late(b, job, t, words),
        )
    assert sheet.book is not None
    pixels = sentence_pixels(sheet)
    parts: dict[str, Blank | str] = {
        field: sheet.add_blank(
            name, read, write, pixels=pixels, serif=True, suggestions=_suggested(sheet, field)
        )
        for field, (name, read, write) in cells.items()
    }
    if has_money:
        parts["currency"] = sheet.book.workshop.currency
    template = say.MONEY if has_money else say.MONEY_HIDDEN
    sheet.add_sentence(column, template, parts, "money", pixels=pixels, serif=True)


class _Like:
    """Both blanks of "like that job, so much larger"; written once both are filled."""

    def __init__(self, job: JobId) -> None:
        self._job = job
        self.texts = {"past": "", "times": ""}

    def text(self, field: str) -> str:
        """Return what is kept for one blank."""
        return self.texts[field]

    def write(self, field: str, book: Book, text: str) -> Edited | None:
        """Keep one text; give the edit that both make, None while one is missing."""
        if field == "past" and text.strip():
            known = {each.name: str(each.id) for each in book.jobs if each.id != self._job}
            typed.one_of(text, known, "not_a_job")
        if field == "times" and text.strip():
            typed.number(text)
        self.texts[field] = text
        if not all(each.strip() for each in self.texts.values()):
            return None
        edited = commission.write_like(book, self._job, self.texts["past"], self.texts["times"])
        self.texts = {"past": "", "times": ""}
        return edited


def _like(sheet: Form, column: QVBoxLayout, job: JobId) -> None:
    assert sheet.book is not None
    others = tuple(each.name for each in sheet.book.jobs if each.id != job and each.segments)
    if not others:
        return
    like = _Like(job)
    hints = {"past": first_words.HINT_PAST, "times": first_words.HINT_TIMES}
    parts: dict[str, Blank | str] = {
        field: sheet.add_kept(
            f"like {field}",
            partial(like.text, field),
            partial(like.write, field),
            hint=sheet.say(hint),
            suggestions=others if field == "past" else (),
        )
        for field, hint in hints.items()
    }
    sheet.add_sentence(column, say.LIKE, parts, "like")


def job_actions(sheet: Form, column: QVBoxLayout) -> None:
    """Write what is done with the whole job."""
    job = sheet.job
    assert job is not None
    sheet.add_actions(
        column,
        [
            (sheet.say(window_words.DO_COPY_JOB), partial(copy_whole, sheet), "Ctrl Shift D"),
            (sheet.say(window_words.DO_REMOVE_JOB), partial(remove_whole, sheet), "Ctrl Shift Del"),
            (sheet.say(window_words.DO_BACK), sheet.left.emit, "Esc"),
        ],
    )


def copy_whole(sheet: Form) -> None:
    """Make the job again."""
    job = sheet.job
    assert job is not None

    def copied(book: Book) -> Edited:
        name = sheet.say(window_words.COPY_OF, name=writing.job(book, job).name)
        return copy_job(book, job, name)

    sheet.do(copied)


def remove_whole(sheet: Form) -> None:
    """Remove the job."""
    job = sheet.job
    if job is not None:
        sheet.do(lambda b: remove_job(b, job))
