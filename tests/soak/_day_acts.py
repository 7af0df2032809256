"""What a person does in a day at the window, with keys and pointer, each by a name."""

from collections.abc import Callable
from random import Random

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from app.window.enquiry.view import EnquiryView
from app.window.exchange.making import CALENDAR, SORTS
from app.window.people.view import PeopleView
from app.window.wall import moves
from app.window.wall.items import Item, Role
from shared.files.disk import save
from tests.app.window import hands
from tests.soak._day_window import CTRL, Day, Key

Act = Callable[[Day, Random], None]
ALT, SHIFT = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier
HELD_UP = ("client", "tool", "material")


# Choosing.


def blocks(day: Day) -> list[Item]:
    """Return the stages on the wall."""
    return [item for item in day.window.wall.wall.items if item.role is Role.BLOCK]


def choose(day: Day, rng: Random) -> Item | None:
    """Go to a stage on the wall by arrows; the stage, if one is chosen then."""
    day.press(Key.Key_Home)
    day.press(rng.choice((Key.Key_Right, Key.Key_G, Key.Key_J)))
    for _ in range(rng.randrange(1, 7)):
        day.press(
            rng.choice((Key.Key_Right, Key.Key_Right, Key.Key_Left, Key.Key_Down, Key.Key_Up))
        )
    spot = day.window.wall.spot
    item = day.window.wall.wall.item(spot.item) if spot else None
    if item is None or item.role is not Role.BLOCK:
        _choose_any(day, rng)
        spot = day.window.wall.spot
        item = day.window.wall.wall.item(spot.item) if spot else None
    return item


def _choose_any(day: Day, rng: Random) -> None:
    found = blocks(day)
    if found:
        wall, item = day.window.wall, rng.choice(found)
        wall.choose(None)
        wall.choose(moves.at(wall.wall, item.id))
        day.settle()


def write(day: Day, rng: Random, name: str, text: str) -> None:
    """Write into a blank of the sheet of a stage, and put the sheet away."""
    if not open_sheet(day, rng):
        return
    blank = day.window.sheet.making.blanks.get(name)
    if blank is not None:
        blank.setFocus()
        blank.selectAll()
        hands.keys(blank, text)
        hands.key(blank, Key.Key_Return)
        day.settle()


def open_sheet(day: Day, rng: Random) -> bool:
    """Write a stage: whether its sheet is open."""
    choose(day, rng)
    day.press("e")
    day.settle()
    return day.window.sheet.isVisible()


# Edits.


def hours(day: Day, rng: Random) -> None:
    write(day, rng, "hours likely", str(rng.randrange(2, 40)))


def crew(day: Day, rng: Random) -> None:
    write(day, rng, "people", rng.choice(day.book.people).name)


def pin(day: Day, rng: Random) -> None:
    choose(day, rng)
    day.press("p")


def nudge(day: Day, rng: Random) -> None:
    choose(day, rng)
    for _ in range(rng.randrange(1, 5)):
        day.press(rng.choice((Key.Key_Left, Key.Key_Right)), rng.choice((ALT, ALT | SHIFT)))
    day.press(rng.choice((Key.Key_Return, Key.Key_Escape)))


def drag(day: Day, rng: Random) -> None:
    wall = day.window.wall
    seen = [(item, wall.item_rect(item)) for item in blocks(day)]
    found = [rect.center() for _, rect in seen if wall.rect().contains(rect.center())]
    if found:
        start = rng.choice(found)
        hands.drag(wall, start, start + QPoint(rng.randrange(-90, 240), rng.randrange(-4, 5)))
        day.settle()


def finish(day: Day, rng: Random) -> None:
    choose(day, rng)
    day.press("d")


def left(day: Day, rng: Random) -> None:
    choose(day, rng)
    day.press("r")
    if day.window.hand.part is not None:
        hands.keys(day.at, str(rng.randrange(1, 9)))
        day.press(Key.Key_Return)


