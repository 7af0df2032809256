"""Codecs of whole values, made from their dataclasses: once for each class, then kept.

What a class says is all there is: its fields in their order, their types, their defaults.
"""

import dataclasses
import types
from collections.abc import Callable, Sequence
from dataclasses import MISSING, dataclass
from enum import StrEnum
from functools import cache
from operator import attrgetter
from typing import Any, NewType, Union, get_args, get_origin

from shared.files.json_text import (
    Doubled,
    has_lone_surrogate,
    kept_text,
    list_text,
    quoted,
    shown,
    spread,
)
from shared.files.notes import Notes
from shared.files.scalars import (
    BY_TYPE,
    Codec,
    Schema,
    Weekday,
    Words,
    unknown_word,
    wrong_type,
)
from shared.files.trouble import Broken, Json, Wrong
from shared.value import Kept, Value
from shared.worktime import Break, Shift

TAG = "step"
"""The field that says which sort of step an object is."""

REFUSALS: dict[type, str] = {Break: "break_without_length"}
"""The code of the finding when a class refuses to be made."""


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a class: how it stands in the file and when it is left out."""

    name: str
    codec: Codec
    is_required: bool
    may_be_none: bool
    is_left_out_empty: bool


class Listed:
    """A list of values of one sort."""

    def __init__(self, item: Codec) -> None:
        """Keep the codec of an element."""
        self.item = item

    def read(self, value: Json, notes: Notes) -> tuple[Any, ...]:
        """Take every element; all that is wrong in any of them is noted."""
        good, is_whole = self.read_good(value, notes)
        if not is_whole:
            raise Broken
        return tuple(made for _, made in good)

    def read_good(self, value: Json, notes: Notes) -> tuple[list[tuple[int, Any]], bool]:
        """Give the elements that are whole with their positions, and whether all are."""
        if type(value) is not list:
            raise wrong_type("list", value)
        good: list[tuple[int, Any]] = []
        path, read = notes.path, self.item.read
        for index, element in enumerate(value):
            path.append(index)
            try:
                good.append((index, read(element, notes)))
            except Broken as trouble:
                notes.add_trouble(trouble)
            path.pop()
        return good, len(good) == len(value)

    def write(self, value: Sequence[Any], pad: str) -> str:
        """Write the elements one under the other."""
        if not value:
            return "[]"
        inner, write = pad + "  ", self.item.write
        between = ",\n" + inner
        inside = between.join([write(element, inner) for element in value])
        return f"[\n{inner}{inside}\n{pad}]"

    def schema(self, parts: Schema) -> Schema:
        """Describe a list."""
        return {"type": "array", "items": self.item.schema(parts)}


class Record:
    """A value of the book: an object with the fields of its class."""

    def __init__(self, cls: type[Value], tag: str = "") -> None:
        """Keep the class; its fields are looked up when they are first needed."""
        self.cls = cls
        self.tag = tag
        self.first = f'"{TAG}": {quoted(tag)}'
        self.fields = _fields_of(cls)
        self.names = frozenset(field.name for field in self.fields) | ({TAG} if tag else set())
        self.writers: tuple[tuple[str, Callable[[Any, str], str], bool, str], ...] = tuple(
            (f"{quoted(field.name)}: ", field.codec.write, field.is_left_out_empty, field.name)
            for field in self.fields
        )
        self.parts_of = _parts_getter([field.name for field in self.fields])
        self.can_refuse = hasattr(cls, "__post_init__")

    def read(self, value: Json, notes: Notes, kept_besides: Kept = ()) -> Value:
        """Take an object; all that is wrong in any of its fields is noted."""
        check_object(value, notes)
        made: dict[str, Any] = {}
        is_whole = type(value) is dict
        for field in self.fields:
            if field.name in value:
                is_whole &= self._read_field(field, value[field.name], made, notes)
            elif field.is_required:
                notes.add("missing_field", (field.name,), field=field.name)
                is_whole = False
        kept = self.read_kept(value, notes)
        if not is_whole or kept is None:
            raise Broken
        return self.make(made, tuple(sorted(kept + kept_besides)) if kept_besides else kept)

    def _read_field(self, field: Field, value: Json, made: dict[str, Any], notes: Notes) -> bool:
        if value is None and field.may_be_none:
            return True
        notes.path.append(field.name)
        try:
            made[field.name] = field.codec.read(value, notes)
        except Broken as trouble:
            notes.add_trouble(trouble)
            return False
        finally:
            notes.path.pop()
        return True

    def read_kept(self, value: dict[str, Any], notes: Notes) -> Kept | None:
        """Give the fields of the object that the class doesn't have; None if one is broken."""
        unknown = value.keys() - self.names
        if not unknown:
            return ()
        kept: list[tuple[str, str]] = []
        for name in sorted(unknown):
            if has_lone_surrogate(name):
                notes.add("broken_text", (shown(name),), value=shown(name))
                continue
            notes.add("unknown_field", (name,), (name, self.names), field=shown(name))
            try:
                kept.append((name, kept_text(value[name])))
            except Wrong as trouble:
                notes.add(trouble.code, (name, *trouble.below), trouble.near, **trouble.facts)
        return tuple(kept) if len(kept) == len(unknown) else None

    def make(self, made: dict[str, Any], kept: Kept) -> Value:
        """Make the value from its fields."""
        if not self.can_refuse:
            return self.cls(**made, kept=kept)
        try:
            return self.cls(**made, kept=kept)
        except ValueError:
            raise Wrong(REFUSALS.get(self.cls, "not_allowed")) from None

    def write(self, value: Value, pad: str) -> str:
        """Write the fields in their order, then those that were kept."""
        inner = pad + "  "
        lines = self.lines(value, inner)
        if self.tag:
            lines.insert(0, self.first)
        if not lines:
            return "{}"
        between = ",\n" + inner
        return f"{{\n{inner}{between.join(lines)}\n{pad}}}"

    def lines_by_parts(
        self, value: Value, inner: str, without: frozenset[str], texts: "Texts"
    ) -> list[str]:
        """Give what `lines` does, with the texts of parts that were written before."""
        lines: list[str] = []
        for field, part in zip(self.fields, self.parts_of(value), strict=True):
            if field.name in without or part is None or (field.is_left_out_empty and not part):
                continue
            lines.append(f"{quoted(field.name)}: {texts.of_field(field, part, inner)}")
        return lines + self._kept_lines(value.kept, inner, without)

    def lines(self, value: Value, inner: str, without: frozenset[str] = frozenset()) -> list[str]:
        """Give the text of each field that is written."""
        lines = [
            key + write(part, inner)
            for part, (key, write, is_left_out_empty, name) in zip(
                self.parts_of(value), self.writers, strict=True
            )
            if part is not None
            and not (is_left_out_empty and not part)
            and not (without and name in without)
        ]
        if value.kept:
            lines.extend(self._kept_lines(value.kept, inner, without))
        return lines

    def _kept_lines(self, kept: Kept, inner: str, without: frozenset[str]) -> list[str]:
        lines: list[str] = []
        for name, text in sorted(kept):
            if name in self.names:
                raise ValueError(f"kept field has the name of a known one: {name}")
            if name not in without:
                lines.append(f"{quoted(name)}: {spread(text, inner)}")
        return lines

    def schema(self, parts: Schema) -> Schema:
        """Point to the object, described among the named parts."""
        name = self.cls.__name__
        if name not in parts:
            parts[name] = {}
            parts[name].update(self.object_schema(parts))
        return {"$ref": f"#/$defs/{name}"}

    def object_schema(self, parts: Schema) -> Schema:
        """Describe the object; fields that aren't known are allowed."""
        properties: Schema = {TAG: {"const": self.tag}} if self.tag else {}
        for field in self.fields:
            inside = field.codec.schema(parts)
            optional = {"anyOf": [inside, {"type": "null"}]}
            properties[field.name] = optional if field.may_be_none else inside
        required = [TAG] if self.tag else []
        required += [field.name for field in self.fields if field.is_required]
        described: Schema = {"type": "object", "properties": properties}
        return {**described, "required": required} if required else described


