"""JSON text to plain values and back, exact in every number and bounded in every way.

Objects with a field twice, numbers too long to take and words like NaN are not JSON that we
take, but they come through as marked values, so that the finding can say where they stand.
"""

import json
from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from json.encoder import encode_basestring
from typing import Any

from shared.files.trouble import Json, Path, Wrong
from shared.value import Kept

LARGEST_BYTES = 64 * 1024 * 1024
MOST_PARTS = 4_000_000
DEEPEST = 64
_LONGEST_NUMBER = 100
_LONGEST_WHOLE = 40
_LONGEST_SHOWN = 60

quoted: Callable[[str], str] = encode_basestring


class Doubled(dict[str, Any]):
    """An object in which some fields stand more than once."""

    doubled: tuple[str, ...] = ()


class Literal(str):
    """A number too long or too large to take, as it stands in the file."""


class Odd(str):
    """NaN, Infinity or -Infinity: words that some programs write, and that are no JSON."""


def read_json(data: bytes) -> Json:
    """Give the plain value of JSON text in UTF-8, with or without a byte order mark.

    Raises
    ------
    Wrong
        If it is too big, too deep, no UTF-8 or no JSON.
    """
    if len(data) > LARGEST_BYTES or _part_count(data) > MOST_PARTS:
        raise Wrong("too_big", limit_megabytes=LARGEST_BYTES // 1024 // 1024)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        raise Wrong("not_utf8", byte=trouble.start + 1) from None
    try:
        return _DECODER.decode(text)
    except json.JSONDecodeError as trouble:
        raise Wrong("not_json", line=trouble.lineno, column=trouble.colno) from None
    except RecursionError:
        raise Wrong("too_deep", limit=DEEPEST) from None


def _part_count(data: bytes) -> int:
    return data.count(b",") + data.count(b"[") + data.count(b"{")


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) == len(pairs):
        return made
    left = set(made)
    twice: dict[str, None] = {}
    for name, _ in pairs:
        if name not in left:
            twice[name] = None
        left.discard(name)
    doubled = Doubled(made)
    doubled.doubled = tuple(twice)
    return doubled


def _whole(text: str) -> int | Literal:
    return int(text) if len(text) <= _LONGEST_WHOLE else Literal(text)


def _decimal(text: str) -> Decimal | Literal:
    if len(text) > _LONGEST_NUMBER:
        return Literal(text)
    try:
        return Decimal(text)
    except InvalidOperation:
        return Literal(text)


_DECODER = json.JSONDecoder(
    object_pairs_hook=_object, parse_int=_whole, parse_float=_decimal, parse_constant=Odd
)


def has_lone_surrogate(text: str) -> bool:
    """Say whether the text holds half of a character, which UTF-8 can't."""
    if text.isascii():
        return False
    try:
        text.encode()
    except UnicodeEncodeError:
        return True
    return False


def shown(value: object) -> str:
    """Give a value as a person would find it in the file, cut short and always writable."""
    text = value if isinstance(value, str) else _plain(value)
    cut = text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"
    return cut.encode("utf-8", "backslashreplace").decode()


def _plain(value: object) -> str:
    words: dict[object, str] = {True: "true", False: "false", None: "null"}
    if value is None or isinstance(value, bool):
        return words[value]
    return str(value) if isinstance(value, int | Decimal) else kind_of(value)


def kind_of(value: object) -> str:
    """Give the sort of a plain value: text, number, truth, list, object or nothing."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "truth"
    if isinstance(value, int | Decimal | Literal | Odd):
        return "number"
    if isinstance(value, str):
        return "text"
    return "list" if isinstance(value, list) else "object"


def kept_text(value: Json, below: Path = ()) -> str:
    """Give the JSON text, on one line, of a part that this version doesn't know.

    Numbers stay as they are written, fields in their order.

    Raises
    ------
    Wrong
        If it is too deep or no JSON that can be written back.
    """
    if len(below) > DEEPEST:
        raise Wrong("too_deep", below, limit=DEEPEST)
    if isinstance(value, Doubled):
        raise Wrong("doubled_field", (*below, value.doubled[0]), field=shown(value.doubled[0]))
    if isinstance(value, dict):
        inside = (f"{_kept_name(k, below)}: {kept_text(v, (*below, k))}" for k, v in value.items())
        return "{" + ", ".join(inside) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(kept_text(v, (*below, i)) for i, v in enumerate(value)) + "]"
    return _kept_scalar(value, below)


def _kept_name(name: str, below: Path) -> str:
    if has_lone_surrogate(name):
        raise Wrong("broken_text", (*below, shown(name)), value=shown(name))
    return quoted(name)


def _kept_scalar(value: object, below: Path) -> str:
    if isinstance(value, Odd):
        raise Wrong("not_a_number", below, value=str(value))
    if isinstance(value, Literal):
        return str(value)
    if isinstance(value, str):
        if has_lone_surrogate(value):
            raise Wrong("broken_text", below, value=shown(value))
        return quoted(value)
    return _plain(value)


def one_line(kept: Kept) -> str:
    """Give the JSON text of an object with these kept fields."""
    return "{" + ", ".join(f"{quoted(name)}: {text}" for name, text in kept) + "}"


def kept_fields(text: str) -> Kept:
    """Give the fields of an object that `one_line` wrote."""
    fields: dict[str, Any] = _DECODER.decode(text)
    return tuple((name, kept_text(value)) for name, value in fields.items())


def spread(text: str, pad: str) -> str:
    """Give kept JSON text over several lines, as it stands in a file behind that much space.

    Raises
    ------
    ValueError
        If it is no JSON text.
    """
    return _spread(_DECODER.decode(text), pad)


def _spread(value: Json, pad: str) -> str:
    inner = pad + "  "
    if isinstance(value, dict):
        return object_text([f"{quoted(k)}: {_spread(v, inner)}" for k, v in value.items()], pad)
    if isinstance(value, list):
        return list_text([_spread(v, inner) for v in value], pad)
    return _kept_scalar(value, ())


def object_text(lines: list[str], pad: str) -> str:
    """Give the text of an object from that of its fields."""
    return _block("{", lines, "}", pad)


def list_text(lines: list[str], pad: str) -> str:
    """Give the text of a list from that of its elements."""
    return _block("[", lines, "]", pad)


def _block(opening: str, lines: list[str], closing: str, pad: str) -> str:
    if not lines:
        return opening + closing
    between = ",\n" + pad + "  "
    return f"{opening}\n{pad}  {between.join(lines)}\n{pad}{closing}"
