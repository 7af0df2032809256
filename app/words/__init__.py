"""Every sentence that people read, in the words of the trade; no Qt.

The words are gettext's: English stands in the code, other languages in
`app/resources/locale/<language>/LC_MESSAGES/countback.mo`; none needs a change of code.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from app.words.words import Words

__all__ = ["Words"]


def __getattr__(name: str) -> object:
    """Give `Words` to whoever asks for it; `--help` never does, and is quicker for it."""
    if name != "Words":
        raise AttributeError(name)
    from app.words.words import Words

    return Words
