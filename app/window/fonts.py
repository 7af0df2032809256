"""The two families that come with the program."""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from importlib.resources import files

from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF

from app.window import tokens
from app.window.tokens import px

_FILES = (
    "BarlowSemiCondensed-Regular.ttf",
    "BarlowSemiCondensed-Medium.ttf",
    "BarlowSemiCondensed-SemiBold.ttf",
    "SourceSerif4-Italic.ttf",
    "SourceSerif4-SemiBold.ttf",
)


def load_fonts() -> tuple[str, ...]:
    """Register the families; names of files that could not be read (the system's stand in)."""
    folder = files("app") / "resources" / "fonts"
    failed = []
    for name in _FILES:
        font = folder / name
        data = font.read_bytes() if font.is_file() else b""
        if not data or QFontDatabase.addApplicationFontFromData(data) < 0:
            failed.append(name)
    return tuple(failed)


# Each weight of these files is a family of its own.
_FAMILY_OF_WEIGHT = {500: " Medium", 600: " SemiBold"}


def _family(weight: int, *, serif: bool, italic: bool) -> str:
    if serif:
        return tokens.SERIF if italic else tokens.SERIF + _FAMILY_OF_WEIGHT[600]
    return tokens.SANS + _FAMILY_OF_WEIGHT.get(weight, "")


@lru_cache(maxsize=64)
def font(pixels: int, weight: int = 400, *, serif: bool = False, italic: bool = False) -> QFont:
    """Return a font in pixels at 100 % of text, figures in columns, no ligatures.

    Ligatures vanish from a PDF, and so do the names of figures in columns: see `for_paper`.
    """
    made = _made(max(8, px(pixels)), weight, serif=serif, italic=italic)
    if not _Paper.is_written:
        made.setFeature(QFont.Tag("tnum"), 1)
    made.setHintingPreference(QFont.HintingPreference.PreferVerticalHinting)
    return made


@lru_cache(maxsize=64)
def paper_font(
    pixels: int, weight: int = 400, *, serif: bool = False, italic: bool = False
) -> QFont:
    """Return a font for paper, in pixels of the page whatever the size of text on screen.

    Its figures are the plain ones: those in columns have no letters that a PDF could name.
    """
    made = _made(pixels, weight, serif=serif, italic=italic)
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return made


class _Paper:
    is_written = False


@contextmanager
def for_paper() -> Iterator[None]:
    """Write at 100 % of text, with figures that a PDF can name, for a while."""
    was, _Paper.is_written = (tokens.text_percent(), _Paper.is_written), True
    tokens.set_text_percent(100)
    _forget()
    try:
        yield
    finally:
        percent, _Paper.is_written = was
        tokens.set_text_percent(percent)
        _forget()


def _forget() -> None:
    font.cache_clear()
    text_width.cache_clear()


def _made(pixels: int, weight: int, *, serif: bool, italic: bool) -> QFont:
    made = QFont(_family(weight, serif=serif, italic=italic))
    made.setStyleHint(QFont.StyleHint.Serif if serif else QFont.StyleHint.SansSerif)
    made.setPixelSize(pixels)
    made.setWeight(QFont.Weight(weight))
    made.setItalic(italic)
    for tag in ("liga", "calt", "clig"):
        made.setFeature(QFont.Tag(tag), 0)
    return made


@lru_cache(maxsize=8192)
def text_width(
    text: str, pixels: int, weight: int = 400, *, serif: bool = False, italic: bool = False
) -> float:
    """Return how wide a text is in a font."""
    made = font(pixels, weight, serif=serif, italic=italic)
    return QFontMetricsF(made).horizontalAdvance(text)


def set_text_percent(percent: int) -> None:
    """Write everything larger or smaller from here on."""
    if percent != tokens.text_percent():
        tokens.set_text_percent(percent)
        _forget()
