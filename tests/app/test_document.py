"""The open book: every change can be undone, named, and is known to be saved or not."""

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from app.document import MOST_DONE, Document
from shared.book import Book
from shared.edits import Changed, Edited, change_workshop, remove_step
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


# A day of many edits.


def renamed(book: Book, number: int) -> Edited:
    return change_workshop(book, replace(book.workshop, name=f"Yard {number}"))


def undone(document: Document) -> int:
    """Take back all that can be; how many edits that was."""
    count = 0
    while document.undo():
        count += 1
    return count


def edited(document: Document, count: int) -> None:
    for number in range(count):
        document.apply(renamed(document.book, number))


def test_of_a_day_of_edits_only_so_many_books_are_kept() -> None:
    document = Document(small(), HERE)
    edited(document, 2 * MOST_DONE)
    assert len(document._done) == MOST_DONE
    assert undone(document) == MOST_DONE
    assert document.book.workshop.name == f"Yard {MOST_DONE - 1}"
    while document.redo():
        pass
    assert document.book.workshop.name == f"Yard {2 * MOST_DONE - 1}"


@pytest.mark.parametrize("path", [HERE, None])
def test_who_has_taken_back_all_that_can_be_has_not_what_the_file_holds(path: Path | None) -> None:
    document = Document(small(), path)
    edited(document, MOST_DONE + 1)
    assert undone(document) == MOST_DONE
    assert not document.is_saved
    assert document.unsaved_count == 1
    document.mark_saved(HERE, "")
    assert document.on_disk.book is document.book
    assert document.unsaved_count == 0


def test_what_was_saved_is_come_back_to_as_long_as_it_can_be_undone_to() -> None:
    document = Document(small(), HERE)
    edited(document, 1)
    document.mark_saved(HERE, "")
    edited(document, MOST_DONE)
    assert document.unsaved_count == MOST_DONE
    undone(document)
    assert document.is_saved, "the oldest that can be undone was the first after saving"
    document.redo()
    edited(document, MOST_DONE)
    undone(document)
    assert not document.is_saved
