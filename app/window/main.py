"""The main window: masthead, wall with slip or sheet, foot; and what every key does."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QCloseEvent, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.settings import Settings
from app.window import tokens
from app.window.countback.view import CountbackView
from app.window.desk import Desk
from app.window.filing import Asker, Filing
from app.window.first.first import First
from app.window.ground import Ground
from app.window.guard import guarded
from app.window.headline import Headline, foot_left, headline, told_first
from app.window.leaving import Leaving
from app.window.masthead import Foot, Masthead
from app.window.others import Others
from app.window.page import Content, Page
from app.window.pages import damaged_page, keys_page
from app.window.printing import Printing
from app.window.reader import READER
from app.window.session import Opened
from app.window.sheet.sheet import Sheet
from app.window.sheet.writing import pin_as_planned
from app.window.slices import WallMaker
from app.window.slip import Slip, put_beside
from app.window.tabbing import Tabbing
from app.window.theme import theme
from app.window.views.all import all_views
from app.window.views.shelf import Shelf
from app.window.views.view import OF_KEYS, Which
from app.window.wall import moves
from app.window.wall.hand import WallHand
from app.window.wall.items import Item, Role, Wall, bare_wall
from app.window.wall.view import WallView
from app.words import Words
from app.words import window as say
from shared.edits import Edited
from shared.errors import DiskError
from shared.ids import SegmentId


class MainWindow(QWidget):
    """One sheet with the wall on it.

    book_shown: a book was opened and is shown. let_go: what is not saved is not wanted.
    """

    book_shown = Signal()
    let_go = Signal()

    def __init__(
        self,
        desk: Desk,
        asker: Asker,
        settings: Settings,
        keep: Callable[[Settings], None],
    ) -> None:
        super().__init__()
        self.desk = desk
        self.filing, self.leaving = Filing(self, desk, asker), Leaving(self)
        self.words = Words()
        self._may_close = False
        self._make_parts()
        self.printing = Printing(self)
        self._make_actions()
        self.ground = Ground(self, settings, keep, self.wall.set_theme)
        self.first = First(self)
        self.others = Others(self)
        self.maker = WallMaker(self, desk, self.wall, self._show_wall)
        desk.state_changed.connect(self.refresh_state)
        desk.who_changed.connect(self.ground.keep_who)
        self.setMinimumSize(*tokens.LEAST_WINDOW)
        self.resize(1366, 768)

    def _make_parts(self) -> None:
        self.masthead, self.foot = Masthead(self.words), Foot(self.words)
        self.wall = WallView(bare_wall(), self.words, theme("light"))
        self.page, self.sheet = Page(), Sheet()
        for part in (self.masthead, self.wall, self.page, self.sheet, self.foot):
            part.setParent(self)
        self.slip = Slip(self, self.words)
        for hidden in (self.slip, self.sheet, self.page):
            hidden.hide()
        self.wall.chosen.connect(self._on_chosen)
        self.wall.opened.connect(self._on_opened)
        self.wall.hovered.connect(self._on_hovered)
        self.wall.told.connect(self.masthead.show_hover)
        self.sheet.edited.connect(self._on_edited)
        self.sheet.left.connect(self.close_sheet)
        self.sheet.moved.connect(self._on_sheet_moved)
        self.hand = WallHand(self.desk, self.wall, self)
        self.hand.changed.connect(self._on_hand)
        self.shelf = Shelf(self, all_views(self.desk, self.filing))
        self.shelf.changed.connect(self._on_front)
        self.tabbing = Tabbing(self)
        for view in self.shelf.views.values():
            view.headline_changed.connect(self.refresh_state)
            view.hovered.connect(self.masthead.show_hover)

    def _make_actions(self) -> None:
        pairs: list[tuple[str, Callable[[], object]]] = [
            ("Ctrl+S", self.filing.save),
            ("Ctrl+Shift+S", self.filing.save_elsewhere),
            ("Ctrl+Z", self.desk.undo),
            ("Ctrl+Y", self.desk.redo),
            ("Ctrl+Shift+Z", self.desk.redo),
            ("Ctrl+O", self.ask_and_open),
            ("Ctrl+P", self.printing.print_front),
            ("Ctrl+Shift+P", self.save_picture),
            ("Ctrl+L", self.change_ground),
            ("Ctrl+Shift+L", self.change_contrast),
            ("Ctrl++", partial(self.change_text, 1)),
            ("Ctrl+=", partial(self.change_text, 1)),
            ("Ctrl+-", partial(self.change_text, -1)),
        ]
        for number in range(1, 6):
            pairs.append((f"Ctrl+{number}", partial(self.shelf.by_number, number)))
        for keys, do in pairs:
            action = QAction(self)
            action.setShortcut(QKeySequence(keys))
            action.triggered.connect(lambda _=False, do=do: do())
            self.addAction(action)

    # Showing.

    def show_book(self, opened: Opened) -> None:
        """Show what came of opening a file."""
        if opened.document is not None:
            self.show_work()
            self.book_shown.emit()
        else:
            self.show_page(damaged_page(self.words, opened, self.leaving.take, self.close_page))

    def show_work(self) -> None:
        """Show the open book, or what to do when it is empty."""
        document = self.desk.document
        if document is None or not document.book.jobs:
            self.show_page(self.first.page())
        else:
            self.close_page()
        self.refresh_wall()
        self.refresh_state()

    def show_page(self, content: Content) -> None:
        """Show a page in the place of the wall."""
        self.page.show_content(content)
        self.page.show()
        self.page.raise_()
        self._show_front()
        self.slip.hide()
        self.page.setFocus()
        self.arrange()
        self.refresh_state()

    def close_page(self) -> None:
        """Go back from a page to the wall."""
        document = self.desk.document
        if document is None or not document.book.jobs:
            self.show_page(self.first.page())
            return
        self.page.hide()
        self._on_front()

    def _on_front(self) -> None:
        """Show the view that was brought to the front, in the place of a page too."""
        self.page.hide()
        self.masthead.show_hover("")
        view = self.shelf.view
        if view is not None:
            self.sheet.hide()
            view.refresh()
        self._show_front()
        self.arrange()
        self.refresh_state()
        if view is None:
            self.wall.setFocus()
        else:
            view.enter()

    def _show_front(self) -> None:
        is_free = self.page.isHidden()
        for each in self.shelf.views.values():
            each.setVisible(is_free and each is self.shelf.view)
        is_wall = self.shelf.view is None and self.sheet.isHidden()
        self.wall.setVisible(is_free and is_wall)
        if not is_free or self.shelf.view is not None:
            self.slip.hide()

    def refresh_wall(self) -> None:
        """Show the book and its plan as they are now."""
        self.maker.now()

    def _show_wall(self, wall: Wall) -> None:
        document = self.desk.document
        assert document is not None
        self.words = self.desk.words
        self.wall.show_wall(wall, self.words)
        if document.book.jobs and self.page.isVisible() and self.page.content.has_ghost:
            self.close_page()
        self.hand.refresh()
        money = not self.desk.is_money_hidden
        self.sheet.show_book(
            document.book, self.words, self.desk.findings, self.wall.wall, has_money=money
        )
        if self.sheet.isVisible() and self.sheet.job is None:
            self.close_sheet()
        self._show_slip()
        if self.shelf.view is not None:
            self.shelf.view.refresh()

    def refresh_state(self) -> None:
        """Say how things stand."""
        document = self.desk.document
        if document is None:
            self.setWindowTitle("Countback")
            return
        state = self.desk.state
        view = self.shelf.view
        of_wall = self.hand.headline() or headline(state, self.wall.wall, self.words)
        said = of_wall if view is None else view.headline()
        if not self.page.isHidden() and self.page.content.is_sentence:
            content = self.page.content
            said = Headline(sentence=content.title, next=((content.next, False),))
        self.masthead.hint = self.hand.hint if view is None else ("", "")
        self.masthead.show_headline(told_first(said, self.desk.shown, self.words), self.words)
        self.masthead.show_progress(self.desk.progress)
        self.foot.show_parts(foot_left(state, self.words), self.words, is_alarm=state.has_faults)
        self.tabbing.refresh()
        dot = "" if document.is_saved else " •"
        self.setWindowTitle(self.words.say(say.TITLE, book=document.book.name, dot=dot))

    # Arranging.

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.arrange()

    def arrange(self) -> None:
        """Give every part its place; the slip lies where it covers no work."""
        sizes = tokens.sizes_for(self.width())
        top, bottom = sizes.masthead, self.height() - sizes.foot
        self.masthead.setGeometry(0, 0, self.width(), top)
        self.foot.setGeometry(0, bottom, self.width(), sizes.foot)
        right = self.width()
        for part in (self.sheet, self.page, self.wall, *self.shelf.views.values()):
            part.setGeometry(0, top, right, bottom - top)
        edge = right - sizes.text_margin
        baseline = round(sizes.masthead * 0.44) + tokens.px(5)
        self.masthead.words_left = self.shelf.place_words(self.words, edge, baseline)
        self._place_slip(right, top, bottom)
        self.tabbing.refresh()

    def _place_slip(self, right: int, top: int, bottom: int) -> None:
        is_free = self.sheet.isHidden() and not self.wall.isHidden()
        part, has_item = self.hand.part or self.slip, self.slip.item is not None
        for each in (self.slip, *self.hand.parts):
            each.setVisible(is_free and each is part and (part is not self.slip or has_item))
        if part.isHidden():
            return
        put_beside(self.wall, part, right, top, bottom)

    def _show_slip(self) -> None:
        spot = self.wall.spot
        item = self.wall.wall.item(spot.item) if spot else None
        band = self.wall.wall.band_of(item.job) if item else None
        self.slip.show_item(item, self.words, self.hand.notes, band.shapes if band else ())
        self.arrange()

    def _on_hand(self) -> None:
        self._show_slip()
        self.refresh_state()

    # What was chosen.

    def _on_chosen(self, item: Item | None) -> None:
        if item is not None:
            READER.chosen(self.wall, item.id, item.description or item.name)
            self.desk.job = item.job
        self._show_slip()
        if item is not None and self.sheet.isVisible():
            self._show_in_sheet(item)

    def _on_hovered(self, item: Item | None) -> None:
        self.masthead.show_hover(item.description or item.name if item else "")

    def _on_opened(self, item: Item) -> None:
        """Count the job back that was opened, at what was chosen of it."""
        if self.hand.drop() or self.desk.take_trial():
            return
        self.desk.job = item.job
        self.shelf.show(Which.COUNTBACK)
        if isinstance(view := self.shelf.view, CountbackView):
            view.pick_item(item)

    def _open_sheet(self, item: Item) -> None:
        self._show_in_sheet(item)
        self.sheet.show()
        self.sheet.raise_()
        self._show_front()
        self.arrange()
        QTimer.singleShot(0, self.sheet, self.sheet.enter)

    def _show_in_sheet(self, item: Item) -> None:
        document = self.desk.document
        if document is None:
            return
        segment = item.segment
        spot = self.wall.spot
        if segment is None and item.role in {Role.ANSWER, Role.TRIAL_FIT, Role.LOADING, Role.LEG}:
            row = spot.row if spot else item.row
            segment = SegmentId(self.wall.wall.rows[row].segment)
        self.sheet.show_job(document.book, self.words, item.job, segment, item.step)

    def _on_sheet_moved(self, sheet: Sheet) -> None:
        """Choose on the wall what was chosen on the sheet."""
        wall = self.wall.wall
        for row in wall.rows:
            if row.segment != sheet.segment:
                continue
            stop = next((s for s in row.stops if s.step == sheet.step), None)
            if stop is not None:
                index = wall.rows.index(row)
                self.wall.spot = moves.at(wall, stop.id, index)
                self.wall.update()

    def close_sheet(self) -> None:
        """Put the sheet away."""
        self.sheet.hide()
        self._on_front()
        self._show_slip()

    # Doing.

    def _on_edited(self, edited: object, merge: str) -> None:
        assert isinstance(edited, Edited)
        self.desk.edit(edited, merge)

    def choose_job(self, job: str) -> None:
        """Choose a job on the wall."""
        self.wall.choose(moves.at(self.wall.wall, f"job {job}"), reveal=False)

    def pin(self) -> None:
        """Pin what is chosen to its time and people, or let go of it."""
        spot, document = self.wall.spot, self.desk.document
        item = self.wall.wall.item(spot.item) if spot else None
        plan = self.desk.plan
        if item is None or item.step is None or document is None or plan is None:
            return
        if item.role not in {Role.BLOCK, Role.TRIAL_FIT, Role.LOADING} or item.part:
            return
        placed = next((p for p in plan.placements if p.step == item.step and not p.part), None)
        if placed is not None:
            edit = pin_as_planned(document.book, item.step, placed.start, placed.people)
            self.desk.edit(edit)

    def ask_and_open(self) -> None:
        """Open another book, as somebody says."""
        path = self.filing.ask_which()
        if path is not None:
            self.leaving.open_book(path)

    def save_picture(self) -> None:
        """Save a picture of what is in front."""
        view = self.shelf.view
        self.filing.save_picture(self.wall.picture if view is None else lambda _: view.picture())

    def show_keys(self) -> None:
        """Show what every key does."""
        self.show_page(keys_page(self.words, self.ground, self.show_keys, self.close_page))

    def change_ground(self) -> None:
        """Go on to the next of: as the system has it, light, dark; and say which."""
        self.ground.set_next()
        self.desk.note = self.words.say(say.GROUNDS[self.ground.settings.look])
        self.refresh_state()

    def change_contrast(self) -> None:
        """Go on to the next of: as the system has it, usual, stronger contrast; and say which."""
        self.ground.set_next_contrast()
        self.desk.note = self.words.say(say.CONTRASTS[self.ground.settings.contrast])
        self.refresh_state()

    def change_text(self, stride: int) -> None:
        """Write everything a step larger or smaller, and say how large."""
        self.ground.step_text(stride)
        percent = self.ground.settings.text_percent
        self.desk.note = self.words.say(say.TEXT_SIZE, percent=percent)
        self.wall.forget_layout()
        self.arrange()
        self.refresh_state()

    # Keys and closing.

    @guarded
    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002 - as Qt calls it
        self.tabbing.go(forward=next)
        return True

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        plain, again = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier, event.isAutoRepeat()
        is_letter = not (again or plain & ~Qt.KeyboardModifier.ShiftModifier)
        if event.text() == "?":
            self.show_keys()
        elif is_letter and self._to_view(Qt.Key(event.key()), shift=bool(plain)):
            return
        elif plain or again:
            event.ignore()
        else:
            self._plain_key(Qt.Key(event.key()), event)

    def _to_view(self, key: Qt.Key, *, shift: bool) -> bool:
        """Let the view in front hear a key, else bring that to the front which knows it."""
        if (self.shelf.view or self.hand).plain_key(key, shift=shift):
            return True
        wanted = OF_KEYS.get(key)
        if shift or wanted is None or wanted not in (Which.WALL, *self.shelf.views):
            return False
        self.shelf.show(wanted)
        (self.shelf.view or self.hand).plain_key(key, shift=False)
        return True

    def _plain_key(self, key: Qt.Key, event: QKeyEvent) -> None:
        doing: dict[Qt.Key, Callable[[], object]] = {
            Qt.Key.Key_Escape: self._escape,
            Qt.Key.Key_Space: self.desk.look_longer,
            Qt.Key.Key_N: self.first.ask,
            Qt.Key.Key_P: self.pin,
            Qt.Key.Key_E: self._write,
            Qt.Key.Key_B: self._write_mishap,
            Qt.Key.Key_Return: self.desk.take_trial,
            Qt.Key.Key_Enter: self.desk.take_trial,
        }
        if key in doing:
            doing[key]()
        else:
            event.ignore()

    def _write(self) -> None:
        wall, job = self.wall.wall, self.desk.job
        view = self.shelf.view
        of_view = moves.on_step(wall, view.step) if view is not None else None
        spot = of_view or self.wall.spot or moves.at(wall, f"job {job}") or moves.first(wall)
        if spot is not None and job is not None and wall.by_id[spot.item].job != job:
            spot = moves.at(wall, f"job {job}") or spot
        item = wall.item(spot.item) if spot else None
        if item is not None:
            self.desk.leave_trial()
            self.wall.spot = spot
            self._open_sheet(item)

    def _write_mishap(self) -> None:
        self._write()
        self.sheet.enter_mishap()

    def _escape(self) -> None:
        view = self.shelf.view
        if not self.page.isHidden():
            self.close_page()
        elif not self.sheet.isHidden():
            self.close_sheet()
        elif (view is None and self.hand.back()) or self.desk.leave_trial():
            return
        elif view is not None:
            if not view.back() and not self.desk.stop_looking():
                self.shelf.show(Which.WALL)
        elif not self.desk.stop_looking():
            self.wall.choose(None)

    @guarded
    def closeEvent(self, event: QCloseEvent) -> None:
        if not self._may_close and self.leaving.is_unsaved:
            self.leaving.before_close(self._close_now)
            event.ignore()
            return
        self.let_go.emit()
        self.desk.close()
        try:
            self.desk.release()
        except DiskError as trouble:
            self.desk.trouble = self.words.trouble(trouble.code, **trouble.facts)
        event.accept()

    def _close_now(self) -> None:
        self._may_close = True
        self.close()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.PaletteChange:
            self.update()

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(1366, 768)
