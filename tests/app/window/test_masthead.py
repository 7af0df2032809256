"""The sentence of the masthead: none of its words are lost, and of a trial it says the trial."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.window.fonts import text_width
from app.window.headline import foot_left
from app.window.main import MainWindow
from app.window.masthead import fitted
from app.window.tokens import set_text_percent
from app.window.trial import Trial
from scheduler.outcome import Outcome, Verdict
from shared.edits import Label
from tests.app.window.hands import key
from tests.app.window.scenes import outcome_for, planted

LONG = (
    "Tried: Garden snail with its window from Mon 15 Mar 07:00. Two of six jobs miss: the "
    "pitcher plant by 3 days, the foyer moon by ½ a day."
)


@pytest.mark.parametrize("percent", [100, 125, 150])
@pytest.mark.parametrize("text", ["All six jobs fit their windows.", LONG])
def test_a_long_sentence_takes_a_second_line_and_keeps_its_words(
    prepared: QApplication, percent: int, text: str
) -> None:
    set_text_percent(percent)
    try:
        lines, pixels = fitted(text, 22, 900)
        assert " ".join(lines) == text
        assert len(lines) <= 2
        assert all(text_width(line, pixels, 600, serif=True) <= 900 for line in lines)
    finally:
        set_text_percent(100)


def test_only_what_fits_no_two_lines_is_cut(prepared: QApplication) -> None:
    lines, pixels = fitted(LONG * 4, 22, 500)
    assert len(lines) == 2
    assert lines[1].endswith("…")
    assert (LONG * 4).startswith(f"{lines[0]} {lines[1][:-1]}")
    assert all(text_width(line, pixels, 600, serif=True) <= 500 for line in lines)


def tried(window: MainWindow) -> Outcome:
    """Try the book as it is, with an outcome in which a job misses."""
    document = window.desk.document
    assert document is not None
    outcome = replace(outcome_for(planted(), Verdict.MISSES), revision=document.book.revision)
    label = Label(code="move_window", facts=(("name", "x"),))
    window.desk.try_(
        Trial(
            what="two Saturdays",
            label=label,
            book=document.book,
            plan=outcome.plan,
            outcome=outcome,
        )
    )
    return outcome


def test_of_a_trial_the_masthead_says_what_is_tried_and_the_verdict(window: MainWindow) -> None:
    before = window.masthead.shown
    outcome = tried(window)
    shown, words = window.masthead.shown, window.desk.words
    assert shown.sentence == f"Tried: two Saturdays. {words.book_line(outcome.jobs)}"
    assert shown.verdict is Verdict.MISSES
    assert foot_left(window.desk.state, words)[0] == (
        "Trying, not yet taken: two Saturdays.",
        True,
    )
    key(QApplication.focusWidget() or window, Qt.Key.Key_Escape)
    assert window.masthead.shown == before


def test_one_job_says_so_too(window: MainWindow) -> None:
    key(QApplication.focusWidget() or window, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    tried(window)
    assert window.masthead.shown.sentence.startswith("Tried: two Saturdays. ")


def test_two_lines_are_about_as_long(prepared: QApplication) -> None:
    lines, pixels = fitted("Station kettle fits, with 16 days to spare. " * 3, 22, 900)
    first, second = (text_width(line, pixels, 600, serif=True) for line in lines)
    assert first < 1.5 * second
