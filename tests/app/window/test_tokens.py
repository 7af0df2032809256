"""The colours hold what they promise: read by everybody, told apart by everybody."""

from itertools import combinations, pairwise

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from app.window.theme import Theme, over_opening, theme
from app.window.tokens import (
    DARK,
    DARK_STRONG,
    LIGHT,
    LIGHT_STRONG,
    Tokens,
    cure_ink,
    mixed,
    outline,
    pattern_ink,
    sizes_for,
)
from app.window.wall.paint_ribbons import Ribbons
from shared.book import Kind
from tests.app.window.colour import SIGHTS, contrast, difference, lab
from tests.app.window.scenes import a_wall, laid_out

GROUNDS = [pytest.param(LIGHT, id="light"), pytest.param(DARK, id="dark")]

# Sharma, Wu and Dalal (2005), table 1: pairs 1, 4, 7, 13, 17, 21, 25, 26, 34 by their columns.
PUBLISHED_PAIRS = [
    ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
    ((50, 3.1571, -77.2803), (50, 0, -82.7485), 2.8615),
    ((50, -1.3802, -84.2814), (50, 0, -82.7485), 1.0000),
    ((50, 0, 0), (50, -1, 2), 2.3669),
    ((50, 2.49, -0.001), (50, -2.49, 0.0009), 7.1792),
    ((50, 2.5, 0), (50, 0, -2.5), 4.3065),
    ((50, 2.5, 0), (73, 25, -18), 27.1492),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((22.7233, 20.0904, -46.694), (23.0331, 14.973, -42.5619), 2.0373),
    ((2.0776, 0.0795, -1.135), (0.9033, -0.0636, -0.5514), 0.9082),
]


@pytest.mark.parametrize(("one", "other", "expected"), PUBLISHED_PAIRS)
def test_the_difference_reproduces_published_pairs(
    one: tuple[float, float, float], other: tuple[float, float, float], expected: float
) -> None:
    assert difference(one, other) == pytest.approx(expected, abs=0.0001)
    assert difference(other, one) == pytest.approx(expected, abs=0.0001)


def test_black_on_white_has_the_greatest_contrast_there_is() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("of", GROUNDS)
def test_text_has_a_contrast_of_4_5_on_every_ground_it_stands_on(of: Tokens) -> None:
    for ink in (of.ink, of.ink2, of.miss):
        for ground in (of.paper, of.sheet, of.off, of.shut, of.missbg):
            assert contrast(ink, ground) >= 4.5, (ink, ground)
    assert contrast(of.on_opening, of.opening) >= 4.5
    assert contrast(of.on_opening2, of.opening) >= 4.5
    assert contrast(LIGHT.miss, of.opening) >= 4.5, "over the window the light ground's inks are"
    assert contrast(of.paper, of.ink) >= 4.5, "today's date"


@pytest.mark.parametrize("of", GROUNDS)
@pytest.mark.parametrize("kind", list(Kind))
def test_words_on_a_fill_and_lines_on_paper_are_seen(of: Tokens, kind: Kind) -> None:
    hue = of.kinds[kind]
    assert contrast(of.on_fill, hue.fill) >= 4.5
    for ground in (of.paper, of.off, of.sheet):
        assert contrast(hue.line, ground) >= 3.0, ground
        assert contrast(outline(of, kind), ground) >= 3.0, ground


def inks_of(of: Theme) -> dict[str, QColor]:
    """What each mark that says something by itself is drawn in; `shut` and hairlines say nothing.

    A cure is told by its edges, a kind by its outline: hatches and patterns lie inside of these.
    """
    plain = {
        "today": of.ink,
        "posts and lintel": of.post,
        "client's answer": of.ink,
        "answer overdue, late part, torn flag": of.miss,
        "trial fit, loading, pin, dog-ear, out of hours, place held": of.ink,
        "waits, to spare": of.ink3,
        "journey": of.ink2,
        "focus": of.ink,
    }
    lines = {f"neck and cure, {kind}": of.lines[kind] for kind in Kind}
    return plain | lines | {f"block, {kind}": of.outlines[kind] for kind in Kind}


