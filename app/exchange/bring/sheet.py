"""The first sheet of a workbook: its cells, once it is known that they are few enough. No Qt.

The package that reads workbooks believes what a file says of its sizes, makes every cell between
the first and the last, and takes the whole program along when that is too much. So it is given
only what was unpacked and counted here.
"""

import io
import re
import zlib
from collections.abc import Callable
from xml.parsers import expat
from zipfile import BadZipFile, ZipFile

from app.exchange.bring.cells import Cell, NoTable, letter

LARGEST_BYTES = 96 << 20
"""Of a workbook, unpacked."""
MOST_CELLS = 1_000_000
"""Between the first cell of a sheet and the last in use, empty ones as well."""
MOST_LETTERS = 32 << 20
"""Of the texts that stand once in a workbook and that cells name, in all these cells together."""
_LOOKED_UP = ("s", "e")
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_DOC = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_ROW, _CELL, _VALUES = f"{_MAIN} row", f"{_MAIN} c", (f"{_MAIN} v", f"{_MAIN} is")
_BOOK, _LINKS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
_TEXTS = "xl/sharedStrings.xml"
_OTHERS = ("[Content_Types].xml", "_rels/.rels", "xl/styles.xml", _TEXTS)
_PLACE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_CELLS = (b"<c ", b"<c>", b"<c/")
"""How cells begin as nearly all programs write them; what is written otherwise is counted later."""
_Begun = Callable[[str, dict[str, str]], None]
_Read = Callable[[str], None]
_BROKEN = (BadZipFile, OSError, LookupError, ValueError, RuntimeError, EOFError, zlib.error)


def sheet_rows(data: bytes) -> list[list[Cell]]:
    """Return the rows of the first sheet from its first; an error stands as what it is called.

    Raises
    ------
    NoTable
        If it is no workbook, or unfolds into too much.
    """
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        parts = _parts(data)
        bounds = _Bounds(parts)
        sheet = CalamineWorkbook.from_filelike(_packed(parts)).get_sheet_by_index(0)
        rows: list[list[Cell]] = sheet.to_python(skip_empty_area=False)
    except (CalamineError, expat.ExpatError, *_BROKEN) as trouble:
        raise NoTable("no_workbook", reason=str(trouble)[:100]) from trouble
    for (row, column), text in bounds.errors.items():
        if row < len(rows) and column < len(rows[row]):
            rows[row][column] = text
    return rows


def _parts(data: bytes) -> dict[str, bytes]:
    """Unpack what says something about the cells of the first sheet, and nothing else.

    No part may be there under two names that differ in capitals only (ECMA-376 part 2, section
    6.2.2.3), so that nobody can take another for the one that was counted.
    """
    with ZipFile(io.BytesIO(data)) as archive:
        if sum(each.file_size for each in archive.infolist()) > LARGEST_BYTES:
            raise NoTable("too_large", most=LARGEST_BYTES >> 20)
        known = {name.replace("\\", "/").casefold(): name for name in archive.namelist()}
        if len(known) < len(archive.namelist()):
            raise ValueError("two parts of one name")
        read = {name: archive.read(known[name.casefold()]) for name in (_BOOK, _LINKS)}
        sheet = _first_sheet(read)
        for name in (*_OTHERS, sheet):
            if name.casefold() in known:
                read[name] = archive.read(known[name.casefold()])
        return read


def _packed(parts: dict[str, bytes]) -> io.BytesIO:
    made = io.BytesIO()
    with ZipFile(made, "w") as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    made.seek(0)
    return made


