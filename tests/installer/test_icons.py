"""Qt's own readers of PNG, ICO and ICNS are what the icons are held against."""

from pathlib import Path

import pytest
from PySide6.QtCore import QBuffer, QByteArray, QIODevice
from PySide6.QtGui import QIcon, QImage, QImageReader
from PySide6.QtWidgets import QApplication

from app.window.startup import prepare
from installer.icons import SIZES, icns, ico, png, write_themed

MENUS = {16, 22, 24, 32, 48, 64, 128, 256, 512}
"""Sizes that the hicolor theme has folders for."""


def image_of(data: bytes) -> QImage:
    return QImage.fromData(QByteArray(data))


@pytest.mark.parametrize("size", SIZES)
def test_each_size_is_drawn_with_clear_corners_and_a_full_middle(size: int) -> None:
    image = image_of(png(size))

    assert (image.width(), image.height()) == (size, size)
    assert image.pixelColor(0, 0).alpha() == 0
    assert image.pixelColor(size - 1, size - 1).alpha() == 0
    assert image.pixelColor(size // 2, size // 2).alpha() == 255


def test_the_ribbons_can_be_told_apart_at_the_smallest_size() -> None:
    image = image_of(png(16))
    places = ((4, 11), (6, 8), (8, 4), (12, 10))
    colours = {image.pixelColor(*place).name() for place in places}

    assert len(colours) == 4


def test_the_folders_of_a_theme_hold_what_their_names_say(tmp_path: Path) -> None:
    write_themed(tmp_path)
    pictures = sorted(tmp_path.glob("*/countback.png"))

    assert {48, 256} <= set(SIZES) <= MENUS
    assert len(pictures) == len(SIZES)
    for path in pictures:
        image = QImage(str(path))
        assert f"{image.width()}x{image.height()}" == path.parent.name
    assert (tmp_path / "scalable/countback.svg").read_bytes().startswith(b"<svg")


@pytest.mark.parametrize(
    ("data", "kind", "sizes"),
    [
        (ico(), b"ico", [16, 24, 32, 48, 64, 128, 256]),
        (icns(), b"icns", [16, 32, 128, 256, 512]),
    ],
)
def test_qt_reads_the_icons_of_other_systems(data: bytes, kind: bytes, sizes: list[int]) -> None:
    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, kind)
    found = []
    for number in range(reader.imageCount()):
        reader.jumpToImage(number)
        found.append(reader.read().width())

    assert sorted(found) == sizes


def test_the_window_bears_the_icon(qapp: QApplication) -> None:
    qapp.setWindowIcon(QIcon())
    prepare(qapp)

    assert not qapp.windowIcon().isNull()
    assert qapp.windowIcon().pixmap(48).toImage().pixelColor(24, 24).alpha() == 255
