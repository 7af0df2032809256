"""What a page of plain words holds: a head, and parts of lines. No Qt."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """What, and when beside it. is_strong: what must not be missed."""

    what: str
    when: str = ""
    is_strong: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Lines under a heading."""

    title: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A page or several. marks: what it must not be given out without. first: the sentence.

    last: what stands under all parts, in italics.
    """

    title: str
    shop: str
    line: str
    marks: tuple[str, ...]
    is_old: bool
    first: str
    parts: tuple[Part, ...]
    last: str
    foot: str
