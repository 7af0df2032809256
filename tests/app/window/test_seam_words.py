"""Words of answers and trial fits in a job's header line never meet, however close they are."""

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtWidgets import QApplication

from app.window.fonts import text_width
from app.window.wall.items import DAY_MINUTES, Band, Role
from app.window.wall.layout import Layout
from app.window.wall.seam_words import LINE_ROOM, PLATE, seam_words
from tests.app.window.scenes import a_wall, laid_out


def spans(layout: Layout, band: Band) -> list[tuple[int, int]]:
    return [
        (x - PLATE, x + round(text_width(text, 11, 500)) + PLATE)
        for _, x, text in seam_words(layout, band)
    ]


@pytest.mark.parametrize("days", [0, 1, 2, 3, 5, 8])
@pytest.mark.parametrize("per_day", [9.0, 17.0, 30.0, 96.0])
def test_two_answers_close_together_do_not_write_over_each_other(
    prepared: QApplication, days: int, per_day: float
) -> None:
    wall = a_wall()
    layout = laid_out(wall, per_day=per_day)
    band = next(b for b in wall.bands if any(s.role is Role.ANSWER for s in b.seams))
    answer = next(s for s in band.seams if s.role is Role.ANSWER)
    layout = replace(layout, scale=layout.scale.moved(layout.scale.x(answer.end) - 500))
    later = days * DAY_MINUTES
    other = replace(answer, id="another answer", start=answer.start + later, end=answer.end + later)
    crowded = replace(band, seams=(*band.seams, other))
    found = spans(layout, crowded)
    assert found
    assert not any(a[0] < b[1] and b[0] < a[1] for a, b in combinations(found, 2))
    for seam in crowded.seams:
        if seam.role is Role.LOADING:
            continue
        x = layout.scale.x(seam.end if seam.role is Role.ANSWER else seam.start)
        assert not any(left < x + LINE_ROOM and x - LINE_ROOM < right for left, right in found)


def test_an_answer_with_room_says_when_it_is_due_in_its_bracket(prepared: QApplication) -> None:
    wall = a_wall()
    layout = laid_out(wall, per_day=30)
    band = next(b for b in wall.bands if any(s.role is Role.ANSWER for s in b.seams))
    answer = next(s for s in band.seams if s.role is Role.ANSWER)
    layout = replace(layout, scale=layout.scale.moved(layout.scale.x(answer.end) - 500))
    x, text = next((x, text) for seam, x, text in seam_words(layout, band) if seam is answer)
    assert text == answer.label
    assert layout.scale.x(answer.start) < x < layout.scale.x(answer.end)
