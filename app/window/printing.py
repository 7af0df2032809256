"""Paper for what is in front: through the system's printer, or as PDF where there is none.

The wall is painted anew for paper, black only; views as they stand, in the light ground; sheets as
their pages. All of it in lines and letters.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import (
    QEvent,
    QPoint,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import (
    QColor,
    QPagedPaintDevice,
    QPageLayout,
    QPainter,
    QRegion,
)
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QWidget

from app.window import tokens
from app.window.fonts import for_paper, text_width
from app.window.headline import Headline, headline
from app.window.masthead import paint_swatch
from app.window.sheets.layout import Page
from app.window.sheets.paint import PagePainter
from app.window.sheets.paper import layout_of, pdf_painted
from app.window.sheets.view import SheetsView
from app.window.spots.drawn import Drawn
from app.window.theme import Theme, theme
from app.window.views.view import View, Which
from app.window.wall import pens
from app.window.wall.items import Wall
from app.window.wall.layout import Layout, fitting, lay_out, season
from app.window.wall.paint import paint_wall
from app.window.wall.paint_work import NOTHING_CHOSEN
from app.words import Words
from app.words import printing as say
from app.words import sheets as of_sheets
from app.words import window as wording
from shared.book import Book, Kind
from shared.ids import JobId
from shared.plan import Plan

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

    from app.window.main import MainWindow

MILLIMETRES_A_PIXEL = 0.25
"""A hairline of the wall on paper, and with it everything: letters of 11 are 7.8 points high."""
MARGIN = 10.0
HEAD, FOOT = 78, 30


Paint = Callable[[QPainter, QSize], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What is printed: its name, and what paints each of its pages on paper of a size.

    Pages paint themselves with a painter of so many pixels, of which a millimetre has four.
    """

    title: str
    pages: Callable[[QSize], "Sequence[Paint]"]


class Printers(Protocol):
    """Asks a person for a printer; another one stands in for it in tests."""

    def are_there(self) -> bool:
        """Return whether any printer is set up."""

    def ask(self, parent: QWidget, title: str, layout: QPageLayout) -> "QPrinter | None":
        """Return a printer as somebody chose it; None if they did not."""


class SystemPrinters:
    """Asks with the system's own window."""

    def are_there(self) -> bool:
        """Return whether any printer is set up."""
        from PySide6.QtPrintSupport import QPrinterInfo

        return bool(QPrinterInfo.availablePrinterNames())

    def ask(self, parent: QWidget, title: str, layout: QPageLayout) -> "QPrinter | None":
        """Return a printer as somebody chose it; None if they did not."""
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter
        from PySide6.QtWidgets import QDialog

        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setPageLayout(layout)
        dialog = QPrintDialog(printer, parent)
        dialog.setWindowTitle(title)
        is_chosen = dialog.exec() == QDialog.DialogCode.Accepted
        return printer if is_chosen else None


