"""Tokens as Qt's colours, and the palette that stock fields take."""

from functools import lru_cache

from PySide6.QtGui import QColor, QPalette

from app.window import tokens
from app.window.tokens import Tokens
from shared.book import Kind


class Theme:
    """One ground's colours, made once."""

    def __init__(self, source: Tokens) -> None:
        self.tokens = source
        self.name = source.name
        self.is_dark = source.name.startswith("dark")
        self.paper = QColor(source.paper)
        self.sheet = QColor(source.sheet)
        self.opening = QColor(source.opening)
        self.off = QColor(source.off)
        self.shut = QColor(source.shut)
        self.line = QColor(source.line)
        self.ink = QColor(source.ink)
        self.ink2 = QColor(source.ink2)
        self.ink3 = QColor(source.ink3)
        self.miss = QColor(source.miss)
        self.missbg = QColor(source.missbg)
        self.on_fill = QColor(source.on_fill)
        self.on_opening = QColor(source.on_opening)
        self.on_opening2 = QColor(source.on_opening2)
        self.post = QColor(source.opening if self.is_dark else source.ink)
        self.veil = QColor(source.paper)
        self.veil.setAlpha(0 if source is tokens.PAPER else tokens.VEIL_ALPHA)
        self.fills = {kind: QColor(source.kinds[kind].fill) for kind in Kind}
        self.lines = {kind: QColor(source.kinds[kind].line) for kind in Kind}
        self.outlines = {kind: QColor(tokens.outline(source, kind)) for kind in Kind}
        self.patterns = {kind: QColor(tokens.pattern_ink(source, kind)) for kind in Kind}
        self.cures = {kind: QColor(tokens.cure_ink(source, kind)) for kind in Kind}
        fill = source.kinds[Kind.LACQUER].fill
        self.shine = QColor(tokens.mixed(fill, "#FFFFFF", source.lacquer_shine_percent))


@lru_cache(maxsize=4)
def over_opening(name: str) -> Theme:
    """Return the theme for marks that lie over a window, which is light on either ground."""
    if name == tokens.PAPER.name:
        return theme(name)
    made = Theme(tokens.LIGHT_STRONG if tokens.GROUNDS[name].is_strong else tokens.LIGHT)
    made.paper = QColor(tokens.GROUNDS[name].opening)
    return made


@lru_cache(maxsize=5)
def theme(name: str) -> Theme:
    """Return the theme of a ground: of "light" or "dark", either in stronger contrast too."""
    return Theme(tokens.GROUNDS[name])


def palette(of: Theme) -> QPalette:
    """Return the palette for the few stock widgets."""
    made = QPalette()
    role = QPalette.ColorRole
    pairs = {
        role.Window: of.paper,
        role.WindowText: of.ink,
        role.Base: of.sheet,
        role.AlternateBase: of.paper,
        role.Text: of.ink,
        role.Button: of.paper,
        role.ButtonText: of.ink,
        role.BrightText: of.miss,
        role.Highlight: of.ink,
        role.HighlightedText: of.paper,
        role.PlaceholderText: of.ink2,
        role.ToolTipBase: of.sheet,
        role.ToolTipText: of.ink,
        role.Link: of.ink,
        role.LinkVisited: of.ink2,
        role.Light: of.sheet,
        role.Midlight: of.line,
        role.Mid: of.line,
        role.Dark: of.ink2,
        role.Shadow: of.ink3,
        role.Accent: of.ink,
    }
    for which, colour in pairs.items():
        made.setColor(which, colour)
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, of.ink2)
    return made
