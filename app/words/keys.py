"""Names of keys as they stand on the keyboard of the language."""

from functools import cache

from app.words.language import spoken
from app.words.template import Template, within
from app.words.voice import DOMAIN, LOCALE_FOLDER, Voice

NAMES: dict[str, Template] = {
    "Ctrl": within("key", "Ctrl"),
    "Shift": within("key", "Shift"),
    "Alt": within("key", "Alt"),
    "Enter": within("key", "Enter"),
    "Esc": within("key", "Esc"),
    "Space": within("key", "Space"),
    "Del": within("key", "Del"),
    "Ins": within("key", "Ins"),
    "Home": within("key", "Home"),
    "End": within("key", "End"),
}


def key_text(keys: str) -> str:
    """Return keys as "Ctrl S" in the language spoken, each by its name there."""
    return _said(spoken(LOCALE_FOLDER, DOMAIN), keys)


@cache
def _said(language: str, keys: str) -> str:
    voice = Voice(language)
    named = (voice.say(NAMES[key]) if key in NAMES else key for key in keys.split(" "))
    return " ".join(named)