class Texts:
    """Texts of values as they were written last, for when the same values are written again."""

    def __init__(self) -> None:
        """Start with none."""
        self._known: dict[int, tuple[Value, str]] = {}
        self._used: dict[int, tuple[Value, str]] = {}

    def of_field(self, field: Field, part: object, pad: str) -> str:
        """Give the text of a field of a root."""
        if isinstance(part, Value):
            return self._of(part, field.codec, pad)
        if isinstance(field.codec, Listed) and isinstance(part, tuple):
            inner, item = pad + "  ", field.codec.item
            if isinstance(item, Record):
                return list_text([self._of(each, item, inner) for each in part], pad)
        return field.codec.write(part, pad)

    def _of(self, value: Value, codec: Codec, pad: str) -> str:
        known = self._known.get(id(value))
        if known is None or known[0] is not value:
            known = (value, codec.write(value, pad))
        self._used[id(value)] = known
        return known[1]

    @property
    def count(self) -> int:
        """Give how many texts there are."""
        return len(self._known) + len(self._used)

    def turn(self) -> None:
        """Forget what was not written since this was called last."""
        self._known, self._used = self._used, {}


class OneOf:
    """A stage, a gate or a journey: the tag says which."""

    def __init__(self, kinds: tuple[type[Value], ...]) -> None:
        """Make the codec of each sort."""
        self.by_tag = {kind.__name__.lower(): Record(kind, kind.__name__.lower()) for kind in kinds}
        self.by_class = {record.cls: record for record in self.by_tag.values()}

    def read(self, value: Json, notes: Notes) -> Value:
        """Take an object of the sort that its tag names."""
        if not isinstance(value, dict):
            raise wrong_type("object", value)
        tag = value.get(TAG)
        if tag is None:
            raise Wrong("missing_field", (TAG,), field=TAG)
        if type(tag) is not str or tag not in self.by_tag:
            raise _wrong_tag(tag, tuple(self.by_tag))
        return self.by_tag[tag].read(value, notes)

    def write(self, value: Value, pad: str) -> str:
        """Write it with its tag first."""
        return self.by_class[type(value)].write(value, pad)

    def schema(self, parts: Schema) -> Schema:
        """List the sorts."""
        return {"oneOf": [record.schema(parts) for record in self.by_tag.values()]}


