"""What the pages say on which files come in and go out, in both languages."""

import pytest

from app.words import Words
from app.words import bring as told
from app.words import exchange_view as say
from app.words.template import Template

ROWS: tuple[tuple[Template, dict[str, object], str, str], ...] = (
    (say.READING, {"path": "a.csv"}, "Reading a.csv.", "a.csv wird gelesen."),
    (
        say.AT_FIELD,
        {"row": 3, "field": "client", "text": "It is empty."},
        "Row 3, client: It is empty.",
        "Zeile 3, client: It is empty.",
    ),
    (
        say.MISSING,
        {"wanted": "client"},
        "No column is there for “client”. Choose one above, or name one so.",
        "Für „client“ ist keine Spalte da. Oben eine wählen oder eine so nennen.",
    ),
    (say.COLUMN_OF, {"letter": "C", "column": "land"}, "C: land", "C: land"),
    (say.FIGURE, {"figure": "12.5"}, "12.5", "12,5"),
    (say.FOR_ONE["place"], {"name": "Booth"}, "Booth, a place", "Booth, Platz"),
    (
        say.OTHER_ENDING,
        {"endings": ".html, .htm"},
        "The name must end in .html, .htm.",
        "Der Name muss auf .html, .htm enden.",
    ),
)
COUNTED: tuple[tuple[Template, int, str, str], ...] = (
    (say.READY, 1, "One row can be taken.", "Eine Zeile kann übernommen werden."),
    (say.READY, 2, "Two rows can be taken.", "Zwei Zeilen können übernommen werden."),
    (say.READY_ENTRIES, 1, "One entry can be taken.", "Ein Eintrag kann übernommen werden."),
    (
        say.BAD_HEAD,
        1,
        "One thing can't be taken, so nothing is.",
        "Eines lässt sich nicht übernehmen, deshalb nichts.",
    ),
    (
        say.DONE,
        50_000,
        "50,000 rows are taken, as one step. Ctrl Z takes that back.",
        "50\u00a0000 Zeilen sind übernommen, als ein Schritt. Strg Z nimmt das zurück.",
    ),
)


@pytest.mark.parametrize(("template", "facts", "english", "german"), ROWS)
def test_sentences(template: Template, facts: dict[str, object], english: str, german: str) -> None:
    assert Words("en").say(template, **facts) == english
    assert Words("de").say(template, **facts) == german


@pytest.mark.parametrize(("template", "count", "english", "german"), COUNTED)
def test_sentences_that_go_by_a_count(
    template: Template, count: int, english: str, german: str
) -> None:
    assert told.number_line(Words("en"), template, count) == english
    assert told.number_line(Words("de"), template, count) == german