class Printing:
    """Prints what is in front of a window."""

    def __init__(self, window: "MainWindow", printers: Printers | None = None) -> None:
        self._window, self.printers = window, printers or SystemPrinters()

    def print_front(self) -> None:
        """Print what is in front; where there is no printer, say so and save it as PDF."""
        window, words, view = self._window, self._window.words, self._window.shelf.view
        if window.desk.document is None or (isinstance(view, SheetsView) and not view.shown):
            return
        if not self.printers.are_there():
            title, kinds = words.say(say.NO_PRINTER), words.say(of_sheets.PAPER_FILES)
            path = window.filing.save_paper(title, kinds, self._as_pdf)
            self._say("" if path is None else words.say(say.NO_PRINTER_SAVED, path=path))
            return
        printer = self.printers.ask(window, words.say(say.PRINT), self._layout())
        if printer is None:
            return
        printer.setFullPage(True)
        name = printer.printerName() or printer.outputFileName()
        with self._laid_out() as job:
            printer.setDocName(job.title)
            is_sent = paint_job(printer, job)
        self._say(words.say(say.PRINTED if is_sent else say.NOT_PRINTED, printer=name))

    def _as_pdf(self) -> bytes:
        with self._laid_out() as job:
            return pdf_of(job, self._layout())

    def _say(self, note: str) -> None:
        if note:
            self._window.desk.note = note
            self._window.desk.state_changed.emit()

    def _layout(self) -> QPageLayout:
        """Return the paper that is asked for; the printer's may be another."""
        view = self._window.shelf.view
        is_across = not isinstance(view, SheetsView)
        return layout_of("A4" if view is not None else "A3", is_across=is_across)

    @contextmanager
    def _laid_out(self) -> Iterator[Job]:
        """Give what is in front as pages, while the window is as it goes onto paper."""
        window, view = self._window, self._window.shelf.view
        assert window.desk.document is not None
        title = window.desk.document.book.name
        if view is None:
            yield Job(title=title, pages=self._wall_pages)
        elif isinstance(view, SheetsView):
            view.refresh()
            assert view.shown is not None
            yield sheets_job(view.shown.sheet.title, view.shown.pages)
        else:
            with window.ground.on_paper(), money_kept(view), view.given_away(), whole(view):
                wide = round((297 - 2 * MARGIN) / MILLIMETRES_A_PIXEL)
                high = round((210 - 2 * MARGIN) / MILLIMETRES_A_PIXEL) - HEAD
                ends = cuts(view, high * view.width() // wide)
                fronts = tuple(_Front(window, view, *each) for each in ends)
                yield Job(title=title, pages=lambda _: fronts)

    def _wall_pages(self, size: QSize) -> "Sequence[Paint]":
        window = self._window
        said = headline(window.desk.state, window.wall.wall, window.words)
        said = replace_next(said, made_line(window))
        wall, folded = window.wall.wall, window.wall.folded
        return wall_pages(size, wall, said, window.words, folded)


def sheets_job(title: str, pages: Sequence[Page]) -> Job:
    """Return pages that are laid out already, to be printed on paper of their shape."""
    painted = tuple(Sheet(page) for page in pages)
    return Job(title=title, pages=lambda _: painted)


def replace_next(said: Headline, line: str) -> Headline:
    """Return a sentence with a line of words below."""
    return replace(said, next=((line, False),))


def made_line(window: "MainWindow") -> str:
    """Return whose plan this is, of when, and whether it is old."""
    desk, words = window.desk, window.words
    assert desk.document is not None
    line = made_by(words, desk.document.book, desk.plan)
    if desk.plan is None:
        return line
    if desk.trial is not None:
        return words.say(say.TRIED, line=line)
    return words.say(say.OLD, line=line) if desk.is_stale else line


def made_by(words: Words, book: Book, plan: Plan | None) -> str:
    """Return whose plan it is, and of when."""
    shop = book.workshop.name or book.name
    if plan is None:
        return words.say(say.UNPLANNED, shop=shop)
    moment, revision = wording.short_moment(words, plan.now), plan.made_from.revision
    return words.say(say.MADE, shop=shop, moment=moment, revision=revision)


class Sheet:
    """Paints one page that is laid out in tenths of a millimetre."""

    def __init__(self, page: Page) -> None:
        self._page = page

    def __call__(self, painter: QPainter, size: QSize) -> None:
        scale = size.width() / self._page.wide
        painter.scale(scale, min(scale, size.height() / self._page.high))
        PagePainter(painter).page(self._page)


class _Front:
    """Paints a view as it stands, all that is scrolled too, under its sentence; page by page."""

    def __init__(self, window: "MainWindow", view: View, top: int, bottom: int) -> None:
        self._window, self._view, self._top, self._bottom = window, view, top, bottom

    def __call__(self, painter: QPainter, size: QSize) -> None:
        window, view = self._window, self._view
        margin = round(MARGIN / MILLIMETRES_A_PIXEL)
        wide = size.width() - 2 * margin
        with for_paper():
            said = replace_next(view.headline(), made_line(window))
            paint_head(painter, theme(tokens.PAPER.name), margin, wide, said)
        painter.translate(margin, margin + HEAD)
        scale = min(
            wide / view.width(), (size.height() - 2 * margin - HEAD) / (self._bottom - self._top)
        )
        painter.scale(scale, scale)
        painter.translate(0, -self._top)
        painter.setClipRect(QRect(0, self._top, view.width(), self._bottom - self._top))
        flags = QWidget.RenderFlag.DrawWindowBackground | QWidget.RenderFlag.DrawChildren
        view.render(painter, QPoint(), QRegion(), flags)


def cuts(view: View, most: int) -> list[tuple[int, int]]:
    """Return from where to where a view is on each page, cut where nothing lies across."""
    across: list[tuple[int, int]] = []
    for part in view.findChildren(Drawn):
        if part.isVisibleTo(view):
            top = part.mapTo(view, QPoint()).y()
            across += _rows_and_gaps(part, top)
    across += [
        (part.mapTo(view, QPoint()).y(), part.mapTo(view, QPoint(0, part.height())).y())
        for part in view.findChildren(QWidget)
        if part.isVisible() and not part.findChildren(QWidget) and not isinstance(part, Drawn)
    ]
    across = [(top, bottom) for top, bottom in across if bottom - top < most // 2]
    found, end = [0], view.height()
    while end - found[-1] > most:
        lowest = found[-1] + most
        free = (
            y
            for y in range(lowest, found[-1] + most // 2, -1)
            if not any(top < y < bottom for top, bottom in across)
        )
        found.append(next(free, lowest))
    return list(pairwise([*found, end]))


def _rows_and_gaps(part: Drawn, top: int) -> list[tuple[int, int]]:
    """Return what of a drawn part is not cut: its spots, and headings between them."""
    spots = sorted((each.rect.top(), each.rect.top() + each.rect.height()) for each in part.spots)
    found = [(top, top + spots[0][0])] if spots else []
    for (_, above), (below, _) in pairwise(spots):
        found.append((top + above, top + below))
    return found + [(top + first, top + last) for first, last in spots]


@contextmanager
def whole(view: View) -> Iterator[None]:
    """Let a view be as high as all that is scrolled in it, without what has the keyboard."""
    was, focused = view.geometry(), QApplication.focusWidget()
    if focused is not None:
        focused.clearFocus()
    settle(view)
    areas = [area for area in view.findChildren(QAbstractScrollArea) if area.isVisible()]
    policies = [(area, area.verticalScrollBarPolicy()) for area in areas]
    more = max((area.verticalScrollBar().maximum() for area in areas), default=0)
    for area in areas:
        area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    view.resize(view.width(), view.height() + more)
    settle(view)
    try:
        yield
    finally:
        for area, policy in policies:
            area.setVerticalScrollBarPolicy(policy)
        view.setGeometry(was)
        if focused is not None:
            focused.setFocus()


def settle(view: View) -> None:
    """Let layouts that were asked for come about."""
    QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
    view.ensurePolished()


@contextmanager
def money_kept(view: View) -> Iterator[None]:
    """Leave all money out of an enquiry: paper is given away."""
    desk = view.desk
    was = desk.is_money_hidden
    if view.which is Which.ENQUIRY and not was:
        desk.is_money_hidden = True
        view.refresh()
    try:
        yield
    finally:
        if desk.is_money_hidden != was:
            desk.is_money_hidden = was
            view.refresh()


# Painting.


def pdf_of(job: Job, layout: QPageLayout) -> bytes:
    """Return what is printed as a PDF whose words can be searched."""
    return pdf_painted(job.title, layout, lambda writer: paint_job(writer, job))


def page_size(layout: QPageLayout) -> QSize:
    """Return a page in the pixels that pages are painted in."""
    paper = layout.fullRect(QPageLayout.Unit.Millimeter)
    return QSize(*(round(side / MILLIMETRES_A_PIXEL) for side in (paper.width(), paper.height())))


def paint_job(device: QPagedPaintDevice, job: Job) -> bool:
    """Paint all pages; whether the device took them."""
    size = page_size(device.pageLayout())
    painter = QPainter()
    if not painter.begin(device):
        return False
    try:
        for number, page in enumerate(job.pages(size)):
            if number:
                device.newPage()
            painter.save()
            scale = device.width() / size.width()
            painter.scale(scale, scale)
            painter.fillRect(QRectF(0, 0, size.width(), size.height()), QColor("#FFFFFF"))
            page(painter, size)
            painter.restore()
    finally:
        painter.end()
    return True


def paint_head(painter: QPainter, of: Theme, margin: int, wide: int, said: Headline) -> None:
    """Paint the sentence, as large as it fits in one line, and the words below it."""
    pixels = next((n for n in (30, 26, 22, 18, 15) if _wide(said.sentence, n) <= wide), 12)
    pens.words(painter, margin, margin + 30, said.sentence, of.ink, pixels, 600, serif=True)
    below = "".join(text for text, is_bold in said.next if not is_bold)
    pens.words(painter, margin, margin + 54, below, of.ink2, 13)
    warning = " ".join(text for text, is_bold in said.next if is_bold)
    small = next((n for n in (13, 12, 11) if text_width(warning, n, 600) <= wide), 10)
    pens.words(painter, margin, margin + 71, warning, of.ink, small, 600)


def _wide(text: str, pixels: int) -> float:
    return text_width(text, pixels, 600, serif=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPage:
    """Paints some jobs of a wall with its sentence above and its key below.

    top, bottom: of the part of the wall that is on this page. page: which of how many.
    """

    wall: Wall
    layout: Layout
    said: Headline
    words: Words
    top: int
    bottom: int
    page: tuple[int, int]

    def __call__(self, painter: QPainter, size: QSize) -> None:
        of, margin = theme(tokens.PAPER.name), round(MARGIN / MILLIMETRES_A_PIXEL)
        wide, high = size.width() - 2 * margin, size.height() - 2 * margin
        here = replace(self.layout, scroll=self.top, height=self.bottom - self.top)
        with for_paper():
            paint_head(painter, of, margin, wide, self.said)
            painter.save()
            painter.translate(margin, margin + HEAD)
            painter.setClipRect(QRect(0, 0, wide, here.height + here.sizes.axis))
            paint_wall(painter, self.wall, here, of, self.words, NOTHING_CHOSEN)
            painter.restore()
            key = self.words.say(say.THICK)
            if self.page[1] > 1:
                number, count = self.page
                key = self.words.say(say.THICK_OF, key=key, page=number, pages=count)
            _paint_key(painter, of, self.words, key, margin, margin + high - FOOT + 8, wide)


def wall_pages(
    size: QSize, wall: Wall, said: Headline, words: Words, folded: frozenset[JobId]
) -> tuple[WallPage, ...]:
    """Return the whole season of a wall on paper of a size, on as many pages as its jobs need."""
    margin = round(MARGIN / MILLIMETRES_A_PIXEL)
    wide = size.width() - 2 * margin
    with for_paper():
        sizes = replace(tokens.sizes_for(wide), margin=0)
        first, last = season(wall)
        scale = fitting(first, last, 0, wide - sizes.names - 12, wall.first)
        body = size.height() - 2 * margin - HEAD - FOOT - sizes.axis
        layout = lay_out(wall, wide, body, scale, sizes=sizes, folded=folded)
    parts = _wall_parts(layout, body)
    return tuple(
        WallPage(
            wall=wall,
            layout=layout,
            said=said,
            words=words,
            top=top,
            bottom=bottom,
            page=(number, len(parts)),
        )
        for number, (top, bottom) in enumerate(parts, start=1)
    )


def _wall_parts(layout: Layout, body: int) -> list[tuple[int, int]]:
    """Return from where to where a wall is on each page: between jobs, else between rows."""
    ends = [0]
    while layout.total - ends[-1] > body:
        lowest = ends[-1] + body
        jobs = [top - 4 for top in layout.tops if ends[-1] < top - 4 <= lowest]
        rows = [top for top in layout.row_tops if ends[-1] < top <= lowest]
        ends.append(max(jobs or rows or [lowest]))
    return list(pairwise([*ends, ends[-1] + body]))


def _paint_key(
    painter: QPainter, of: Theme, words: Words, first: str, left: int, y: int, wide: int
) -> None:
    pens.words(painter, left, y + 14, first, of.ink2, 12)
    x = float(left + wide)
    for kind in reversed(Kind):
        text = wording.kind_in_key(words, kind)
        x -= text_width(text, 12)
        pens.words(painter, x, y + 14, text, of.ink2, 12)
        x -= 24
        paint_swatch(painter, of, QRect(round(x), y + 4, 18, 12), kind)
        x -= 14
