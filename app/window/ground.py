"""Light or dark: as set, or as the system has it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

ORDER = ("system", "light", "dark")


def ground_for(look: str) -> str:
    """Return "light" or "dark" for a setting; a system that doesn't say counts as light."""
    if look in ("light", "dark"):
        return look
    scheme = QGuiApplication.styleHints().colorScheme()
    return "dark" if scheme is Qt.ColorScheme.Dark else "light"


def next_look(look: str) -> str:
    """Return the setting after one, round at the end."""
    return ORDER[(ORDER.index(look) + 1) % len(ORDER)]
