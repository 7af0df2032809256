"""The job in sentences: whose it is, when the site is ours, when the client answers."""

from functools import partial

from PySide6.QtWidgets import QVBoxLayout

from app.window.sheet import typed, writing
from app.window.sheet.blanks import Blank
from app.window.sheet.form import Form
from app.words import Words
from app.words import window as say
from shared.book import Book
from shared.edits import Edited, copy_job, remove_job
from shared.ids import JobId


def write_job(sheet: Form, column: QVBoxLayout) -> None:
    """Write the job's sentences."""
    job, words = sheet.job, sheet.words
    assert job is not None
    assert words is not None
    client = sheet.add_blank(
        "client",
        lambda b: writing.job(b, job).client.name,
        lambda b, t: writing.client_name(b, job, t),
        pixels=17,
        serif=True,
    )
    name = sheet.add_blank(
        "job name",
        lambda b: writing.job(b, job).name,
        lambda b, t: writing.job_name(b, job, t),
        pixels=17,
        serif=True,
    )
    parts: dict[str, Blank | str] = {"client": client, "name": name}
    sheet.add_sentence(column, say.SHEET_JOB, parts, "job", pixels=17, serif=True)
    _site(sheet, column, job, words)
    days = sheet.add_blank(
        "answer days",
        lambda b: str(writing.job(b, job).client.answer_days),
        lambda b, t: writing.answer_days(b, job, t),
    )
    sheet.add_sentence(column, say.SHEET_ANSWER, {"days": days}, "answer")
    sheet.add_actions(
        column,
        [
            (sheet.say(say.DO_COPY_JOB), partial(_copy_job, sheet)),
            (sheet.say(say.DO_REMOVE_JOB), lambda: sheet.do(lambda b: remove_job(b, job))),
            (sheet.say(say.DO_BACK), sheet.left.emit),
        ],
    )


def _site(sheet: Form, column: QVBoxLayout, job: JobId, words: Words) -> None:
    def edge(name: str, *, start: bool) -> Blank:
        def read(book: Book) -> str:
            owner = writing.job(book, job)
            held = owner.held_window
            if held is None:
                return ""
            when = held.start if start else held.end
            return typed.written_moment(words, when, owner.site.zone)

        return sheet.add_blank(
            name, read, lambda b, t: writing.window_edge(b, job, t, words, start=start)
        )

    parts: dict[str, Blank | str] = {
        "start": edge("window start", start=True),
        "end": edge("window end", start=False),
    }
    sheet.add_sentence(column, say.SHEET_SITE, parts, "site")


def _copy_job(sheet: Form) -> None:
    job = sheet.job
    assert job is not None

    def copied(book: Book) -> Edited:
        name = sheet.say(say.COPY_OF, name=writing.job(book, job).name)
        return copy_job(book, job, name)

    sheet.do(copied)
