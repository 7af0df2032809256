"""Every text that people may read, found by looking through the modules that hold them."""

import importlib
import pkgutil
import re
from collections.abc import Iterator
from dataclasses import dataclass
from types import ModuleType

import app.words
from app.words.template import Phrase


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


_is_code = re.compile(r"[A-Z][A-Z0-9_]+[a-z]?|countback").fullmatch
_is_identifier = re.compile(r"[a-z_]+").fullmatch


def _below(found: object) -> Iterator[Text]:
    """Give the texts of a constant; a lone word in a table is a code unless it is a phrase."""
    if isinstance(found, Phrase):
        yield Text(context=found.context, text=found.text, many=found.many)
    elif isinstance(found, str):
        if _is_said(found):
            yield Text(text=found)
    elif isinstance(found, dict | tuple | frozenset):
        for value in found.values() if isinstance(found, dict) else found:
            if not (isinstance(value, str) and _is_identifier(value)):
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
            if name.strip("_").isupper() and not name.startswith("__"):
                for text in _below(value):
                    found.setdefault(text, module.__name__)
    return found
