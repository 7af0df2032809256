"""The open book: every change can be undone, named, and is known to be saved or not."""

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from app.document import Document
from shared.book import Book
from shared.edits import Changed, change_workshop, remove_step
from shared.files.write import write_book
from shared.ids import StepId
from tests.books.plain import impossible, small
from tests.shared.test_edits import some_edit

CARVE = StepId("owl.head.carve")
HERE = Path("owl.countback")


def labels(document: Document) -> tuple[str | None, str | None]:
    undo, redo = document.undo_label, document.redo_label
    return undo.code if undo else None, redo.code if redo else None


def content(book: Book) -> bytes:
    return write_book(replace(book, revision=1))


@pytest.mark.parametrize("seed", range(10))
def test_any_run_of_edits_undone_gives_the_start_and_redone_the_end(seed: int) -> None:
    rng = Random(seed)
    document = Document(impossible(), HERE)
    start = content(document.book)
    for _ in range(15):
        document.apply(some_edit(document.book, rng))
    end = content(document.book)
    while document.undo():
        pass
    assert content(document.book) == start
    while document.redo():
        pass
    assert content(document.book) == end


def test_the_revision_rises_with_each_edit_undo_and_redo() -> None:
    document = Document(small(), HERE)
    revisions = [document.book.revision]
    document.apply(remove_step(document.book, CARVE))
    revisions.append(document.book.revision)
    document.undo()
    revisions.append(document.book.revision)
    document.redo()
    revisions.append(document.book.revision)
    assert revisions == [1, 2, 3, 4]


def test_undo_and_redo_say_what_they_would_do() -> None:
    document = Document(small(), HERE)
    assert labels(document) == (None, None)
    assert document.undo() is None
    document.apply(remove_step(document.book, CARVE))
    assert labels(document) == ("remove_step", None)
    document.undo()
    assert labels(document) == (None, "remove_step")
    document.apply(change_workshop(document.book, document.book.workshop))
    assert labels(document) == ("change_workshop", None)


def test_typing_in_one_field_is_one_edit_until_something_comes_between() -> None:
    document = Document(small(), HERE)
    for name in ("Y", "Ya", "Yar"):
        shop = replace(document.book.workshop, name=name)
        document.apply(change_workshop(document.book, shop), merge="workshop.name")
    document.close_merge()
    shop = replace(document.book.workshop, name="Yard")
    document.apply(change_workshop(document.book, shop), merge="workshop.name")
    document.undo()
    assert document.book.workshop.name == "Yar"
    document.undo()
    assert document.book.workshop.name == "Copse Lane workshop"
    assert document.undo() is None


def test_it_knows_whether_the_file_holds_what_is_shown() -> None:
    document = Document(small(), HERE)
    states = [document.is_saved]
    document.apply(remove_step(document.book, CARVE))
    states.append(document.is_saved)
    document.undo()
    states.append(document.is_saved)
    document.redo()
    document.mark_saved(HERE, "")
    document.close_merge()
    states.append(document.is_saved)
    document.undo()
    states.append(document.is_saved)
    assert states == [True, False, True, True, False]
    assert not Document(small()).is_saved


def test_an_edit_of_another_state_of_the_book_is_refused() -> None:
    document = Document(small(), HERE)
    edited = remove_step(document.book, CARVE)
    document.apply(edited)
    with pytest.raises(ValueError, match="2"):
        document.apply(edited)


def test_listeners_hear_what_each_change_touched() -> None:
    heard: list[Changed] = []
    document = Document(small(), HERE)
    document.listen(heard.append)
    document.apply(remove_step(document.book, CARVE))
    document.undo()
    assert [set(changed.jobs) for changed in heard] == [{"owl"}, {"owl"}]
