"""Ways to spoil a file without knowing what is in it, and JSON by its parts."""

import contextlib
import json
from collections.abc import Callable
from functools import cache
from random import Random
from typing import Any

from tests.shared.files.trees import Path, changed, every_path, part_at, without
from tests.soak._hostile_odd import ALL, NUMBERS, RAW

Way = Callable[[bytes, Random], bytes]
_RAW_MARK = "\u0001raw:"


def flipped(data: bytes, rng: Random) -> bytes:
    made = bytearray(data)
    for _ in range(rng.choice((1, 1, 2, 8, 64))):
        if made:
            made[rng.randrange(len(made))] ^= 1 << rng.randrange(8)
    return bytes(made)


def cut(data: bytes, rng: Random) -> bytes:
    return data[: rng.randrange(len(data) + 1)]


def torn(data: bytes, rng: Random) -> bytes:
    first, second = sorted((rng.randrange(len(data) + 1), rng.randrange(len(data) + 1)))
    return data[:first] + data[second:]


def spliced(data: bytes, rng: Random) -> bytes:
    for _ in range(rng.choice((1, 1, 3))):
        at = rng.randrange(len(data) + 1)
        data = data[:at] + rng.choice(RAW) + data[at + rng.randrange(4) :]
    return data


def repeated(data: bytes, rng: Random) -> bytes:
    """A stretch of lines stands there many times."""
    lines = data.split(b"\n")
    at, count = rng.randrange(len(lines)), rng.randint(1, 12)
    part = lines[at : at + count]
    return b"\n".join([*lines[:at], *part * rng.choice((2, 2, 3, 40)), *lines[at + count :]])


def shuffled(data: bytes, rng: Random) -> bytes:
    lines = data.split(b"\n")
    one, other = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return b"\n".join(lines)


def encoded(data: bytes, rng: Random) -> bytes:
    """The same text in another encoding, or with another mark of one."""
    text = data.decode("utf-8", "replace")
    how = rng.choice(("utf-16", "utf-16-be", "utf-32", "latin-1", "utf-7", "utf-8-sig", "cp1252"))
    made = text.encode(how, "replace")
    return rng.choice((b"", b"", b"\xff\xfe", b"\xfe\xff", b"\xef\xbb\xbf")) + made


ANY: tuple[Way, ...] = (flipped, cut, torn, spliced, repeated, shuffled, encoded)


# JSON.


def by_parts(data: bytes, rng: Random) -> bytes:
    """One to three parts of JSON are exchanged, left out, doubled or moved, those still there."""
    tree, paths = _tree(data)
    raws: list[str] = []
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        with contextlib.suppress(LookupError, TypeError, AttributeError, ValueError):
            tree = _one_changed(tree, paths, rng, raws)
    text = json.dumps(
        tree, ensure_ascii=rng.random() < 0.5, indent=1 if rng.random() < 0.1 else None
    )
    for at, raw in enumerate(raws):
        text = text.replace(json.dumps(f"{_RAW_MARK}{at}:"), raw)
        text = text.replace(f'"{_RAW_MARK}{at}:"', raw)
    return text.encode("utf-8", "surrogatepass")


@cache
def _tree(data: bytes) -> tuple[Any, tuple[Path, ...]]:
    tree = json.loads(data)
    return tree, tuple(path for path in every_path(tree) if path)


def _one_changed(tree: Any, paths: tuple[Path, ...], rng: Random, raws: list[str]) -> Any:
    """Change one part; raises one of several errors where it is gone."""
    path = rng.choice(paths)
    way = rng.randrange(8)
    if way == 0:
        return without(tree, path)
    if way == 1:
        return changed(tree, path, part_at(tree, rng.choice(paths)))
    if way == 2 and isinstance(path[-1], int):
        return _doubled(tree, path, rng)
    return changed(tree, path, _odd_part(part_at(tree, path), rng, raws))


def _doubled(tree: Any, path: Path, rng: Random) -> Any:
    """The element of a list stands in it more than once: an id that is there already."""
    whole = part_at(tree, path[:-1])
    at = rng.randrange(len(whole) + 1)
    times = rng.choice((1, 1, 2, 30))
    more = [*whole[:at], *[part_at(tree, path)] * times, *whole[at:]]
    return changed(tree, path[:-1], more) if len(path) > 1 else more


def _odd_part(before: Any, rng: Random, raws: list[str]) -> Any:
    way = rng.randrange(9)
    if way < 3:
        return rng.choice(ALL)
    if way < 6:
        return _raw(rng.choice(NUMBERS), raws)
    if way == 6:
        return rng.choice(
            (None, True, False, [], {}, [[]], [None], {"": None}, "\ud800", "a\udfff")
        )
    if way == 7:
        name = rng.choice(("id", "kind", "step", "x"))
        return _raw(f'{{"{name}": 1, "{name}": {json.dumps(before)}}}', raws)
    depth = rng.choice((10, 70, 1000, 5000))
    opened, closed = rng.choice((("[", "]"), ('{"a":', "}")))
    return _raw(opened * depth + "1" + closed * depth, raws)


def _raw(text: str, raws: list[str]) -> str:
    """A text that stands in the file as it is, without quotation marks."""
    raws.append(text)
    return f"{_RAW_MARK}{len(raws) - 1}:"