class _Bounds:
    """Goes once through the first sheet and the texts of a workbook and refuses too much.

    errors: what cells show that hold an error, by row and column from 0; the package gives them as
    empty. ECMA-376 part 1, sections 18.2.19 (sheet), 18.3.1.4 (c), 18.4.9 (sst) and 18.18.11.
    """

    def __init__(self, parts: dict[str, bytes]) -> None:
        self.errors: dict[tuple[int, int], str] = {}
        self._lengths: list[int] = []
        self._at = (-1, -1)
        self._end, self._area = (0, 0), 1
        self._sort = ""
        self._value: list[str] | None = None
        self._letters = 0
        self._count = 0
        if _TEXTS in parts:
            _parsed(parts[_TEXTS], self._text_begun, None, self._text_read)
        sheet = parts[_first_sheet(parts)]
        if sum(map(sheet.count, _CELLS)) > MOST_CELLS:
            at = f"A{sheet.count(b'<row')}"
            raise NoTable("too_many_cells", at=at, most=MOST_CELLS)
        _parsed(sheet, self._cell_begun, self._cell_ended, self._cell_read)

    def _text_begun(self, name: str, about: dict[str, str]) -> None:
        if name == f"{_MAIN} sst":
            said = [about.get(each, "0") for each in ("count", "uniqueCount")]
            if any(not each.isdecimal() or len(each) > 7 for each in said):
                raise ValueError("sst")
        elif name == f"{_MAIN} si":
            self._lengths.append(0)

    def _text_read(self, text: str) -> None:
        if self._lengths:
            self._lengths[-1] += len(text)

    def _cell_begun(self, name: str, about: dict[str, str]) -> None:
        if name == _CELL:
            said = about.get("r")
            self._go_to(*((self._at[0], self._at[1] + 1) if said is None else _place(said)))
            self._sort = about.get("t", "n")
        elif self._sort in _LOOKED_UP and name in _VALUES:
            self._value = []
        elif name == _ROW:
            said = about.get("r")
            self._go_to(self._at[0] + 1 if said is None else int(said) - 1, -1)

    def _go_to(self, row: int, column: int) -> None:
        self._at = (row, column)
        self._count += 1
        if row > self._end[0] or column > self._end[1]:
            self._end = (max(self._end[0], row), max(self._end[1], column))
            self._area = (self._end[0] + 1) * (self._end[1] + 1)
        if min(row, column) < -1 or max(self._area, self._count // 2) > MOST_CELLS:
            at = f"{letter(max(0, column))}{row + 1}"
            raise NoTable("too_many_cells", at=at, most=MOST_CELLS)

    def _cell_read(self, text: str) -> None:
        if self._value is not None:
            self._value.append(text)

    def _cell_ended(self, name: str) -> None:
        if self._value is None or name not in _VALUES:
            return
        text, self._value = "".join(self._value), None
        if self._sort == "e":
            self.errors[self._at] = text
            return
        self._letters += self._lengths[int(text)]
        if self._letters > MOST_LETTERS:
            raise NoTable("too_large", most=MOST_LETTERS >> 20)


def _place(text: str) -> tuple[int, int]:
    """Return row and column, from 0, of a cell named like B7."""
    found = _PLACE.fullmatch(text)
    if found is None:
        raise ValueError(text[:20])
    column = 0
    for each in found[1]:
        column = 26 * column + ord(each) - ord("A") + 1
    return int(found[2]) - 1, column - 1


def _first_sheet(parts: dict[str, bytes]) -> str:
    """Return the name of the part that the first sheet of a workbook is in."""
    wanted: list[str] = []
    targets: dict[str, str] = {}

    def sheet(name: str, about: dict[str, str]) -> None:
        if name == f"{_MAIN} sheet":
            wanted.append(about[f"{_DOC} id"])

    def link(name: str, about: dict[str, str]) -> None:
        if name.endswith(" Relationship"):
            targets[about["Id"]] = about["Target"]

    _parsed(parts[_BOOK], sheet)
    _parsed(parts[_LINKS], link)
    target = targets[wanted[0]]
    return target.lstrip("/") if target.startswith("/") else f"xl/{target}"


def _parsed(
    part: bytes, begun: _Begun, ended: _Read | None = None, read: _Read | None = None
) -> None:
    """Go through XML; ECMA-376 part 2, section 7.3.3 wants it without a DTD, so one is refused."""
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = begun
    parser.EndElementHandler = ended
    parser.CharacterDataHandler = read
    parser.StartDoctypeDeclHandler = _refuse
    parser.Parse(part, True)


def _refuse(*_: object) -> None:
    raise ValueError("DOCTYPE")
