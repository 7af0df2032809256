"""Every text of the catalogue, found by looking through its modules."""

import importlib
import pkgutil
from string import Formatter
from types import ModuleType

import app.words
from app.words.template import Phrase, Template


def modules() -> list[ModuleType]:
    names = [info.name for info in pkgutil.iter_modules(app.words.__path__, "app.words.")]
    return [importlib.import_module(name) for name in names]


def _texts_below(found: object) -> list[str]:
    if isinstance(found, str):
        return [found]
    if isinstance(found, Phrase):
        return [found.text, found.many]
    if isinstance(found, dict):
        return [each for value in found.values() for each in _texts_below(value)]
    if isinstance(found, tuple):
        return [each for value in found for each in _texts_below(value)]
    return []


def all_texts() -> set[str]:
    """Every text of the catalogue's module constants."""
    named = [
        value
        for module in modules()
        for name, value in vars(module).items()
        if name.strip("_").isupper() and not name.startswith("__")
    ]
    return {text for value in named for text in _texts_below(value) if text}


def facts_of(template: Template) -> set[str]:
    """Names of the facts that a template needs."""
    texts = [template] if isinstance(template, str) else [template.text, template.many]
    named = {name for text in texts for _, name, _, _ in Formatter().parse(text) if name}
    return named | ({template.by} if isinstance(template, Phrase) and template.by else set())