def hold(day: Day, rng: Random) -> None:
    view = people(day)
    day.press("r")
    laid = view.part.layout_
    chunks = [each for each in laid.chunks if each.rects] if laid is not None else []
    if chunks:
        hands.click(view.part, rng.choice(chunks).rects[0].center())
        day.settle()
    if isinstance(day.at, QLineEdit):
        text = rng.choice((*HELD_UP, "14:30", f"{rng.randrange(2, 9)} h tool"))
        hands.keys(day.at, text)
        day.press(Key.Key_Return)
    if rng.random() < 0.2:
        day.press(Key.Key_Escape)
        day.press("t")


def again(day: Day, rng: Random) -> None:
    item = choose(day, rng)
    day.press("d")
    if item is not None:
        day.press("b")
        if "cause" in day.window.sheet.making.blanks and isinstance(day.at, QLineEdit):
            hands.keys(day.at, "it was broken")
            day.press(Key.Key_Return)


def stage_in(day: Day, rng: Random) -> None:
    _on_strip(day, rng, Key.Key_Insert, rng.choice((None, SHIFT)))


def stage_out(day: Day, rng: Random) -> None:
    _on_strip(day, rng, Key.Key_Delete, None)


def _on_strip(day: Day, rng: Random, which: Qt.Key, held: Qt.KeyboardModifier | None) -> None:
    if open_sheet(day, rng):
        day.window.sheet.strip.setFocus()
        day.press(which, held)


def give_other(day: Day, rng: Random) -> None:
    view = people(day)
    laid = view.part.layout_
    chunks = [each for each in laid.chunks if each.rects] if laid is not None else []
    if chunks and laid is not None:
        start = rng.choice(chunks).rects[0].center()
        row = rng.choice(laid.rows)
        hands.drag(view.part, start, QPoint(start.x(), row.top + 12))
        day.settle()
        day.soon(lambda: day.window.desk.trial is not None, 1)
        day.press(rng.choice((Key.Key_Return, Key.Key_Escape)))


def undo(day: Day, rng: Random) -> None:
    for _ in range(rng.randrange(1, 6)):
        day.press(Key.Key_Z, CTRL)
    for _ in range(rng.randrange(0, 4)):
        day.press(Key.Key_Y, CTRL)


# Files.


def save_book(day: Day, rng: Random) -> None:
    del rng
    day.press(Key.Key_S, CTRL)


def save_elsewhere(day: Day, rng: Random) -> None:
    """Save under another name, and under the first again."""
    del rng
    for path in (day.work / "copy", day.path):
        day.asker.path = path
        day.press(Key.Key_S, CTRL | SHIFT)


def other_book(day: Day, rng: Random) -> None:
    """Open the other book and come back."""
    for path in (day.other_path, day.path):
        day.asker.path = path
        day.press(Key.Key_O, CTRL)
        if not day.window.page.isHidden():
            day.press(rng.choice("12"))
        day.planned()


def theirs(day: Day, rng: Random) -> None:
    """Somebody else writes the book as it was in the morning; that is compared and taken."""
    del rng
    save(day.path, day.base)
    day.press(Key.Key_F5)
    if not day.window.page.isHidden():
        day.press("1")


def mine(day: Day, rng: Random) -> None:
    """Somebody else writes the book; one's own is kept over it, and what lay there thrown away."""
    save(day.path, day.base)
    day.press(Key.Key_F5)
    if not day.window.page.isHidden():
        day.press(rng.choice(("3", Key.Key_Escape)))
        day.home()
        day.press(Key.Key_F5)
        if not day.window.page.isHidden():
            day.press("2")
    for each in day.work.glob("day.found-*"):
        each.unlink()


# Views.


def people(day: Day) -> PeopleView:
    day.press(Key.Key_3, CTRL)
    view = day.window.shelf.view
    assert isinstance(view, PeopleView)
    return view


