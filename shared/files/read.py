"""Bytes to books and plans: everything that is wrong is found at once, nothing half taken."""

from dataclasses import dataclass
from typing import Any, cast

from shared.book import Book
from shared.files.codec import Field, Listed, Record, record_of
from shared.files.header import Newer, opened
from shared.files.json_text import read_json, shown
from shared.files.notes import Notes
from shared.files.trouble import Broken, Json
from shared.findings import Finding
from shared.plan import Plan
from shared.value import Kept

HIGHEST_REVISION = 10**11
"""Of a book as it is read: each edit goes one further, and a book that can't be written is lost."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What came of reading a book.

    Attributes
    ----------
    book: the book, or None where a finding stops.
    findings: all of them, in the order of the format's fields.
    newer: the file is of a newer format, which only a later version understands.
    whole: where findings stop, the book without the broken elements of its own lists (jobs,
        people, places ...) and without a broken plan; None when nothing of use is left. For
        opening as a new copy, on a person's explicit choice only.
    left_out: positions of the broken elements, as (field, position); ("plan", -1) for a part
        that is no list.
    """

    book: Book | None
    findings: tuple[Finding, ...] = ()
    newer: bool = False
    whole: Book | None = None
    left_out: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadPlan:
    """What came of reading a plan; as for a book."""

    plan: Plan | None
    findings: tuple[Finding, ...] = ()
    newer: bool = False


def read_book(data: bytes) -> Read:
    """Read a book and everything that is wrong in it, in bounded time and memory.

    What the book means (references, order, hours) is looked at by `shared.examine`.
    """
    notes = Notes(None)
    try:
        root, kept = _opened(data, "book", notes)
    except Broken as trouble:
        notes.add_trouble(trouble)
        return Read(book=None, findings=notes.findings(), newer=isinstance(trouble, Newer))
    return _Root(root, notes).read(kept)


def read_plan(data: bytes) -> ReadPlan:
    """Read a plan and everything that is wrong in it."""
    notes = Notes(None)
    plan: Plan | None = None
    newer = False
    try:
        root, kept = _opened(data, "plan", notes)
        plan = cast("Plan", record_of(Plan).read(root, notes, kept))
    except Broken as trouble:
        newer = isinstance(trouble, Newer)
        notes.add_trouble(trouble)
    findings = notes.findings()
    stopped = any(finding.stops for finding in findings)
    return ReadPlan(plan=None if stopped else plan, findings=findings, newer=newer)


def _opened(data: bytes, kind: str, notes: Notes) -> tuple[dict[str, Any], Kept]:
    tree = read_json(data)
    notes.root = tree
    return opened(tree, kind, notes)


class _Root:
    """The root of a book being read: like any record, but it goes on past broken elements."""

    def __init__(self, root: dict[str, Any], notes: Notes) -> None:
        self.root = root
        self.notes = notes
        self.record: Record = record_of(Book)
        self.made: dict[str, Any] = {}
        self.left_out: list[tuple[str, int]] = []
        self.is_lost = False

    def read(self, kept: Kept) -> Read:
        for field in self.record.fields:
            if field.name in self.root:
                self._read_field(field, self.root[field.name])
            elif field.is_required:
                self.notes.add("missing_field", (field.name,), field=field.name)
                self.is_lost = True
        own = self.record.read_kept(self.root, self.notes)
        findings = self.notes.findings()
        if self.is_lost or own is None:
            return Read(book=None, findings=findings)
        book = cast("Book", self.record.make(self.made, tuple(sorted(own + kept))))
        if any(finding.stops for finding in findings):
            left_out = tuple(self.left_out)
            return Read(book=None, findings=findings, whole=book, left_out=left_out)
        return Read(book=book, findings=findings)

    def _read_field(self, field: Field, value: Json) -> None:
        if value is None and field.may_be_none:
            return
        self.notes.path.append(field.name)
        try:
            self.made[field.name] = self._read_part(field, value)
        except Broken as trouble:
            self.notes.add_trouble(trouble)
            self.is_lost |= not field.may_be_none
            self.left_out.append((field.name, -1))
        finally:
            self.notes.path.pop()

    def _read_part(self, field: Field, value: Json) -> Json:
        if field.name == "revision":
            return self._read_revision(field, value)
        if not isinstance(field.codec, Listed):
            return field.codec.read(value, self.notes)
        good, is_whole = field.codec.read_good(value, self.notes)
        if not is_whole:
            kept = {index for index, _ in good}
            missing = (index for index in range(len(value)) if index not in kept)
            self.left_out.extend((field.name, index) for index in missing)
        return tuple(made for _, made in good)

    def _read_revision(self, field: Field, value: Json) -> Json:
        """Take a revision that leaves room for as many more as anybody will make."""
        number = field.codec.read(value, self.notes)
        if number <= HIGHEST_REVISION:
            return number
        self.notes.add("number_too_large", value=shown(number), limit=HIGHEST_REVISION)
        return 1
