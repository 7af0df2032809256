"""The German catalogue has every text of the code, with the same facts, and is compiled.

Plural forms and both files are as in the GNU gettext manual, sections "Plural forms", "The Format
of PO Files" and "The Format of GNU MO Files".
"""

import re
from datetime import date
from decimal import Decimal
from string import Formatter

import pytest

from app.words import Words
from app.words.brought import in_words, name_in_words
from app.words.fields import field_text
from app.words.keys import key_text
from app.words.language import speak, spoken
from app.words.template import counted, within
from app.words.voice import DOMAIN, LOCALE_FOLDER, Voice, written
from shared.asking import country_named
from shared.asking.countries import countries
from shared.examine import examine
from tests.books.samples import small
from tests.german.english import english_in
from tests.german.po import MO, PO, compiled, read_po
from tests.german.texts import Text, all_texts
from tests.house.tree import ROOT

CATALOGUE = read_po(ROOT / PO)
COUNTS = {"count", "number", "n", "more", "left", "chance", "stops", "missing", "one"}
"""A singular may say `ein` or `eine` in the place of the figure."""
AS_TYPED = {"yes, changes", "countback", "(crew)", "{path}.before", "work_before"}
"""These hold a word of the command line or of the file."""


def facts(text: str) -> set[tuple[str, str]]:
    return {(name, spec or "") for _, name, spec, _ in Formatter().parse(text) if name}


def test_every_text_of_the_code_has_its_german() -> None:
    missing = [text.text for text in all_texts() if not all(CATALOGUE.get(text, ("",)))]

    assert missing == [], "python -m tests.german takes them into the catalogue"


def test_no_german_is_left_of_a_text_that_is_gone() -> None:
    assert set(CATALOGUE) - set(all_texts()) == set()


def test_what_the_program_reads_is_what_was_written() -> None:
    assert (ROOT / MO).read_bytes() == compiled(CATALOGUE), "python -m tests.german compiles it"


def lacks(text: Text) -> bool:
    """Whether the German of a text has other facts than it."""
    forms = CATALOGUE[text]
    if len(forms) != (2 if text.many else 1):
        return True
    if not text.many:
        return facts(forms[0]) != facts(text.text)
    free = {fact for fact in facts(text.text) | facts(text.many) if fact[0] in COUNTS}
    return (
        facts(forms[0]) - free != facts(text.text) - free
        or facts(forms[1]) - free != facts(text.many) - free
        or not facts(forms[0]) | facts(forms[1]) <= facts(text.text) | facts(text.many)
    )


def test_german_has_the_facts_of_the_english() -> None:
    assert [CATALOGUE[text] for text in CATALOGUE if lacks(text)] == []


def test_german_has_no_english_in_it() -> None:
    said = [
        form
        for text, forms in CATALOGUE.items()
        for form in forms
        if english_in(form) and not any(typed in text.text for typed in AS_TYPED)
    ]

    assert said == []


@pytest.mark.parametrize("manner", [r"[\w,] (Sie|Ihr|Ihre|Ihnen)\b", r"[Bb]itte\b", "!", "“{"])
def test_german_is_said_impersonally_and_in_its_own_quotes(manner: str) -> None:
    is_so = re.compile(manner).search

    assert [form for forms in CATALOGUE.values() for form in forms if is_so(form)] == []


def test_an_english_sentence_is_found_out() -> None:
    assert english_in("Der Auftrag misses its window") == ["its", "window"]
    assert english_in("Stand {window}, countback plan BOOK, --with, in=by") == []


def test_numbers_and_dates_are_german() -> None:
    words = Words("de", folder=LOCALE_FOLDER)

    assert words.say("{hours} h", hours="2.5") == "2,5 h"
    assert words.say("{hours} h", hours=Decimal("0.25")) == "0,25 h"
    assert words.say(within("to spare", "½ a day")) == "½ Tag"
    assert words.say("{length} × {width} × {height} m", length="2.4", width="2", height="1.05") == (
        "2,4 × 2 × 1,05 m"
    )
    assert words.say("{path} is no file.", path="plan 2.5.json") == "plan 2.5.json ist keine Datei."
    assert words.number(12_345) == "12\N{NO-BREAK SPACE}345"
    assert words.say("{amount} {currency}", amount=words.number(12_345), currency="EUR") == (
        "12\N{NO-BREAK SPACE}345 EUR"
    )
    assert words.day(date(2027, 3, 18), after=None) == "Do 18. März 2027"
    assert words.say("{hour:02}:{minute:02}", hour=7, minute=5) == "07:05"


@pytest.mark.parametrize(("count", "said"), [(1, "ein Lieferfenster"), (2, "zwei Lieferfenster")])
def test_one_is_said_otherwise_than_several(count: int, said: str) -> None:
    template = counted("count", "{n} window", "{n} windows", "to gain")
    words = Words("de")

    assert words.say(template, count=count, n=words.number_word(count)) == said


def test_names_that_the_program_brings_are_german() -> None:
    voice = Voice("de")

    assert name_in_words(voice, "sand 1/2") == "schleifen 1/2"
    assert name_in_words(voice, "carve again") == "schnitzen noch einmal"
    assert name_in_words(voice, "Wall 1/2") == "Wall 1/2"
    assert name_in_words(voice, "Person 3") == "Person 3"
    assert voice.say("{step} needs {skill}, and nobody can do it.", step="x", skill="laminate") == (
        "x braucht laminieren, und niemand kann das."
    )


def test_a_sample_is_put_into_the_language_and_stays_english_in_english() -> None:
    book = small()
    german = in_words(Voice("de"), book)

    assert in_words(Voice("en"), book) is book
    assert [job.name for job in german.jobs] == ["Leseeule"]
    assert [step.id for step in german.jobs[0].steps] == [step.id for step in book.jobs[0].steps]
    assert {"laminieren", "schnitzen", "Topcoat"} <= {s.name for s in german.jobs[0].steps}
    assert examine(german) == examine(book)


def test_every_german_country_is_found_by_its_name() -> None:
    voice = Voice("de")

    for country in countries():
        assert country_named(voice.brought(country.name)) == country


@pytest.mark.parametrize(
    ("asked", "spoken_is"),
    [
        ({"LANGUAGE": "de"}, "de"),
        ({"LANGUAGE": "en:de"}, "en"),
        ({"LANGUAGE": "fr:de"}, "de"),
        ({"LC_ALL": "de_AT.UTF-8"}, "de_AT"),
        ({"LC_ALL": "C.UTF-8", "LANG": "de_DE.UTF-8"}, "en"),
        ({"LANG": "de_DE.UTF-8@euro"}, "de_DE"),
        ({}, "en"),
    ],
)
def test_the_environment_says_which_language_is_spoken(
    asked: dict[str, str], spoken_is: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    for name, value in asked.items():
        monkeypatch.setenv(name, value)

    assert spoken(LOCALE_FOLDER, DOMAIN) == spoken_is
    assert Voice().say(within("verdict", "fits")) == ("fits" if spoken_is == "en" else "passt")


def test_a_language_that_was_chosen_goes_before_the_environment(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("LANGUAGE", "en")
    speak("system")
    assert Voice().language == "en"

    speak("de")
    assert Voice().language == "de"
    assert key_text("Ctrl S") == "Strg S"
    assert written("2.5") == "2,5"
    assert field_text("Edda, holds 2 until") == "Edda, Nachweis bis, 2"
