"""The header of a file: which kind it is, and in which format."""

from dataclasses import dataclass
from typing import Any

from shared.book import FORMAT
from shared.files.codec import Record, Texts, check_object, record_of
from shared.files.json_text import kept_fields, object_text, one_line, quoted, shown
from shared.files.migrate import migrated
from shared.files.notes import Notes
from shared.files.trouble import Broken, Json, Wrong
from shared.value import Kept, Value

HEADER = "countback"
"""The first field of every file; in `kept` of the root it holds the header's unknown fields."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Header(Value):
    """Which kind of file, "book" or "plan", and the number of its format."""

    kind: str
    format: int


class Newer(Broken):
    """The file is of a format that only a later version knows; noted already."""


def opened(tree: Json, kind: str, notes: Notes) -> tuple[dict[str, Any], Kept]:
    """Give the root of a file in today's format without its header, and what to keep of that.

    Raises
    ------
    Newer
        If the format is newer than ours.
    Broken
        If it is no file of this kind.
    """
    check_object(tree, notes)
    header = tree.get(HEADER)
    if not isinstance(header, dict) or type(header.get("kind")) is not str:
        raise Wrong("not_countback", (HEADER,), wanted=kind)
    if header["kind"] != kind:
        raise Wrong("wrong_kind", (HEADER, "kind"), kind=shown(header["kind"]), wanted=kind)
    number = _format_of(header, notes)
    notes.path.append(HEADER)
    kept = record_of(Header).read(header, notes).kept
    notes.path.pop()
    root = {name: value for name, value in tree.items() if name != HEADER}
    return migrated(root, kind, number), ((HEADER, one_line(kept)),) if kept else ()


def _format_of(header: dict[str, Any], notes: Notes) -> int:
    number = header.get("format")
    if type(number) is not int or number < 1:
        raise Wrong("bad_format", (HEADER, "format"), value=shown(number))
    if number > FORMAT:
        notes.add("newer_format", (HEADER, "format"), format=shown(number), known=FORMAT)
        raise Newer
    return number


def file_text(
    record: Record, root: Value, kind: str, without: frozenset[str], texts: Texts | None = None
) -> str:
    """Give the canonical text of a file, some fields of the root left out.

    texts: of parts that were written before, taken over where they are the same values.
    """
    kept = dict(root.kept).get(HEADER)
    header = Header(kind=kind, format=FORMAT, kept=kept_fields(kept) if kept else ())
    first = f"{quoted(HEADER)}: {record_of(Header).write(header, '  ')}"
    left_out = without | {HEADER}
    if texts is None:
        lines = record.lines(root, "  ", left_out)
    else:
        lines = record.lines_by_parts(root, "  ", left_out, texts)
        texts.turn()
    return object_text([first, *lines], "") + "\n"
