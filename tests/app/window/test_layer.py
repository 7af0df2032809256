"""The kept ribbons look as those painted anew, follow the wall, and are painted sharp at rest."""

from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.theme import theme
from app.window.wall import moves
from app.window.wall.layer import STRETCHED_FROM
from app.window.wall.view import WallView
from app.words import Words
from tests.app.window.scenes import a_wall
from tests.bench.paint import big_wall

NEAR_EDGE = 40
FEW = 60
"""Of 90,000: names in blocks that are cut at the edge."""
SOFT = 24
"""Of 255: what is softened over nothing, then laid over a ground, differs by a little."""


def a_view(qtbot: QtBot, *, blocks: int = 0) -> WallView:
    view = WallView(big_wall(blocks) if blocks else a_wall(), Words("en"), theme("light"))
    qtbot.addWidget(view)
    view.resize(1366, 680)
    with qtbot.waitExposed(view):
        view.show()
    return view


def apart(a: QColor, b: QColor) -> int:
    pairs = ((a.red(), b.red()), (a.green(), b.green()), (a.blue(), b.blue()))
    return max(abs(one - other) for one, other in pairs)


def how(view: WallView) -> tuple[bool, bool]:
    """Say whether strips on show are stretched, and whether sharp ones are coming."""
    return view._layer.is_stretched, view._layer.is_sharpening


def differing(view: WallView) -> int:
    """Count the pixels in which the widget and a picture painted anew differ, off the edges."""
    seen = view.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    anew = view.picture(1.0)
    right = view.layout_.names_x - NEAR_EDGE
    return sum(
        apart(seen.pixelColor(x, y), anew.pixelColor(x, y)) > SOFT
        for x in range(NEAR_EDGE, right, 3)
        for y in range(view.sizes.axis, view.height(), 3)
    )


def test_kept_ribbons_are_as_those_painted_anew_also_when_moved(
    qtbot: QtBot, prepared: QApplication
) -> None:
    view = a_view(qtbot)
    view.zoom(3)
    for pixels in (0, 37, -90, 1400, -2000):
        view.scroll_time(pixels)
        assert differing(view) <= FEW


def test_another_wall_or_ground_is_never_shown_from_an_old_picture(
    qtbot: QtBot, prepared: QApplication
) -> None:
    view = a_view(qtbot)
    view.grab()
    view.set_theme(theme("dark"))
    assert differing(view) <= FEW
    view.show_wall(a_wall(7), Words("en"))
    assert differing(view) <= FEW


def test_very_many_blocks_are_stretched_while_zooming_and_sharp_at_rest(
    qtbot: QtBot, prepared: QApplication
) -> None:
    view = a_view(qtbot, blocks=2 * STRETCHED_FROM)
    view.grab()
    view.zoom(1.2)
    view.grab()
    assert view._layer.is_stretched
    qtbot.waitUntil(lambda: not view._layer.is_stretched, timeout=5000)
    assert differing(view) <= FEW


def test_chosen_rows_and_rows_scrolled_to_are_as_those_painted_anew(
    qtbot: QtBot, prepared: QApplication
) -> None:
    view = a_view(qtbot, blocks=2 * STRETCHED_FROM)
    view.resize(1366, 400)
    view.zoom(4)
    view.grab()
    block = next(row.blocks[0] for row in view.wall.rows if row.blocks)
    view.choose(moves.at(view.wall, block.id))
    assert differing(view) <= FEW
    for pixels in (90, 700, 5000):
        view.scroll_rows(pixels)
        assert differing(view) <= FEW


def test_strips_of_another_scale_come_one_by_one_while_the_wall_comes_nearer(
    qtbot: QtBot, prepared: QApplication
) -> None:
    view = a_view(qtbot, blocks=4 * STRETCHED_FROM)
    view.grab()
    view.zoom(1.5)
    view.grab()
    assert how(view) == (True, False)
    view.zoom(1.5)
    view.grab()
    assert how(view) == (True, True)
    for _ in range(200):
        view.grab()
        if how(view) == (False, False):
            break
    assert how(view) == (False, False)
    assert differing(view) <= FEW
