"""Which language is spoken: the first that the person's environment asks for and there is."""

import gettext
import os
from functools import cache
from pathlib import Path

WRITTEN_IN = "en"
_ASKED_IN = ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG")
_OF_NOBODY = {"C", "POSIX"}


AS_THE_SYSTEM = "system"


def speak(language: str) -> None:
    """Speak a language from here on, in every process that is started too.

    language: as in "de"; AS_THE_SYSTEM leaves it to the person's environment.
    """
    if language != AS_THE_SYSTEM:
        os.environ[_ASKED_IN[0]] = language


def spoken(folder: Path, domain: str) -> str:
    """Return the language as in "de": that of the code, where none of those asked for is there.

    folder, domain: of the catalogues. The environment is read as the GNU gettext manual has it
    ("Locale Environment Variables"); but English counts as there, although it has no catalogue.
    """
    asked = next((found for name in _ASKED_IN if (found := os.environ.get(name))), "")
    return _found(asked, folder, domain)


@cache
def _found(asked: str, folder: Path, domain: str) -> str:
    for wanted in asked.split(":"):
        plain = wanted.partition(".")[0].partition("@")[0]
        if plain in _OF_NOBODY or plain.partition("_")[0] == WRITTEN_IN:
            return WRITTEN_IN
        if plain and gettext.find(domain, folder, [plain]):
            return plain
    return WRITTEN_IN
