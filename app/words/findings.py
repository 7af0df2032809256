"""Findings in words: what is wrong, and the cure."""

from app.words.facts import facts_in_words
from app.words.findings_book import CURES_WITH_NEAREST, DIMENSIONS
from app.words.findings_book import SENTENCES as OF_BOOKS
from app.words.findings_book import SORTS as OF_THINGS
from app.words.findings_file import OF_NO_NEAREST, SORTS, WITH_NEAREST
from app.words.findings_file import SENTENCES as OF_FILES
from app.words.findings_journeys import CURES_WITH_NEAREST as JOURNEYS_WITH_NEAREST
from app.words.findings_journeys import SENTENCES as OF_JOURNEYS
from app.words.template import Template
from app.words.voice import Voice, capital
from shared.findings import Finding

SENTENCES: dict[str, tuple[Template, Template]] = {**OF_FILES, **OF_BOOKS, **OF_JOURNEYS}
_UNKNOWN = ("The book has a trouble called {code}.", "Look at the place named.")
_WITH_NEAREST: dict[str, Template] = {
    **WITH_NEAREST,
    **CURES_WITH_NEAREST,
    **JOURNEYS_WITH_NEAREST,
}
_WORDS_OF: dict[str, Template] = {**SORTS, **OF_THINGS, **DIMENSIONS}
_WORD_FACTS = ("wanted", "found", "kind", "sort", "dimension")


def finding(voice: Voice, found: Finding, zone: str | None = None) -> tuple[str, str]:
    """Give the sentence of a finding and its cure."""
    text, cure = SENTENCES.get(found.code, _UNKNOWN)
    if found.fact("nearest"):
        cure = _WITH_NEAREST.get(found.code, cure)
    else:
        cure = OF_NO_NEAREST.get(found.code, cure)
    facts = facts_in_words(voice, found.facts, zone)
    for key in _WORD_FACTS:
        word = found.fact(key)
        if isinstance(word, str) and word in _WORDS_OF:
            facts[key] = voice.say(_WORDS_OF[word])
    facts.update(code=found.code, name=found.name)
    return capital(voice.say(text, **facts)), capital(voice.say(cure, **facts))


def where(path: tuple[str | int, ...]) -> str:
    """Give a path as one word, counting list elements as the file would: jobs[0].name."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}"
    return text.removeprefix(".")