def away(day: Day, rng: Random) -> None:
    day.press("a")
    view = day.window.shelf.view
    if not isinstance(view, PeopleView) or not isinstance(day.at, QLineEdit):
        return
    hands.keys(day.at, rng.choice(day.book.people).name)
    day.press(Key.Key_Return)
    day.soon(lambda: any(each.is_tried for each in view.side.panel.entries), 5)
    day.press(rng.choice((Key.Key_Return, Key.Key_Escape, "2")))


def countback(day: Day, rng: Random) -> None:
    choose(day, rng)
    day.press(Key.Key_Return)
    for _ in range(rng.randrange(1, 5)):
        day.press(rng.choice((Key.Key_Down, Key.Key_Right, Key.Key_Tab, "j")))
    day.press("l")
    view = day.window.desk.counsel
    day.soon(lambda: not view.is_busy, rng.choice((0.2, 2)))
    if rng.random() < 0.5:
        day.press(rng.choice("12"))
        day.soon(lambda: day.window.desk.trial is not None, 1)


def other_date(day: Day, rng: Random) -> None:
    choose(day, rng)
    day.press("t")
    if isinstance(day.at, QLineEdit):
        day.press(Key.Key_A, CTRL)
        hands.keys(day.at, f"{rng.randrange(1, 28)} May")
        day.press(Key.Key_Return)
        day.soon(lambda: day.window.desk.trial is not None, 3)


def enquiry(day: Day, rng: Random) -> None:
    """Write an enquiry, look what comes of it, and let it go."""
    day.press("q")
    view = day.window.shelf.view
    assert isinstance(view, EnquiryView)
    past = rng.choice(day.book.jobs)
    asked = ("a market pear", past.name, "1.5", "Market hall, Norway", "2027-10-12", "24500")
    for text in asked:
        if isinstance(day.at, QLineEdit):
            hands.keys(day.at, text)
            day.press(Key.Key_Return)
    day.soon(lambda: view.laid.found is not None, 5)
    day.press("v")
    day.press("v")
    view.dates.setFocus()
    day.press(Key.Key_Delete)
    day.press(Key.Key_Escape)


def orders(day: Day, rng: Random) -> None:
    day.press(Key.Key_4, CTRL)
    for _ in range(rng.randrange(1, 6)):
        day.press(rng.choice((Key.Key_Down, Key.Key_Up)))
    if rng.random() < 0.4:
        day.press(Key.Key_Return)


def workshop(day: Day, rng: Random) -> None:
    day.press("w")
    for _ in range(3):
        day.press(rng.choice("12345678"))
    for _ in range(rng.randrange(1, 6)):
        day.press(Key.Key_Tab)


def pages(day: Day, rng: Random) -> None:
    """Leaf through every view and page."""
    del rng
    for number in (Key.Key_1, Key.Key_2, Key.Key_3, Key.Key_4, Key.Key_5):
        day.press(number, CTRL)
    for letter in "wksiuq":
        day.home()
        day.press(letter)


def sheets(day: Day, rng: Random) -> None:
    day.asker.path = day.work / "sheets"
    day.press("s")
    day.press(rng.choice((Key.Key_Right, Key.Key_Left, "o", "b")))
    day.press(Key.Key_Return)
    if rng.random() < 0.3:
        day.press("y")


def give(day: Day, rng: Random) -> None:
    """Give something out, over what was given before."""
    _give(day, rng.choice(tuple(SORTS)))


def give_all(day: Day, rng: Random) -> None:
    """Give everything out once, so that all there is lies in the folder."""
    del rng
    for sort in SORTS:
        _give(day, sort)
        day.home()


def _give(day: Day, sort: str) -> None:
    day.press("u")
    ends = SORTS[sort]
    is_folder = not ends or sort == CALENDAR
    day.asker.path = day.work / (f"given-{sort}" if is_folder else f"given{ends[0]}")
    day.press(str(tuple(SORTS).index(sort) + 1))


def picture(day: Day, rng: Random) -> None:
    day.press(rng.choice((Key.Key_1, Key.Key_2, Key.Key_3)), CTRL)
    day.asker.path = day.work / "picture"
    day.press(Key.Key_P, CTRL | SHIFT)


# The wall.


