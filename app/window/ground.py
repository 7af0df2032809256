"""Light or dark, in the usual or a stronger contrast: as set, or as the system has it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import lru_cache

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAccessibilityHints, QGuiApplication, QStyleHints
from PySide6.QtWidgets import QApplication, QWidget

from app.settings import CONTRASTS, TEXT_PERCENTS, Settings
from app.window.fonts import font, set_text_percent
from app.window.theme import Theme, palette, theme
from app.window.tokens import PAPER, STRONG

ORDER = ("system", "light", "dark")


def ground_for(look: str) -> str:
    """Return "light" or "dark" for a setting; a system that doesn't say counts as light."""
    if look in ("light", "dark"):
        return look
    scheme = QGuiApplication.styleHints().colorScheme()
    return "dark" if scheme is Qt.ColorScheme.Dark else "light"


@lru_cache(maxsize=1)
def _hints() -> tuple[QStyleHints, QAccessibilityHints]:
    """Keep what the system says: without its owner the second is gone."""
    hints = QGuiApplication.styleHints()
    return hints, hints.accessibility()


def is_strong(contrast: str) -> bool:
    """Say whether a setting asks for the stronger contrast."""
    is_wanted = _hints()[1].contrastPreference() is Qt.ContrastPreference.HighContrast
    return contrast == "strong" or (contrast == "system" and is_wanted)


class Ground(QObject):
    """The ground of a window: takes the setting, keeps it, colours every part."""

    def __init__(
        self,
        window: QWidget,
        settings: Settings,
        keep: Callable[[Settings], None],
        on_theme: Callable[[Theme], None],
    ) -> None:
        super().__init__(window)
        self._window, self.settings, self._keep, self._on_theme = window, settings, keep, on_theme
        hints, accessibility = _hints()
        hints.colorSchemeChanged.connect(self._on_scheme)
        accessibility.contrastPreferenceChanged.connect(self._on_scheme)
        self.apply()

    def set_next(self) -> None:
        """Go on to the next of: as the system has it, light, dark."""
        self.set_look(ORDER[(ORDER.index(self.settings.look) + 1) % len(ORDER)])

    def set_look(self, look: str) -> None:
        """Take a setting for the ground."""
        self.keep(replace(self.settings, look=look))
        self.apply()

    def set_next_contrast(self) -> None:
        """Go on to the next of: as the system has it, usual, stronger."""
        at = CONTRASTS.index(self.settings.contrast) + 1
        self.keep(replace(self.settings, contrast=CONTRASTS[at % len(CONTRASTS)]))
        self.apply()

    def keep(self, settings: Settings) -> None:
        """Take other settings and keep them."""
        self.settings = settings
        self._keep(settings)

    def keep_who(self, who: str) -> None:
        """Keep under which name somebody records what happened."""
        self.keep(replace(self.settings, who=who))

    def step_text(self, stride: int) -> None:
        """Write everything a step larger (1) or smaller (-1), and keep that."""
        at = TEXT_PERCENTS.index(self.settings.text_percent) + stride
        percent = TEXT_PERCENTS[max(0, min(at, len(TEXT_PERCENTS) - 1))]
        self.settings = replace(self.settings, text_percent=percent)
        self._keep(self.settings)
        self.apply()

    @contextmanager
    def on_paper(self) -> Iterator[None]:
        """Colour everything black on white for a while: it is painted on paper."""
        was = self._window.property("ground")
        self._colour(PAPER.name)
        try:
            yield
        finally:
            self._colour(was)

    def _on_scheme(self) -> None:
        if "system" in (self.settings.look, self.settings.contrast):
            self.apply()

    def apply(self) -> None:
        """Colour everything."""
        set_text_percent(self.settings.text_percent)
        name = ground_for(self.settings.look)
        name += STRONG if is_strong(self.settings.contrast) else ""
        self._colour(name)
        self._window.setFont(font(13))
        self._window.setAutoFillBackground(True)
        for part in self._window.findChildren(QWidget):
            part.update()

    def _colour(self, name: str) -> None:
        window, of, app = self._window, theme(name), QApplication.instance()
        window.setProperty("ground", name)
        if isinstance(app, QApplication):
            app.setPalette(palette(of))
        window.setPalette(palette(of))
        self._on_theme(of)
