"""The foreman's sentence: who is in, who of them has no work, who is away."""

import pytest

from app.window.people.headline import at_work
from app.window.people.items import Bar, Board, Column, Line, Sort
from app.words import Words
from shared.worktime.zones import local_date
from tests.app.window.scenes import planted


def line(name: str, *bars: tuple[Sort, int, int], there: int = 480) -> Line:
    """Give the row of somebody who is there for so many minutes of the day, and of what they do."""
    made = (
        Bar(
            id=f"{name} {start}",
            sort=sort,
            start=start,
            end=end,
            pieces=((start, end),),
            what="away, back Wed",
        )
        for sort, start, end in bars
    )
    return Line(
        id=name,
        name=name,
        is_place=False,
        bars=tuple(made),
        there=((0, there),) if there else (),
    )


WORKS, OFF, LATER = (Sort.WORK, 0, 60), (Sort.AWAY, 0, 480), (Sort.WORK, 1440, 1500)


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ([line("Asta", WORKS), line("Cato", WORKS)], "All two people are in today."),
        (
            [line("Asta", WORKS), line("Cato", LATER)],
            "All two people are in today. One of them has nothing planned.",
        ),
        (
            [line("Asta", WORKS), line("Cato"), line("Ivo")],
            "All three people are in today. Two of them have nothing planned.",
        ),
        (
            [line("Asta"), line("Cato")],
            "All two people are in today. Nothing is planned for that day.",
        ),
        (
            [line("Asta", WORKS), line("Cato", OFF, there=0)],
            "One of two is in today. Cato is away, back Wed.",
        ),
        (
            [line("Asta", WORKS), line("Cato", (Sort.AWAY, 0, 240), there=240)],
            "All two people are in today. One of them has nothing planned. Cato is away, back Wed.",
        ),
        ([line("Asta", OFF, there=0)], "Nobody is in today. Asta is away, back Wed."),
        ([line("Asta", there=0), line("Cato", WORKS)], "One of two is in today."),
        ([line("Asta", there=0)], "Nobody is in today."),
    ],
)
def test_the_sentence_speaks_of_who_is_there_and_of_who_has_work(
    lines: list[Line], says: str
) -> None:
    now = planted().now
    day = local_date(now, "Europe/London")
    column = Column(date=day, start=0, end=480, label="")
    board = Board(columns=(column,), lines=tuple(lines), now=0)

    assert at_work(Words("en"), board, now) == says
