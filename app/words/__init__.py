"""Every sentence that people read, in the words of the trade; no Qt.

The words are gettext's: English stands in the code, other languages in
`app/resources/locale/<language>/LC_MESSAGES/countback.mo`; none needs a change of code.
"""

from app.words.words import Words

__all__ = ["Words"]
