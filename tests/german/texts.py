"""Every text that people may read, found in the modules and files that hold them."""

import csv
import importlib
import json
import pkgutil
import re
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from types import ModuleType

import app.words
from app.words.brought import NAMING
from app.words.template import Phrase
from shared.routes.materials import usual_materials


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Text:
    """One entry of a catalogue; `many` and `context` are empty where it has none."""

    context: str = ""
    text: str
    many: str = ""

    @property
    def key(self) -> str:
        """Return it as the compiled catalogue knows it."""
        first = f"{self.context}\4{self.text}" if self.context else self.text
        return f"{first}\0{self.many}" if self.many else first


_is_code = re.compile(r"[A-Z][A-Z0-9_]+[a-z]?").fullmatch
_NOT_SAID = frozenset(
    {
        *("_AS_TYPED", "_AS_WRITTEN", "_OF_THE_PROGRAM", "_OF_NOBODY", "_ASKED_IN", "_OF_BROUGHT"),
        *("DOMAIN", "WRITTEN_IN", "AS_THE_SYSTEM", "NAMING", "_ACT_FACTS", "_WORD_FACTS"),
        *("FACTS", "_BY_NUMBER", "_MOMENTS", "_LASTING"),
    }
)
"""Constants that hold codes and names of facts."""


def _below(found: object) -> Iterator[Text]:
    """Give the texts of a constant."""
    if isinstance(found, Enum):
        return
    if isinstance(found, Phrase):
        yield Text(context=found.context, text=found.text, many=found.many)
    elif isinstance(found, str):
        if _is_said(found):
            yield Text(text=found)
    elif isinstance(found, Mapping):
        for value in found.values():
            yield from _below(value)
    elif isinstance(found, Sequence | Set):
        for value in found:
            yield from _below(value)


def _modules() -> list[ModuleType]:
    names = sorted(info.name for info in pkgutil.iter_modules(app.words.__path__, "app.words."))
    return [importlib.import_module(name) for name in names]


def _is_said(text: str) -> bool:
    return any(letter.isalpha() for letter in text) and not _is_code(text)


def all_texts() -> dict[Text, str]:
    """Return every text with a letter in it, and the first module that has it."""
    found: dict[Text, str] = {}
    for module in _modules():
        for name, value in vars(module).items():
            if name.strip("_").isupper() and name not in _NOT_SAID and not name.startswith("__"):
                for text in _below(value):
                    found.setdefault(text, module.__name__)
    for text, source in _brought():
        found.setdefault(text, source)
    return found


# Names that files of the program bring.

_BOOKS = ("shared/routes/*.json", "shared/journeys/*.json", "sample_jobs/*.countback")
_WORDS = frozenset({"skill", "certificate", "certificates"})
_FIGURES = ("name", "unit")


def _brought() -> Iterator[tuple[Text, str]]:
    for source, name in _names():
        if any(letter.isalpha() for letter in name):
            yield Text(context="brought", text=name), source


def _names() -> Iterator[tuple[str, str]]:
    for pattern in _BOOKS:
        for path in sorted(Path().glob(pattern)):
            found = json.loads(path.read_text(encoding="utf-8"))
            yield from ((str(path.parent), name) for name in _named_in(found, ""))
    for path in sorted(Path("shared/trade/data").glob("*.csv")):
        for row in _rows(path):
            yield from ((str(path), row[field]) for field in _FIGURES)
            yield from [(str(path), row["source"])] * (row["confidence"] == "P")
    yield from (
        ("shared/asking", row["name"]) for row in _rows(Path("shared/asking/countries.csv"))
    )
    yield from (("shared/repairs", row["name"]) for row in _rows(Path("shared/repairs/causes.csv")))
    yield from (("shared/routes", material.name) for material in usual_materials())


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def _named_in(found: object, field: str) -> Iterator[str]:
    if isinstance(found, dict):
        for key, value in found.items():
            yield from _named_in(value, key)
    elif isinstance(found, list):
        for value in found:
            yield from _named_in(value, field)
    elif isinstance(found, str) and field in NAMING | _WORDS:
        yield found