@pytest.mark.parametrize("name", ["light", "dark", LIGHT_STRONG.name, DARK_STRONG.name])
def test_every_mark_that_says_something_has_a_contrast_of_3(name: str) -> None:
    of = theme(name)
    for mark, ink in inks_of(of).items():
        for ground in (of.paper, of.off, of.sheet):
            assert contrast(ink.name(), ground.name()) >= 3.0, (mark, ground.name())
    for ink in (of.miss, of.ink):
        assert contrast(ink.name(), of.missbg.name()) >= 3.0
    over = over_opening(name)
    for ink in (over.ink, over.ink2, over.ink3, over.miss):
        assert contrast(ink.name(), of.opening.name()) >= 3.0


@pytest.mark.parametrize("name", ["light", "dark"])
@pytest.mark.parametrize("kind", list(Kind))
def test_a_cure_is_edged_in_the_line_of_its_kind(
    prepared: QApplication, name: str, kind: Kind
) -> None:
    of = theme(name)
    image = QImage(60, 30, QImage.Format.Format_RGB32)
    image.fill(of.paper)
    painter = QPainter(image)
    ribbons = Ribbons(a_wall(), laid_out(a_wall()))
    ribbons.cures[kind] = [QRect(4, 10, 50, 9)]
    ribbons._paint_cures(painter, of, kind)
    painter.end()
    for row in (10, 18):
        assert {image.pixelColor(x, row).name() for x in range(6, 50)} == {of.lines[kind].name()}


# The worst of the 21 pairs, as the design states them.
WORST = {
    ("light", "fill"): {"usual": 11.7, "protan": 9.4, "deutan": 7.3, "tritan": 9.8},
    ("dark", "fill"): {"usual": 11.8, "protan": 9.0, "deutan": 7.5, "tritan": 9.9},
    ("light", "line"): {"usual": 12.2, "protan": 7.8, "deutan": 5.6, "tritan": 11.7},
    ("dark", "line"): {"usual": 10.9, "protan": 6.3, "deutan": 5.5, "tritan": 8.0},
}
LEAST = {"fill": 7.0, "line": 5.0}


@pytest.mark.parametrize("of", GROUNDS)
@pytest.mark.parametrize("part", ["fill", "line"])
@pytest.mark.parametrize("sight", list(SIGHTS))
def test_kinds_are_told_apart_whatever_ones_sight(of: Tokens, part: str, sight: str) -> None:
    colours = {kind: lab(getattr(of.kinds[kind], part), sight) for kind in Kind}
    pairs = list(combinations(Kind, 2))
    worst = min(difference(colours[a], colours[b]) for a, b in pairs)

    assert len(pairs) == 21
    assert worst >= LEAST[part]
    assert worst == pytest.approx(WORST[of.name, part][sight], abs=0.06)


def test_colours_are_mixed_channel_by_channel() -> None:
    assert mixed("#000000", "#FFFFFF", 0) == "#000000"
    assert mixed("#000000", "#FFFFFF", 100) == "#FFFFFF"
    assert mixed("#204060", "#A08000", 25) == "#405048"


def test_a_large_screen_gets_large_sizes() -> None:
    small, large = sizes_for(1366), sizes_for(1920)
    assert (small.sentence_px, large.sentence_px) == (22, 26)
    assert all(
        getattr(small, name) <= getattr(large, name) for name in ("row", "names", "axis", "header")
    )
    assert [a <= b for a, b in pairwise((small.row_gap, large.row_gap))] == [True]


@pytest.mark.parametrize(("strong", "usual"), [(LIGHT_STRONG, LIGHT), (DARK_STRONG, DARK)])
def test_the_stronger_contrast_has_no_tints_and_outlines_in_ink(
    strong: Tokens, usual: Tokens
) -> None:
    assert strong.off == strong.shut == strong.paper
    assert strong.ink3 == usual.ink2
    for ground in (strong.paper, strong.sheet):
        assert contrast(strong.ink3, ground) >= 4.5
        assert contrast(strong.line, ground) > contrast(usual.line, ground)
    for kind in Kind:
        assert outline(strong, kind) == strong.ink
        fill, was = usual.kinds[kind].fill, pattern_ink(usual, kind)
        assert contrast(pattern_ink(strong, kind), fill) > contrast(was, fill)
        assert contrast(cure_ink(strong, kind), strong.paper) >= 3.0
        assert contrast(strong.on_fill, strong.kinds[kind].fill) >= 4.5
