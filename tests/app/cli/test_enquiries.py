from dataclasses import replace

import pytest

from app.cli.arguments import Usage
from app.cli.enquiries import enquiries_asked
from shared.book import Book, Standing
from tests.builders import a_book, a_job


@pytest.fixture
def book() -> Book:
    names = {"e1": "Market pear", "e2": "Market moon", "e3": "Pear", "e4": "Pear tree"}
    enquiries = [
        replace(a_job(job), name=name, standing=Standing.ENQUIRY) for job, name in names.items()
    ]
    return a_book(a_job("heron"), *enquiries)


@pytest.mark.parametrize(
    ("words", "ids"),
    [
        ((), ()),
        (("e2",), ("e2",)),
        (("market p",), ("e1",)),
        (("MARKET M", "e1", "e2"), ("e1", "e2")),
        (("Pear",), ("e3",)),
        (("pear t",), ("e4",)),
    ],
)
def test_an_enquiry_is_meant_by_id_or_the_beginning_of_its_name(
    book: Book, words: tuple[str, ...], ids: tuple[str, ...]
) -> None:
    assert enquiries_asked(book, words) == ids


@pytest.mark.parametrize(
    ("word", "code"),
    [
        ("market", "several_enquiries"),
        ("pea", "several_enquiries"),
        ("owl", "unknown_enquiry"),
        ("her", "not_an_enquiry"),
    ],
)
def test_what_means_none_or_several_is_refused(book: Book, word: str, code: str) -> None:
    with pytest.raises(Usage) as refused:
        enquiries_asked(book, (word,))

    assert refused.value.code == code


def test_a_book_without_enquiries_says_so() -> None:
    with pytest.raises(Usage) as refused:
        enquiries_asked(a_book(), ("owl",))

    assert refused.value.code == "no_enquiries"
