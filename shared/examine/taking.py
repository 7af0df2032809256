"""From bytes to a book that holds together: reading and examination in one."""

from dataclasses import replace
from typing import Any

from shared.book import Book
from shared.examine.examine import examine
from shared.examine.look import LISTS
from shared.files.read import Read, read_book
from shared.findings import Finding

_Positions = dict[str, tuple[int, ...]]

_FOLLOW_FROM = {
    "skill_of_nobody": "people",
    "too_few_for_need": "people",
    "certificate_of_nobody": "people",
    "too_few_equipment": "equipment",
}
"""Findings that may only say that something broken was left out, and of which list."""


def take_in(data: bytes) -> Read:
    """Read a book and examine it; all findings, those of reading first.

    Where parts can't be read, the others are examined all the same. `whole` holds together:
    elements with a stopping finding are left out of it, and those that need them.
    """
    read = read_book(data)
    book = read.book or read.whole
    if book is None:
        return read
    positions = _positions(book, read)
    found = tuple(_moved(each, positions) for each in examine(book) if not _follows(each, read))
    findings = read.findings + found
    if read.book is not None and not any(each.stops for each in found):
        return replace(read, findings=findings)
    whole = _held_together(book, positions)
    left_out = () if whole is None else _left_out(whole[1], book, read)
    return Read(
        book=None,
        findings=findings,
        whole=None if whole is None else whole[0],
        left_out=left_out,
    )


def _positions(book: Book, read: Read) -> _Positions:
    """Give for each list of the book where its elements stood in the file."""
    gone = set(read.left_out)
    positions: _Positions = {}
    for field in LISTS.values():
        count = len(getattr(book, field)) + sum(name == field for name, _ in gone)
        positions[field] = tuple(i for i in range(count) if (field, i) not in gone)
    return positions


def _moved(finding: Finding, positions: _Positions) -> Finding:
    """Give the finding with the path that it has in the file."""
    match finding.path:
        case (str(field), int(index), *rest) if field in positions:
            return replace(finding, path=(field, positions[field][index], *rest))
    return finding


def _follows(finding: Finding, read: Read) -> bool:
    """Say whether a finding may come only from what was left out."""
    short = {field for field, _ in read.left_out}
    if finding.code == "unknown_id":
        sort = str(finding.fact("sort"))
        inside = finding.path[:1] == ("jobs",) and sort not in LISTS
        return LISTS.get(sort, "jobs") in short and not inside
    if finding.code == "offer_about_unknown":
        return bool(short)
    return _FOLLOW_FROM.get(finding.code) in short


def _held_together(book: Book, positions: _Positions) -> tuple[Book, _Positions] | None:
    """Give the book without the elements that stop it, until nothing does."""
    while True:
        stopping = [each.path for each in examine(book) if each.stops]
        if not stopping:
            return book, positions
        gone = {path[:2] for path in stopping}
        if any(len(path) < 2 or path[0] not in positions for path in gone):
            return None
        book, positions = _without(book, positions, gone)


def _without(
    book: Book, positions: _Positions, gone: set[tuple[str | int, ...]]
) -> tuple[Book, _Positions]:
    lists: dict[str, Any] = {}
    left: _Positions = {}
    for field, places in positions.items():
        kept = [i for i in range(len(places)) if (field, i) not in gone]
        lists[field] = tuple(getattr(book, field)[i] for i in kept)
        left[field] = tuple(places[i] for i in kept)
    return replace(book, **lists), left


def _left_out(left: _Positions, book: Book, read: Read) -> tuple[tuple[str, int], ...]:
    """Give every element of the file that is not in what is left."""
    whole_parts = [each for each in read.left_out if each[1] < 0]
    before = _positions(book, read)
    elements = [
        (field, index)
        for field, places in before.items()
        for index in sorted({*places, *(i for name, i in read.left_out if name == field)})
        if index >= 0 and index not in left[field]
    ]
    return (*elements, *whole_parts)