def look(day: Day, rng: Random) -> None:
    """Point at things, come nearer, go away, move along."""
    wall = day.window.wall
    for _ in range(12):
        point = QPoint(rng.randrange(wall.width()), rng.randrange(wall.height()))
        QTest.mouseMove(wall, point)
        day.settle()
    for _ in range(6):
        held = rng.choice((CTRL, SHIFT, Qt.KeyboardModifier.NoModifier))
        _wheel(day, QPoint(wall.width() // 2, wall.height() // 2), rng.choice((-120, 120)), held)
    for _ in range(4):
        day.press(rng.choice((Key.Key_Plus, Key.Key_Minus, Key.Key_PageDown, Key.Key_PageUp)))
    hands.drag(wall, QPoint(700, wall.height() - 6), QPoint(560, wall.height() - 12))
    day.press(Key.Key_0)


def _wheel(day: Day, at: QPoint, turn: int, held: Qt.KeyboardModifier) -> None:
    wall, none = day.window.wall, Qt.MouseButton.NoButton
    point = QPointF(at)
    outside = QPointF(wall.mapToGlobal(at))
    phase = Qt.ScrollPhase.NoScrollPhase
    event = QWheelEvent(point, outside, QPoint(), QPoint(0, turn), none, held, phase, False)
    QApplication.sendEvent(wall, event)
    day.settle()


def find(day: Day, rng: Random) -> None:
    day.press("f")
    person = rng.choice(day.book.people)
    hands.keys(day.at, rng.choice((person.name, "late", "pinned", "snail", "zzz")))
    day.settle()
    day.press(Key.Key_Down)
    day.press(Key.Key_Return)


def follow(day: Day, rng: Random) -> None:
    choose(day, rng)
    day.press("c")
    day.press("x")
    day.press("z")
    day.press("z")
    day.press(Key.Key_Z, SHIFT)
    day.press(Key.Key_Z, SHIFT)


# How it looks.


def ground(day: Day, rng: Random) -> None:
    del rng
    for _ in range(3):
        day.press(Key.Key_L, CTRL)
    for _ in range(3):
        day.press(Key.Key_L, CTRL | SHIFT)


def text_size(day: Day, rng: Random) -> None:
    ways = [Key.Key_Plus, Key.Key_Minus]
    rng.shuffle(ways)
    for way in ways:
        day.press(way, CTRL)


def language(day: Day, rng: Random) -> None:
    del rng
    day.press("?")
    for _ in range(3):
        day.press("1")


def size(day: Day, rng: Random) -> None:
    for wide, tall in ((rng.randrange(1024, 1900), rng.randrange(700, 1100)), (1366, 768)):
        day.window.resize(wide, tall)
        day.settle()


# Planning.


def look_longer(day: Day, rng: Random) -> None:
    day.press(Key.Key_Space)
    if rng.random() < 0.5:
        day.press(Key.Key_Escape)
    day.planned()
    day.window.desk.seconds = 1


EDITS: tuple[Act, ...] = (
    hours, crew, pin, nudge, drag, finish, left, hold, again, stage_in, stage_out, give_other,
)  # fmt: skip
LOOKS: tuple[Act, ...] = (
    countback, orders, workshop, pages, sheets, give, picture, look, find, follow, ground,
    text_size, language, size, save_book, undo,
)  # fmt: skip
SELDOM: tuple[Act, ...] = (away, enquiry, other_date, other_book, save_elsewhere, mine, look_longer)
ASKING: tuple[Act, ...] = (countback, away, other_date, enquiry, hours)
"""What asks the counsel, and an edit between."""
OFTEN = EDITS + LOOKS
ALL = OFTEN + SELDOM


def drawn(rng: Random) -> list[Act]:
    """Return what is done in one minute of the day."""
    acts = [rng.choice(EDITS), rng.choice(LOOKS), rng.choice(OFTEN)]
    if rng.random() < 0.1:
        acts.append(rng.choice(SELDOM))
    rng.shuffle(acts)
    return acts