def _wrong_tag(tag: object, known: tuple[str, ...]) -> Wrong:
    trouble = unknown_word(tag, known) if isinstance(tag, str) else wrong_type("word", tag)
    return Wrong(trouble.code, (TAG,), trouble.near, **trouble.facts)


def check_object(value: Json, notes: Notes) -> None:
    """Raise Wrong unless it is an object; note fields that stand in it more than once."""
    if type(value) is dict:
        return
    if not isinstance(value, Doubled):
        raise wrong_type("object", value)
    for name in value.doubled:
        notes.add("doubled_field", (shown(name),), field=shown(name))


def _parts_getter(names: Sequence[str]) -> Callable[[Any], tuple[Any, ...]]:
    """Give what takes the fields of these names from a value, all at once."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda value: tuple(getattr(value, name) for name in names)


def _fields_of(cls: type[Value]) -> tuple[Field, ...]:
    return tuple(
        _field(cls, field, field.type) for field in dataclasses.fields(cls) if field.name != "kept"
    )


def _field(cls: type[Value], field: dataclasses.Field[Any], hint: object) -> Field:
    plain, may_be_none = _without_none(hint)
    codec = Listed(Weekday()) if (cls, field.name) == (Shift, "days") else codec_of(plain)
    if may_be_none and field.default is not None:
        raise TypeError(f"{cls.__name__}.{field.name} may be None and so must be by default")
    return Field(
        name=field.name,
        codec=codec,
        is_required=field.default is MISSING and field.default_factory is MISSING,
        may_be_none=may_be_none,
        is_left_out_empty=field.default == (),
    )


def _without_none(hint: object) -> tuple[Any, bool]:
    if get_origin(hint) not in (Union, types.UnionType):
        return hint, False
    parts = tuple(part for part in get_args(hint) if part is not types.NoneType)
    rest = parts[0] if len(parts) == 1 else Union[parts]  # noqa: UP007 - made at run time
    return rest, len(parts) < len(get_args(hint))


@cache
def codec_of(hint: object) -> Codec:
    """Give the codec of a type as it stands in a field of a class.

    Raises
    ------
    TypeError
        If no book holds values of this type.
    """
    if isinstance(hint, NewType):
        return codec_of(hint.__supertype__)
    if get_origin(hint) is tuple:
        return Listed(codec_of(get_args(hint)[0]))
    if get_origin(hint) in (Union, types.UnionType):
        return OneOf(get_args(hint))
    if hint in BY_TYPE:
        return BY_TYPE[hint]
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return Words.of(hint)
    if isinstance(hint, type) and issubclass(hint, Value):
        return Record(hint)
    raise TypeError(f"no book holds values of type {hint!r}")


def record_of(cls: type[Value]) -> Record:
    """Give the codec of a class of values."""
    hint: object = cls
    codec = codec_of(hint)
    if not isinstance(codec, Record):
        raise TypeError(f"no value of a book: {cls!r}")
    return codec
