"""Hours of cures are written over what is in sight of them, whole; blocks say who works on them."""

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QApplication

from app.window.fonts import text_width
from app.window.wall.cure_words import FROM_WIDTH, cure_words
from app.window.wall.paint_ribbons import INITIALS_FROM, Ribbons
from app.window.wall.parts import initials
from tests.app.window.scenes import a_wall, laid_out


@pytest.mark.parametrize("shift", range(-200, 1400, 133))
def test_hours_of_a_cure_at_the_edge_are_whole_or_not_there(
    prepared: QApplication, shift: int
) -> None:
    wall = a_wall()
    layout = laid_out(wall, per_day=96)
    cure = max((c for row in wall.rows for c in row.cures), key=lambda c: c.end - c.start)
    layout = replace(layout, scale=layout.scale.moved(layout.scale.x(cure.start) - shift))
    low, high = layout.sizes.margin, layout.names_x - 6
    for item, x, _, text in cure_words(wall, layout):
        assert low <= x
        assert x + text_width(text, 11, 500) <= high
        assert layout.scale.x(item.start) <= x
        assert text in (item.label, item.short)
    seen = min(layout.scale.x(cure.end), high) - max(layout.scale.x(cure.start), low)
    is_written = any(item is cure for item, *_ in cure_words(wall, layout))
    room = max(FROM_WIDTH, text_width(cure.label, 11, 500))
    if seen >= room:
        assert is_written
    if seen < text_width(cure.short, 11, 500):
        assert not is_written


def test_low_rows_have_no_hours_over_cures(prepared: QApplication) -> None:
    layout = laid_out(a_wall(), height=120, per_day=96)
    assert layout.row < 18
    assert cure_words(a_wall(), layout) == []


@pytest.mark.parametrize(
    ("names", "letters"),
    [(("Asta Berg", "Kofi"), "AB Ko"), ((), ""), (("Ana Maria Lopez",), "AML")],
)
def test_initials_of_people(names: tuple[str, ...], letters: str) -> None:
    assert initials(names) == letters


def test_from_near_a_block_says_at_its_right_who_works_on_it(prepared: QApplication) -> None:
    wall = a_wall()
    block = max(
        (b for row in wall.rows for b in row.blocks if b.people), key=lambda b: b.end - b.start
    )
    near = laid_out(wall, per_day=1000)
    for per_day, is_there in ((INITIALS_FROM - 1, False), (1000, True)):
        layout = replace(near, scale=replace(near.scale, pixels_per_day=per_day))
        layout = replace(layout, scale=layout.scale.moved(layout.scale.x(block.end) - 700))
        texts = {text for _, text, _ in Ribbons(wall, layout).labels}
        assert (block.initials in texts) == is_there
